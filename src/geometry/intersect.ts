import { arcParameterAtAngle, radiusOf } from './arc.ts';
import { multiply, plus, rootsOf } from './bernstein.ts';
import { type Bounds, boundsOfPoints, containsPoint, grown, overlap } from './bounds.ts';
import { cubicDerivativeAt, cubicPointAt, cubicSplit } from './cubic.ts';
import type { Path } from './path.ts';
import { add, angleOf, cross, distance, dot, left, type Point, scale, size, subtract, unit } from './point.ts';
import {
  type ArcSegment,
  boundsOf,
  type CubicSegment,
  type LineSegment,
  nearestOn,
  pointAt,
  type Segment,
} from './segment.ts';

export interface Intersection {
  readonly ta: number;
  readonly tb: number;
  readonly point: Point;
}

/** How far apart two places may lie to count as meeting, mm. */
const MEETS = 1e-7;
/** An end further than this from the other's box does not meet it, mm: rounding of the box included. */
const NEAR = 1e-5;

/**
 * Where a and b meet, ends included, in order along a. Segments that lie on each other give the ends of the stretch
 * they share. Touching without crossing counts.
 */
export const intersections = (a: Segment, b: Segment): Intersection[] => {
  const [boxA, boxB] = [boundsOf(a), boundsOf(b)];
  if (!overlap(grown(boxA, MEETS), boxB)) return [];
  const inner = meetings(a, b);
  const isNear = (box: Bounds, p: Point): boolean => containsPoint(grown(box, NEAR), p);
  const ends: Intersection[] = [
    ...[0, 1].filter((ta) => isNear(boxB, pointAt(a, ta))).map((ta) => ({ ta, ...placeOn(b, pointAt(a, ta)) })),
    ...[0, 1]
      .filter((tb) => isNear(boxA, pointAt(b, tb)))
      .map((tb) => ({ ...swapped(placeOn(a, pointAt(b, tb))), tb })),
  ]
    .filter((e) => e.gap <= MEETS)
    .map(({ ta, tb, point }) => ({ ta, tb, point }));
  const all = [...ends, ...inner].filter((m) => Number.isFinite(m.ta) && Number.isFinite(m.tb));
  const kept: Intersection[] = [];
  // Ends come first: a crossing found a hair from an end is that end.
  for (const m of all) if (!kept.some((k) => distance(k.point, m.point) <= 4 * MEETS && sameVisit(k, m))) kept.push(m);
  return kept.sort((p, q) => p.ta - q.ta);
};

/** A line that passes one point twice (a loop) meets another there twice. */
const sameVisit = (k: Intersection, m: Intersection): boolean =>
  Math.abs(k.ta - m.ta) < 0.01 && Math.abs(k.tb - m.tb) < 0.01;

const placeOn = (s: Segment, p: Point): { tb: number; point: Point; gap: number } => {
  const found = nearestOn(s, p);
  return { tb: found.t, point: found.point, gap: found.distance };
};
const swapped = (place: { tb: number; point: Point; gap: number }): { ta: number; point: Point; gap: number } => ({
  ta: place.tb,
  point: place.point,
  gap: place.gap,
});

const meetings = (a: Segment, b: Segment): Intersection[] => {
  if (a.kind === 'line')
    return onLine(b, a.from, subtract(a.to, a.from))
      .filter((m) => within(m.along))
      .map((m) => ({ ta: m.along, tb: m.t, point: m.point }));
  if (b.kind === 'line') return meetings(b, a).map(turnedRound);
  if (a.kind === 'arc' && b.kind === 'arc') return arcArc(a, b);
  if (a.kind === 'arc') return arcCubic(a, b as CubicSegment);
  if (b.kind === 'arc') return arcCubic(b, a).map(turnedRound);
  return cubicCubic(a, b);
};

const turnedRound = (m: Intersection): Intersection => ({ ta: m.tb, tb: m.ta, point: m.point });
const within = (t: number): boolean => t >= 0 && t <= 1;

