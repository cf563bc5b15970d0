import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaOf, difference, intersectionArea, unionArea } from '../../src/geometry/clip.ts';
import {
  type Chain,
  type ChainItem,
  chain,
  distanceAlong,
  encloses,
  flatten,
  nearestOnPath,
  type Path,
  pathBounds,
  pathLength,
  pointAtDistance,
  polyline,
  reversedPath,
  signedArea,
  windingNumber,
} from '../../src/geometry/path.ts';
import { distance, type Point } from '../../src/geometry/point.ts';
import { arcAbout, line, nearestOn, reversed, type Segment } from '../../src/geometry/segment.ts';
import { rotation, transformPath, translation } from '../../src/geometry/transform.ts';
import { angle, number, outline, place } from './arbitrary.ts';

const square = polyline(
  [
    { x: 0, y: 0 },
    { x: 10, y: 0 },
    { x: 10, y: 10 },
    { x: 0, y: 10 },
  ],
  true,
);

describe('an outline', () => {
  it('keeps area and length at any place and angle; backwards the area is negative', () => {
    fc.assert(
      fc.property(outline, angle, place, (path, by, shift) => {
        const moved = transformPath(translation(shift), transformPath(rotation(by), path));
        expect(signedArea(moved)).toBeCloseTo(signedArea(path), 4);
        expect(signedArea(path)).toBeGreaterThan(0);
        expect(pathLength(moved)).toBeCloseTo(pathLength(path), 4);
        expect(signedArea(reversedPath(path))).toBeCloseTo(-signedArea(path), 6);
      }),
      { numRuns: 100 },
    );
  });

  it('has the area its chords have, the nearer the finer they are', () => {
    fc.assert(
      fc.property(outline, (path) => {
        for (const tolerance of [1, 0.01]) {
          const ring = flatten(path, tolerance);
          const off = Math.abs(areaOf([ring]) - signedArea(path));
          expect(off).toBeLessThan(tolerance * pathLength(path));
          for (const s of path.segments) expect(ring).toContainEqual(s.from);
          ring.forEach((p, i) => {
            const q = ring[(i + 1) % ring.length] as Point;
            const middle = { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 };
            expect(Math.min(...path.segments.map((s) => nearestOn(s, middle).distance))).toBeLessThanOrEqual(
              tolerance * 1.0001,
            );
          });
        }
      }),
      { numRuns: 40 },
    );
  });

  it('encloses what its chords enclose', () => {
    fc.assert(
      fc.property(outline, place, (path, p) => {
        fc.pre((nearestOnPath(path, p)?.distance ?? 0) > 0.05);
        expect(encloses(path, p)).toBe(insideRing(flatten(path, 0.01), p));
        expect(encloses(reversedPath(path), p)).toBe(encloses(path, p));
      }),
      { numRuns: 200 },
    );
    // Rays through corners and along sides.
    for (const y of [0, 5, 10]) {
      expect(encloses(square, { x: -1, y })).toBe(false);
      expect(encloses(square, { x: 11, y })).toBe(false);
    }
    expect(windingNumber(square, { x: 5, y: 5 })).toBe(1);
  });

  it('is measured along: place and distance go back and forth', () => {
    fc.assert(
      fc.property(outline, number(0, 1), (path, k) => {
        const d = k * pathLength(path);
        const at = pointAtDistance(path, d);
        expect(at).toBeDefined();
        if (!at) return;
        expect(distanceAlong(path, at.index, at.t)).toBeCloseTo(d, 4);
        expect(nearestOnPath(path, at.point)?.distance).toBeLessThan(1e-6);
        const round = pointAtDistance(path, d - pathLength(path));
        expect(distance(round?.point ?? at.point, at.point)).toBeLessThan(1e-3);
        expect(Math.hypot(at.tangent.x, at.tangent.y)).toBeCloseTo(1, 9);
      }),
      { numRuns: 100 },
    );
    expect(
      pointAtDistance(
        polyline([
          { x: 0, y: 0 },
          { x: 5, y: 0 },
        ]),
        99,
      )?.point,
    ).toEqual({ x: 5, y: 0 });
    expect(pointAtDistance({ segments: [], closed: false }, 1)).toBeUndefined();
  });

  it('has its nearest place where no segment has a nearer one', () => {
    fc.assert(
      fc.property(outline, place, (path, p) => {
        const found = nearestOnPath(path, p);
        expect(found?.distance).toBe(Math.min(...path.segments.map((s) => nearestOn(s, p).distance)));
        expect(found?.along).toBeCloseTo(distanceAlong(path, found?.index ?? 0, found?.t ?? 0), 9);
      }),
      { numRuns: 100 },
    );
  });
});

/** Even-odd by the usual ray, on chords. */
const insideRing = (ring: readonly Point[], p: Point): boolean => {
  let inside = false;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length] as Point;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) * (b.x - a.x)) / (b.y - a.y)) inside = !inside;
  });
  return inside;
};

