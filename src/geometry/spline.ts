import { Bug } from '../finding.ts';
import { cubic, cubicFromQuadratic } from './cubic.ts';
import { fitCurve } from './fit.ts';
import { add, distance, type Point, scale, size, subtract, unit } from './point.ts';
import type { CubicSegment } from './segment.ts';

export { splineThrough } from './spline-through.ts';

/** B-splines as DXF states them, and cubics. Formulas: L. Piegl and W. Tiller, The NURBS Book, 2nd ed. (1997). */

export interface BSpline {
  readonly degree: number;
  readonly controls: readonly Point[];
  /** controls + degree + 1 of them, not falling. */
  readonly knots: readonly number[];
  /** One a control, all positive; absent: all equal. */
  readonly weights?: readonly number[];
}

/** How far cubics may lie from a rational spline or one of degree above 3, mm. */
const CONVERSION_TOLERANCE = 1e-3;

interface Weighted {
  readonly x: number;
  readonly y: number;
  readonly w: number;
}

const mix = (a: Weighted, b: Weighted, t: number): Weighted => ({
  x: a.x + (b.x - a.x) * t,
  y: a.y + (b.y - a.y) * t,
  w: a.w + (b.w - a.w) * t,
});

const projected = (p: Weighted): Point => ({ x: p.x / p.w, y: p.y / p.w });

/** What is wrong with the numbers of a spline, in words, or undefined when it can be drawn. */
export const splineFault = (s: BSpline): string | undefined => {
  if (!Number.isInteger(s.degree) || s.degree < 1) return `degree ${s.degree}`;
  if (s.controls.length <= s.degree) return `${s.controls.length} control points for degree ${s.degree}`;
  if (s.knots.length !== s.controls.length + s.degree + 1) {
    return `${s.knots.length} knots where ${s.controls.length + s.degree + 1} belong`;
  }
  if (s.knots.some((k, i) => i > 0 && k < (s.knots[i - 1] as number))) return 'knots that fall';
  if (s.weights && (s.weights.length !== s.controls.length || s.weights.some((w) => !(w > 0)))) return 'weights';
  const breaks = s.knots.findIndex((k, i) => i > 0 && i + s.degree < s.controls.length && k === s.knots[i + s.degree]);
  if (breaks > 0) return `a knot repeated more than ${s.degree} times inside, where the curve breaks apart`;
  if (!((s.knots[s.degree] as number) < (s.knots[s.controls.length] as number))) return 'knots all in one place';
  return undefined;
};

/** The blossom of one knot span, for as many arguments as the degree; all equal, it is de Boor's algorithm. */
const blossom = (s: BSpline, span: number, args: readonly number[]): Weighted => {
  const d: Weighted[] = [];
  for (let j = 0; j <= s.degree; j++) {
    const i = span - s.degree + j;
    const p = s.controls[i] as Point;
    const w = s.weights?.[i] ?? 1;
    d.push({ x: p.x * w, y: p.y * w, w });
  }
  for (let r = 1; r <= s.degree; r++) {
    const u = args[r - 1] as number;
    for (let j = s.degree; j >= r; j--) {
      const low = s.knots[span - s.degree + j] as number;
      const high = s.knots[span + 1 + j - r] as number;
      d[j] = mix(d[j - 1] as Weighted, d[j] as Weighted, (u - low) / (high - low));
    }
  }
  return d[s.degree] as Weighted;
};

/** Spans of the curve's domain that have a length, by the index of their first knot. */
const spansOf = (s: BSpline): number[] => {
  const spans: number[] = [];
  for (let i = s.degree; i < s.controls.length; i++) {
    if ((s.knots[i] as number) < (s.knots[i + 1] as number)) spans.push(i);
  }
  return spans;
};

/** Point at parameter u of the curve's own domain (knots[degree] to knots[controls]), by de Boor. */
export const splinePointAt = (s: BSpline, u: number): Point => {
  const spans = spansOf(s);
  const span = spans.find((i) => u < (s.knots[i + 1] as number)) ?? (spans[spans.length - 1] as number);
  return projected(blossom(s, span, new Array<number>(s.degree).fill(u)));
};

/** Control points of the Bézier curve over one span, by blossoming. */
const bezierOf = (s: BSpline, span: number): Weighted[] => {
  const a = s.knots[span] as number;
  const b = s.knots[span + 1] as number;
  return Array.from({ length: s.degree + 1 }, (_, i) =>
    blossom(
      s,
      span,
      Array.from({ length: s.degree }, (_, k) => (k < s.degree - i ? a : b)),
    ),
  );
};

/**
 * The spline as cubics, end to end. Exact when it is not rational and of degree 3 at most (`deviation` 0), else within
 * 0.001 mm with `deviation` as measured. Stretches of no length are left out.
 * Throws Bug for a spline that cannot be drawn: ask `splineFault` first.
 */
