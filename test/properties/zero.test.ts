import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { greatestMove } from './comparing.ts';
import { alterOnly, carryOut, deedCalled, deedNames, deeds, greatestAmount, lay } from './laying.ts';
import { layOnce, sampleOf, samples } from './samples.ts';

/* Nothing asked, nothing done: DESIGN's first property. A shortcut for zero proves nothing, so next to nothing is tried too. */

/** mm */
const NEXT_TO_NOTHING = 0.01;
const MOVES_AT_MOST = 0.1;

describe('nothing asked', () => {
  it('leaves every byte of the file, whatever is asked and however it is drawn', () => {
    fc.assert(
      fc.property(samples, fc.constantFrom(...deedNames), (sample, says) => {
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

describe.each(deeds.map((deed) => [deed.says, deed] as const))('%s by a hundredth of a millimetre', (_, deed) => {
  it.each([
    ['darts as lines', sampleOf({ flare: 30 }, { format: 'dxf', variant: 'lines and arcs' })],
    ['darts in the outline, turned', sampleOf({ darts: 'outline' }, { angle: 2 })],
  ] as const)('moves nothing by more than 0.1 mm: %s', (_block, sample) => {
    const { pattern } = layOnce(sample);
    for (const sign of [1, -1] as const) {
      if (greatestAmount(pattern, deed, sign) === 0) continue;
      const altered = alterOnly(pattern, deed, sign * NEXT_TO_NOTHING);
      expect(altered.steps).toHaveLength(1);
      expect(greatestMove(pattern, altered.pattern)).toBeLessThanOrEqual(MOVES_AT_MOST);
    }
  });
});
