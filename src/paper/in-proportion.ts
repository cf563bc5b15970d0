import type { Point } from '../geometry/point.ts';
import { add, angleOf, distance, ORIGIN, scale, subtract, turn } from '../geometry/point.ts';
import { along } from './runs.ts';
import { solveFor } from './solve.ts';

/*
 * A curve drawn anew between ends that have moved: every stretch of it is shortened (lengthened) in one proportion and
 * turned by what the ends ask, the turn spread as evenly as can be. No other way bends it less sharply anywhere.
 */

/** What its far end may miss its place by, radians as seen from the first. */
const WITHIN = 1e-9;

/**
 * @param points the curve as it was
 * @param ends where its first and last point come to lie, and by how much it is turned there, radians
 */
export const inProportion = (
  points: readonly Point[],
  ends: { readonly from: Point; readonly to: Point; readonly start: number; readonly end: number },
): Point[] => {
  const way = along(points);
  const length = way.at(-1) as number;
  const strides = points.slice(1).map((p, i) => ({
    by: subtract(p, points[i] as Point),
    u: ((way[i] as number) + (way[i + 1] as number)) / (2 * length),
  }));
  const chord = subtract(ends.to, ends.from);
  // Between the turns at the ends, which are given, a further turn rises and falls evenly, greatest in the middle.
  const turned = (more: number) =>
    strides.map(({ by, u }) => turn(by, ends.start + (ends.end - ends.start) * u + more * (1 - Math.abs(2 * u - 1))));
  const off = (laid: readonly Point[]): number => {
    const reach = angleOf(laid.reduce(add, ORIGIN)) - angleOf(chord);
    return Math.atan2(Math.sin(reach), Math.cos(reach));
  };
  const laid = solveFor(turned, off, 0, 0.01, WITHIN);
  const part = distance(chord, ORIGIN) / distance(laid.reduce(add, ORIGIN), ORIGIN);
  const out = [ends.from];
  for (const stride of laid) out.push(add(out.at(-1) as Point, scale(stride, part)));
  return [...out.slice(0, -1), ends.to];
};
