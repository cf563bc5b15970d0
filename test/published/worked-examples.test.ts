import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { draftSkirt, SAMPLE_BODY } from '../../fixtures/blocks/draft/skirt.ts';
import { draftTrousers, SAMPLE_TROUSER_BODY } from '../../fixtures/blocks/draft/trousers.ts';
import { alterPattern } from '../../src/alterations/alter.ts';
import { alterations } from '../../src/alterations/index.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { patternOf } from '../drafted.ts';
import { errorsOf, inches, planned } from './pieces.ts';

/**
 * Every alteration brings worked examples: a whole change, and what one place takes of it. They are planned and done
 * on the first of these blocks that has what the alteration needs, all drafted by published rules: a skirt with front
 * and back cut on the fold, two side seams and one dart in each quarter, and the same drawn whole; a bodice with a sleeve; trousers;
 * and the bodice with a dart at its front shoulder.
 */
const bodice = patternOf(draftBodice(SAMPLE_BODICE_BODY, { darts: 'outline' }));
/** The bodice with half an inch of its side dart at the shoulder: no rule at hand drafts a front with a dart there. */
const shoulderDarted = alterPattern(bodice, planned(bodice, { direct: { 'dart move': 0.5 } }, {}), {
  true: false,
  fullGrainline: false,
}).pattern;
const blocks = [
  patternOf(draftSkirt(SAMPLE_BODY, { darts: 'outline' })),
  patternOf(draftSkirt(SAMPLE_BODY, { darts: 'outline', whole: true })),
  bodice,
  patternOf(draftTrousers(SAMPLE_TROUSER_BODY, { darts: 'outline' })),
  shoulderDarted,
];
const blockFor = (name: string, amount: number): Pattern =>
  blocks.find((block) => {
    const plan = planned(block, { direct: { [name]: amount } }, { beyondLimits: true });
    return plan.steps.some((step) => step.shares.length > 0) && errorsOf(plan).length === 0;
  }) ?? (blocks[0] as Pattern);

describe.each(alterations.map((a) => [a.card.name, a] as const))('%s', (name, alteration) => {
  it('has worked examples', () => expect(alteration.examples.length).toBeGreaterThan(0));

  for (const { says, amount, share, source } of alteration.examples) {
    it(`${says} (${source})`, () => {
      // Past the customary most of the seams the darts are asked; the example is of seams alone.
      const seamsOnly = alteration.card.options.some((o) => o.name === 'take' && o.values.includes('side edges only'))
        ? { [name]: { take: 'side edges only' } }
        : {};
      const pattern = blockFor(name, amount);
      const wanted = { direct: { [name]: amount } };
      const strict = planned(pattern, wanted, { choices: seamsOnly });
      const plan = planned(pattern, wanted, { choices: seamsOnly, beyondLimits: true });
      const [step, ...others] = plan.steps;
      expect(others).toEqual([]);
      expect(step?.shares.length).toBeGreaterThan(0);
      for (const s of step?.shares ?? []) expect(inches(s.amount)).toBeCloseTo(share, 6);

      const past = says.includes('past the limit');
      expect(errorsOf(strict)).toEqual(past ? ['plan-past-limit'] : []);
      expect(plan.findings.map((f) => f.code).includes('plan-beyond-limit')).toBe(past);

      const altered = alterPattern(pattern, plan, { true: false, fullGrainline: false, show: 'in' });
      expect(altered.steps.length).toBe(1);
      expect(altered.findings.filter((f) => f.level === 'error')).toEqual([]);
      const moved = altered.pattern.pieces.filter((p, i) => p !== pattern.pieces[i]).map((p) => p.id);
      expect(moved).toEqual(expect.arrayContaining([...new Set((step?.shares ?? []).map((s) => s.piece))]));
    });
  }
});