describe('loose lines', () => {
  const walk = (chain: Chain<number>, items: readonly ChainItem<number>[]): Segment[] =>
    chain.links.flatMap(({ key, reversed: back }) => {
      const { segments } = items[key] as ChainItem<number>;
      return back ? segments.map(reversed).reverse() : segments;
    });

  it('of an outline cut up, shuffled, turned round and shaken by a hair are one closed chain again', () => {
    fc.assert(
      fc.property(outline, fc.infiniteStream(number(0, 1)), fc.boolean(), (path, chance, shake) => {
        const next = (): number => chance.next().value as number;
        const shaken = (p: Point): Point => (shake ? { x: p.x + 0.03 * next(), y: p.y + 0.03 * next() } : p);
        const items = path.segments
          .map((s) => ({ s: s.kind === 'line' ? line(shaken(s.from), shaken(s.to)) : s, order: next() }))
          .sort((a, b) => a.order - b.order)
          .map(({ s }, key) => ({ key, segments: [next() < 0.5 ? s : reversed(s)] }));
        const [whole, ...more] = chain(items, 0.1);
        expect(more).toEqual([]);
        expect(whole?.closed).toBe(true);
        expect(whole?.branches).toEqual([]);
        expect(whole?.links.map((l) => l.key).sort((a, b) => a - b)).toEqual(items.map((i) => i.key));
        expect(whole?.links[0]).toEqual({ key: 0, reversed: false });
        const round = walk(whole as Chain<number>, items);
        let gaps = 0;
        round.forEach((s, i) => {
          const gap = distance(s.to, (round[(i + 1) % round.length] as Segment).from);
          expect(gap).toBeLessThanOrEqual(0.1);
          if (gap > 0) gaps++;
        });
        expect(whole?.gaps).toHaveLength(gaps);
        if (!shake) expect(gaps).toBe(0);
        for (const g of whole?.gaps ?? []) expect(g.size).toBe(distance(g.from, g.to));
      }),
      { numRuns: 100 },
    );
  });

  it('keep an outline whole where lines are drawn across it or hang from it', () => {
    const corners = [
      { x: 0, y: 0 },
      { x: 100, y: 0 },
      { x: 120, y: 60 },
      { x: 100, y: 200 },
      { x: 0, y: 200 },
      { x: 0, y: 60 },
    ];
    const sides = corners.map((p, i) => line(p, corners[(i + 1) % 6] as Point));
    const hip = line({ x: 0, y: 60 }, { x: 120, y: 60 });
    const hanging = line({ x: 100, y: 0 }, { x: 60, y: 40 });
    const items = [hip, ...sides, hanging].map((s, key) => ({ key, segments: [s] }));
    const chains = chain(items, 0.01);
    expect(chains).toHaveLength(3);
    const outer = chains.find((c) => c.closed);
    expect(outer?.links.map((l) => l.key)).toEqual([1, 2, 3, 4, 5, 6]);
    expect(outer?.branches).toHaveLength(3);
    expect(chains.find((c) => c.links[0]?.key === 0)?.closed).toBe(false);
    expect(chains.find((c) => c.links[0]?.key === 7)?.links).toHaveLength(1);
  });

  it('make several chains: open, closed, a loop of its own', () => {
    const circle = arcAbout({ x: 500, y: 0 }, 20, 0, 2 * Math.PI);
    const items = [
      { key: 'c', segments: [circle] },
      { key: 'b', segments: [line({ x: 10, y: 0 }, { x: 20, y: 5 })] },
      { key: 'a', segments: [line({ x: 0, y: 0 }, { x: 10, y: 0 })] },
      { key: 'far', segments: [line({ x: 0, y: 99 }, { x: 10, y: 99 })] },
      { key: 'nothing', segments: [] },
    ];
    expect(chain(items, 0.1)).toEqual([
      { links: [{ key: 'c', reversed: false }], closed: true, gaps: [], branches: [] },
      {
        links: [
          { key: 'a', reversed: false },
          { key: 'b', reversed: false },
        ],
        closed: false,
        gaps: [],
        branches: [],
      },
      { links: [{ key: 'far', reversed: false }], closed: false, gaps: [], branches: [] },
    ]);
  });

  it('of 5,000 are chained in less than a second', () => {
    const n = 5000;
    const at = (i: number): Point => ({
      x: 300 * Math.cos((2 * Math.PI * i) / n),
      y: 300 * Math.sin((2 * Math.PI * i) / n),
    });
    const items = Array.from({ length: n }, (_, i) => ({
      key: i,
      segments: [line(at((i * 7) % n), at(((i * 7) % n) + 1))],
    }));
    const started = performance.now();
    expect(chain(items, 0.01)).toHaveLength(1);
    expect(performance.now() - started).toBeLessThan(1000);
  });
});

describe('areas', () => {
  it('of two outlines together, in common and left over add up', () => {
    fc.assert(
      fc.property(outline, outline, place, (one, other, shift) => {
        const a = [flatten(one, 0.5)];
        const b = [flatten(transformPath(translation({ x: shift.x / 2, y: shift.y / 2 }), other), 0.5)];
        const both = areaOf(intersectionArea(a, b));
        expect(areaOf(unionArea(a, b)) + both).toBeCloseTo(areaOf(a) + areaOf(b), 2);
        expect(areaOf(difference(a, b)) + both).toBeCloseTo(areaOf(a), 2);
        expect(areaOf(difference(a, a))).toBeCloseTo(0, 6);
      }),
      { numRuns: 40 },
    );
  });

  it('keep holes: a ring less its middle, and that again', () => {
    const big = [flatten(square, 1)];
    const small = [
      [
        { x: 3, y: 3 },
        { x: 6, y: 3 },
        { x: 6, y: 6 },
        { x: 3, y: 6 },
      ],
    ];
    const frame = difference(big, small);
    expect(frame).toHaveLength(2);
    expect(areaOf(frame)).toBeCloseTo(91, 9);
    expect(areaOf(intersectionArea(frame, small))).toBeCloseTo(0, 9);
    expect(areaOf(unionArea(frame, small))).toBeCloseTo(100, 9);
  });
});

it('bounds an outline as its segments are bounded', () => {
  const round: Path = { segments: [arcAbout({ x: 5, y: 5 }, 5, 1, 2 * Math.PI)], closed: true };
  const box = pathBounds(round);
  expect(box.minX).toBeCloseTo(0, 9);
  expect(box.maxY).toBeCloseTo(10, 9);
});
