import type { Point } from '../geometry/point.ts';
import { isCentre } from '../pattern/edges.ts';
import { shiftEdge, turnAtEnd } from './carry-end.ts';
import { NoRoom } from './no-room.ts';
import { at, edgeBeside, edgeRun, pointsOf, turnOfArrival } from './runs.ts';
import { sleeveHeights, upSeam } from './sleeve-lines.ts';
import type { Tracing } from './tracing.ts';

/* A seam that comes along with its upper corner. */

/** A wrist is turned at its corners over this much of it, as other cross edges are. mm */
const CORNER = 80;

/** Down to where a sleeve seam comes along when its upper corner goes out. */
export type SeamEnd = 'wrist' | 'elbow';

/** How far a seam was turned at its upper end, radians. */
export const upSeamTurn = (before: Tracing, now: Tracing, seam: string): number => {
  const run = upSeam(before, seam);
  return turnOfArrival(pointsOf(before, run), pointsOf(now, run));
};

/**
 * The upper corner of a sleeve seam moves: across, the seam tapers evenly to nothing at its lower end, so that a straight
 * seam stays straight, or runs out into its old line at the elbow; up or down, to nothing at the elbow (at its lower end
 * where no elbow is marked). The lower edge meets the seam at the angle it had.
 */
export const moveSeamCorner = (tracing: Tracing, seam: string, by: Point, to: SeamEnd = 'wrist'): Tracing => {
  if (by.x === 0 && by.y === 0) return tracing;
  const run = upSeam(tracing, seam);
  const [low, high] = [at(tracing, run[0] as number).y, at(tracing, run.at(-1) as number).y];
  const elbow = sleeveHeights(tracing).elbow;
  const still = elbow !== undefined && elbow > low && elbow < high ? elbow : low;
  const across = (y: number): number =>
    to === 'wrist' || still === low ? (y - low) / (high - low) : runOut((y - still) / (high - still));
  if (-by.y > 0.6 * (high - still)) throw new NoRoom('the sleeve seam is too short for what is to be taken from it');
  const moved = shiftEdge(tracing, seam, (p) => ({
    x: by.x * across(p.y),
    y: by.y * Math.max(0, (p.y - still) / (high - still)),
  }));
  return turnLowerEdge(tracing, moved, seam);
};

/** From 0 to 1: out of nothing smoothly, ever more, and on straight. */
export const runOut = (u: number): number => (u <= 0 ? 0 : (u * u * (3 - u)) / 2);

/** The edge below a seam is turned at their corner as the seam was. */
export const turnLowerEdge = (before: Tracing, now: Tracing, seam: string): Tracing => {
  const run = upSeam(before, seam);
  const down = [...run].reverse();
  const turned = turnOfArrival(pointsOf(before, down), pointsOf(now, down));
  const side = edgeRun(before, seam)[0] === run[0] ? 'before' : 'after';
  const lower = edgeBeside(before, seam, side);
  if (isCentre(lower.role)) return now;
  return turnAtEnd(now, lower.id, side === 'before' ? 'end' : 'start', turned, CORNER);
};
