import { Bug } from '../finding.ts';

/** A smooth function through given values that never overshoots them, with its derivative. */
export interface SmoothFunction {
  value(x: number): number;
  slope(x: number): number;
}

export interface Knot {
  readonly at: number;
  readonly value: number;
}

/**
 * What the slope does at the outer knots: 'flat' runs out level into the constant beyond, 'free' takes the slope that
 * the neighbouring values suggest; or a slope for each end (left out: free).
 */
export type EndSlopes = 'flat' | 'free' | { readonly startSlope?: number; readonly endSlope?: number };

/**
 * Monotone cubic interpolation: between two knots it stays between their values and turns nowhere.
 * F. N. Fritsch and R. E. Carlson, Monotone Piecewise Cubic Interpolation, SIAM J. Numer. Anal. 17 (1980) 238-246:
 * slopes from three points, then drawn back into the circle α² + β² ≤ 9.
 * Outside the knots the value goes on constant. Knots in any order; throws Bug for none, or for two at one place.
 */
export const monotoneCubic = (knots: readonly Knot[], ends: EndSlopes = 'free'): SmoothFunction => {
  const sorted = [...knots].sort((a, b) => a.at - b.at);
  const x = sorted.map((k) => k.at);
  const y = sorted.map((k) => k.value);
  if (x.length === 0) throw new Bug('A smooth function needs at least one knot');
  if (x.some((v, i) => i > 0 && v === x[i - 1])) throw new Bug('Two knots of a smooth function lie at one place');
  const slopes = knotSlopes(x, y, ends);
  const span = (at: number): number => {
    let i = 0;
    while (i < x.length - 2 && at > (x[i + 1] as number)) i++;
    return i;
  };
  const first = x[0] as number;
  const last = x[x.length - 1] as number;
  return {
    value: (at) => {
      if (at <= first || x.length === 1) return y[0] as number;
      if (at >= last) return y[y.length - 1] as number;
      return hermite(x, y, slopes, span(at), at).value;
    },
    slope: (at) => (at < first || at > last || x.length === 1 ? 0 : hermite(x, y, slopes, span(at), at).slope),
  };
};

/** The slopes as Fritsch and Carlson allow them. */
const knotSlopes = (x: readonly number[], y: readonly number[], ends: EndSlopes): number[] => {
  const n = x.length;
  if (n === 1) return [0];
  const h = x.slice(1).map((v, i) => v - (x[i] as number));
  const secant = h.map((w, i) => ((y[i + 1] as number) - (y[i] as number)) / w);
  const asked = ends === 'flat' ? { startSlope: 0, endSlope: 0 } : ends === 'free' ? {} : ends;
  const m = x.map((_, i) => {
    if (i === 0) return asked.startSlope ?? oneSided(h, secant, 0, 1);
    if (i === n - 1) return asked.endSlope ?? oneSided(h, secant, n - 2, n - 3);
    const before = secant[i - 1] as number;
    const after = secant[i] as number;
    if (before * after <= 0) return 0;
    const w = (h[i - 1] as number) + (h[i] as number);
    return ((h[i] as number) * before + (h[i - 1] as number) * after) / w;
  });
  for (let i = 0; i < n - 1; i++) {
    const d = secant[i] as number;
    if (d === 0) {
      m[i] = 0;
      m[i + 1] = 0;
      continue;
    }
    const alpha = Math.max(0, (m[i] as number) / d);
    const beta = Math.max(0, (m[i + 1] as number) / d);
    const over = Math.hypot(alpha, beta) / 3;
    m[i] = (alpha * d) / Math.max(1, over);
    m[i + 1] = (beta * d) / Math.max(1, over);
  }
  return m;
};

/** Three-point slope at an outer knot; the secant itself when there are only two. */
const oneSided = (h: readonly number[], secant: readonly number[], near: number, far: number): number => {
  const d0 = secant[near] as number;
  const d1 = secant[far];
  const h1 = h[far];
  if (d1 === undefined || h1 === undefined) return d0;
  const h0 = h[near] as number;
  return ((2 * h0 + h1) * d0 - h0 * d1) / (h0 + h1);
};

const hermite = (
  x: readonly number[],
  y: readonly number[],
  m: readonly number[],
  i: number,
  at: number,
): { value: number; slope: number } => {
  const x0 = x[i] as number;
  const y0 = y[i] as number;
  const y1 = y[i + 1] as number;
  const h = (x[i + 1] as number) - x0;
  const m0 = (m[i] as number) * h;
  const m1 = (m[i + 1] as number) * h;
  const t = (at - x0) / h;
  const rise = y1 - y0;
  const c2 = 3 * rise - 2 * m0 - m1;
  const c3 = m0 + m1 - 2 * rise;
  return { value: y0 + t * (m0 + t * (c2 + t * c3)), slope: (m0 + t * (2 * c2 + 3 * t * c3)) / h };
};
