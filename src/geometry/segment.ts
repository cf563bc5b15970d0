import { Bug } from '../finding.ts';
import {
  arc,
  arcAreaUnder,
  arcBounds,
  arcDerivativeAt,
  arcNearest,
  arcPointAt,
  arcTangentAt,
  radiusOf,
} from './arc.ts';
import type { Bounds } from './bounds.ts';
import {
  cubic,
  cubicAreaUnder,
  cubicBounds,
  cubicCurvatureAt,
  cubicDerivativeAt,
  cubicPointAt,
  cubicSplit,
  cubicTangentAt,
} from './cubic.ts';
import { cubicLengthBetween, cubicNearest, cubicParameterAtLength } from './cubic-measure.ts';
import { between, cross, distance, type Point, same, subtract, unit } from './point.ts';

export { arc, arcAbout, arcFromBulge, arcLeaving, arcToCubics, bulgeOf, radiusOf } from './arc.ts';
export { cubic, cubicFromLine, cubicFromQuadratic } from './cubic.ts';

/** A stretch of line. Segments are never of zero length, never NaN. */
export type Segment = LineSegment | ArcSegment | CubicSegment;

export interface LineSegment {
  readonly kind: 'line';
  readonly from: Point;
  readonly to: Point;
}

/** Circular arc. `sweep` is the signed angle in radians from `from` to `to` about `centre`, anticlockwise positive, 0 < |sweep| ≤ 2π. */
export interface ArcSegment {
  readonly kind: 'arc';
  readonly from: Point;
  readonly to: Point;
  readonly centre: Point;
  readonly sweep: number;
}

/** Cubic Bézier. */
export interface CubicSegment {
  readonly kind: 'cubic';
  readonly from: Point;
  readonly control1: Point;
  readonly control2: Point;
  readonly to: Point;
}

export const line = (from: Point, to: Point): LineSegment => ({ kind: 'line', from, to });

/** Point at parameter t, 0 to 1. The ends are the very end points. */
export const pointAt = (s: Segment, t: number): Point => {
  switch (s.kind) {
    case 'line':
      return t === 1 ? s.to : between(s.from, s.to, t);
    case 'arc':
      return arcPointAt(s, t);
    case 'cubic':
      return cubicPointAt(s, t);
  }
};

/** Derivative by t, mm. */
export const derivativeAt = (s: Segment, t: number): Point => {
  switch (s.kind) {
    case 'line':
      return subtract(s.to, s.from);
    case 'arc':
      return arcDerivativeAt(s, t);
    case 'cubic':
      return cubicDerivativeAt(s, t);
  }
};

/** Unit vector in the direction of travel; defined even where a cubic's handle has no length. */
export const tangentAt = (s: Segment, t: number): Point => {
  switch (s.kind) {
    case 'line':
      return unit(subtract(s.to, s.from));
    case 'arc':
      return arcTangentAt(s, t);
    case 'cubic':
      return cubicTangentAt(s, t);
  }
};

/** Signed curvature, 1/mm, positive when turning left. */
export const curvatureAt = (s: Segment, t: number): number => {
  switch (s.kind) {
    case 'line':
      return 0;
    case 'arc':
      return Math.sign(s.sweep) / radiusOf(s);
    case 'cubic':
      return cubicCurvatureAt(s, t);
  }
};

/** Length from t0 to t1, mm, within 1e-6; negative when t1 < t0. */
export const lengthBetween = (s: Segment, t0: number, t1: number): number =>
  s.kind === 'cubic'
    ? cubicLengthBetween(s, t0, t1)
    : (t1 - t0) * (s.kind === 'line' ? distance(s.from, s.to) : Math.abs(s.sweep) * radiusOf(s));

const lengths = new WeakMap<CubicSegment, number>();

/** Length, mm. That of a cubic is integrated once. */
export const lengthOf = (s: Segment): number => {
  if (s.kind !== 'cubic') return lengthBetween(s, 0, 1);
  const known = lengths.get(s) ?? lengthBetween(s, 0, 1);
  lengths.set(s, known);
  return known;
};

/** Parameter at which `length` mm of the segment are behind; kept to 0 … 1. */
export const parameterAtLength = (s: Segment, length: number): number =>
  s.kind === 'cubic' ? cubicParameterAtLength(s, length) : Math.min(1, Math.max(0, length / lengthOf(s)));

const cut = (s: Segment, t: number): [Segment, Segment] => {
  if (s.kind === 'cubic') return cubicSplit(s, t);
  const at = pointAt(s, t);
  if (s.kind === 'line') return [line(s.from, at), line(at, s.to)];
  return [arc(s.from, at, s.centre, s.sweep * t), arc(at, s.to, s.centre, s.sweep * (1 - t))];
};

