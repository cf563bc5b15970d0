import { flatten } from '../../src/geometry/flatten.ts';
import { nearestOnPath, type Path, signedArea } from '../../src/geometry/path.ts';
import { distance, type Point } from '../../src/geometry/point.ts';
import { lengthOf, type Segment } from '../../src/geometry/segment.ts';
import { type Affine, compose, scaling, transformPath } from '../../src/geometry/transform.ts';
import { edgeRuns, outlineSegments } from '../../src/pattern/edges.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Edge, Outline, Piece } from '../../src/pattern/piece.ts';
import { rightOf } from '../../src/pattern/upright.ts';

/* How far two states of a piece lie apart. Millimetres. */

/** Outlines are compared at points this close to them. */
const CHORDS_WITHIN = 0.002;

export const closedPath = (outline: Outline): Path => ({ segments: outlineSegments(outline), closed: true });

const farthest = (from: Path, to: Path): number =>
  flatten(from.segments, CHORDS_WITHIN).reduce(
    (most, p) => Math.max(most, nearestOnPath(to, p)?.distance ?? Number.POSITIVE_INFINITY),
    0,
  );

/** The greatest distance of a point of either line from the other (Hausdorff), ends and all. */
export const apart = (a: Path, b: Path): number => Math.max(farthest(a, b), farthest(b, a));

/** From the drawing to the piece's own frame: waist up, x to the right, `origin` at nought. */
const toOwnFrame = ({ upright }: Piece): Affine => {
  const right = rightOf(upright);
  const { up, origin } = upright;
  return {
    a: right.x,
    c: right.y,
    e: -(right.x * origin.x + right.y * origin.y),
    b: up.x,
    d: up.y,
    f: -(up.x * origin.x + up.y * origin.y),
  };
};

/** The seam line in the piece's own frame, turned over when it was drawn mirrored. */
export const inOwnFrame = (piece: Piece, frame: Piece, mirrored: boolean): Path => {
  const own = toOwnFrame(frame);
  return transformPath(mirrored ? compose(scaling(-1, 1), own) : own, closedPath(piece.seamLine));
};

/** The seam line of an edge, legs of darts left out. */
export const edgePath = (piece: Piece, edge: Edge): Path => ({ segments: edgeRuns(piece, edge).flat(), closed: false });

/** Length along chords, apart from the lengths that the checks work with. */
export const chordLength = (runs: readonly (readonly Segment[])[]): number =>
  runs.reduce((all, run) => {
    const points = flatten(run, 0.0005);
    return all + points.slice(1).reduce((sum, p, i) => sum + distance(points[i] as Point, p), 0);
  }, 0);

/** The greatest distance anything on the paper has moved: outlines and lines as curves, marks and texts by their place. */
export const greatestMove = (before: Pattern, after: Pattern): number =>
  Math.max(
    0,
    ...before.pieces.flatMap((was) => {
      const is = after.pieces.find((p) => p.id === was.id) as Piece;
      if (is === was) return [];
      return [
        apart(closedPath(was.seamLine), closedPath(is.seamLine)),
        ...(was.cuttingLine && is.cuttingLine ? [apart(closedPath(was.cuttingLine), closedPath(is.cuttingLine))] : []),
        ...was.lines.map((l) => {
          const now = is.lines.find((o) => o.id === l.id);
          return now === l || !now
            ? 0
            : apart({ segments: outlineSegments(l), closed: false }, { segments: outlineSegments(now), closed: false });
        }),
        ...[...was.points, ...was.texts].map((m) => {
          const now = [...is.points, ...is.texts].find((o) => o.id === m.id);
          return now ? distance(m.at, now.at) : Number.POSITIVE_INFINITY;
        }),
      ];
    }),
  );

/** Faults of a closed line that ought to be anticlockwise and meet itself nowhere: gaps, hand, zero lengths. */
export const outlineFaults = (outline: Outline, gap: number): string[] => {
  const segments = outlineSegments(outline);
  const faults: string[] = [];
  segments.forEach((s, i) => {
    const next = segments[(i + 1) % segments.length] as Segment;
    if (distance(s.to, next.from) > gap)
      faults.push(`gap of ${distance(s.to, next.from).toFixed(3)} after segment ${i}`);
    if (lengthOf(s) < 1e-9) faults.push(`segment ${i} has no length`);
  });
  if (signedArea({ segments, closed: true }) <= 0) faults.push('inside out');
  return faults;
};
