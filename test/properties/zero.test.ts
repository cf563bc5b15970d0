import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { greatestMove } from './comparing.ts';
import { oneOfEach } from './garments.ts';
import { alterOnly, carryOut, deedCalled, deeds, lay, takesAnyOf } from './laying.ts';
import { deedsFor, layOnce, sampleFrom, sampleOf, samples } from './samples.ts';

/* Nothing asked, nothing done: DESIGN's first property. A shortcut for zero proves nothing, so next to nothing is tried too. */

/** mm */
const NEXT_TO_NOTHING = 0.01;
const MOVES_AT_MOST = 0.1;

const deedsOnAny = samples.chain((sample) =>
  fc.record({ sample: fc.constant(sample), says: fc.constantFrom(...deedsFor(sample.drafted)) }),
);

describe('nothing asked', () => {
  it('leaves every byte of the file, whatever is asked and however it is drawn', () => {
    fc.assert(
      fc.property(deedsOnAny, ({ sample, says }) => {
        const laid = lay(sample);
        const { changes, bytes } = carryOut(laid, deedCalled(says), 0);
        expect([changes.paths.size, changes.texts.size, changes.points.size, changes.additions.length]).toEqual([
          0, 0, 0, 0,
        ]);
        expect(Buffer.compare(Buffer.from(bytes), Buffer.from(laid.bytes))).toBe(0);
      }),
      { numRuns: 12, endOnFailure: true },
    );
  });
});

/** Where all of a dart goes, the amount only says which way. */
const byAmount = deeds.filter((d) => d.choices.take !== 'all');

describe.each(byAmount.map((deed) => [deed.says, deed] as const))('%s by a hundredth of a millimetre', (_, deed) => {
  it('moves nothing by more than 0.1 mm: every garment', () => {
    // The one sign on one block, the other on the next that takes it.
    const taking = oneOfEach.filter(
      ([name, drafted]) => !name.startsWith('skirt') && takesAnyOf(layOnce(sampleFrom(drafted)).pattern, deed, 1),
    );
    taking.forEach(([block, drafted], i) => {
      const { pattern } = layOnce(sampleFrom(drafted));
      for (const sign of taking.length === 1 ? [1, -1] : [i % 2 === 0 ? 1 : -1]) {
        const altered = alterOnly(pattern, deed, sign * NEXT_TO_NOTHING);
        expect(greatestMove(pattern, altered.pattern), `${block} ${sign}`).toBeLessThanOrEqual(MOVES_AT_MOST);
      }
    });
  });

  it.each([
    ['darts as lines', sampleOf({ flare: 30 }, { format: 'dxf', variant: 'lines and arcs' })],
    ['darts in the outline, turned', sampleOf({ darts: 'outline' }, { angle: 2 })],
  ] as const)('moves nothing by more than 0.1 mm: %s', (_block, sample) => {
    const { pattern } = layOnce(sample);
    for (const sign of [1, -1] as const) {
      if (!takesAnyOf(pattern, deed, sign)) continue;
      const altered = alterOnly(pattern, deed, sign * NEXT_TO_NOTHING);
      expect(altered.steps).toHaveLength(1);
      expect(greatestMove(pattern, altered.pattern)).toBeLessThanOrEqual(MOVES_AT_MOST);
    }
  });
});
