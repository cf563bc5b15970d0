import { afterAll, describe, expect, it } from 'vitest';
import { edgeLengths } from '../../src/checks/index.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { apart, closedPath } from './comparing.ts';
import { addsUpWithin, comesBack } from './declared.ts';
import { oneOfEach } from './garments.ts';
import { alterOnly, type Deed, deeds, greatestAmount, planDeed, type Sample, takesAnyOf } from './laying.ts';
import { layOnce, sampleFrom, sampleOf } from './samples.ts';

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

const blocks: readonly (readonly [string, Sample])[] = [
  ['straight skirt, darts as lines', sampleOf()],
  [
    'flared skirt, darts in the outline',
    sampleOf({ flare: 40, darts: 'outline' }, { format: 'dxf', variant: 'splines' }),
  ],
  ...oneOfEach.slice(1).map(([says, drafted]) => [says, sampleFrom(drafted)] as const),
];
/** Each deed on so many blocks, the first that take it. */
const ON = 2;

/** What is drawn anew, a dart or tucks, is not rubbed out again by asking for the opposite. */
const bothWays = (p: Pattern, deed: Deed): boolean => takesAnyOf(p, deed, 1) && takesAnyOf(p, deed, -1);

const addsUp = (deed: Deed, sample: Sample): void => {
  // Without mates no seam is settled against another: that is a balance of its own and does not add up.
  const pattern = { ...layOnce(sample).pattern, mates: [] };
  for (const sign of [1, -1] as const) {
    const most = greatestAmount(pattern, deed, sign);
    if (most === 0) continue;
    const [a, b] = samePlaces(pattern, deed, sign * most);
    const once = alterOnly(pattern, deed, a + b, true).pattern;
    const twice = alterOnly(alterOnly(pattern, deed, a, true).pattern, deed, b, true).pattern;
    expect(shapesApart(once, twice)).toBeLessThanOrEqual(addsUpWithin(deed, ADDS_UP));
  }
};

const worst = new Map<string, readonly [number, string]>();
const note = (what: string, off: number, told: string): void => {
  if (off >= (worst.get(what)?.[0] ?? 0)) worst.set(what, [off, told]);
};
afterAll(() =>
  console.info([...worst].map(([what, [off, told]]) => `${what}: ${off.toFixed(3)} mm (${told})`).join('\n')),
);

describe.each(deeds.map((d) => [d.says, d] as const))('%s', (_, deed) => {
  it('done and undone comes back', () => {
    const within = comesBack(deed, LENGTH, SHAPE);
    const taking = blocks.filter(([, s]) => bothWays(layOnce(s).pattern, deed)).slice(0, ON);
    for (const [block, sample] of taking) {
      const { pattern } = layOnce(sample);
      const amount = 0.5 * Math.min(greatestAmount(pattern, deed, 1), greatestAmount(pattern, deed, -1));
      for (const sign of [1, -1]) {
        const there = alterOnly(pattern, deed, sign * amount, true).pattern;
        const back = alterOnly(there, deed, -sign * amount, true).pattern;
        const told = `${deed.says} on ${block}, ${(sign * amount).toFixed(2)}`;
        if (within.length < Infinity) note('back again: length', lengthsApart(pattern, back), told);
        if (within.shape < Infinity) note('back again: shape', shapesApart(pattern, back), told);
        expect(lengthsApart(pattern, back), `${told}: length`).toBeLessThanOrEqual(within.length);
        expect(shapesApart(pattern, back), `${told}: shape`).toBeLessThanOrEqual(within.shape);
      }
    }
  });

  it.runIf(deed.alteration.card.additive)('adds up', () => {
    const taking = blocks.filter(([, s]) =>
      [1, -1].some((sign) => takesAnyOf(layOnce(s).pattern, deed, sign as 1 | -1)),
    );
    for (const [, sample] of taking.slice(0, ON)) addsUp(deed, sample);
  });
});