interface OnLine {
  readonly t: number;
  /** In lengths of `direction` from `through`. */
  readonly along: number;
  readonly point: Point;
}

/** Where a segment meets the endless line through a point; parallel lines do not. */
const onLine = (s: Segment, through: Point, direction: Point): OnLine[] => {
  const out: OnLine[] = [];
  const keep = (t: number): void => {
    const point = pointAt(s, t);
    out.push({ t, along: dot(subtract(point, through), direction) / dot(direction, direction), point });
  };
  const side = (p: Point): number => cross(direction, subtract(p, through));
  if (s.kind === 'line') {
    const f = side(s.from);
    const g = side(s.to);
    if (f !== g && f * g <= 0) keep(f / (f - g));
  } else if (s.kind === 'cubic') {
    rootsOf([side(s.from), side(s.control1), side(s.control2), side(s.to)]).forEach(keep);
  } else {
    const r = radiusOf(s);
    const across = unit(left(direction));
    const off = dot(subtract(through, s.centre), across);
    if (Math.abs(off) > r + MEETS) return out;
    const half = Math.acos(Math.min(1, Math.max(-1, off / r)));
    const middle = angleOf(across);
    for (const angle of half === 0 ? [middle] : [middle + half, middle - half]) {
      const t = arcParameterAtAngle(s, angle);
      if (t !== undefined) keep(t);
    }
  }
  return out;
};

const arcArc = (a: ArcSegment, b: ArcSegment): Intersection[] => {
  const ra = radiusOf(a);
  const rb = radiusOf(b);
  const apart = subtract(b.centre, a.centre);
  const d = size(apart);
  if (d < MEETS || d > ra + rb + MEETS || d < Math.abs(ra - rb) - MEETS) return [];
  const along = (d * d + ra * ra - rb * rb) / (2 * d);
  const half = Math.sqrt(Math.max(0, ra * ra - along * along));
  const foot = add(a.centre, scale(apart, along / d));
  const across = scale(left(apart), half / d);
  const found: Intersection[] = [];
  for (const point of half === 0 ? [foot] : [add(foot, across), subtract(foot, across)]) {
    const ta = arcParameterAtAngle(a, angleOf(subtract(point, a.centre)));
    const tb = arcParameterAtAngle(b, angleOf(subtract(point, b.centre)));
    // Circles of nearly one size meet at a place that is ill determined across them: it is taken on the arc.
    if (ta !== undefined && tb !== undefined) found.push({ ta, tb, point: pointAt(a, ta) });
  }
  return found;
};

/** |B(t) − centre|² = r², a polynomial of degree six. */
const arcCubic = (a: ArcSegment, b: CubicSegment): Intersection[] => {
  const c = [b.from, b.control1, b.control2, b.to].map((p) => subtract(p, a.centre));
  const xs = c.map((p) => p.x);
  const ys = c.map((p) => p.y);
  const r2 = radiusOf(a) ** 2;
  const found: Intersection[] = [];
  for (const tb of rootsOf(plus(multiply(xs, xs), multiply(ys, ys)).map((v) => v - r2))) {
    const point = cubicPointAt(b, tb);
    const ta = arcParameterAtAngle(a, angleOf(subtract(point, a.centre)));
    if (ta !== undefined && Math.abs(distance(point, a.centre) - Math.sqrt(r2)) < 1e-5) found.push({ ta, tb, point });
  }
  return found;
};

