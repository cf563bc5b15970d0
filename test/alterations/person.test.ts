import { describe, expect, it } from 'vitest';
import { draftSkirt, SAMPLE_BODY } from '../../fixtures/blocks/draft/skirt.ts';
import type { Needs, PlanOptions } from '../../src/alterations/contract.ts';
import { fitToPerson } from '../../src/alterations/person.ts';
import { planFitting } from '../../src/alterations/plan.ts';
import { offTarget } from '../../src/alterations/targets.ts';
import { takeMeasurement } from '../../src/pattern/taking/index.ts';
import { patternOf } from '../drafted.ts';

const INCH = 25.4;
const OPTIONS: PlanOptions = { beyondLimits: false, choices: {}, show: 'in' };
const ALTER = { true: false, fullGrainline: false };
const SKIRT = patternOf(draftSkirt(SAMPLE_BODY, {}));

const needs = (measurements: Record<string, number>, more: Partial<Needs> = {}): Needs => ({
  fitting: 'Senta',
  measurements,
  direct: {},
  ...more,
});
const altered = (n: Needs, pattern = SKIRT, options: Partial<PlanOptions> = {}) =>
  fitToPerson(pattern, n, { ...OPTIONS, ...options }, ALTER);
const codes = (findings: readonly { code: string }[]): string[] => findings.map((f) => f.code);

const worstOff = (fitted: ReturnType<typeof altered>): number =>
  Math.max(...(fitted.plan.targets ?? []).flatMap((t) => offTarget(t, t.after ?? []).map((o) => Math.abs(o.off))));

describe('a person on a skirt', () => {
  const wearer = {
    'waist girth': SAMPLE_BODY.waist + INCH,
    'hip girth': SAMPLE_BODY.hip + 1.5 * INCH,
    'waist to hip': SAMPLE_BODY.waistToHip + 10,
    'skirt length': SAMPLE_BODY.length + 40,
  };

  it('gets the plain plan, amount for amount, where the alterations leave each other alone', () => {
    const fitted = altered(needs(wearer));
    expect(fitted.plan.steps).toEqual(planFitting(SKIRT, needs(wearer), OPTIONS).steps);
    expect(fitted.plan.steps.map((s) => s.alteration)).toEqual([
      'waist to hip',
      'length at the adjustment line',
      'waist',
      'hip',
    ]);
    expect(worstOff(fitted)).toBeLessThanOrEqual(0.05);
    expect(fitted.plan.findings).toEqual([]);
  });

  it('gets amounts that together bring every measure, where one works on another', () => {
    // A larger hip curves the side seam more, which takes of its length.
    const side = takeMeasurement(SKIRT, 'skirt length at side').takings[0]?.mm as number;
    const pattern = { ...SKIRT, draftedFor: { ...SKIRT.draftedFor, 'skirt length at side': side } };
    const all = { ...wearer, 'skirt length at side': side + 50 };
    const fitted = altered(needs(all), pattern);
    expect(codes(fitted.plan.findings)).toEqual([]);
    expect(worstOff(fitted)).toBeLessThanOrEqual(0.05);
    const plain = planFitting(pattern, needs(all), OPTIONS).steps.find((s) => s.alteration === 'uneven length');
    const solved = fitted.plan.steps.find((s) => s.alteration === 'uneven length');
    expect(Math.abs((solved?.amount as number) - (plain?.amount as number))).toBeGreaterThan(0.1);
  });

  it('keeps an amount that was asked for directly on top of what is measured', () => {
    const fitted = altered(
      needs({ 'hip girth': SAMPLE_BODY.hip + 20 }, { direct: { hip: { amount: 10, column: 'hip change' } } }),
    );
    expect(fitted.plan.targets).toMatchObject([{ measurement: 'hip girth', needed: 30 }]);
    expect(worstOff(fitted)).toBeLessThanOrEqual(0.05);
  });

  it('is told of what the pattern does not show, and the rest is done', () => {
    const fitted = altered(needs({ 'waist girth': SAMPLE_BODY.waist + 10, 'bust girth': 900 }));
    expect(codes(fitted.plan.findings)).toEqual(['plan-measurement-unused']);
    expect(fitted.plan.steps.map((s) => s.alteration)).toEqual(['waist']);
  });

  it('is measured at the hip where no line marks it, down the side seam', () => {
    const unmarked = {
      ...SKIRT,
      pieces: SKIRT.pieces.map((p) => ({ ...p, levels: p.levels.filter((l) => l.name !== 'hip') })),
    };
    const fitted = altered(needs({ ...wearer, 'waist to hip': SAMPLE_BODY.waistToHip }), unmarked);
    const hip = fitted.plan.targets?.find((t) => t.measurement === 'hip girth');
    expect(hip?.before[0]?.mm).toBeGreaterThan(SAMPLE_BODY.hip);
    expect(worstOff(fitted)).toBeLessThanOrEqual(0.05);
    expect(codes(fitted.altered?.findings ?? [])).toEqual(['plan-hip-level', 'plan-hip-level']);
  });
});

describe('ease', () => {
  const waist = takeMeasurement(SKIRT, 'waist girth').takings[0]?.mm as number;
  it('stays as the design has it, unless asked for', () => {
    const plain = altered(needs({ 'waist girth': SAMPLE_BODY.waist + 10 }));
    expect(plain.plan.targets?.[0]?.after?.[0]?.mm).toBeCloseTo(waist + 10, 1);
  });

  it('is set as asked: body + ease, without need of what the pattern was drafted for', () => {
    const pattern = { ...SKIRT, draftedFor: {} };
    const fitted = altered(
      needs({ 'waist girth': SAMPLE_BODY.waist + 10 }, { ease: { 'waist girth': 0.75 * INCH } }),
      pattern,
    );
    expect(fitted.plan.targets?.[0]?.after?.[0]?.mm).toBeCloseTo(SAMPLE_BODY.waist + 10 + 0.75 * INCH, 1);
    expect(fitted.plan.steps[0]?.explanation).toMatch(/waist girth .* \+ ease ¾ in − .* on the pattern = /);
    expect(codes(fitted.plan.findings)).toEqual([]);
  });

  it('does not fall under the least, but for one who asks for it', () => {
    // Least at the waist of a skirt: ½ in (costume text, chapter 16).
    const asks = needs({ 'waist girth': SAMPLE_BODY.waist }, { ease: { 'waist girth': 0.25 * INCH } });
    const [refused] = altered(asks).plan.findings;
    expect(refused).toMatchObject({ code: 'plan-ease-least', level: 'error' });
    expect(refused?.message).toContain('½ in is the least');
    expect(altered(asks, SKIRT, { beyondLimits: true }).plan.findings).toMatchObject([
      { code: 'plan-ease-least', level: 'warning' },
    ]);
  });

  it('that the design itself does without is only noted', () => {
    const close = { ...SKIRT, draftedFor: { ...SKIRT.draftedFor, 'hip girth': SAMPLE_BODY.hip + 30 } };
    const fitted = altered(needs({ 'hip girth': SAMPLE_BODY.hip + 40 }), close);
    expect(fitted.plan.findings).toMatchObject([{ code: 'plan-ease-design', level: 'note' }]);
  });

  it('asked for where the wearer was not measured is told', () => {
    expect(codes(altered(needs({}, { ease: { 'hip girth': 50 } })).plan.findings)).toContain('plan-ease-without-body');
  });
});
