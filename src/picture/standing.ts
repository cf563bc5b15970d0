import type { Point } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';
import { type Affine, transformSegment } from '../geometry/transform.ts';
import type { Piece } from '../pattern/piece.ts';
import { rightOf } from '../pattern/upright.ts';

/** From the drawing to a picture of the piece: upright, y down. */
export const standing = (piece: Pick<Piece, 'upright'>): Affine => {
  const { up, origin } = piece.upright;
  const right = rightOf(piece.upright);
  const dot = (a: Point): number => a.x * origin.x + a.y * origin.y;
  return { a: right.x, c: right.y, e: -dot(right), b: -up.x, d: -up.y, f: dot(up) };
};

export const transformed = (m: Affine, segments: readonly Segment[]): Segment[] =>
  segments.flatMap((s) => transformSegment(m, s));
