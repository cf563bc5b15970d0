import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planFitting } from '../../src/alterations/plan.ts';
import { edgeLengths, measureGirths } from '../../src/checks/index.ts';
import { hasErrors } from '../../src/finding.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { EdgeRole, LevelName } from '../../src/pattern/piece.ts';
import { goesRound } from '../../src/pattern/round.ts';
import { carryOut, carryOutPlan, deedCalled, deedNames, greatestAmount, lay } from './laying.ts';
import { layOnce, parts, sampleOf, skirtSamples } from './samples.ts';
import { chordLoss, written } from './written-pattern.ts';

/* What was asked for is what comes out, measured on the file that was written. */

/** DESIGN's bound on girths and lengths, mm. */
const HITS = 0.1;

const girth = (pattern: Pattern, level: LevelName): number =>
  measureGirths(pattern).find((g) => g.level === level)?.girth ?? Number.NaN;

/** Lengths of all edges of a role on the pieces that go round the body. */
const lengths = (pattern: Pattern, ...roles: EdgeRole[]): number[] =>
  edgeLengths(pattern)
    .filter((e) => {
      const piece = pattern.pieces.find((p) => p.id === e.piece);
      const role = piece?.edges.find((x) => x.id === e.edge)?.role;
      return piece && goesRound(piece) && role !== undefined && roles.includes(role);
    })
    .map((e) => e.length);

/** Height of the hip level under the waist at the centre, each piece's own. */
const hipDepths = (pattern: Pattern): number[] =>
  pattern.pieces.filter(goesRound).map((p) => -(p.levels.find((l) => l.name === 'hip')?.height ?? Number.NaN));

const changes = (was: readonly number[], is: readonly number[]): number[] =>
  is.map((x, i) => x - (was[i] ?? Number.NaN));

/** What a body measurement shows as on the pattern: its changes there. */
const shown: Readonly<Record<string, (was: Pattern, is: Pattern) => number[]>> = {
  'waist girth': (was, is) => [girth(is, 'waist') - girth(was, 'waist')],
  'hip girth': (was, is) => [girth(is, 'hip') - girth(was, 'hip')],
  'waist to hip': (was, is) => changes(hipDepths(was), hipDepths(is)),
  'skirt length': (was, is) => changes(lengths(was, 'fold', 'centre'), lengths(is, 'fold', 'centre')),
};

/** What a card promises to keep, as a change that must be nothing. */
const kept: Readonly<Record<string, (was: Pattern, is: Pattern) => number[]>> = {
  'waist length': shown['waist girth'] as (was: Pattern, is: Pattern) => number[],
  hip: shown['hip girth'] as (was: Pattern, is: Pattern) => number[],
  'side length': (was, is) => changes(lengths(was, 'side'), lengths(is, 'side')),
};

describe('what is asked for', () => {
  it('shows on the written file, and what the card promises to keep is kept', () => {
    const worst = new Map<string, number>();
    fc.assert(
      fc.property(skirtSamples, fc.constantFrom(...deedNames), parts, (sample, says, { part, sign }) => {
        const laid = lay(sample);
        const deed = deedCalled(says);
        const amount = sign * part * greatestAmount(laid.pattern, deed, sign);
        fc.pre(amount !== 0);
        const { card } = deed.alteration;
        const is = written(laid, carryOut(laid, deed, amount));
        const measured = (card.measurement && shown[card.measurement]?.(laid.pattern, is)) || [];
        const told = `${says} ${amount.toFixed(2)}`;
        const note = (what: string, off: number) => worst.set(what, Math.max(worst.get(what) ?? 0, Math.abs(off)));
        for (const change of measured) {
          note(card.measurement as string, change - amount);
          expect(Math.abs(change - amount), `${told}: ${card.measurement}`).toBeLessThanOrEqual(
            HITS + 4 * chordLoss(laid),
          );
        }
        // A whole piece has its centre inside, a gore has none: there the length shows on the seams alone.
        for (const promise of card.keeps) {
          for (const change of kept[promise]?.(laid.pattern, is) ?? []) {
            note(`kept ${promise}`, change);
            expect(Math.abs(change), `${told}: ${promise}`).toBeLessThanOrEqual(
              promise === 'side length' ? 0.5 : HITS + 4 * chordLoss(laid),
            );
          }
        }
      }),
      { numRuns: 14, endOnFailure: true },
    );
    console.info([...worst].map(([what, off]) => `${what}: ${off.toFixed(3)} mm`).join('\n'));
  });

  it('shows when a wearer differs in everything at once', () => {
    const sizes = fc.record({
      waist: fc.integer({ min: -25, max: 25 }),
      hip: fc.integer({ min: -25, max: 25 }),
      depth: fc.integer({ min: -15, max: 15 }),
      length: fc.integer({ min: -50, max: 50 }),
      flare: fc.constantFrom(0, 50),
      whole: fc.boolean(),
    });
    fc.assert(
      fc.property(sizes, ({ waist, hip, depth, length, flare, whole }) => {
        const laid = layOnce(sampleOf({ flare, whole }, { format: 'dxf', variant: 'splines' }));
        const { draftedFor } = laid.pattern;
        const change = { 'waist girth': waist, 'hip girth': hip, 'waist to hip': depth, 'skirt length': length };
        const measurements = Object.fromEntries(
          Object.entries(change).map(([m, by]) => [m, (draftedFor[m] as number) + by]),
        );
        const plan = planFitting(
          laid.pattern,
          { fitting: 'Elektra', measurements, direct: {} },
          { beyondLimits: false, choices: {}, show: 'mm' },
        );
        fc.pre(!hasErrors(plan.findings));
        const is = written(laid, carryOutPlan(laid, plan));
        for (const [measurement, by] of Object.entries(change)) {
          for (const got of shown[measurement]?.(laid.pattern, is) ?? []) {
            expect(Math.abs(got - by), `${measurement} ${got} for ${by}`).toBeLessThanOrEqual(HITS);
          }
        }
      }),
      { numRuns: 6, endOnFailure: true },
    );
  });
});
