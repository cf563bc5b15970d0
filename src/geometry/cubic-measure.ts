import { multiply, plus, rootsOf } from './bernstein.ts';
import { cubicDerivativeAt, cubicPointAt } from './cubic.ts';
import { distance, dot, type Point, same, size, subtract } from './point.ts';
import type { CubicSegment } from './segment.ts';

/** Lengths along a cubic, and the nearest place on it. */

/** Abramowitz & Stegun, Handbook of Mathematical Functions (1964), table 25.4, n = 8: abscissas and weights. */
const GAUSS_8: readonly (readonly [number, number])[] = [
  [0.1834346424956498, 0.362683783378362],
  [0.525532409916329, 0.3137066458778873],
  [0.7966664774136267, 0.2223810344533745],
  [0.9602898564975363, 0.1012285362903763],
];

/** Half of what a whole length may be out, mm. */
const LENGTH_TOLERANCE = 5e-7;
const DEEPEST = 24;

const speedAt = (s: CubicSegment, t: number): number => size(cubicDerivativeAt(s, t));

const gauss = (s: CubicSegment, t0: number, t1: number): number => {
  const half = (t1 - t0) / 2;
  const middle = (t0 + t1) / 2;
  let sum = 0;
  for (const [x, w] of GAUSS_8) sum += w * (speedAt(s, middle - half * x) + speedAt(s, middle + half * x));
  return sum * half;
};

const adaptive = (s: CubicSegment, t0: number, t1: number, whole: number, tolerance: number, depth: number): number => {
  const middle = (t0 + t1) / 2;
  const first = gauss(s, t0, middle);
  const second = gauss(s, middle, t1);
  const halves = first + second;
  if (Math.abs(halves - whole) <= tolerance || depth >= DEEPEST) return halves;
  return (
    adaptive(s, t0, middle, first, tolerance / 2, depth + 1) + adaptive(s, middle, t1, second, tolerance / 2, depth + 1)
  );
};

/**
 * Parameters at which the speed is least. There the curve may all but stop, and the speed has a kink (or nearly) that an
 * integration across it could overlook. A curve whose handles turn by less than a right angle has none to speak of.
 */
const slowest = (s: CubicSegment): number[] => {
  const legs = [subtract(s.control1, s.from), subtract(s.control2, s.control1), subtract(s.to, s.control2)] as const;
  const [a, b, c] = legs;
  if (dot(a, b) > 0 && dot(b, c) > 0 && dot(a, c) > 0) return [];
  const bends = [subtract(b, a), subtract(c, b)];
  // B′·B″ up to a factor.
  return rootsOf(
    plus(
      multiply(
        legs.map((v) => v.x),
        bends.map((v) => v.x),
      ),
      multiply(
        legs.map((v) => v.y),
        bends.map((v) => v.y),
      ),
    ),
  );
};

/** Length from t0 to t1 within 1e-6 mm, by adaptive Gauss-Legendre integration of the speed. Negative when t1 < t0. */
export const cubicLengthBetween = (s: CubicSegment, t0: number, t1: number): number => {
  if (t0 === t1) return 0;
  if (t1 < t0) return -cubicLengthBetween(s, t1, t0);
  let sum = 0;
  let from = t0;
  for (const to of [...slowest(s).filter((t) => t > t0 && t < t1), t1]) {
    sum += adaptive(s, from, to, gauss(s, from, to), LENGTH_TOLERANCE, 0);
    from = to;
  }
  return sum;
};

/** Parameter at which `length` mm of the curve are behind: Newton, kept inside its bracket. */
export const cubicParameterAtLength = (s: CubicSegment, length: number): number => {
  const total = cubicLengthBetween(s, 0, 1);
  if (length <= 0) return 0;
  if (length >= total) return 1;
  let lo = 0;
  let hi = 1;
  let t = length / total;
  for (let i = 0; i < 60; i++) {
    const excess = cubicLengthBetween(s, 0, t) - length;
    if (Math.abs(excess) < 1e-9) break;
    if (excess > 0) hi = t;
    else lo = t;
    const next = t - excess / speedAt(s, t);
    const kept = next > lo && next < hi ? next : (lo + hi) / 2;
    if (Math.abs(kept - t) < 1e-15) break;
    t = kept;
  }
  return t;
};

/** The place nearest to p: all t at which B − p is square to B′ (a quintic), and the ends. */
export const cubicNearest = (s: CubicSegment, p: Point): { t: number; point: Point } => {
  // What stands on the start is nearer to nothing else.
  if (same(s.from, p)) return { t: 0, point: s.from };
  const controls = [s.from, s.control1, s.control2, s.to].map((c) => subtract(c, p));
  const legs = [0, 1, 2].map((i) => subtract(controls[i + 1] as Point, controls[i] as Point));
  const square = plus(
    multiply(
      controls.map((c) => c.x),
      legs.map((c) => c.x),
    ),
    multiply(
      controls.map((c) => c.y),
      legs.map((c) => c.y),
    ),
  );
  let best = { t: 0, point: s.from };
  let least = distance(s.from, p);
  for (const t of [...rootsOf(square), 1]) {
    const at = cubicPointAt(s, t);
    const d = distance(at, p);
    if (d < least) {
      least = d;
      best = { t, point: at };
    }
  }
  return best;
};