/** Halved while their boxes overlap, down to stretches almost straight, and then by Newton's method. */
const cubicCubic = (a: CubicSegment, b: CubicSegment): Intersection[] => {
  const found: Intersection[] = [];
  let visits = 0;
  const visit = (
    p: CubicSegment,
    p0: number,
    pw: number,
    q: CubicSegment,
    q0: number,
    qw: number,
    depth: number,
  ): void => {
    // Curves that lie on each other overlap at every depth: the visits are counted out.
    if (++visits > 4000) return;
    if (!overlap(hull(p), hull(q))) return;
    if (depth >= 7) {
      const m = newton(a, p0 + pw / 2, b, q0 + qw / 2);
      if (m && !found.some((f) => sameVisit(f, m) && distance(f.point, m.point) < 4 * MEETS)) found.push(m);
      if (m || depth >= 16) return;
    }
    const [p1, p2] = cubicSplit(p, 0.5);
    const [q1, q2] = cubicSplit(q, 0.5);
    const ph = pw / 2;
    const qh = qw / 2;
    visit(p1, p0, ph, q1, q0, qh, depth + 1);
    visit(p1, p0, ph, q2, q0 + qh, qh, depth + 1);
    visit(p2, p0 + ph, ph, q1, q0, qh, depth + 1);
    visit(p2, p0 + ph, ph, q2, q0 + qh, qh, depth + 1);
  };
  visit(a, 0, 1, b, 0, 1, 0);
  return found;
};

const hull = (s: CubicSegment) => boundsOfPoints([s.from, s.control1, s.control2, s.to]);

const newton = (a: CubicSegment, ta0: number, b: CubicSegment, tb0: number): Intersection | undefined => {
  let ta = ta0;
  let tb = tb0;
  for (let i = 0; i < 12; i++) {
    const gap = subtract(cubicPointAt(b, tb), cubicPointAt(a, ta));
    const da = cubicDerivativeAt(a, ta);
    const db = cubicDerivativeAt(b, tb);
    const det = cross(da, db);
    if (size(gap) < 1e-11 || det === 0) break;
    ta = Math.min(1, Math.max(0, ta + cross(gap, db) / det));
    tb = Math.min(1, Math.max(0, tb + cross(gap, da) / det));
  }
  const point = cubicPointAt(a, ta);
  return distance(point, cubicPointAt(b, tb)) <= MEETS ? { ta, tb, point } : undefined;
};

export interface LineCrossing {
  readonly index: number;
  readonly t: number;
  readonly point: Point;
}

/**
 * Where a path meets the endless line through `through` in `direction`, in order along that line. A joint of two
 * segments counts once; a straight stretch that lies on the line gives both its ends.
 */
export const crossingsWithLine = (
  what: Path | readonly Segment[],
  through: Point,
  direction: Point,
): LineCrossing[] => {
  const segments = 'segments' in what ? what.segments : what;
  const way = unit(direction);
  const side = (p: Point): number => cross(way, subtract(p, through));
  const found: (LineCrossing & { along: number })[] = [];
  const keep = (index: number, t: number, point: Point): void => {
    const along = dot(subtract(point, through), way);
    if (!found.some((f) => distance(f.point, point) <= MEETS && neighbours(f.index, index, segments.length))) {
      found.push({ index, t, point, along });
    }
  };
  segments.forEach((s, index) => {
    if (Math.abs(side(s.from)) <= MEETS) keep(index, 0, s.from);
    for (const m of onLine(s, through, way)) keep(index, m.t, m.point);
    if (Math.abs(side(s.to)) <= MEETS) keep(index, 1, s.to);
  });
  return found.sort((a, b) => a.along - b.along).map(({ index, t, point }) => ({ index, t, point }));
};

const neighbours = (i: number, j: number, count: number): boolean => {
  const apart = Math.abs(i - j);
  return apart <= 1 || apart === count - 1;
};

/** Where the endless lines p + k u and q + m v meet; undefined when parallel (sine of their angle below 1e-9). */
export const linesMeet = (p: Point, u: Point, q: Point, v: Point): Point | undefined => {
  const det = cross(u, v);
  if (Math.abs(det) <= 1e-9 * size(u) * size(v)) return undefined;
  return add(p, scale(u, cross(subtract(q, p), v) / det));
};

/** Where a segment and a straight stretch meet; for a quick yes or no. */
export const meetsLine = (s: Segment, l: LineSegment): boolean => intersections(s, l).length > 0;
