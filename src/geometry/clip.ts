import polygonClipping from 'polygon-clipping';
import { encloses, polyline, signedArea } from './path.ts';
import { distance, type Point, same } from './point.ts';

/**
 * Areas together, in common and left over. Rings are closed chains of straight lines that do not repeat their first
 * point; those that run clockwise are holes in the smallest ring round them.
 */

/** Coordinates are rounded to this grid, mm: unrounded, shared borders with float noise make the clipper throw. */
const GRID = 1e-6;
/** More points than this in one call are thinned (the clipper has no bound of its own on its time). */
const MOST_POINTS = 20_000;

type Ring = readonly Point[];
type ClipRing = [number, number][];

const snap = (v: number): number => Math.round(v / GRID) * GRID;

/** mm², holes taken off. */
export const areaOf = (rings: readonly Ring[]): number =>
  rings.reduce((sum, r) => sum + signedArea(polyline(r, true)), 0);

/** What lies in a or b. Outer rings anticlockwise, holes clockwise. */
export const unionArea = (a: readonly Ring[], b: readonly Ring[]): Point[][] =>
  rings(polygonClipping.union(polygons(a), polygons(b)));

/** What lies in both. */
export const intersectionArea = (a: readonly Ring[], b: readonly Ring[]): Point[][] =>
  rings(polygonClipping.intersection(polygons(a), polygons(b)));

/** What lies in a and not in b. */
export const difference = (a: readonly Ring[], b: readonly Ring[]): Point[][] =>
  rings(polygonClipping.difference(polygons(a), polygons(b)));

const polygons = (given: readonly Ring[]): ClipRing[][] => {
  const bounded = thinned(given.filter((r) => r.length >= 3));
  const outer = bounded.filter((r) => signedArea(polyline(r, true)) > 0);
  const holes = bounded.filter((r) => signedArea(polyline(r, true)) < 0);
  const result = outer.map((ring) => [ring]);
  for (const hole of holes) {
    const round = outer
      .map((ring, i) => ({ ring, i }))
      .filter(({ ring }) => encloses(polyline(ring, true), hole[0] as Point))
      .sort((p, q) => areaOf([p.ring]) - areaOf([q.ring]))[0];
    if (round) result[round.i]?.push(hole);
  }
  return result.map((group) => group.map((ring) => ring.map((p): [number, number] => [snap(p.x), snap(p.y)])));
};

/** Rings with, when there are too many points, those left out that stand nearest to the one kept before. */
const thinned = (given: readonly Ring[]): Ring[] => {
  let apart = 1e-3;
  let result = [...given];
  while (result.reduce((n, r) => n + r.length, 0) > MOST_POINTS) {
    const least = apart;
    result = result.map((ring) => {
      let last: Point | undefined;
      return ring.filter((p) => {
        if (last && distance(last, p) < least) return false;
        last = p;
        return true;
      });
    });
    apart *= 2;
  }
  return result.filter((r) => r.length >= 3);
};

const rings = (result: readonly (readonly (readonly [number, number][])[])[]): Point[][] =>
  result.flatMap((polygon) =>
    polygon.map((ring, i) => {
      const points = ring.map(([x, y]) => ({ x, y }));
      const first = points[0];
      const last = points[points.length - 1];
      if (first && last && points.length > 1 && same(first, last)) points.pop();
      const anticlockwise = signedArea(polyline(points, true)) > 0;
      return anticlockwise === (i === 0) ? points : points.reverse();
    }),
  );
