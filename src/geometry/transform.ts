import { arc, arcToCubics } from './arc.ts';
import { cubic } from './cubic.ts';
import type { Path } from './path.ts';
import { ORIGIN, type Point } from './point.ts';
import { line, type Segment } from './segment.ts';

/** Affine map in SVG's order: x′ = a x + c y + e, y′ = b x + d y + f. */
export interface Affine {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

/** How far cubics may lie from the exact image of a circular arc, mm. */
const ARC_TOLERANCE = 1e-4;

export const IDENTITY: Affine = { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 };

/** The map that does `inner` first, then `outer`. */
export const compose = (outer: Affine, inner: Affine): Affine => ({
  a: outer.a * inner.a + outer.c * inner.b,
  b: outer.b * inner.a + outer.d * inner.b,
  c: outer.a * inner.c + outer.c * inner.d,
  d: outer.b * inner.c + outer.d * inner.d,
  e: outer.a * inner.e + outer.c * inner.f + outer.e,
  f: outer.b * inner.e + outer.d * inner.f + outer.f,
});

/** Signed factor by which areas grow; negative when the map mirrors. */
export const determinant = (m: Affine): number => m.a * m.d - m.b * m.c;

/** Undefined when the map flattens the plane (a determinant of nothing beside its coefficients). */
export const inverse = (m: Affine): Affine | undefined => {
  const det = determinant(m);
  const greatest = Math.max(Math.abs(m.a), Math.abs(m.b), Math.abs(m.c), Math.abs(m.d));
  if (!Number.isFinite(det) || Math.abs(det) <= 1e-12 * greatest * greatest) return undefined;
  return {
    a: m.d / det,
    b: -m.b / det,
    c: -m.c / det,
    d: m.a / det,
    e: (m.c * m.f - m.d * m.e) / det,
    f: (m.b * m.e - m.a * m.f) / det,
  };
};

export const apply = (m: Affine, p: Point): Point => ({
  x: m.a * p.x + m.c * p.y + m.e,
  y: m.b * p.x + m.d * p.y + m.f,
});

/** A vector has no place: it is turned and stretched, not moved. */
export const applyToVector = (m: Affine, v: Point): Point => ({ x: m.a * v.x + m.c * v.y, y: m.b * v.x + m.d * v.y });

/** Greatest and least factor by which the map stretches a length (singular values). */
export const stretches = (m: Affine): readonly [number, number] => {
  const e = (m.a + m.d) / 2;
  const f = (m.a - m.d) / 2;
  const g = (m.b + m.c) / 2;
  const h = (m.b - m.c) / 2;
  const q = Math.hypot(e, h);
  const r = Math.hypot(f, g);
  return [q + r, Math.abs(q - r)];
};

/** Whether circles stay circles: turn, move, mirror and even scale only (to 1e-9 of the scale). */
export const isSimilarity = (m: Affine): boolean => {
  const [most, least] = stretches(m);
  return least > 0 && most - least <= 1e-9 * most;
};

/** Whether lengths stay as they are (to 1e-9). */
export const isRigid = (m: Affine): boolean => isSimilarity(m) && Math.abs(Math.abs(determinant(m)) - 1) <= 2e-9;

export const translation = (v: Point): Affine => ({ ...IDENTITY, e: v.x, f: v.y });

const about = (m: Affine, centre: Point): Affine =>
  compose(translation(centre), compose(m, translation({ x: -centre.x, y: -centre.y })));

/** Turn by `angle` radians anticlockwise (y up) about `centre`. */
export const rotation = (angle: number, centre: Point = ORIGIN): Affine => {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return about({ a: c, b: s, c: -s, d: c, e: 0, f: 0 }, centre);
};

export const scaling = (kx: number, ky: number = kx, centre: Point = ORIGIN): Affine =>
  about({ a: kx, b: 0, c: 0, d: ky, e: 0, f: 0 }, centre);

/** Mirror in the line through `through` along `direction` (not zero). */
export const mirrorIn = (through: Point, direction: Point): Affine => {
  const n = direction.x * direction.x + direction.y * direction.y;
  const c = (direction.x * direction.x - direction.y * direction.y) / n;
  const s = (2 * direction.x * direction.y) / n;
  return about({ a: c, b: s, c: s, d: -c, e: 0, f: 0 }, through);
};

/** Slants x by tan(ax) y, and y by tan(ay) x; radians. */
export const skewing = (ax: number, ay: number): Affine => ({
  a: 1,
  b: Math.tan(ay),
  c: Math.tan(ax),
  d: 1,
  e: 0,
  f: 0,
});

/**
 * The image of a segment. Lines and cubics map exactly, arcs too under a similarity;
 * else an arc becomes cubics within 1e-4 mm of its image.
 */
export const transformSegment = (m: Affine, s: Segment): Segment[] => {
  const to = (p: Point): Point => apply(m, p);
  if (s.kind === 'line') return [line(to(s.from), to(s.to))];
  if (s.kind === 'cubic') return [cubic(to(s.from), to(s.control1), to(s.control2), to(s.to))];
  if (isSimilarity(m)) {
    return [arc(to(s.from), to(s.to), to(s.centre), determinant(m) < 0 ? -s.sweep : s.sweep)];
  }
  const cubics = arcToCubics(s, ARC_TOLERANCE / Math.max(stretches(m)[0], 1e-9));
  return cubics.map((q) => cubic(to(q.from), to(q.control1), to(q.control2), to(q.to)));
};

export const transformPath = (m: Affine, path: Path): Path => ({
  segments: path.segments.flatMap((s) => transformSegment(m, s)),
  closed: path.closed,
});
