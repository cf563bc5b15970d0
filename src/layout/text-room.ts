import { boundsOfPoints } from '../geometry/bounds.ts';
import { encloses, polyline } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';

/** Whether a box, given by its four corners anticlockwise, lies inside a ring: its middle does, and it meets no line of it. */
export const liesInside = (ring: readonly Point[], corners: readonly Point[]): boolean => {
  const [a, , c] = corners as [Point, Point, Point, Point];
  if (meetsLine(ring, true, corners)) return false;
  return encloses(polyline(ring, true), { x: (a.x + c.x) / 2, y: (a.y + c.y) / 2 });
};

/** Whether a chain of straight lines runs through the box or ends in it. */
export const meetsLine = (points: readonly Point[], closed: boolean, corners: readonly Point[]): boolean => {
  const box = boundsOfPoints(corners);
  const count = closed ? points.length : points.length - 1;
  for (let i = 0; i < count; i++) {
    const p = points[i] as Point;
    const q = points[(i + 1) % points.length] as Point;
    if (Math.min(p.x, q.x) > box.maxX || Math.max(p.x, q.x) < box.minX) continue;
    if (Math.min(p.y, q.y) > box.maxY || Math.max(p.y, q.y) < box.minY) continue;
    if (inBox(p, corners) || inBox(q, corners) || crossesSide(p, q, corners)) return true;
  }
  return false;
};

const inBox = (p: Point, corners: readonly Point[]): boolean =>
  corners.every((c, i) => leftOf(c, corners[(i + 1) % corners.length] as Point, p));

const crossesSide = (p: Point, q: Point, corners: readonly Point[]): boolean =>
  corners.some((s, i) => {
    const e = corners[(i + 1) % corners.length] as Point;
    return leftOf(s, e, p) !== leftOf(s, e, q) && leftOf(p, q, s) !== leftOf(p, q, e);
  });

/** Whether p lies to the left of the way from a to b. */
const leftOf = (a: Point, b: Point, p: Point): boolean => (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) > 0;
