import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { draftSkirt, SAMPLE_BODY } from '../../fixtures/blocks/draft/skirt.ts';
import type { PlanOptions } from '../../src/alterations/contract.ts';
import { fitToPerson } from '../../src/alterations/person.ts';
import { offTarget } from '../../src/alterations/targets.ts';
import { dxf } from '../../src/formats/dxf/index.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { recognise } from '../../src/recognise/index.ts';
import { patternOf } from '../drafted.ts';

/* A length that every piece shows, and what is asked for directly at one of them; a length on a cutting line alone. */

const INCH = 25.4;
const OPTIONS: PlanOptions = { beyondLimits: false, choices: {}, show: 'in' };
const ALTER = { true: false, fullGrainline: false };
const SKIRT = patternOf(draftSkirt(SAMPLE_BODY, {}));

const fitted = (
  pattern: Pattern,
  measurements: Record<string, number>,
  direct: Record<string, number> = {},
  ease: Record<string, number> = {},
) =>
  fitToPerson(
    pattern,
    {
      ...{ fitting: 'Senta', measurements, ease },
      direct: Object.fromEntries(Object.entries(direct).map(([name, amount]) => [name, { amount, column: name }])),
    },
    OPTIONS,
    ALTER,
  );

type Fitted = ReturnType<typeof fitted>;

/** What each piece changed by in a measurement, inches. */
const changed = ({ plan }: Fitted, measurement: string): Record<string, number> => {
  const target = plan.targets?.find((t) => t.measurement === measurement);
  const after = (of: string): number => target?.after?.find((a) => a.of === of)?.mm ?? Number.NaN;
  return Object.fromEntries((target?.before ?? []).map(({ of, mm }) => [of, (after(of) - mm) / INCH]));
};
const worstOff = ({ plan }: Fitted): number =>
  Math.max(...(plan.targets ?? []).flatMap((t) => offTarget(t, t.after ?? []).map((o) => Math.abs(o.off))));
const errors = ({ plan }: Fitted): string[] => plan.findings.filter((f) => f.level === 'error').map((f) => f.code);
const explained = ({ plan }: Fitted, alteration: string): string =>
  plan.steps.find((s) => s.alteration === alteration)?.explanation ?? '';

describe('what is asked for directly at one piece', () => {
  const longer = {
    'waist girth': SAMPLE_BODY.waist + 0.75 * INCH,
    'hip girth': SAMPLE_BODY.hip + INCH,
    'skirt length': SAMPLE_BODY.length + 2 * INCH,
  };

  it.each([
    ['abdomen', 0.5, { front: 2.5, back: 2 }],
    ['sway back', 0.25, { front: 2, back: 1.75 }],
    ['seat', 0.5, { front: 2, back: 2.5 }],
  ])('%s comes on top of the length there, and the rest is as measured', (name, inches, wanted) => {
    const done = fitted(SKIRT, longer, { [name]: inches * INCH });
    expect(errors(done)).toEqual([]);
    const lengths = changed(done, 'skirt length');
    for (const [piece, by] of Object.entries(wanted)) expect(lengths[piece], piece).toBeCloseTo(by, 2);
    expect(worstOff(done)).toBeLessThanOrEqual(0.05);
    expect(explained(done, 'length at the adjustment line')).toContain(`${name}, asked for directly, comes on top: `);
  });

  it('is not held against the depth of the hip either', () => {
    const deeper = { ...longer, 'waist to hip': SAMPLE_BODY.waistToHip + 10 };
    const done = fitted(SKIRT, deeper, { abdomen: 0.5 * INCH });
    expect(errors(done)).toEqual([]);
    expect(changed(done, 'waist to hip')['skirt back']).toBeCloseTo(10 / INCH, 2);
  });

  it('is part of what was measured where all pieces show it alike', () => {
    const done = fitted(SKIRT, longer, { 'length at the hem': 0.5 * INCH });
    expect(errors(done)).toEqual([]);
    expect(changed(done, 'skirt length')).toEqual({
      front: expect.closeTo(2, 2),
      back: expect.closeTo(2, 2),
    });
  });

  it('is part of a length measured at that very place', () => {
    const { 'skirt length': at, ...girths } = longer;
    const done = fitted(SKIRT, { ...girths, 'skirt length at front': at }, { abdomen: 0.5 * INCH });
    expect(errors(done)).toEqual([]);
    expect(changed(done, 'skirt length at front').front).toBeCloseTo(2, 2);
  });
});

describe('a cutting line alone, of unknown allowance', () => {
  const name = 'skirt-apparel-inches-cutting-line.dxf';
  const bytes = readFileSync(join(import.meta.dirname, '../../fixtures/blocks', name));
  const { drawing } = dxf.read(bytes, { fileName: name });
  if (!drawing) throw new Error('not read');
  const { pattern: read } = recognise(drawing);
  const pattern = { ...read, draftedFor: { 'waist girth': 26.5 * INCH, 'hip girth': 36 * INCH } };
  const girths = { 'waist girth': 27 * INCH, 'hip girth': 37 * INCH };

  it('is not taken for the garment: a finished length is refused, and told why', () => {
    const refused = fitted(pattern, { ...girths, 'skirt length': 25 * INCH });
    expect(refused.altered).toBeUndefined();
    expect(errors(refused)).toEqual(['plan-allowance-unknown']);
    const told = refused.plan.findings.find((f) => f.level === 'error');
    expect(told?.where).toMatchObject({ cell: 'skirt length', piece: 'skirt-front' });
    expect(told?.try).toContain("--drafted 'skirt length=…'");
  });

  it('nor is ease set on it', () => {
    expect(errors(fitted(pattern, girths, {}, { 'hip girth': INCH }))).toEqual(['plan-allowance-unknown']);
  });

  it('takes changes, which are the same on either line', () => {
    const drafted = { ...pattern, draftedFor: { ...pattern.draftedFor, 'skirt length': 24 * INCH } };
    const done = fitted(drafted, { ...girths, 'skirt length': 25 * INCH });
    expect(errors(done)).toEqual([]);
    for (const by of Object.values(changed(done, 'skirt length'))) expect(by).toBeCloseTo(1, 2);
    expect(errors(fitted(pattern, girths, { 'length at the hem': INCH }))).toEqual([]);
  });
});
