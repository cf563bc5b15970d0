import { widthAcross } from './across.ts';
import { sideOutAtUnderarm } from './armhole-out.ts';
import { solveFor } from './solve.ts';
import type { Tracing } from './tracing.ts';

/* Side seams let out (taken in) at the bust, all round. */

/** What a width may miss, mm. */
const WITHIN = 0.001;

/**
 * The given sides go out so that each adds `by` to the width at the bust level: more at the underarm, nothing at the
 * waist. The armholes come along.
 * @param height of the bust level
 */
export const sidesOutAtBust = (tracing: Tracing, sides: readonly string[], by: number, height: number): Tracing => {
  if (by === 0) return tracing;
  const out = (at: number): Tracing => sides.reduce((t, side) => sideOutAtUnderarm(t, side, at), tracing);
  const target = widthAcross(tracing, height) + by * sides.length;
  return solveFor(out, (made) => widthAcross(made, height) - target, by * 1.1, by, WITHIN);
};
