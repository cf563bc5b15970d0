import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PathMark } from '../../src/formats/sheet.ts';
import { containsPoint, grown } from '../../src/geometry/bounds.ts';
import { nearestOnPath, type Path, pathBounds, pathLength, pathOf } from '../../src/geometry/path.ts';
import { pointAt } from '../../src/geometry/segment.ts';
import { clipPath } from '../../src/layout/clip.ts';
import { layOut } from '../../src/layout/lay-out.ts';
import { markBounds, shifted } from '../../src/layout/marks.ts';
import { PAPER_SIZES } from '../../src/layout/paper-sizes.ts';
import { marksOn } from '../../src/layout/tiled.ts';
import { HEADER, registrationPlaces, tileName, tilesOf, tiling } from '../../src/layout/tiles.ts';
import { anySegment, number, outline } from '../geometry/arbitrary.ts';
import { LAY_OUT, patternOf } from './laying.ts';

const MARGINS = { left: 6, right: 7, top: 8, bottom: 9 };
const A4 = PAPER_SIZES[0] as (typeof PAPER_SIZES)[number];

const moved = (path: Path): Path => {
  const mark = shifted({ kind: 'path', purpose: 'cut', path, inner: false }, 500, 500) as PathMark;
  return mark.path;
};
const anyPath = fc
  .oneof(
    outline,
    anySegment.map((s) => pathOf([s])),
  )
  .map(moved);

