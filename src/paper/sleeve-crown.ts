import { add } from '../geometry/point.ts';
import { step } from './bend.ts';
import { placedAt } from './joining.ts';
import { restOfCap } from './rest-of-cap.ts';
import { along, at, pointsOf } from './runs.ts';
import { capLength } from './sleeve-cap.ts';
import { capHalves, halfLength, notchesOnHalf } from './sleeve-lines.ts';
import { solveFor } from './solve.ts';
import type { Tracing } from './tracing.ts';

/* The crown of a cap, between its notches: raised and lowered, and set to a length. */

/** Lengths are solved for to this much, mm. */
const EXACT = 1e-4;

/**
 * The crown rises (sinks) by `by` at the top of the cap, to nothing at the notches, in a smooth step along the cap.
 * @param from where each half begins to rise, by the end of the cap it lies at: mm from the corner
 */
export const raiseCrown = (tracing: Tracing, by: number, from: Readonly<Record<'start' | 'end', number>>): Tracing => {
  if (by === 0) return tracing;
  const risen = capHalves(tracing).reduce((t, half) => {
    const way = along(pointsOf(tracing, half.run));
    const length = way.at(-1) as number;
    const over = length - from[half.end];
    // Both halves begin at the pivot: the second leaves it where the first has put it.
    const places = half.run.map((i, k) => {
      const share = step(1 - (way[k] as number) / over);
      return share === 0 ? at(t, i) : add(at(tracing, i), { x: 0, y: by * share });
    });
    return placedAt(t, half.run, places);
  }, tracing);
  return restOfCap(risen, tracing, { x: 0, y: by });
};

/** Whether each half of a cap has a notch from which its crown rises. */
export const hasCrownNotches = (tracing: Tracing): boolean =>
  capHalves(tracing).every((half) => notchesOnHalf(tracing, half).length > 0);

/** Where the crown begins where a half has no notch: this part of the half up from the corner. */
const NO_NOTCH = 0.45;

/** How far from its corner the crown of each half begins, mm: at its notch (the lowest, where there are several). */
export const crownFrom = (tracing: Tracing): Readonly<Record<'start' | 'end', number>> => {
  const from = { start: 0, end: 0 };
  for (const half of capHalves(tracing)) {
    from[half.end] = notchesOnHalf(tracing, half)[0]?.fromCorner ?? halfLength(tracing, half) * NO_NOTCH;
  }
  return from;
};

/** A crown may turn by so much more within 5 mm of it, radians. */
const FAIR = Math.PI / 180;

/**
 * Where the crown begins when it is raised by so much: at its notches, or lower where it would turn too sharply for it. A
 * step of two parabolas that rises d over a length L turns by 4d / L² a millimetre.
 */
export const crownFor = (tracing: Tracing, by: number): Readonly<Record<'start' | 'end', number>> => {
  const from = { ...crownFrom(tracing) };
  const least = Math.sqrt((4 * Math.abs(by) * 5) / FAIR);
  for (const half of capHalves(tracing)) {
    from[half.end] = Math.max(0, Math.min(from[half.end], halfLength(tracing, half) - least));
  }
  return from;
};

/** The crown raised (lowered) until the cap has the length asked for, and by how much it was. */
export const crownToLength = (tracing: Tracing, length: number): { tracing: Tracing; by: number } => {
  const short = length - capLength(tracing);
  if (Math.abs(short) <= EXACT) return { tracing, by: 0 };
  const raised = (by: number) => ({ tracing: raiseCrown(tracing, by, crownFor(tracing, by)), by });
  return solveFor(raised, (made) => capLength(made.tracing) - length, short * 0.8, short * 0.7, EXACT);
};
