import { describe, expect, it } from 'vitest';
import type { SkirtOptions } from '../../fixtures/blocks/draft/skirt.ts';
import type { WriteOptions } from '../../fixtures/blocks/draft/write.ts';
import { alterPattern } from '../../src/alterations/alter.ts';
import { hasErrors } from '../../src/finding.ts';
import { carryOutPlan, deeds, lay, planDeed } from './laying.ts';
import { sampleOf } from './samples.ts';

/* Every alteration on every kind of file that may come: something is made of it, or it is refused in words. Never a fault. */

const contents = [
  ['the whole pattern', undefined],
  ['a front by itself', ['front']],
  ['a back by itself', ['back']],
  ['mates without a band', ['front', 'back']],
  ['a waistband by itself', ['waistband']],
] as const;

/** Formats and positions in all pairs; half and whole paper, in turn, with each of them. */
const looks: readonly (readonly [string, Partial<WriteOptions>, SkirtOptions])[] = [
  ['dxf, half, upright', { format: 'dxf', variant: 'lines and arcs' }, {}],
  ['dxf, whole, turned', { format: 'dxf', variant: 'splines', angle: 2.2 }, { whole: true, darts: 'outline' }],
  ['dxf, half, mirrored', { format: 'dxf', variant: 'apparel', mirror: true }, { darts: 'outline', flare: 30 }],
  ['svg, whole, upright', {}, { whole: true }],
  ['svg, half, turned', { angle: -1 }, { back: 'centre seam' }],
  ['svg, whole, mirrored', { variant: 'polylines', mirror: true }, { whole: true, flare: 50 }],
];

const table = contents.flatMap(([content, only]) =>
  looks.map(([look, write, block]) => ({
    says: `${content}, ${look}`,
    sample: { ...sampleOf(block, write), ...(only ? { only } : {}) },
  })),
);

describe.each(table)('$says', ({ sample }) => {
  it('takes every alteration, or refuses it in words', () => {
    const laid = lay(sample);
    deeds.forEach((deed, i) => {
      const sign = i % 2 === 0 ? 1 : -1;
      for (const amount of [0, sign * 9, sign * -9]) {
        const plan = planDeed(laid.pattern, deed, amount);
        for (const f of plan.findings) expect(f.try, `${deed.says}: ${f.code}`).not.toBe('');
        if (hasErrors(plan.findings)) continue;
        // The other sign on paper only, with faults mended and the grain drawn through: writing it tells nothing more.
        if (amount * sign < 0) {
          alterPattern(laid.pattern, plan, { true: true, fullGrainline: true });
          continue;
        }
        const { altered, bytes } = carryOutPlan(laid, plan);
        for (const f of altered.findings) expect(f.try, `${deed.says}: ${f.code}`).not.toBe('');
        if (amount === 0) expect(Buffer.compare(Buffer.from(bytes), Buffer.from(laid.bytes))).toBe(0);
      }
    });
  });
});
