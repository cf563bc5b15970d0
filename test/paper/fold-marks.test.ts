import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry/point.ts';
import { readPatternFile } from '../../src/job/patternfile.ts';
import { fullerBust } from '../../src/paper/full-bust.ts';
import { tape } from '../../src/paper/tape.ts';
import { trace } from '../../src/paper/tracing.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { acrossOf } from '../../src/pattern/upright.ts';

const blocks = join(import.meta.dirname, '../../fixtures/blocks');
const fronts = await Promise.all(
  ['dress-cubics.svg', 'bodice-cubics.svg', 'bodice-splines-turned-german.dxf'].map(async (name) => {
    const { file } = await readPatternFile(join(blocks, name), {});
    const front = file?.pattern.pieces.find((p) => p.part.endsWith(' front'));
    if (!front) throw new Error(`no front in ${name}`);
    return { name, front };
  }),
);

/** Corners and ends of the bracket and its heads, in the order they are drawn. */
const cornersOf = (piece: Piece): Point[] =>
  piece.lines
    .filter((l) => l.kind === 'fold mark')
    .flatMap((l) => l.spans.flatMap((s) => s.segments.flatMap((g) => [g.from, g.to])));

const away = (a: Point, b: Point): number => Math.hypot(a.x - b.x, a.y - b.y);

describe.each(fronts)('the bracket “place on fold” of $name', ({ front }) => {
  it('keeps its shape, its heads at its ends and its ends on the fold, however full the bust', () => {
    const before = cornersOf(front);
    expect(before.length).toBeGreaterThan(6);
    const least = Math.min(...before.map((p) => acrossOf(front.upright, p)));
    fc.assert(
      fc.property(fc.double({ min: 2, max: 25, noNaN: true }), (by) => {
        const after = cornersOf(tape(fullerBust(trace(front), by)));
        expect(after.length).toBe(before.length);
        after.forEach((p, i) => {
          after.forEach((q, k) => {
            const off = away(p, q) - away(before[i] as Point, before[k] as Point);
            expect(Math.abs(off)).toBeLessThan(0.01);
          });
        });
        expect(Math.abs(Math.min(...after.map((p) => acrossOf(front.upright, p))) - least)).toBeLessThan(0.01);
      }),
      { numRuns: 5 },
    );
  });
});