/** Both parts at t. A part of no length is undefined, and then the other is the segment itself. */
export const splitAt = (s: Segment, t: number): [Segment | undefined, Segment | undefined] => {
  if (t <= 0) return [undefined, s];
  if (t >= 1) return [s, undefined];
  const at = pointAt(s, t);
  if (t < 1e-9 && same(at, s.from)) return [undefined, s];
  if (t > 1 - 1e-9 && same(at, s.to)) return [s, undefined];
  return cut(s, t);
};

/**
 * The stretch from t0 to t1, turned round when t1 < t0; the segment itself for 0 … 1.
 * Throws Bug when the stretch has no length.
 */
export const part = (s: Segment, t0: number, t1: number): Segment => {
  if (t1 < t0) return reversed(part(s, t1, t0));
  const head = splitAt(s, t1)[0];
  const found = head && t1 > 0 ? splitAt(head, t0 / Math.min(1, t1))[1] : undefined;
  if (!found) throw new Bug(`A stretch of no length was asked of a ${s.kind}: ${t0} to ${t1}`);
  return found;
};

export const reversed = (s: Segment): Segment => {
  switch (s.kind) {
    case 'line':
      return line(s.to, s.from);
    case 'arc':
      return arc(s.to, s.from, s.centre, -s.sweep);
    case 'cubic':
      return cubic(s.to, s.control2, s.control1, s.from);
  }
};

/** The least upright box, exact. */
export const boundsOf = (s: Segment): Bounds => {
  switch (s.kind) {
    case 'line':
      return lineBounds(s);
    case 'arc':
      return arcBounds(s);
    case 'cubic':
      return cubicBounds(s);
  }
};

const lineBounds = ({ from, to }: LineSegment): Bounds => ({
  minX: Math.min(from.x, to.x),
  minY: Math.min(from.y, to.y),
  maxX: Math.max(from.x, to.x),
  maxY: Math.max(from.y, to.y),
});

export interface PlaceOnSegment {
  readonly t: number;
  readonly point: Point;
  readonly distance: number;
}

/** The place on the segment nearest to p. */
export const nearestOn = (s: Segment, p: Point): PlaceOnSegment => {
  const { t, point } =
    s.kind === 'line' ? nearestOnLine(s, p) : s.kind === 'arc' ? arcNearest(s, p) : cubicNearest(s, p);
  return { t, point, distance: distance(point, p) };
};

const nearestOnLine = (s: LineSegment, p: Point): { t: number; point: Point } => {
  const dx = s.to.x - s.from.x;
  const dy = s.to.y - s.from.y;
  const along = (p.x - s.from.x) * dx + (p.y - s.from.y) * dy;
  const t = Math.min(1, Math.max(0, along / (dx * dx + dy * dy)));
  return { t, point: pointAt(s, t) };
};

/** ½∫(x dy − y dx) along the segment, mm²: summed over a closed path it is the signed area (Green). Exact. */
export const signedAreaUnder = (s: Segment): number => {
  switch (s.kind) {
    case 'line':
      return cross(s.from, s.to) / 2;
    case 'arc':
      return arcAreaUnder(s);
    case 'cubic':
      return cubicAreaUnder(s);
  }
};

const isFinitePoint = (p: Point): boolean => Number.isFinite(p.x) && Number.isFinite(p.y);

/** Whether every number in it is finite. */
export const isFiniteSegment = (s: Segment): boolean => {
  if (!isFinitePoint(s.from) || !isFinitePoint(s.to)) return false;
  if (s.kind === 'arc') return isFinitePoint(s.centre) && Number.isFinite(s.sweep);
  return s.kind === 'line' || (isFinitePoint(s.control1) && isFinitePoint(s.control2));
};

/** Whether the segment has no length: all its points in one. */
export const isDegenerate = (s: Segment): boolean => {
  if (!same(s.from, s.to)) return false;
  switch (s.kind) {
    case 'line':
      return true;
    case 'arc':
      return s.sweep === 0 || same(s.centre, s.from);
    case 'cubic':
      return same(s.from, s.control1) && same(s.from, s.control2);
  }
};

/** The segment with its ends put exactly on the given points, a hair away; the rest of it goes along. */
export const withEnds = (s: Segment, from: Point, to: Point): Segment => {
  if (same(s.from, from) && same(s.to, to)) return s;
  if (s.kind === 'line') return line(from, to);
  if (s.kind === 'cubic') {
    const out = subtract(from, s.from);
    const back = subtract(to, s.to);
    return cubic(
      from,
      { x: s.control1.x + out.x, y: s.control1.y + out.y },
      { x: s.control2.x + back.x, y: s.control2.y + back.y },
      to,
    );
  }
  return arc(
    from,
    to,
    {
      x: s.centre.x + (from.x - s.from.x + to.x - s.to.x) / 2,
      y: s.centre.y + (from.y - s.from.y + to.y - s.to.y) / 2,
    },
    s.sweep,
  );
};
