import { describe, expect, it } from 'vitest';
import type { Plan, PlannedStep } from '../../src/alterations/contract.ts';
import type { Measures } from '../../src/job/measures.ts';
import { missedGirths } from '../../src/job/targets.ts';

const girths = (waist: number, hip: number): Measures => ({
  edges: [],
  mates: [],
  girths: [
    { level: 'waist', cloth: 'shell', girth: waist, counted: [] },
    { level: 'hip', cloth: 'shell', girth: hip, counted: [] },
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
