import { isSeamDown } from '../pattern/edges.ts';
import type { Piece } from '../pattern/piece.ts';
import { moveSeamOut } from './move-edge.ts';
import { edgeBeside, sewnLength } from './runs.ts';
import { solveFor } from './solve.ts';
import { type Tracing, trace } from './tracing.ts';

/*
 * A yoke follows the piece it is sewn to at its side seams: they go out (in) over their whole depth, parallel, until the
 * yoke seam has gained what the edge below it did. The waist above gains as much, and what is sewn there follows the yoke.
 */

/** A length is met when it is this near, mm. */
const MET = 0.001;

export const isYoke = (piece: Piece): boolean =>
  piece.part === 'yoke' && piece.edges.some((e) => e.role === 'yoke seam');

/** The yoke with its seam longer by `by`; undefined when it has no side seam beside it that could give it. */
export const followYoke = (piece: Piece, edge: string, by: number): Tracing | undefined => {
  const before = trace(piece);
  const sides = (['before', 'after'] as const)
    .map((end) => edgeBeside(before, edge, end))
    .filter((e) => isSeamDown(e.role));
  if (sides.length === 0) return undefined;
  const target = sewnLength(before, edge) + by;
  const out = (each: number): Tracing =>
    sides.reduce((t, s) => moveSeamOut(t, s.id, [{ height: 0, by: each }]), before);
  const first = by / sides.length;
  return solveFor(out, (made) => sewnLength(made, edge) - target, first, first * 1.05, MET);
};
