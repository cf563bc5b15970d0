import type { Point } from '../geometry/point.ts';
import { distance, subtract, turn, turnBetween } from '../geometry/point.ts';
import { centreLine } from './bust-point.ts';
import { at, mouthIndex, neighbourRun, type Run } from './runs.ts';
import type { Tracing } from './tracing.ts';

/* The seam beside the mouth of a dart, and the direction in which it gets there. */

/**
 * The seam beside a mouth, from the next corner to the mouth; on an edge that goes across the centre, from the centre:
 * the other half stays where it is.
 */
export const besideMouth = (tracing: Tracing, dartId: string, side: 'before' | 'after'): Run => {
  const mouth = mouthIndex(tracing, dartId, side === 'before' ? 0 : 1);
  const run = neighbourRun(tracing, mouth, side);
  const middle = centreLine(tracing);
  const mine = Math.sign(at(tracing, mouth).x - middle);
  const across = run.findLastIndex(
    (i) => Math.sign(at(tracing, i).x - middle) === -mine && farFrom(tracing, i, middle),
  );
  return across < 0 ? run : run.slice(Math.min(across + 1, run.length - 2));
};

const farFrom = (tracing: Tracing, index: number, x: number): boolean => Math.abs(at(tracing, index).x - x) > 1e-6;

/** Pricks nearer to each other than this say little of where a line goes; further apart than CHORDED they are vertices. mm */
const APART = 1;
const CHORDED = 5.05;
/** A line that turns by more than this at a prick has a vertex there, radians. */
const VERTEX = 0.12;

/** Direction in which a row of pricks arrives at its last: that of the curve through its last three. */
export const tangentAtEnd = (points: readonly Point[]): Point => {
  const end = points.at(-1) as Point;
  const back = points.toReversed();
  const i = back.findIndex((p) => distance(p, end) >= APART);
  const one = back[i];
  const two = back.slice(i + 1).find((p) => one && distance(p, one) >= APART);
  if (!one) return subtract(end, points[0] as Point);
  if (!two) return subtract(end, one);
  const [h, g] = [distance(end, one), distance(one, two)];
  const turned = turnBetween(subtract(one, two), subtract(end, one));
  if (h > CHORDED || g > CHORDED || Math.abs(turned) > VERTEX) return subtract(end, one);
  return turn(subtract(end, one), (turned * h) / (h + g));
};
