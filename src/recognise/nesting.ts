import type { Point } from '../geometry/point.ts';
import { cross, distance, subtract, unit } from '../geometry/point.ts';
import type { Loop } from './loops.ts';
import { distanceToPolygon, isInside, placeAt } from './trace.ts';

/** Points spread over a loop by length. */
export const spread = (loop: Pick<Loop, 'trace'>, count: number): Point[] =>
  Array.from({ length: count }, (_, i) => placeAt(loop.trace, ((i + 0.5) / count) * loop.trace.length).point);

/** Lines nearer than this to an outline may run on it (the fold edge of a half piece). mm */
const ON_LINE = 0.5;

const boundsHold = (outer: Loop, inner: Loop): boolean => {
  const a = outer.trace.bounds;
  const b = inner.trace.bounds;
  return (
    b.minX >= a.minX - ON_LINE && b.maxX <= a.maxX + ON_LINE && b.minY >= a.minY - ON_LINE && b.maxY <= a.maxY + ON_LINE
  );
};

/** Whether `inner` lies in `outer`; stretches of it may run on the outer line. */
export const liesIn = (outer: Loop, inner: Loop): boolean =>
  outer !== inner &&
  outer.trace.area > inner.trace.area &&
  boundsHold(outer, inner) &&
  spread(inner, 24).every(
    (p) => isInside(outer.trace.polygon, p) || distanceToPolygon(outer.trace.polygon, p) <= ON_LINE,
  );

/** One drawn on the other. */
export const sameLine = (a: Loop, b: Loop): boolean =>
  Math.abs(a.trace.area - b.trace.area) <= 0.001 * a.trace.area &&
  spread(b, 24).every((p) => distanceToPolygon(a.trace.polygon, p) <= 0.05);

/** Allowances wider than this are taken for other lines. mm */
const WIDEST_ALLOWANCE = 90;

/**
 * Whether `inner` runs beside `outer` as a seam line runs beside its cutting line: most of it at one of a few constant
 * distances, not all of it on the line.
 */
export const runsBeside = (outer: Loop, inner: Loop): boolean => {
  if (inner.trace.area < 0.35 * outer.trace.area) return false;
  const away = spread(inner, 48).map((p) => distanceToPolygon(outer.trace.polygon, p));
  return areFewAllowances(away);
};

/** Whether distances from seam to cutting line are those of a few constant allowances, legs of darts aside. */
export const areFewAllowances = (away: readonly number[]): boolean => {
  const sorted = [...away].sort((a, b) => a - b).filter((d) => d <= WIDEST_ALLOWANCE);
  if (sorted.length < 0.8 * away.length || (sorted[sorted.length - 1] ?? 0) < 1.5) return false;
  const groups: number[] = [];
  for (let i = 0; i < sorted.length; ) {
    let j = i;
    while (j < sorted.length && (sorted[j] as number) - (sorted[i] as number) <= 1.5) j++;
    groups.push(j - i);
    i = j;
  }
  const main = groups.sort((a, b) => b - a).slice(0, 4);
  return main.reduce((sum, n) => sum + n, 0) >= 0.7 * away.length;
};

/** Corner points of a polygon: where it turns by more than 10°. */
const turns = (polygon: readonly Point[]): Point[] =>
  polygon.filter((p, i) => {
    const before = polygon[(i + polygon.length - 1) % polygon.length] as Point;
    const after = polygon[(i + 1) % polygon.length] as Point;
    return Math.abs(cross(unit(subtract(p, before)), unit(subtract(after, p)))) > 0.17;
  });

/** Width and height of a loop that is a rectangle, mm, shorter side first. */
export const rectangleOf = (loop: Loop): readonly [number, number] | undefined => {
  const corners = turns(loop.trace.polygon);
  if (corners.length !== 4) return undefined;
  const sides = corners.map((c, i) => distance(c, corners[(i + 1) % 4] as Point));
  const [a, b, c, d] = sides as [number, number, number, number];
  const diagonals = [
    distance(corners[0] as Point, corners[2] as Point),
    distance(corners[1] as Point, corners[3] as Point),
  ];
  const square = Math.abs((diagonals[0] as number) - (diagonals[1] as number)) <= 0.005 * Math.max(...diagonals);
  const equal = Math.abs(a - c) <= 0.005 * Math.max(a, c) && Math.abs(b - d) <= 0.005 * Math.max(b, d);
  return square && equal ? [Math.min(a, b), Math.max(a, b)] : undefined;
};
