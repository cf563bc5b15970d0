import type { Point } from '../../geometry/point.ts';
import { leftTurn, pointsOf, type Ring, ringArea } from './ring.ts';

/**
 * The ring with fewer points, never smaller: a hollow corner is filled, or a short edge between two others goes and
 * these are lengthened until they meet. The change that adds least comes first, as in Visvalingam and Whyatt's line
 * simplification (1993), as long as no place moves out by more than `tolerance` mm and the area grows by no more
 * than `growth` (a ratio) altogether.
 */
export const simplifiedOutward = (ring: Ring, tolerance: number, growth: number): Ring => {
  const points = pointsOf(ring);
  let budget = ringArea(ring) * growth;
  while (points.length > 4) {
    const change = leastChange(points, tolerance, budget);
    if (!change) break;
    budget -= change.area;
    apply(points, change);
  }
  return Float64Array.from(points.flatMap((p) => [p.x, p.y]));
};

interface Change {
  readonly at: number;
  readonly area: number;
  /** The new corner that replaces the points `at` and `at + 1`; without it the point `at` goes. */
  readonly corner?: Point;
}

const cyclic = (points: readonly Point[], i: number): Point => points[(i + points.length) % points.length] as Point;

const leastChange = (points: readonly Point[], tolerance: number, budget: number): Change | undefined => {
  const changes: Change[] = [];
  for (let i = 0; i < points.length; i++) {
    const change = filled(points, i, tolerance) ?? extended(points, i, tolerance);
    if (change && change.area <= budget) changes.push(change);
  }
  changes.sort((p, q) => p.area - q.area || p.at - q.at);
  return changes.find((c) => staysSimple(points, c));
};

const filled = (points: readonly Point[], i: number, tolerance: number): Change | undefined => {
  const [a, p, b] = [cyclic(points, i - 1), cyclic(points, i), cyclic(points, i + 1)];
  const twice = leftTurn(a.x, a.y, p.x, p.y, b.x, b.y);
  const base = Math.hypot(b.x - a.x, b.y - a.y);
  if (twice > 0 || base === 0 || -twice / base > tolerance) return undefined;
  return { at: i, area: -twice / 2 };
};

const extended = (points: readonly Point[], i: number, tolerance: number): Change | undefined => {
  const [a, b, c, d] = [cyclic(points, i - 1), cyclic(points, i), cyclic(points, i + 1), cyclic(points, i + 2)];
  const ux = b.x - a.x;
  const uy = b.y - a.y;
  const vx = c.x - d.x;
  const vy = c.y - d.y;
  if (leftTurn(a.x, a.y, b.x, b.y, c.x, c.y) <= 0 || leftTurn(b.x, b.y, c.x, c.y, d.x, d.y) <= 0) return undefined;
  const cross = ux * vy - uy * vx;
  if (cross >= 0) return undefined;
  const t = ((c.x - b.x) * vy - (c.y - b.y) * vx) / cross;
  if (!(t > 0)) return undefined;
  const corner = { x: b.x + t * ux, y: b.y + t * uy };
  const base = Math.hypot(c.x - b.x, c.y - b.y);
  const twice = Math.abs(leftTurn(b.x, b.y, corner.x, corner.y, c.x, c.y));
  return twice / base > tolerance ? undefined : { at: i, area: twice / 2, corner };
};

/** Whether the new edges stay clear of all others. */
const staysSimple = (points: readonly Point[], change: Change): boolean => {
  const n = points.length;
  const edges: [Point, Point][] = change.corner
    ? [
        [cyclic(points, change.at), change.corner],
        [change.corner, cyclic(points, change.at + 1)],
      ]
    : [[cyclic(points, change.at - 1), cyclic(points, change.at + 1)]];
  const first = change.at - 1 + n;
  const span = change.corner ? 3 : 2;
  for (let k = span; k < n; k++) {
    const p = cyclic(points, first + k);
    const q = cyclic(points, first + k + 1);
    for (const [a, b] of edges) if (p !== a && p !== b && q !== a && q !== b && meet(a, b, p, q)) return false;
  }
  return true;
};

const meet = (a: Point, b: Point, p: Point, q: Point): boolean => {
  const d1 = leftTurn(a.x, a.y, b.x, b.y, p.x, p.y);
  const d2 = leftTurn(a.x, a.y, b.x, b.y, q.x, q.y);
  const d3 = leftTurn(p.x, p.y, q.x, q.y, a.x, a.y);
  const d4 = leftTurn(p.x, p.y, q.x, q.y, b.x, b.y);
  return d1 * d2 <= 0 && d3 * d4 <= 0 && !(d1 === 0 && d2 === 0);
};

const apply = (points: Point[], change: Change): void => {
  if (!change.corner) {
    points.splice(change.at, 1);
    return;
  }
  points[change.at] = change.corner;
  points.splice((change.at + 1) % points.length, 1);
};
