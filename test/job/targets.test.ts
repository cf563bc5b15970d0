import { describe, expect, it } from 'vitest';
import { draftSkirt, SAMPLE_BODY } from '../../fixtures/blocks/draft/skirt.ts';
import type { Plan, PlannedStep, Target } from '../../src/alterations/contract.ts';
import type { Measures } from '../../src/job/measures.ts';
import { missedGirths, missedMeasures, strangeGirths } from '../../src/job/targets.ts';
import { patternOf } from '../drafted.ts';

const girths = (waist: number, hip: number): Measures => ({
  edges: [],
  mates: [],
  girths: [
    { level: 'waist', tier: 'skirt', cloth: 'shell', girth: waist, counted: [] },
    { level: 'hip', tier: 'skirt', cloth: 'shell', girth: hip, counted: [] },
  ],
});
const step = (alteration: string, amount: number): PlannedStep => ({
  ...{ alteration, amount, shares: [], options: {}, explanation: '' },
  origin: { kind: 'direct', column: alteration },
});
const plan = (...steps: PlannedStep[]): Plan => ({ fitting: 'Ann', steps, findings: [] });

describe('missedGirths', () => {
  const before = girths(700, 960);
  it('is silent when the girths came out, and of girths nobody asked for', () => {
    expect(missedGirths(plan(step('waist', 20), step('hip', 30)), before, girths(720.1, 989.9), 'mm')).toEqual([]);
    expect(missedGirths(plan(step('sway back', 10)), before, girths(705, 960), 'mm')).toEqual([]);
  });

  it('adds up several amounts for one girth', () => {
    expect(missedGirths(plan(step('waist', 20), step('waist', -5)), before, girths(715, 960), 'mm')).toEqual([]);
  });

  it('refuses a girth that did not come out', () => {
    const [finding, ...others] = missedGirths(plan(step('waist', 20), step('hip', 30)), before, girths(720, 975), 'mm');
    expect(others).toEqual([]);
    expect(finding).toMatchObject({ code: 'job-girth-missed', level: 'error' });
    expect(finding?.message).toContain('hip was to change by +30.0 mm, and came out +15.0 mm');
  });
});

describe('strangeGirths', () => {
  const pattern = { ...patternOf(draftSkirt(SAMPLE_BODY, {})), draftedFor: { 'waist girth': 700, 'wrist girth': 160 } };
  const target = (measurement: string, mm: number): Target => ({
    ...{ measurement, wearer: 720, needed: 20, decides: true },
    before: [{ of: 'skirt', mm }],
  });
  const codes = (measurement: string, mm: number, beyond = false): string[] =>
    strangeGirths({ ...plan(), targets: [target(measurement, mm)] }, pattern, beyond, 'mm').map(
      (f) => `${f.level} ${f.code}`,
    );

  it('lets pass what a garment may measure', () => {
    expect([...codes('waist girth', 640), ...codes('waist girth', 1100), ...codes('wrist girth', 100)]).toEqual([]);
  });
  it('asks about pieces that are missing or counted twice', () => {
    expect(codes('waist girth', 350)).toEqual(['error job-girth-strange']);
    expect(codes('waist girth', 1400)).toEqual(['error job-girth-strange']);
    expect(codes('waist girth', 1400, true)).toEqual(['warning job-girth-strange']);
  });
});

describe('missedMeasures', () => {
  const target: Target = {
    ...{ measurement: 'bust girth', wearer: 900, needed: 20, decides: true },
    before: [{ of: 'bodice', mm: 914 }],
  };
  const told = (mm: number, findings: Plan['findings'] = []) =>
    missedMeasures({ ...plan(), findings, targets: [{ ...target, after: [{ of: 'bodice', mm }] }] }, false, 'mm');

  it('is silent within a millimetre, and where the plan told it', () => {
    expect(told(934.9)).toEqual([]);
    const known = {
      code: 'plan-target-missed',
      level: 'error' as const,
      where: { cell: 'bust girth' },
      message: '',
      try: '',
    };
    expect(told(940, [known])).toEqual([]);
  });
  it('tells what did not come out on the written file', () => {
    expect(told(940)).toMatchObject([{ code: 'job-measure-missed', level: 'error' }]);
    expect(told(940)[0]?.message).toContain('was to change by +20.0 mm, and comes out +26.0 mm (bodice)');
  });
});
