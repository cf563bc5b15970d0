import { describe, expect, it } from 'vitest';
import { edgeLengths } from '../../src/checks/index.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { apart, closedPath } from './comparing.ts';
import { alterOnly, type Deed, deeds, greatestAmount, planDeed } from './laying.ts';
import { layOnce, sampleOf } from './samples.ts';

/* Done and undone, and done in two steps. */

/** Trued edges come back within this in length and in shape; moves by a single amount add up within the third. mm */
const LENGTH = 0.1;
const SHAPE = 0.5;
const ADDS_UP = 0.05;

const shapesApart = (a: Pattern, b: Pattern): number =>
  Math.max(...a.pieces.map((p, i) => apart(closedPath(p.seamLine), closedPath((b.pieces[i] as Piece).seamLine))));

const lengthsApart = (a: Pattern, b: Pattern): number => {
  const other = edgeLengths(b);
  return Math.max(...edgeLengths(a).map((e, i) => Math.abs(e.length - (other[i]?.length ?? Number.NaN))));
};

/** Two amounts that together go to the same places as each of them: how a change is shared out need not add up. */
const samePlaces = (pattern: Pattern, deed: Deed, most: number): readonly [number, number] => {
  const places = (amount: number): string =>
    planDeed(pattern, deed, amount, true)
      .steps.flatMap((s) => s.shares.map((x) => x.place))
      .join();
  for (let whole = 0.6 * most; ; whole /= 2) {
    const [a, b] = [0.6 * whole, 0.4 * whole];
    if (places(a) === places(whole) && places(b) === places(whole)) return [a, b];
  }
};

const blocks = [
  ['straight, darts as lines', sampleOf()],
  ['flared, darts in the outline', sampleOf({ flare: 40, darts: 'outline' }, { format: 'dxf', variant: 'splines' })],
] as const;

describe.each(deeds.map((d) => [d.says, d] as const))('%s', (_, deed) => {
  // What is drawn anew, a dart or tucks, is not rubbed out again by asking for the opposite.
  const bothWays = (p: Pattern): boolean => greatestAmount(p, deed, 1) > 0 && greatestAmount(p, deed, -1) > 0;

  it.each(blocks)('done and undone comes back: %s', (_block, sample) => {
    const { pattern } = layOnce(sample);
    if (!bothWays(pattern)) return;
    const amount = 0.5 * Math.min(greatestAmount(pattern, deed, 1), greatestAmount(pattern, deed, -1));
    for (const sign of [1, -1]) {
      const there = alterOnly(pattern, deed, sign * amount, true).pattern;
      const back = alterOnly(there, deed, -sign * amount, true).pattern;
      expect(lengthsApart(pattern, back), 'length').toBeLessThanOrEqual(LENGTH);
      expect(shapesApart(pattern, back), 'shape').toBeLessThanOrEqual(SHAPE);
    }
  });

  it.runIf(deed.alteration.card.additive).each(blocks)('adds up: %s', (_block, sample) => {
    // Without mates no seam is settled against another: that is a balance of its own and does not add up.
    const pattern = { ...layOnce(sample).pattern, mates: [] };
    for (const sign of [1, -1] as const) {
      const most = greatestAmount(pattern, deed, sign);
      if (most === 0) continue;
      const [a, b] = samePlaces(pattern, deed, sign * most);
      const once = alterOnly(pattern, deed, a + b, true).pattern;
      const twice = alterOnly(alterOnly(pattern, deed, a, true).pattern, deed, b, true).pattern;
      expect(shapesApart(once, twice)).toBeLessThanOrEqual(ADDS_UP);
    }
  });
});
