import type { Path } from '../geometry/path.ts';
import { pathOf } from '../geometry/path.ts';
import { cross, type Point, subtract, unit } from '../geometry/point.ts';
import { boundsOf, reversed, type Segment, withEnds } from '../geometry/segment.ts';
import { mirrorIn, transformSegment } from '../geometry/transform.ts';
import { edgeSpans, edgeWithRole, outlineSegments, ringRange } from '../pattern/edges.ts';
import type { Edge, Outline, Piece } from '../pattern/piece.ts';

/** Which line of a piece is cut. */
export type CutLine = 'cutting' | 'seam';

/** The line along which a piece is cut out, in the piece's own position, anticlockwise. */
export interface Contour {
  /** Closed. */
  readonly path: Path;
  /** Whether it is the cutting line, with allowances; else the seam line. */
  readonly allowed: boolean;
  readonly fold?: Fold;
}

/** The straight edge that lies on the fold of the cloth. */
export interface Fold {
  readonly from: Point;
  readonly to: Point;
  /** The rest of the contour, from `to` round to `from`. */
  readonly rest: readonly Segment[];
}

/** How far a fold may stray from a straight line, and from the seam line's fold, mm. */
const STRAIGHT = 0.2;

export const contourOf = (piece: Piece, line: CutLine): Contour => {
  const allowed = line === 'cutting' && piece.cuttingLine !== undefined;
  const outline = allowed ? (piece.cuttingLine as Outline) : piece.seamLine;
  const fold = piece.half ? foldOf(piece, outline, allowed) : undefined;
  return { path: pathOf(outlineSegments(outline)), allowed, ...(fold ? { fold } : {}) };
};

const foldOf = (piece: Piece, outline: Outline, allowed: boolean): Fold | undefined => {
  const [edge, another] = edgeWithRole(piece, 'fold');
  if (!edge || another) return undefined;
  const spans = allowed ? cuttingSpans(edge, outline) : edgeSpans(piece, edge);
  const seam = edgeSpans(piece, edge).flatMap((i) => piece.seamLine.spans[i]?.segments ?? []);
  const last = spans?.at(-1);
  if (!spans || last === undefined) return undefined;
  const own = spans.flatMap((i) => outline.spans[i]?.segments ?? []);
  const from = own[0]?.from;
  const to = own.at(-1)?.to;
  if (!from || !to || !isStraight([...own, ...seam], from, to)) return undefined;
  const count = outline.spans.length;
  const others = Array.from({ length: count - spans.length }, (_, i) => (last + 1 + i) % count);
  return { from, to, rest: others.flatMap((i) => outline.spans[i]?.segments ?? []) };
};

const cuttingSpans = (edge: Edge, outline: Outline): number[] | undefined =>
  edge.cuttingFirst === undefined || edge.cuttingLast === undefined
    ? undefined
    : ringRange(edge.cuttingFirst, edge.cuttingLast, outline.spans.length);

/** Whether all of it lies on the line through both points: an allowance beyond the fold does not. */
const isStraight = (segments: readonly Segment[], from: Point, to: Point): boolean => {
  const way = unit(subtract(to, from));
  return segments.every((s) => {
    const box = boundsOf(s);
    const corners =
      s.kind === 'line' ? [s.from, s.to] : [s.from, s.to, { x: box.minX, y: box.minY }, { x: box.maxX, y: box.maxY }];
    return corners.every((p) => Math.abs(cross(way, subtract(p, from))) <= STRAIGHT);
  });
};

/** The whole contour of a half piece: the half and its mirror image, meeting on the fold. */
export const opened = (fold: Fold): Path => {
  const mirror = mirrorIn(fold.from, subtract(fold.to, fold.from));
  const other = fold.rest
    .toReversed()
    .flatMap((s) => transformSegment(mirror, s))
    .map(reversed);
  const ring = [...fold.rest, ...other];
  return pathOf(ring.map((s, i) => withEnds(s, s.from, (ring[(i + 1) % ring.length] as Segment).from)));
};
