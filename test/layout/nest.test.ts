import { once } from 'node:events';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { buildSync } from 'esbuild';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { encloses, nearestOnPath, polyline } from '../../src/geometry/path.ts';
import type { Point } from '../../src/geometry/point.ts';
import { convexParts } from '../../src/layout/nest/convex.ts';
import {
  allRound,
  type NestItem,
  type Nesting,
  type NestPlacement,
  type NestProgress,
  type NestStrip,
  nest,
  nestOnce,
  outside,
  overlaps,
  placed,
  turns,
} from '../../src/layout/nest/index.ts';
import { depthAt, pairTable } from '../../src/layout/nest/pair-table.ts';
import { startWorker } from '../../src/layout/nest/parallel.ts';
import { pointsOf, ringArea, ringOf } from '../../src/layout/nest/ring.ts';
import { simplifiedOutward } from '../../src/layout/nest/simplify.ts';

const box = (width: number, height: number, x = 0, y = 0): Point[] => [
  { x, y },
  { x: x + width, y },
  { x: x + width, y: y + height },
  { x, y: y + height },
];

/** Star-shaped about a centre that is not the origin, hollow corners and all. */
const outline: fc.Arbitrary<Point[]> = fc
  .tuple(
    fc.array(fc.double({ min: 15, max: 100, noNaN: true }), { minLength: 3, maxLength: 12 }),
    fc.double({ min: 0, max: 6, noNaN: true }),
    fc.double({ min: -500, max: 500, noNaN: true }),
    fc.boolean(),
  )
  .map(([radii, from, away, clockwise]) => {
    const points = radii.map((r, i) => {
      const angle = from + (2 * Math.PI * i) / radii.length;
      return { x: away + r * Math.cos(angle), y: -away / 2 + r * Math.sin(angle) };
    });
    return clockwise ? points.reverse() : points;
  });

const poses = fc.constantFrom(turns(0), turns(0, Math.PI), allRound(8), [
  { turn: 0, mirror: true },
  { turn: Math.PI, mirror: true },
]);

const items: fc.Arbitrary<NestItem[]> = fc.array(
  fc.record({ name: fc.constant('piece'), outline, copies: fc.integer({ min: 1, max: 4 }), poses }),
  { minLength: 1, maxLength: 5 },
);

const strip: fc.Arbitrary<NestStrip> = fc.record({
  height: fc.double({ min: 260, max: 600, noNaN: true }),
  gap: fc.constantFrom(0, 3, 10),
  margins: fc.constantFrom({}, { start: 5, end: 7, low: 11, high: 13 }),
});

const laid = (all: readonly NestItem[], p: NestPlacement): Point[] =>
  (all[p.item] as NestItem).outline.map((q) => placed(q, p, p.offset));

const leastDistance = (a: Point[], b: Point[]): number => {
  const to = (from: Point[], other: Point[]): number =>
    Math.min(...from.map((p) => nearestOnPath(polyline(other, true), p)?.distance ?? 0));
  return Math.min(to(a, b), to(b, a));
};

