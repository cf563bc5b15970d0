import { Bug } from '../finding.ts';
import { type CornerStyle, type Joint, meet, type Piece } from './offset-corner.ts';
import { withoutLoops } from './offset-loops.ts';
import { offsetSegment } from './parallel.ts';
import type { Path } from './path.ts';
import { lengthOf, type Segment, splitAt, tangentAt } from './segment.ts';

export type { CornerStyle } from './offset-corner.ts';
export { beside, offsetSegment, offsetSegments } from './parallel.ts';

/** A stretch of an outline that keeps one distance: indexes into the path's segments, and mm outward (negative: inward). */
export interface EdgeAllowance {
  readonly segments: readonly number[];
  readonly allowance: number;
}

export interface OffsetPath extends Path {
  /** For each segment, the index of the segment of the given path that it runs beside or, at a corner, goes on from. */
  readonly sources: readonly number[];
}

/**
 * The line beside a closed anticlockwise path, each edge at its own allowance: from a seam line to its cutting line
 * (positive, outward) or back (negative, inward). Segments in no edge have none. Lines and arcs are exact, cubics
 * within 0.005 mm. Inside corners are trimmed where the lines meet; where the distances change along a smooth line
 * there is a step square to it. Throws Bug for an open path, and when nothing is left.
 *
 * An outline so narrow that its inner line falls into several gives one closed path all the same: see `selfCrossings`.
 */
export const offsetOutline = (
  path: Path,
  edges: readonly EdgeAllowance[],
  corners: CornerStyle = 'mitre',
): OffsetPath => {
  if (!path.closed) throw new Bug('An open line has no outside to set an allowance on');
  const beside = besideOf(path, edges);
  const raw = joinedRound(path, beside, corners);
  const clean = withoutLoops(
    path,
    beside.map((b) => b.allowance),
    raw,
  );
  return { segments: clean.map((p) => p.segment), sources: clean.map((p) => p.source), closed: true };
};

interface Beside {
  readonly allowance: number;
  /** Which of the given edges; a segment in none is an edge of its own. */
  readonly edge: number;
}

const besideOf = (path: Path, edges: readonly EdgeAllowance[]): Beside[] => {
  const beside: Beside[] = path.segments.map((_, i) => ({ allowance: 0, edge: -1 - i }));
  edges.forEach(({ segments, allowance }, edge) => {
    for (const i of segments) {
      if (!beside[i]) throw new Bug(`An edge names segment ${i} of ${path.segments.length}`);
      beside[i] = { allowance, edge };
    }
  });
  return beside;
};

/** Every segment's parallel, and what joins it to the next, all the way round. */
const joinedRound = (path: Path, beside: readonly Beside[], corners: CornerStyle): Piece[] => {
  const pieces: Piece[] = path.segments.flatMap((s, source) =>
    offsetSegment(s, (beside[source] as Beside).allowance).map((segment) => ({ segment, source })),
  );
  if (pieces.length === 1) pieces.push(...halved(pieces.pop() as Piece));
  if (pieces.length === 0) throw new Bug('Nothing is left of an outline this far inside it');
  const between = pieces.map((_, i): Piece[] => {
    const next = (i + 1) % pieces.length;
    const a = pieces[i] as Piece;
    const b = pieces[next] as Piece;
    const met = meet(a.segment, b.segment, jointOf(path, beside, a, b, corners));
    pieces[i] = { segment: met.before, source: a.source };
    pieces[next] = { segment: met.after, source: b.source };
    return met.between.map(({ segment, of }) => ({ segment, source: of === 'before' ? a.source : b.source }));
  });
  return pieces.flatMap((piece, i) => [piece, ...(between[i] as Piece[])]).filter((p) => lengthOf(p.segment) > 0);
};

/** A piece alone would have to meet itself. */
const halved = ({ segment, source }: Piece): Piece[] =>
  splitAt(segment, 0.5).flatMap((half) => (half ? [{ segment: half, source }] : []));

const jointOf = (path: Path, beside: readonly Beside[], a: Piece, b: Piece, corners: CornerStyle): Joint => {
  const before = beside[a.source] as Beside;
  const after = beside[b.source] as Beside;
  return {
    corner: (path.segments[a.source] as Segment).to,
    // Parallels run the way of their line.
    arriving: tangentAt(a.segment, 1),
    leaving: tangentAt(b.segment, 0),
    before: before.allowance,
    after: after.allowance,
    style: before.edge === after.edge ? 'mitre' : corners,
  };
};
