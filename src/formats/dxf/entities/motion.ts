import { cross, distance, dot, near, type Point, subtract } from '../../../geometry/point.ts';
import type { Segment } from '../../../geometry/segment.ts';
import { type Affine, apply } from '../../../geometry/transform.ts';

/** How far points may lie from where one motion puts them, file units. */
const ONE_MOTION = 1e-5;

const pointsOf = (s: Segment): readonly Point[] => {
  if (s.kind === 'line') return [s.from, s.to];
  return s.kind === 'arc' ? [s.from, s.centre, s.to] : [s.from, s.control1, s.control2, s.to];
};

/**
 * The turn, move and even scaling that takes every old segment to its new one; undefined when there is none,
 * or when it mirrors.
 */
export const motionBetween = (old: readonly Segment[], now: readonly Segment[]): Affine | undefined => {
  if (old.length !== now.length || old.some((s, i) => s.kind !== now[i]?.kind)) return undefined;
  const from = old.flatMap(pointsOf);
  const to = now.flatMap(pointsOf);
  const [p, q] = [from[0], to[0]];
  if (p === undefined || q === undefined) return undefined;
  const far = from.reduce((best, r, i) => (distance(p, r) > distance(p, from[best] ?? p) ? i : best), 0);
  const motion = similarity(p, from[far] ?? p, q, to[far] ?? q);
  if (motion === undefined || from.some((r, i) => !near(apply(motion, r), to[i] ?? r, ONE_MOTION))) return undefined;
  const turns = (s: Segment): number => (s.kind === 'arc' ? Math.sign(s.sweep) : 0);
  return old.every((s, i) => turns(s) === turns(now[i] ?? s)) ? motion : undefined;
};

const similarity = (p: Point, p2: Point, q: Point, q2: Point): Affine | undefined => {
  const u = subtract(p2, p);
  const v = subtract(q2, q);
  const n = dot(u, u);
  if (n === 0) return undefined;
  const a = dot(u, v) / n;
  const b = cross(u, v) / n;
  return { a, b, c: -b, d: a, e: q.x - a * p.x + b * p.y, f: q.y - b * p.x - a * p.y };
};