export const splineToCubics = (s: BSpline): { segments: CubicSegment[]; deviation: number } => {
  const fault = splineFault(s);
  if (fault) throw new Bug(`A spline cannot be drawn: ${fault}`);
  const rational = s.weights?.some((w) => Math.abs(w - (s.weights?.[0] ?? 1)) > 1e-12 * w) ?? false;
  const beziers = spansOf(s).map((span) => bezierOf(s, span));
  if (rational || s.degree > 3) return approximated(beziers);
  const segments = beziers.map((b) => raised(b.map(projected)));
  return { segments: stitched(segments), deviation: 0 };
};

const raised = (p: readonly Point[]): CubicSegment => {
  const [a, b, c, d] = p as readonly [Point, Point, Point?, Point?];
  if (c && d) return cubic(a, b, c, d);
  if (c) return cubicFromQuadratic(a, b, c);
  return cubic(a, add(a, scale(subtract(b, a), 1 / 3)), add(a, scale(subtract(b, a), 2 / 3)), b);
};

/** Ends put on each other exactly; what has no length is dropped. */
const stitched = (segments: readonly CubicSegment[]): CubicSegment[] => {
  const out: CubicSegment[] = [];
  for (const s of segments) {
    if (Math.max(distance(s.from, s.control1), distance(s.from, s.control2), distance(s.from, s.to)) === 0) continue;
    const before = out[out.length - 1];
    out.push(before && distance(before.to, s.from) < 1e-6 ? { ...s, from: before.to } : s);
  }
  return out;
};

const approximated = (beziers: readonly (readonly Weighted[])[]): { segments: CubicSegment[]; deviation: number } => {
  const segments: CubicSegment[] = [];
  let deviation = 0;
  for (const b of beziers) {
    const points = b.map(projected);
    if (points.every((p) => distance(p, points[0] as Point) === 0)) continue;
    const point = (t: number): Point => projected(casteljau(b, t));
    const fitted = fitCurve({ point, tangent: (t) => rationalTangent(b, t) }, 0, 1, CONVERSION_TOLERANCE);
    segments.push(...fitted.segments);
    deviation = Math.max(deviation, fitted.deviation);
  }
  return { segments: stitched(segments), deviation };
};

const casteljau = (b: readonly Weighted[], t: number): Weighted => {
  let d = [...b];
  while (d.length > 1) d = d.slice(1).map((p, i) => mix(d[i] as Weighted, p, t));
  return d[0] as Weighted;
};

/** Direction of a rational Bézier curve; where its handle has no length, that of the next different point. */
const rationalTangent = (b: readonly Weighted[], t: number): Point => {
  let d = [...b];
  while (d.length > 2) d = d.slice(1).map((p, i) => mix(d[i] as Weighted, p, t));
  const v = subtract(projected(d[1] as Weighted), projected(d[0] as Weighted));
  if (size(v) > 1e-9) return unit(v);
  const here = projected(casteljau(b, t));
  const points = b.map(projected);
  if (t < 0.5) return unit(subtract(points.find((p) => distance(p, here) > 1e-9) ?? here, here));
  return unit(subtract(here, [...points].reverse().find((p) => distance(p, here) > 1e-9) ?? here));
};

/** A joint's control point may be left out when it lies this near, mm, to where two free handles put it. */
const REDUNDANT = 1e-9;
/** Knot spans may not differ by more than this factor, lest readers take small ones for none. */
const UNEVEN = 1e4;

/**
 * Cubics laid end to end as one B-spline of degree 3, the same curve. A joint where both handles lie in one line becomes
 * a double knot (its point is implied), every other joint a triple one. Knots start at 0, the first span is 1 long.
 */
export const cubicsToSpline = (cubics: readonly CubicSegment[]): { degree: 3; controls: Point[]; knots: number[] } => {
  const first = cubics[0];
  if (!first) throw new Bug('A spline was to be made of no curves');
  const controls: Point[] = [first.from, first.control1, first.control2];
  const knots: number[] = [0, 0, 0, 0];
  let span = 1;
  let at = 1;
  cubics.slice(1).forEach((next, i) => {
    const before = cubics[i] as CubicSegment;
    const arriving = distance(before.control2, before.to);
    const leaving = distance(next.from, next.control1);
    const wanted = arriving > 0 ? (span * leaving) / arriving : 0;
    const even = wanted > 1 / UNEVEN && wanted < UNEVEN;
    const implied =
      even &&
      distance(
        add(scale(before.control2, wanted / (span + wanted)), scale(next.control1, span / (span + wanted))),
        before.to,
      ) <= REDUNDANT;
    knots.push(at, at);
    if (!implied) {
      knots.push(at);
      controls.push(before.to);
    }
    span = implied ? wanted : 1;
    at += span;
    controls.push(next.control1, next.control2);
  });
  controls.push((cubics[cubics.length - 1] as CubicSegment).to);
  knots.push(at, at, at, at);
  return { degree: 3, controls, knots };
};
