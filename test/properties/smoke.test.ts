import { describe, expect, it } from 'vitest';
import type { Variant, WriteOptions } from '../../fixtures/blocks/draft/write.ts';
import { alterations } from '../../src/alterations/index.ts';
import { hasErrors } from '../../src/finding.ts';
import { signedArea } from '../../src/geometry/path.ts';
import { closedPath } from './comparing.ts';
import { bodice, type Drafted, dress, skirt, tieredDress, trousers } from './garments.ts';
import { carryOutPlan, deeds, type Laid, planDeed } from './laying.ts';
import { layOnce, sampleFrom } from './samples.ts';

/*
 * Every alteration, a row each, on every kind of file that may come: something is made of it, or it is refused in words.
 * Never a fault, and at the least one file that takes it.
 */

interface Content {
  readonly says: string;
  readonly drafted: Drafted;
  /** Only these pieces of it. */
  readonly only?: readonly string[];
}

const half: readonly Content[] = [
  { says: 'a skirt', drafted: skirt({ flare: 30 }) },
  { says: 'a skirt back', drafted: skirt(), only: ['back'] },
  { says: 'a skirt without a band', drafted: skirt({ back: 'centre seam' }), only: ['front', 'back'] },
  { says: 'a waistband', drafted: skirt(), only: ['waistband'] },
  { says: 'a bodice', drafted: bodice() },
  { says: 'a bodice front', drafted: bodice({ darts: 'outline' }), only: ['front'] },
  { says: 'a bodice without sleeves', drafted: bodice({ back: 'centre seam' }), only: ['front', 'back'] },
  { says: 'a sleeve', drafted: bodice(), only: ['sleeve'] },
  { says: 'a bodice with panels', drafted: bodice({ panels: true, sleeve: 'two pieces' }) },
  { says: 'a side panel', drafted: bodice({ panels: true }), only: ['side-front'] },
  { says: 'trousers', drafted: trousers() },
  { says: 'a trouser front', drafted: trousers({ darts: 'outline' }), only: ['front'] },
  { says: 'trouser legs', drafted: trousers({ leg: 'straight' }), only: ['front', 'back'] },
  { says: 'a dress', drafted: dress() },
  { says: 'a dress back', drafted: dress(), only: ['back'] },
  { says: 'a dress in two tiers', drafted: tieredDress() },
];
const whole: readonly Content[] = [
  { says: 'a whole skirt', drafted: skirt({ whole: true }) },
  { says: 'a whole bodice', drafted: bodice({ whole: true }) },
  { says: 'a whole dress', drafted: dress({ whole: true }) },
];

/** How the file is spelled and how the pattern lies in it. */
const looks: readonly (readonly [string, Partial<WriteOptions> & { readonly variant: Variant }])[] = [
  ['svg, upright', { format: 'svg', variant: 'cubics' }],
  ['dxf, turned', { format: 'dxf', variant: 'splines', angle: 2.2 }],
  ['dxf, mirrored', { format: 'dxf', variant: 'apparel', mirror: true }],
  ['svg, turned and mirrored', { format: 'svg', variant: 'polylines', angle: -1, mirror: true }],
  ['dxf, upright', { format: 'dxf', variant: 'lines and arcs' }],
];

/** Each content in one or two looks, so that half and whole come in both formats, upright, turned and mirrored. */
const files: readonly (readonly [string, () => Laid])[] = [
  ...half.map((content, i) => [content, content.only ? [looks[i % 5]] : [looks[i % 5], looks[(i + 2) % 5]]] as const),
  ...whole.map((content, i) => [content, [looks[i % 5], looks[(i + 3) % 5]]] as const),
].flatMap(([content, in_]) =>
  in_.flatMap((look) => {
    if (!look) return [];
    const sample = { ...sampleFrom(content.drafted, look[1]), ...(content.only ? { only: content.only } : {}) };
    return [[`${content.says}, ${look[0]}`, () => layOnce(sample)] as const];
  }),
);

/** mm */
const AMOUNT = 9;

/** A fault tells what was being done. */
const saying = <T>(told: string, work: () => T): T => {
  try {
    return work();
  } catch (fault) {
    throw new Error(`${told}: ${fault instanceof Error ? fault.message : fault}`, { cause: fault });
  }
};

describe.each(alterations.map((a) => [a.card.name, a] as const))('%s', (name, alteration) => {
  const ways = deeds.filter((d) => d.alteration === alteration);

  it('is refused in words where there is nothing to alter', () => {
    const [, read] = files[0] as (typeof files)[number];
    const nothing = { ...read().pattern, pieces: [], mates: [] };
    for (const deed of ways) {
      const { findings } = planDeed(nothing, deed, AMOUNT);
      expect(hasErrors(findings), deed.says).toBe(true);
      for (const f of findings) expect(f.message.length * f.try.length, f.code).toBeGreaterThan(0);
    }
  });

  it('takes a file of any kind, or refuses it in words', () => {
    let taken = 0;
    files.forEach(([file, read], i) => {
      const laid = read();
      for (const [k, deed] of ways.entries()) {
        // Nothing asked is the same for every deed: each file has it from one.
        const some = (i + k) % 2 === 0 ? AMOUNT : -AMOUNT;
        for (const amount of i % alterations.length === alterations.indexOf(alteration) ? [0, some] : [some]) {
          const told = `${file}: ${deed.says} ${amount}`;
          const plan = planDeed(laid.pattern, deed, amount);
          for (const f of plan.findings)
            expect(f.message.length * f.try.length, `${told}: ${f.code}`).toBeGreaterThan(0);
          if (hasErrors(plan.findings)) continue;
          const { altered, bytes } = saying(told, () => carryOutPlan(laid, plan));
          for (const f of altered.findings) expect(f.try, `${told}: ${f.code}`).not.toBe('');
          if (amount === 0) expect(Buffer.compare(Buffer.from(bytes), Buffer.from(laid.bytes)), told).toBe(0);
          if (altered.steps.length === 0) continue;
          taken++;
          for (const p of altered.pattern.pieces) expect(signedArea(closedPath(p.seamLine)), told).toBeGreaterThan(0);
        }
      }
    });
    expect(taken, `${name} was done`).toBeGreaterThan(0);
  });
});