describe('a layout', () => {
  it('holds every copy once, inside the strip, apart from one another by the gap', () => {
    fc.assert(
      fc.property(items, strip, fc.integer({ min: 1, max: 9 }), (all, on, seed) => {
        const found = nest(all, on, { seed, effort: 150 });
        const wanted = all.flatMap((item, i) => Array.from({ length: item.copies }, (_, k) => `${i} ${k}`));
        expect(found.placements.map((p) => `${p.item} ${p.copy}`).sort()).toEqual(wanted.sort());
        for (const p of found.placements) {
          const own = (all[p.item] as NestItem).poses;
          expect(own.some((q) => q.turn === p.turn && (q.mirror ?? false) === p.mirror)).toBe(true);
        }
        expect(overlaps(all, found.placements, 1e-6)).toEqual([]);
        expect(outside(all, found.placements, on, found.length, 1e-6)).toEqual([]);
        const outlines = found.placements.map((p) => laid(all, p));
        outlines.forEach((a, i) => {
          for (const b of outlines.slice(i + 1)) expect(leastDistance(a, b)).toBeGreaterThan(on.gap - 1e-5);
        });
      }),
      { numRuns: 25 },
    );
  });

  it('is told by seed and effort alone', () => {
    const all: NestItem[] = [
      { name: 'front', outline: box(120, 80), copies: 4, poses: turns(0, Math.PI) },
      {
        name: 'sleeve',
        outline: [
          { x: 0, y: 0 },
          { x: 90, y: 0 },
          { x: 45, y: 70 },
        ],
        copies: 5,
        poses: allRound(8),
      },
    ];
    const on = { height: 250, gap: 2 };
    const from = (seed: number, searches: number): Nesting => nest(all, on, { seed, effort: 400, searches });
    expect(from(3, 1)).toEqual(from(3, 1));
    expect(from(3, 2).length).toBe(Math.min(from(3, 1).length, from(4, 1).length));
    expect(from(3, 1).placements).not.toEqual(from(4, 1).placements);
  });

  it('is the same from searches in threads of their own', async () => {
    const items = [{ name: 'belt', outline: box(70, 40), copies: 9, poses: allRound(4) }];
    const file = join(mkdtempSync(join(tmpdir(), 'nest-')), 'worker.mjs');
    const source = fileURLToPath(new URL('../../src/layout/nest/worker.ts', import.meta.url));
    buildSync({ entryPoints: [source], outfile: file, bundle: true, platform: 'node', format: 'esm' });
    const worker = pathToFileURL(file).href;
    const strip = { height: 200, gap: 1 };
    const { port } = startWorker(worker, { items, strip, options: { effort: 300 }, seed: 6 });
    const [found] = await once(port, 'message');
    port.close();
    expect(found).toEqual(nestOnce(items, strip, { effort: 300 }, 6));
    const options = { seed: 5, effort: 300, searches: 3 };
    expect(nest(items, strip, { ...options, worker })).toEqual(nest(items, strip, options));
    const two = { ...options, searches: 2 };
    expect(nest(items, strip, { ...two, worker: `${worker}.missing` })).toEqual(nest(items, strip, two));
  });

  it('fills a strip that can be filled', () => {
    const all = [{ name: 'square', outline: box(50, 50), copies: 12, poses: turns(0) }];
    const found = nest(all, { height: 150, gap: 0 }, { effort: 1500 });
    // Twelve squares in three rows, 600 mm² of 50 mm each: a full strip is 200 mm long.
    expect(found.length).toBeLessThan(201);
    expect(found.density).toBeGreaterThan(0.995);
    expect(found.density).toBeCloseTo((12 * 2500) / (150 * found.length), 9);
  });

  it('uses turns where only they save length', () => {
    const all = [{ name: 'strip', outline: box(300, 40), copies: 3, poses: turns(0, Math.PI / 2) }];
    expect(nest(all, { height: 310, gap: 0 }, { effort: 500 }).length).toBeLessThan(121);
  });

  it('lays triangles head to foot when they may turn half round', () => {
    const outline = [
      { x: 0, y: 0 },
      { x: 100, y: 0 },
      { x: 0, y: 200 },
    ];
    const one = nest([{ name: 'gore', outline, copies: 2, poses: turns(0) }], { height: 200, gap: 0 }, { effort: 400 });
    const both = { name: 'gore', outline, copies: 2, poses: turns(0, Math.PI) };
    const two = nest([both], { height: 200, gap: 0 }, { effort: 400 });
    expect(one.length).toBeGreaterThan(195);
    expect(two.length).toBeLessThan(101);
  });

  it('keeps a fold edge on the edge of the strip', () => {
    const half = [
      { x: 10, y: 20 },
      { x: 210, y: 20 },
      { x: 180, y: 140 },
      { x: 60, y: 150 },
    ];
    const all: NestItem[] = [
      {
        name: 'front',
        outline: half,
        copies: 2,
        poses: [
          { turn: 0, pin: 'low' },
          { turn: Math.PI, pin: 'high' },
        ],
      },
      { name: 'back', outline: half, copies: 2, poses: [{ turn: 0, pin: 'low' }] },
      { name: 'cuff', outline: box(60, 30), copies: 6, poses: turns(0, Math.PI) },
    ];
    const margins = { low: 3, high: 4 };
    const found = nest(all, { height: 400, gap: 2, margins }, { effort: 800 });
    for (const p of found.placements.filter((q) => q.item < 2)) {
      const y = placed(half[0]!, p, p.offset).y;
      expect(y).toBeCloseTo(p.turn === 0 ? 3 : 396, 9);
    }
  });

  it('of one piece or none is what it must be', () => {
    const one = nest([{ name: 'one', outline: box(30, 20, 7, 9), copies: 1, poses: turns(0) }], { height: 50, gap: 5 });
    expect(one.length).toBeCloseTo(30, 9);
    const none = nest([], { height: 50, gap: 5 });
    expect(none).toMatchObject({ placements: [], length: 0, density: 0 });
  });

  it('lays an outline that crosses itself by its hull, and says so', () => {
    const bow = [
      { x: 0, y: 0 },
      { x: 100, y: 60 },
      { x: 100, y: 0 },
      { x: 0, y: 80 },
    ];
    const all = [
      { name: 'bow', outline: bow, copies: 3, poses: turns(0) },
      { name: 'square', outline: box(40, 40), copies: 3, poses: turns(0) },
    ];
    const found = nest(all, { height: 170, gap: 0 }, { effort: 400 });
    expect(found.hulled).toEqual([0]);
    const hull = [
      { x: 0, y: 0 },
      { x: 100, y: 0 },
      { x: 100, y: 60 },
      { x: 0, y: 80 },
    ];
    expect(overlaps([{ ...all[0]!, outline: hull }, all[1]!], found.placements, 1e-6)).toEqual([]);
  });

  it('tells how it goes on and only gets shorter', () => {
    const heard: number[] = [];
    const all = [{ name: 'belt', outline: box(70, 40), copies: 12, poses: allRound(4) }];
    const placed: number[] = [];
    const onProgress = (p: NestProgress): void => {
      placed.push(p.placed);
      if (p.iterations > 0) heard.push(p.length);
    };
    const found = nest(all, { height: 200, gap: 1 }, { effort: 600, onProgress });
    expect(placed.slice(0, 12)).toEqual(Array.from({ length: 12 }, (_, i) => i + 1));
    expect(heard.length).toBeGreaterThan(1);
    expect(heard).toEqual([...heard].sort((a, b) => b - a));
    expect(heard.at(-1)).toBe(found.length);
  });
});

