import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry/point.ts';
import { lotsOf } from '../../src/layout/lots.ts';
import { allRound, type NestItem, turns } from '../../src/layout/nest/index.ts';
import { keeping } from '../../src/layout/nest/kept.ts';
import { type Layout, layoutOf } from '../../src/layout/nest/layout.ts';
import type { PairTable } from '../../src/layout/nest/pair-table.ts';
import { randomFrom } from '../../src/layout/nest/random.ts';
import { search } from '../../src/layout/nest/search.ts';
import { shapesOf } from '../../src/layout/nest/shapes.ts';

/** A gore, the k-th a little wider than the one before. */
const gore = (k: number, away = 0): Point[] => [
  { x: away, y: 0 },
  { x: away + 60 + k / 8, y: 4 },
  { x: away + 90 + k / 4, y: 200 },
  { x: away + 40, y: 210 },
  { x: away - 20, y: 196 },
];
const item = (k: number, copies = 1, poses = allRound(8), away = 0): NestItem => ({
  name: `gore ${k}`,
  outline: gore(k, away),
  copies,
  poses,
});
const itemsOf = (count: number, poses = allRound(8)): NestItem[] =>
  Array.from({ length: count }, (_, k) => item(k, 1, poses));
const strip = { height: 300, gap: 3 };

/** Bytes of the arrays of every table that can be reached, counted without asking what is kept. */
const bytesReached = (tables: readonly (PairTable | undefined)[]): number =>
  [...new Set(tables)].reduce(
    (sum, t) => sum + (t ? t.cells.byteLength + t.nodes.byteLength + t.near.byteLength : 0),
    0,
  );

describe('the tables of many different pieces', () => {
  it('stay within their room, however many pairs are asked for', () => {
    const room = 2_000_000;
    const shapes = shapesOf(itemsOf(300, turns(0)), strip, room);
    const random = randomFrom(1);
    let most = 0;
    for (let k = 0; k < 2000; k++) {
      shapes.table(random.below(shapes.lies.length), random.below(shapes.lies.length));
      if (k % 100 === 0) most = Math.max(most, bytesReached(shapes.tables));
      expect(shapes.kept.bytes()).toBeLessThanOrEqual(room);
    }
    expect(most).toBeGreaterThan(room / 2);
    expect(most).toBeLessThanOrEqual(room);
  });

  it('give the same layout in little room as in much', () => {
    const items = itemsOf(9);
    const foundIn = (room: number): { best: unknown; made: Layout } => {
      const made = { ...layoutOf(items, strip), shapes: shapesOf(items, strip, room) };
      return { best: search(made, randomFrom(5), { used: 0, of: 120 }, () => undefined), made };
    };
    const [little, much] = [foundIn(600_000), foundIn(1e9)];
    expect(much.made.shapes.kept.bytes()).toBeGreaterThan(1_200_000);
    expect(little.made.shapes.kept.bytes()).toBeLessThanOrEqual(600_000);
    expect(little.best).toEqual(much.best);
  });

  it('are shared by pieces that are alike, wherever they are drawn, and lie as ones that are not', () => {
    const askedAll = (items: NestItem[]): number => {
      const { lies, table, kept } = shapesOf(items, strip);
      for (let p = 0; p < lies.length; p++) for (let q = 0; q < lies.length; q++) table(p, q);
      return kept.count();
    };
    const half = turns(0, Math.PI);
    const two = askedAll([item(0, 1, half), item(8, 1, half)]);
    expect(two).toBe(3 * 2);
    expect(askedAll([item(0, 1, half), item(8, 1, half), item(0, 1, half, 512), item(8, 1, half, 512)])).toBeLessThan(
      2 * two,
    );
    expect(askedAll(itemsOf(4, half))).toBe(10 * 2);
  });
});

describe('what is kept', () => {
  it('never takes more than its room, is made once while there is room, and what was asked for last stays', () => {
    fc.assert(
      fc.property(
        fc.array(fc.nat({ max: 30 }), { maxLength: 300 }),
        fc.integer({ min: 40, max: 400 }),
        (asked, most) => {
          let made = 0;
          let left = 0;
          const kept = keeping<number>(
            most,
            () => 10,
            () => void left++,
          );
          asked.forEach((name, i) => {
            expect(kept.get(String(name), () => ++made && name)).toBe(name);
            expect(kept.bytes()).toBe(10 * kept.count());
            expect(kept.bytes()).toBeLessThanOrEqual(most);
            const before = asked[i - 1];
            if (before !== undefined) expect(kept.get(String(before), () => Number.NaN)).toBe(before);
          });
          if (10 * new Set(asked).size <= most) expect([made, left]).toEqual([new Set(asked).size, 0]);
        },
      ),
    );
  });
});

interface Drawn {
  readonly template: { readonly fitting: string };
  readonly item: NestItem;
}
const fitting = (name: string, items: readonly NestItem[]): Drawn[] =>
  items.map((own) => ({ template: { fitting: name }, item: own }));
/** Fittings of `each` pieces of which no two are alike. */
const fittings = (count: number, each: number, poses = allRound(8)): Drawn[] =>
  Array.from({ length: count }, (_, f) =>
    fitting(
      `F${f}`,
      Array.from({ length: each }, (_x, k) => item(f * each + k, 1, poses)),
    ),
  ).flat();

describe('lots', () => {
  it('hold every piece in the order given, no fitting in two', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 30 }), { maxLength: 40 }), (sizes) => {
        const asked = sizes.flatMap((size, f) => fitting(`F${f}`, [item(f, size)]));
        const lots = lotsOf(asked);
        expect(lots.flat()).toEqual(asked);
        for (const lot of lots) expect(lot.length).toBeGreaterThan(0);
        const owners = lots.map((lot) => new Set(lot.map((a) => a.template.fitting)));
        expect(owners.reduce((sum, o) => sum + o.size, 0)).toBe(sizes.length);
      }),
    );
  });

  it('are one for a fitting alone and for a few, and grow in number with the fittings, not in size', () => {
    expect(lotsOf(fittings(1, 90))).toHaveLength(1);
    expect(lotsOf(fittings(16, 3))).toHaveLength(1);
    expect(lotsOf(fittings(32, 3, turns(0, Math.PI)))).toHaveLength(1);
    const sizes = (count: number): number[] => lotsOf(fittings(count, 3)).map((lot) => lot.length);
    for (const count of [17, 50, 200]) {
      expect(Math.max(...sizes(count))).toBeLessThanOrEqual(48);
      expect(Math.max(...sizes(count)) - Math.min(...sizes(count))).toBeLessThanOrEqual(3);
    }
    expect(sizes(200)).toHaveLength(13);
  });

  it('count pieces that are alike once', () => {
    const alike = Array.from({ length: 48 }, (_, f) => fitting(`F${f}`, [item(0), item(1), item(2)])).flat();
    expect(lotsOf(alike)).toHaveLength(1);
    expect(
      lotsOf([...alike, ...alike.map((a) => ({ ...a, template: { fitting: `G${a.template.fitting}` } }))]),
    ).toHaveLength(2);
  });

  it('part a fitting that alone has too many pieces', () => {
    const lots = lotsOf(fitting('', [item(0, 140), item(1, 30), item(2, 90)]));
    expect(lots.map((lot) => lot.map((a) => a.item.copies))).toEqual([[140, 30], [90]]);
  });
});
