import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { takeMeasurement } from '../../src/pattern/taking/index.ts';
import { carryOut, type Deed, deedCalled, greatestAmount, type Laid, lay } from './laying.ts';
import { deedsFor, garments, parts, samplesOf } from './samples.ts';
import { chordLoss, written } from './written-pattern.ts';

/*
 * On bodices, sleeves, trousers and dresses, as on skirts: the amount an alteration states is what the measurement it is
 * for has gained at every place where that is taken, on the file that was written.
 */

/** DESIGN's bound on girths and lengths, mm. */
const HITS = 0.1;

/** Alterations whose amount is not the gain of a measurement, and what it is. */
const OTHERWISE: readonly (readonly [deed: string, why: string])[] = [
  ['bust', 'the gape of a slash that swings: the width is solved for where the girth is measured (see bodies.test.ts)'],
  ['chest width method=tuck', 'a fold at the centre, to nothing at the armhole'],
  ['front waist length', 'a length that front and back do not share is a wedge: solved for where it is measured'],
  ['back waist length', 'a length that front and back do not share is a wedge: solved for where it is measured'],
];
const statesGain = (deed: Deed): boolean =>
  deed.alteration.card.measurement !== undefined &&
  !OTHERWISE.some(([name]) => (name.includes('=') ? deed.says === name : deed.alteration.card.name === name));

/** Square shoulders (+) are such as drop less. */
const gainOf = (deed: Deed, amount: number): number =>
  deed.alteration.card.measurement === 'shoulder drop' ? -amount : amount;

const tried = new Set<string>();
let worst = { off: 0, told: '' };
afterAll(() => console.info(`${tried.size} deeds tried; worst ${worst.off.toFixed(3)} mm: ${worst.told}`));

/** What every place of a measurement gained, mm. */
const gains = (laid: Laid, after: ReturnType<typeof written>, measurement: string): number[] => {
  const is = takeMeasurement(after, measurement).takings;
  return takeMeasurement(laid.pattern, measurement).takings.map((t, i) => (is[i]?.mm ?? Number.NaN) - t.mm);
};

describe.each(Object.keys(garments).filter((g) => g !== 'skirts'))('what is asked for: %s', (garment) => {
  it('shows on the written file, at every place where it is measured', { timeout: 240_000 }, () => {
    fc.assert(
      fc.property(
        samplesOf(garments[garment] as (typeof garments)[string]).chain((sample) => {
          const own = deedsFor(sample.drafted).filter((says) => statesGain(deedCalled(says)));
          return fc.record({ sample: fc.constant(sample), says: fc.constantFrom(...own) });
        }),
        parts,
        ({ sample, says }, { part, sign }) => {
          const laid = lay(sample);
          const deed = deedCalled(says);
          const amount = sign * part * greatestAmount(laid.pattern, deed, sign);
          fc.pre(amount !== 0);
          const done = carryOut(laid, deed, amount);
          // What the paper has no room for is refused in words.
          fc.pre(done.altered.findings.every((f) => f.code !== 'alter-no-room'));
          const measurement = deed.alteration.card.measurement as string;
          const told = `${says} ${amount.toFixed(2)}: ${measurement}`;
          const gained = gains(laid, written(laid, done), measurement);
          expect(gained.length, told).toBeGreaterThan(0);
          for (const gain of gained) {
            const off = Math.abs(gain - gainOf(deed, amount));
            if (off > worst.off) worst = { off, told };
            expect(off, told).toBeLessThanOrEqual(HITS + 4 * chordLoss(laid));
          }
          tried.add(says);
        },
      ),
      { numRuns: 8, endOnFailure: true },
    );
  });
});