describe('cutting up over sheets', () => {
  it('gives back exactly the whole: without overlap the parts add up, and all lie on the line', () => {
    fc.assert(
      fc.property(anyPath, number(60, 400), number(60, 400), (path, w, h) => {
        let sum = 0;
        for (let x = -500; x < 1500; x += w) {
          for (let y = -500; y < 1500; y += h) {
            const window = { minX: x, minY: y, maxX: x + w, maxY: y + h };
            for (const part of clipPath(path, window)) {
              sum += pathLength(part);
              const box = pathBounds(part);
              expect(containsPoint(grown(window, 1e-6), { x: box.minX, y: box.minY })).toBe(true);
              expect(containsPoint(grown(window, 1e-6), { x: box.maxX, y: box.maxY })).toBe(true);
              for (const s of part.segments) {
                for (const t of [0, 0.3, 0.7, 1])
                  expect(nearestOnPath(path, pointAt(s, t))?.distance).toBeLessThan(1e-5);
              }
            }
          }
        }
        expect(sum).toBeCloseTo(pathLength(path), 3);
      }),
      { numRuns: 40 },
    );
  });

  it('shows every place of a plan on some sheet, and what neighbours share on both', () => {
    fc.assert(
      fc.property(
        number(150, 3000),
        number(150, 1500),
        number(0, 40),
        number(0, 1),
        number(0, 1),
        (width, height, overlap, u, v) => {
          const plan = tiling(width, height, { paper: A4, margins: MARGINS, overlap });
          const tiles = tilesOf(plan);
          expect(tiles.length).toBe(plan.rows * plan.columns);
          expect(new Set(tiles.map((t) => t.name)).size).toBe(tiles.length);
          const place = { x: u * width, y: v * height };
          expect(tiles.some((t) => containsPoint(grown(t.shows, 1e-9), place))).toBe(true);
          for (const t of tiles) {
            expect(t.shows.maxX - t.shows.minX).toBeCloseTo(A4.width - MARGINS.left - MARGINS.right, 9);
            expect(t.shows.maxY - t.shows.minY).toBeCloseTo(A4.height - MARGINS.top - MARGINS.bottom - HEADER, 9);
            const right = tiles.find((o) => o.row === t.row && o.column === t.column + 1);
            if (right) expect(t.shows.maxX - right.shows.minX).toBeCloseTo(overlap, 9);
            const above = tiles.find((o) => o.column === t.column && o.row === t.row + 1);
            if (above) expect(t.shows.maxY - above.shows.minY).toBeCloseTo(overlap, 9);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it('marks the same places on both neighbours', () => {
    const plan = tiling(900, 700, { paper: A4, margins: MARGINS, overlap: 15 });
    const counts = new Map<string, number>();
    for (const tile of tilesOf(plan)) {
      for (const p of registrationPlaces(plan, tile)) {
        expect(containsPoint(tile.shows, p)).toBe(true);
        const key = `${p.x.toFixed(6)} ${p.y.toFixed(6)}`;
        counts.set(key, (counts.get(key) ?? 0) + 1);
      }
    }
    expect(counts.size).toBeGreaterThan(10);
    expect([...counts.values()].every((n) => n === 2)).toBe(true);
  });

  it('letters rows from the top and numbers columns from the left', () => {
    expect(tileName({ rows: 3 }, 2, 0)).toBe('A1');
    expect(tileName({ rows: 3 }, 0, 4)).toBe('C5');
    expect(tileName({ rows: 28 }, 0, 0)).toBe('AB1');
  });
});

describe('a pattern on A4', () => {
  it('is whole when the sheets are laid together again', async () => {
    const pattern = await patternOf('skirt-cubics.svg');
    const { laid } = layOut([{ fitting: '', pieces: pattern.pieces }], { ...LAY_OUT, paper: A4, margins: MARGINS });
    if (!laid) throw new Error('nothing was laid out');
    const sheet = laid.sheet(undefined);
    expect(sheet.frames[0]?.name).toBe('first');
    const marks = laid.pieces.flatMap((p) => p.marks);
    const whole = marks.reduce((sum, m) => sum + (m.kind === 'path' ? pathLength(m.path) : 0), 0);
    let together = 0;
    for (const frame of sheet.frames.slice(1)) {
      expect([frame.width, frame.height].toSorted((a, b) => a - b)).toEqual([A4.width, A4.height]);
      const { trim } = frame;
      if (!trim) throw new Error('a sheet to be taped has a trim box');
      // Each sheet owns what its left and lower neighbours do not show yet.
      const own = frame.marks.filter((m) => m.piece !== undefined);
      const column = Number(/\d+/.exec(frame.name)?.[0]) - 1;
      const rows = new Set(sheet.frames.slice(1).map((f) => f.name[0])).size;
      const row = rows - 1 - (frame.name.charCodeAt(0) - 65);
      const window = {
        minX: trim.x + (column > 0 ? LAY_OUT.overlap : 0),
        minY: trim.y + (row > 0 ? LAY_OUT.overlap : 0),
        maxX: trim.x + trim.width,
        maxY: trim.y + trim.height,
      };
      for (const m of marksOn(own, window)) if (m.kind === 'path') together += pathLength(m.path);
      for (const m of frame.marks) {
        if (m.kind === 'text') continue;
        const box = markBounds(m);
        expect(Math.min(box.minX, box.minY)).toBeGreaterThanOrEqual(0);
        expect(box.maxX).toBeLessThanOrEqual(frame.width);
        expect(box.maxY).toBeLessThanOrEqual(frame.height);
      }
    }
    // Lines along the very edge of an overlap are on both sheets; there are none here but by chance.
    expect(Math.abs(together - whole)).toBeLessThan(0.01);
  });

  it('draws both test squares and both rulers at true size on the first page', async () => {
    const pattern = await patternOf('skirt-cubics.svg');
    for (const paper of PAPER_SIZES.filter((p) => ['A4', 'Letter', 'A3', 'A0'].includes(p.name))) {
      const { laid } = layOut([{ fitting: '', pieces: pattern.pieces }], { ...LAY_OUT, paper, effort: 20 });
      const first = laid?.sheet(undefined).frames[0];
      if (!first) throw new Error('there is a first page');
      const boxes = first.marks.flatMap((m) => (m.kind === 'path' && m.path.closed ? [pathBounds(m.path)] : []));
      for (const side of [100, 101.6]) {
        expect(
          boxes.filter((b) => Math.abs(b.maxX - b.minX - side) < 1e-9 && Math.abs(b.maxY - b.minY - side) < 1e-9)
            .length,
        ).toBe(1);
      }
      for (const m of first.marks) {
        const box = markBounds(m);
        expect(Math.min(box.minX, box.minY), JSON.stringify(m)).toBeGreaterThanOrEqual(0);
        expect(box.maxX, JSON.stringify(m)).toBeLessThanOrEqual(first.width);
        expect(box.maxY, JSON.stringify(m)).toBeLessThanOrEqual(first.height);
      }
    }
  });
});
