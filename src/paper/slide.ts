import { distance, type Point } from '../geometry/point.ts';
import { pointAt } from '../geometry/segment.ts';
import { splineThrough } from '../geometry/spline-through.ts';
import { displaced } from './move-edge.ts';
import { along, pointsOf, type Run } from './runs.ts';
import type { Tracing } from './tracing.ts';

/** Places along a smooth line through points (some of which may lie on one place), at distances from its first. */
export const placesAlong = (through: readonly Point[], ways: readonly number[]): Point[] => {
  const points = through.filter((p, i) => i === 0 || distance(p, through[i - 1] as Point) > 0);
  const way = along(points);
  const curves = splineThrough(points);
  return ways.map((s) => {
    const k = Math.min(
      curves.length - 1,
      Math.max(
        0,
        way.findLastIndex((w) => w <= s),
      ),
    );
    const [from, length] = [way[k] as number, (way[k + 1] as number) - (way[k] as number)];
    return pointAt(curves[k] as (typeof curves)[number], Math.min(1, (s - from) / length));
  });
};

/**
 * The pricks of a run slide along it: the line keeps its shape, and what rides on it (notches) comes to stand elsewhere.
 * @param to way along the run at which a prick comes to stand, from where it stood, mm; must rise, the ends staying
 */
export const slideAlong = (tracing: Tracing, run: Run, to: (way: number) => number): Tracing => {
  const points = pointsOf(tracing, run);
  const was = along(points).slice(1, -1);
  const is = was.map(to);
  const places = placesAlong(points, is);
  const shifts = places.map((q, k) => {
    const p = points[k + 1] as Point;
    if (Math.abs((is[k] as number) - (was[k] as number)) < 1e-9) return { x: 0, y: 0 };
    return { x: q.x - p.x, y: q.y - p.y };
  });
  return { ...tracing, seam: displaced(tracing.seam, run.slice(1, -1), shifts) };
};

/** A way along a line, from some of its places to others: between two of them in proportion. */
export const proportionally =
  (places: readonly { readonly from: number; readonly to: number }[]) =>
  (way: number): number => {
    const sorted = [...places].sort((a, b) => a.from - b.from);
    const k = Math.max(
      1,
      Math.min(
        sorted.length - 1,
        sorted.findIndex((p) => p.from >= way),
      ),
    );
    const [a, b] = [sorted[k - 1], sorted[k]];
    if (!a || !b || b.from === a.from) return way;
    return a.to + ((b.to - a.to) * (way - a.from)) / (b.from - a.from);
  };
