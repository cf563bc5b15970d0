import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaOf, difference, intersectionArea, unionArea } from '../../src/geometry/clip.ts';
import { offsetOutline } from '../../src/geometry/offset.ts';
import { encloses, flatten, nearestOnPath, type Path, pathLength, signedArea } from '../../src/geometry/path.ts';
import type { Point } from '../../src/geometry/point.ts';
import { rotation, transformPath, translation } from '../../src/geometry/transform.ts';
import { outline, place } from '../geometry/arbitrary.ts';
import { outsideAvailable, python } from './python.ts';

/** Areas, lengths, distances and parallels of random outlines, beside those of GEOS (shapely 2). */

const pairs = (ring: readonly Point[]): [number, number][] => ring.map((p) => [p.x, p.y]);
/** Chords fine enough that what they lack in area and length is far below what is compared. */
const FINE = 1e-4;
const sample = <T>(arbitrary: fc.Arbitrary<T>, numRuns: number): T[] =>
  fc.sample(arbitrary, { numRuns, seed: 20260101 });

describe.skipIf(!outsideAvailable(['shapely']))('beside shapely', () => {
  it('outlines have the same area, length, distances and inside', () => {
    const cases = sample(fc.tuple(outline, place), 40).map(([path, p]) => ({ path, p }));
    const theirs = python(
      `
from shapely.geometry import Polygon, Point
answer = []
for c in given:
    s = Polygon(c["ring"]); p = Point(c["p"])
    answer.append([s.area, s.exterior.length, s.exterior.distance(p), s.contains(p), s.is_valid])
`,
      cases.map(({ path, p }) => ({ ring: pairs(flatten(path, FINE)), p: [p.x, p.y] })),
    ) as [number, number, number, boolean, boolean][];
    cases.forEach(({ path, p }, i) => {
      const [area, length, distance, inside, valid] = theirs[i] as (typeof theirs)[number];
      expect(valid).toBe(true);
      expect(Math.abs(signedArea(path) - area)).toBeLessThan(2e-6 * area);
      expect(Math.abs(pathLength(path) - length)).toBeLessThan(2e-6 * length);
      expect(nearestOnPath(path, p)?.distance).toBeCloseTo(distance, 3);
      expect(encloses(path, p)).toBe(inside);
    });
  });

  it('parallels of even distance enclose the area of its mitred buffer, outward and inward', () => {
    const cases = sample(fc.tuple(outline, fc.constantFrom(-15, -6, 6, 10, 15)), 60).map(([path, d]) => ({ path, d }));
    const beside = cases.map(({ path, d }) =>
      offsetOutline(path, [{ segments: path.segments.map((_, i) => i), allowance: d }]),
    );
    const theirs = python(
      `
from shapely.geometry import Polygon
answer = []
for c in given:
    b = Polygon(c["ring"]).buffer(c["d"], join_style=2, mitre_limit=50)
    answer.append([b.area, b.geom_type, Polygon(c["ours"]).symmetric_difference(b).area])
`,
      cases.map(({ path, d }, i) => ({
        ring: pairs(flatten(path, 1e-3)),
        d,
        ours: pairs(flatten(beside[i] as Path, 1e-3)),
      })),
    ) as [number, string, number][];
    cases.forEach(({ path }, i) => {
      const [area, kind, apart] = theirs[i] as (typeof theirs)[number];
      expect(kind).toBe('Polygon');
      // 0.01 mm all along the line is what the parallels of curves are allowed.
      const allowed = 0.01 * pathLength(path);
      expect(Math.abs(signedArea(beside[i] as Path) - area)).toBeLessThan(allowed);
      expect(apart).toBeLessThan(1.5 * allowed);
    });
  });

  it('allowances that differ from edge to edge lie as far off as they should', () => {
    const cases = sample(
      fc.tuple(outline, fc.array(fc.constantFrom(0, 6, 10, 15), { minLength: 9, maxLength: 9 })),
      40,
    );
    const beside = cases.map(([path, widths]) =>
      offsetOutline(
        path,
        path.segments.map((_, i) => ({ segments: [i], allowance: widths[i] as number })),
      ),
    );
    // Everything between an edge and its parallel must be covered: each edge's strip, one-sided, is inside the new line.
    const theirs = python(
      `
from shapely.geometry import Polygon, LineString
answer = []
for c in given:
    ours = Polygon(c["ours"])
    missing = 0
    for edge, d in zip(c["edges"], c["widths"]):
        if d > 0:
            strip = LineString(edge).buffer(-d, single_sided=True, cap_style=2)
            missing = max(missing, strip.difference(ours.buffer(0.02)).area)
    answer.append([ours.is_valid, missing, ours.buffer(0.02).contains(Polygon(c["ring"]))])
`,
      cases.map(([path, widths], i) => ({
        ring: pairs(flatten(path, 0.01)),
        ours: pairs(flatten(beside[i] as Path, 0.001)),
        edges: path.segments.map((s) => pairs(flatten([s], 0.001))),
        widths,
      })),
    ) as [boolean, number, boolean][];
    for (const [valid, missing, inside] of theirs) {
      expect(valid).toBe(true);
      expect(inside).toBe(true);
      expect(missing).toBeLessThan(0.5);
    }
  });

  it('areas together, in common and left over are the same', () => {
    const cases = sample(fc.tuple(outline, outline, place), 40).map(([a, b, p]) => ({
      a: flatten(a, 0.2),
      b: flatten(transformPath(translation({ x: p.x / 2, y: p.y / 2 }), transformPath(rotation(p.x), b)), 0.2),
    }));
    const theirs = python(
      `
from shapely.geometry import Polygon
answer = []
for c in given:
    a = Polygon(c["a"]); b = Polygon(c["b"])
    answer.append([a.union(b).area, a.intersection(b).area, a.difference(b).area])
`,
      cases.map(({ a, b }) => ({ a: pairs(a), b: pairs(b) })),
    ) as [number, number, number][];
    cases.forEach(({ a, b }, i) => {
      const [union, common, left] = theirs[i] as (typeof theirs)[number];
      expect(areaOf(unionArea([a], [b]))).toBeCloseTo(union, 1);
      expect(areaOf(intersectionArea([a], [b]))).toBeCloseTo(common, 1);
      expect(areaOf(difference([a], [b]))).toBeCloseTo(left, 1);
    });
  });
});
