import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dealt, type Slab } from '../../src/report/slab.ts';

const HEIGHT = 100;

const slab: fc.Arbitrary<Slab> = fc.record({
  height: fc.double({ min: 1, max: 40, noNaN: true }),
  marks: fc.constant([]),
  over: fc.double({ min: 0, max: 8, noNaN: true }),
  keep: fc.boolean(),
  fresh: fc.boolean(),
});
const slabs = fc.array(slab, { minLength: 1, maxLength: 40 });

/** The sheet on which each slab lies. */
const sheetOf = (all: readonly Slab[]): number[] => {
  const sheets = dealt(all, HEIGHT);
  return all.map((s) => sheets.findIndex((placed) => placed.some((p) => p.slab === s)));
};

describe('slabs dealt out to sheets', () => {
  it('are all there, once, in their order', () => {
    fc.assert(
      fc.property(slabs, (all) => {
        expect(dealt(all, HEIGHT).flatMap((sheet) => sheet.map((p) => p.slab))).toEqual(all);
      }),
    );
  });

  it('do not lie over each other, and stay on the sheet unless they keep together with too many', () => {
    fc.assert(
      fc.property(slabs, (all) => {
        for (const sheet of dealt(all, HEIGHT)) {
          let below = 0;
          for (const { y, slab: s } of sheet) {
            expect(y).toBeGreaterThanOrEqual(below - 1e-9);
            below = y + s.height;
          }
          const tied = sheet.slice(0, -1).every(({ slab: s }) => s.keep);
          if (!tied) expect(below).toBeLessThanOrEqual(HEIGHT + 1e-9);
        }
      }),
    );
  });

  it('begin a sheet where they are to', () => {
    fc.assert(
      fc.property(slabs, (all) => {
        const sheets = sheetOf(all);
        all.forEach((s, i) => {
          if (i > 0 && s.fresh && !all[i - 1]!.keep) expect(sheets[i]).toBe(sheets[i - 1]! + 1);
          if (i > 0 && all[i - 1]!.keep) expect(sheets[i]).toBe(sheets[i - 1]);
        });
      }),
    );
  });

  it('bring the headings of a table along to the next sheet', () => {
    const head: Slab = { height: 5, marks: [] };
    const rows = Array.from({ length: 12 }, (): Slab => ({ height: 20, marks: [], head }));
    const sheets = dealt([{ ...head, keep: true }, ...rows], HEIGHT);
    expect(sheets.length).toBe(3);
    for (const sheet of sheets.slice(1)) expect(sheet[0]?.slab).toBe(head);
    for (const sheet of sheets) expect(Math.max(...sheet.map((p) => p.y + p.slab.height))).toBeLessThanOrEqual(HEIGHT);
  });
});
