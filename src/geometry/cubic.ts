import { rootsOf } from './bernstein.ts';
import { type Bounds, boundsOfPoints, include } from './bounds.ts';
import { between, cross, dot, type Point, size, subtract, unit } from './point.ts';
import type { CubicSegment } from './segment.ts';

/** Cubic Bézier curves: evaluation, cutting, box, area. Length and nearest point: cubic-measure.ts. */

export const cubic = (from: Point, control1: Point, control2: Point, to: Point): CubicSegment => ({
  kind: 'cubic',
  from,
  control1,
  control2,
  to,
});

/** The same curve as a quadratic Bézier, by raising its degree (exact). */
export const cubicFromQuadratic = (from: Point, control: Point, to: Point): CubicSegment =>
  cubic(from, between(from, control, 2 / 3), between(to, control, 2 / 3), to);

/** A straight stretch as a cubic of even speed. */
export const cubicFromLine = (from: Point, to: Point): CubicSegment =>
  cubic(from, between(from, to, 1 / 3), between(from, to, 2 / 3), to);

export const cubicPointAt = (s: CubicSegment, t: number): Point => {
  if (t === 0) return s.from;
  if (t === 1) return s.to;
  const u = 1 - t;
  const a = u * u * u;
  const b = 3 * u * u * t;
  const c = 3 * u * t * t;
  const d = t * t * t;
  return {
    x: a * s.from.x + b * s.control1.x + c * s.control2.x + d * s.to.x,
    y: a * s.from.y + b * s.control1.y + c * s.control2.y + d * s.to.y,
  };
};

export const cubicDerivativeAt = (s: CubicSegment, t: number): Point => {
  const u = 1 - t;
  const a = 3 * u * u;
  const b = 6 * u * t;
  const c = 3 * t * t;
  return {
    x: a * (s.control1.x - s.from.x) + b * (s.control2.x - s.control1.x) + c * (s.to.x - s.control2.x),
    y: a * (s.control1.y - s.from.y) + b * (s.control2.y - s.control1.y) + c * (s.to.y - s.control2.y),
  };
};

export const cubicSecondDerivativeAt = (s: CubicSegment, t: number): Point => {
  const ax = s.from.x - s.control1.x * 2 + s.control2.x;
  const ay = s.from.y - s.control1.y * 2 + s.control2.y;
  const bx = s.control1.x - s.control2.x * 2 + s.to.x;
  const by = s.control1.y - s.control2.y * 2 + s.to.y;
  return { x: (ax + (bx - ax) * t) * 6, y: (ay + (by - ay) * t) * 6 };
};

/** Size of the control polygon, mm: what a length is small against. */
const extent = (s: CubicSegment): number =>
  size(subtract(s.control1, s.from)) + size(subtract(s.control2, s.control1)) + size(subtract(s.to, s.control2));

/** Unit tangent in the direction of travel, also where handles have no length or the curve stops in a cusp. */
export const cubicTangentAt = (s: CubicSegment, t: number): Point => {
  const small = extent(s) * 1e-9;
  const d = cubicDerivativeAt(s, t);
  if (size(d) > small) return unit(d);
  const candidates =
    t <= 0.5
      ? [subtract(s.control1, s.from), subtract(s.control2, s.from), subtract(s.to, s.from)]
      : [subtract(s.to, s.control2), subtract(s.to, s.control1), subtract(s.to, s.from)];
  const nearEnd = t < 1e-6 || t > 1 - 1e-6;
  if (nearEnd) return unit(candidates.find((v) => size(v) > small) ?? d);
  // A cusp: the curve leaves along its second derivative.
  return unit(cubicSecondDerivativeAt(s, t));
};

/** Signed curvature, 1/mm, positive when turning left. Where the curve stops it is read a hair further in. */
export const cubicCurvatureAt = (s: CubicSegment, t: number): number => {
  const d = cubicDerivativeAt(s, t);
  const speed = size(d);
  if (speed <= extent(s) * 1e-9) return cubicCurvatureAt(s, t < 0.5 ? t + 1e-4 : t - 1e-4);
  return cross(d, cubicSecondDerivativeAt(s, t)) / (speed * speed * speed);
};

/** Both parts at t, 0 < t < 1, by de Casteljau. */
export const cubicSplit = (s: CubicSegment, t: number): [CubicSegment, CubicSegment] => {
  const a = between(s.from, s.control1, t);
  const b = between(s.control1, s.control2, t);
  const c = between(s.control2, s.to, t);
  const ab = between(a, b, t);
  const bc = between(b, c, t);
  const middle = between(ab, bc, t);
  return [cubic(s.from, a, ab, middle), cubic(middle, bc, c, s.to)];
};

/** Parameters inside (0, 1) at which x (or y) turns round. */
export const cubicTurns = (s: CubicSegment, axis: 'x' | 'y'): number[] => {
  const a = s.control1[axis] - s.from[axis];
  const b = s.control2[axis] - s.control1[axis];
  const c = s.to[axis] - s.control2[axis];
  // Control points that follow each other one way: most curves, and no root to look for.
  if ((a > 0 && b > 0 && c > 0) || (a < 0 && b < 0 && c < 0)) return [];
  return rootsOf([a, b, c]).filter((t) => t > 0 && t < 1);
};

export const cubicBounds = (s: CubicSegment): Bounds => {
  let b = boundsOfPoints([s.from, s.to]);
  for (const t of cubicTurns(s, 'x')) b = include(b, cubicPointAt(s, t));
  for (const t of cubicTurns(s, 'y')) b = include(b, cubicPointAt(s, t));
  return b;
};

/** ½∫(x dy − y dx) along the curve: exact, from the cross products of the control points. */
export const cubicAreaUnder = (s: CubicSegment): number => {
  // Relative to `from`, so that far from the origin nothing cancels.
  const p1 = subtract(s.control1, s.from);
  const p2 = subtract(s.control2, s.from);
  const p3 = subtract(s.to, s.from);
  return cross(s.from, s.to) / 2 + (3 * cross(p1, p2) + 3 * cross(p1, p3) + 6 * cross(p2, p3)) / 20;
};

/** Parameters inside (0, 1) at which the curvature changes sign. */
export const cubicInflections = (s: CubicSegment): number[] => {
  const a = subtract(s.control1, s.from);
  const b = subtract(s.control2, s.control1);
  const c = subtract(s.to, s.control2);
  // B′×B″ in Bernstein form of degree 2 (up to a factor).
  return rootsOf([cross(a, b), cross(a, c) / 2, cross(b, c)]).filter((t) => t > 0 && t < 1);
};

/** Whether all control points lie within `tolerance` of the chord and in order along it: then it is as good as straight. */
export const cubicIsStraight = (s: CubicSegment, tolerance: number): boolean => {
  const chord = subtract(s.to, s.from);
  const along = unit(chord);
  const length = size(chord);
  if (length === 0) return false;
  let reached = -tolerance;
  for (const p of [s.control1, s.control2]) {
    const v = subtract(p, s.from);
    const at = dot(v, along);
    if (Math.abs(cross(along, v)) > tolerance || at < reached || at > length + tolerance) return false;
    reached = at - tolerance;
  }
  return true;
};
