import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inOrder } from '../../src/job/run/in-order.ts';
import { keyOf, type Manifest, type ManifestLine, settled } from '../../src/job/run/manifest.ts';

const lineFor = (fitting: string, version = '1'): ManifestLine => ({
  ...{ fitting, pattern: 'skirt.dxf', status: 'done', folder: fitting, outputs: [], reasons: [], place: 1, of: 1 },
  ...{ table: null, asked: true, input: '', options: '', version },
});
const manifestOf = (lines: readonly ManifestLine[]): Manifest => new Map(lines.map((l) => [keyOf(l), l]));
const names = (manifest: Manifest): string[] => [...manifest.values()].map((l) => l.fitting + l.version);

describe('settled', () => {
  it('sets the fittings of the table in its order, in the places they have among others', () => {
    const earlier = manifestOf([lineFor('Ann'), lineFor('Bea'), lineFor('Cleo')]);
    const table = [lineFor('Cleo', '2'), lineFor('Ann', '2'), lineFor('Dora', '2')];
    expect(names(settled(earlier, table))).toEqual(['Cleo2', 'Bea1', 'Ann2', 'Dora2']);
  });

  it('is the same in whatever order the fittings ended, and when it is settled again', () => {
    const fittings = ['a', 'b', 'c', 'd', 'e', 'f'];
    const orders = fc.shuffledSubarray(fittings, { minLength: 1 });
    fc.assert(
      fc.property(orders, orders, fc.infiniteStream(fc.nat()), (before, table, random) => {
        const earlier = before.map((f) => lineFor(f));
        const lines = table.map((f) => lineFor(f, '2'));
        const ended = lines.map((l) => ({ l, by: random.next().value as number })).sort((a, b) => a.by - b.by);
        const added = manifestOf([...earlier, ...ended.map((e) => e.l)]);
        const straight = settled(manifestOf(earlier), lines);
        expect(names(settled(added, lines))).toEqual(names(straight));
        expect(names(settled(straight, lines))).toEqual(names(straight));
        expect([...straight.values()].filter((l) => l.version === '2')).toEqual(lines);
      }),
    );
  });

  it('does not tell twice of one that had no folder before', () => {
    const refused = { ...lineFor('Ann'), folder: null, status: 'refused' } as const;
    expect(names(settled(manifestOf([refused]), [lineFor('Ann', '2')]))).toEqual(['Ann2']);
  });
});

describe('inOrder', () => {
  it('gives results in the order of the tasks, and is never further ahead than allowed', async () => {
    const delays = fc.array(fc.nat(3), { maxLength: 30 });
    await fc.assert(
      fc.asyncProperty(delays, fc.integer({ min: 1, max: 6 }), async (tasks, ahead) => {
        let given = 0;
        let started = 0;
        const start = async (delay: number) => {
          const place = started++;
          expect(place - given).toBeLessThan(ahead + 1);
          await new Promise((resolve) => setTimeout(resolve, delay));
          return place;
        };
        for await (const place of inOrder(tasks, ahead, start)) expect(place).toBe(given++);
        expect(given).toBe(tasks.length);
      }),
      { numRuns: 20 },
    );
  });
});
