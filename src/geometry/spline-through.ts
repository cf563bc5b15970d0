import { Bug } from '../finding.ts';
import { cubic } from './cubic.ts';
import { add, distance, dot, type Point, scale, size, subtract, unit } from './point.ts';
import type { CubicSegment } from './segment.ts';

/**
 * The cubic spline with continuous curvature through the points, parametrised by chord length: a cubic between each two.
 * An end with a tangent leaves (arrives) in its direction; one without runs out without curvature (natural).
 * Repeated points are passed over; throws Bug for fewer than two different ones.
 */
export const splineThrough = (points: readonly Point[], startTangent?: Point, endTangent?: Point): CubicSegment[] => {
  const p = points.filter((q, i) => i === 0 || distance(q, points[i - 1] as Point) > 0);
  const n = p.length;
  if (n < 2) throw new Bug('A spline was to be drawn through fewer than two points');
  const h = p.slice(1).map((q, i) => distance(p[i] as Point, q));
  const rise = p.slice(1).map((q, i) => scale(subtract(q, p[i] as Point), 1 / (h[i] as number)));
  const lower: number[] = [];
  const middle: number[] = [];
  const upper: number[] = [];
  const right: Point[] = [];
  const row = (l: number, m: number, u: number, r: Point): void => {
    lower.push(l);
    middle.push(m);
    upper.push(u);
    right.push(r);
  };
  if (startTangent && size(startTangent) > 0) row(0, 1, 0, unit(startTangent));
  else row(0, 2, 1, scale(rise[0] as Point, 3));
  for (let i = 1; i < n - 1; i++) {
    const a = h[i - 1] as number;
    const b = h[i] as number;
    row(b, 2 * (a + b), a, add(scale(rise[i - 1] as Point, 3 * b), scale(rise[i] as Point, 3 * a)));
  }
  if (endTangent && size(endTangent) > 0) row(0, 1, 0, unit(endTangent));
  else row(1, 2, 0, scale(rise[n - 2] as Point, 3));
  const slopes = tridiagonal(lower, middle, upper, right);
  return h.map((w, i) => {
    const from = p[i] as Point;
    const to = p[i + 1] as Point;
    return cubic(
      from,
      add(from, scale(slopes[i] as Point, w / 3)),
      subtract(to, scale(slopes[i + 1] as Point, w / 3)),
      to,
    );
  });
};

/** Gaussian elimination on three diagonals; the matrix is diagonally dominant. */
const tridiagonal = (
  lower: readonly number[],
  middle: readonly number[],
  upper: readonly number[],
  right: readonly Point[],
): Point[] => {
  const m = [...middle];
  const r = [...right];
  for (let i = 1; i < m.length; i++) {
    const k = (lower[i] as number) / (m[i - 1] as number);
    m[i] = (m[i] as number) - k * (upper[i - 1] as number);
    r[i] = subtract(r[i] as Point, scale(r[i - 1] as Point, k));
  }
  const x: Point[] = new Array(m.length);
  for (let i = m.length - 1; i >= 0; i--) {
    const next = x[i + 1];
    const rest = next ? subtract(r[i] as Point, scale(next, upper[i] as number)) : (r[i] as Point);
    x[i] = scale(rest, 1 / (m[i] as number));
  }
  return x;
};

/**
 * Direction at point i of a smooth line through the points: inside, of the circle through it and its neighbours; at an
 * end, of the cubic through the four points there (by chord length), since nothing on the far side corrects it.
 */
export const tangentThrough = (p: readonly Point[], i: number): Point => {
  const last = p.length - 1;
  if (last === 1) return unit(subtract(p[1] as Point, p[0] as Point));
  if (i === 0) return endDirection(p.slice(0, 4));
  if (i === last) return scale(endDirection(p.slice(-4).reverse()), -1);
  const before = subtract(p[i] as Point, p[i - 1] as Point);
  const after = subtract(p[i + 1] as Point, p[i] as Point);
  return unit(add(scale(before, 1 / dot(before, before)), scale(after, 1 / dot(after, after))));
};

/** Derivative at the first of three or four points, by Lagrange's formula over the chord lengths. */
const endDirection = (p: readonly Point[]): Point => {
  const u = [0];
  for (let i = 1; i < p.length; i++) u.push((u[i - 1] as number) + distance(p[i - 1] as Point, p[i] as Point));
  let sum: Point = { x: 0, y: 0 };
  // The weight of the first point makes the sum of all weights zero: only differences from it count.
  for (let i = 1; i < p.length; i++) {
    let weight = 1 / (u[i] as number);
    for (let j = 1; j < p.length; j++) if (j !== i) weight *= (u[j] as number) / ((u[j] as number) - (u[i] as number));
    sum = add(sum, scale(subtract(p[i] as Point, p[0] as Point), weight));
  }
  return unit(sum);
};