describe('the depth of one shape in another', () => {
  it('is above nought exactly where they overlap', () => {
    fc.assert(
      fc.property(
        outline,
        outline,
        fc.array(fc.tuple(fc.double({ noNaN: true, min: -1, max: 1 }), fc.double({ noNaN: true, min: -1, max: 1 })), {
          minLength: 20,
          maxLength: 20,
        }),
        (a, b, offsets) => {
          const [p, q] = [a, b].map((o) => {
            const middle = o.reduce((m, c) => ({ x: m.x + c.x / o.length, y: m.y + c.y / o.length }), { x: 0, y: 0 });
            return o.map((c) => ({ x: c.x - middle.x, y: c.y - middle.y }));
          }) as [Point[], Point[]];
          const table = pairTable(convexParts(ringOf(p)), convexParts(ringOf(q)), 0, 1000);
          const item = (o: Point[]): NestItem => ({ name: '', outline: o, copies: 1, poses: turns(0) });
          for (const [u, v] of offsets) {
            const offset = { x: 200 * u, y: 200 * v };
            const still = { turn: 0, mirror: false, copy: 0 };
            const placements = [
              { ...still, item: 0, offset: { x: 0, y: 0 } },
              { ...still, item: 1, offset },
            ];
            const depth = depthAt(table, offset.x, offset.y);
            const share = overlaps([item(p), item(q)], placements, 0)[0]?.share ?? 0;
            if (share > 1e-7) expect(depth).toBeGreaterThan(0);
            if (depth > 1e-3) expect(share).toBeGreaterThan(0);
          }
        },
      ),
      { numRuns: 30 },
    );
  });

  it('is the way to go to come apart: two squares', () => {
    const square = [ringOf(box(100, 100, -50, -50))];
    for (const cells of [100, 4000]) {
      const table = pairTable(square, square, 0, cells);
      for (const [x, y] of [
        [0, 0],
        [60, 0],
        [0, -97],
        [99, 99],
        [-30, 80],
      ] as const) {
        // On the ridges, where the nearest side changes, up to a cell may be lost.
        const deep = 100 - Math.max(Math.abs(x), Math.abs(y));
        expect(Math.abs(depthAt(table, x, y) - deep)).toBeLessThan(
          x === 60 || y === -97 ? 1e-4 : 200 / Math.sqrt(cells),
        );
      }
      expect(depthAt(table, 100, 0)).toBe(0);
      expect(depthAt(table, 100.001, 50)).toBe(0);
    }
  });
});

describe('convex parts', () => {
  it('are convex and have the whole area between them', () => {
    fc.assert(
      fc.property(outline, (points) => {
        const ring = ringOf(points);
        const parts = convexParts(ring);
        expect(parts.reduce((sum, p) => sum + ringArea(p), 0)).toBeCloseTo(ringArea(ring), 4);
        for (const part of parts) {
          const corners = pointsOf(part);
          corners.forEach((b, i) => {
            const a = corners[(i + corners.length - 1) % corners.length]!;
            const c = corners[(i + 1) % corners.length]!;
            expect((b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x)).toBeGreaterThan(-1e-6);
          });
        }
      }),
      { numRuns: 100 },
    );
  });
});

describe('a simplified outline', () => {
  it('holds the whole of the old one and hardly more', () => {
    fc.assert(
      fc.property(outline, fc.double({ min: 0.1, max: 5, noNaN: true }), (points, tolerance) => {
        const ring = ringOf(points);
        const simple = simplifiedOutward(ring, tolerance, 0.02);
        const path = polyline(pointsOf(simple), true);
        expect(simple.length).toBeLessThanOrEqual(ring.length);
        expect(ringArea(simple)).toBeLessThanOrEqual(ringArea(ring) * (1 + 0.02 + 1e-9));
        for (const p of pointsOf(ring)) {
          const off = nearestOnPath(path, p)?.distance ?? 0;
          expect(off <= 1e-7 || encloses(path, p)).toBe(true);
          expect(off).toBeLessThanOrEqual(5.001);
        }
      }),
      { numRuns: 100 },
    );
  });
});
