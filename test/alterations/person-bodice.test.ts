import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { draftTrousers, SAMPLE_TROUSER_BODY } from '../../fixtures/blocks/draft/trousers.ts';
import { changesAsked } from '../../src/alterations/changes.ts';
import type { Needs, PlannedStep } from '../../src/alterations/contract.ts';
import { chooseAlterations } from '../../src/alterations/driving.ts';
import { fitToPerson } from '../../src/alterations/person.ts';
import { planFitting } from '../../src/alterations/plan.ts';
import { offTarget } from '../../src/alterations/targets.ts';
import { hasErrors } from '../../src/finding.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { patternOf } from '../drafted.ts';

/* Measurements of an upper body and of trousers, where alterations work on each other's measures. */

const OPTIONS = { beyondLimits: false, choices: {}, show: 'mm' } as const;
const BODICE = patternOf(draftBodice(SAMPLE_BODICE_BODY, {}));
const TROUSERS = patternOf(draftTrousers(SAMPLE_TROUSER_BODY, {}));

const wearing = (pattern: Pattern, changes: Record<string, number>, direct: Needs['direct'] = {}): Needs => ({
  fitting: 'Ortrud',
  measurements: Object.fromEntries(
    Object.entries(changes).map(([m, by]) => [m, (pattern.draftedFor[m] as number) + by]),
  ),
  direct,
});
const fitted = (pattern: Pattern, changes: Record<string, number>, direct: Needs['direct'] = {}) =>
  fitToPerson(pattern, wearing(pattern, changes, direct), OPTIONS, { true: false, fullGrainline: false });
const worstOff = ({ plan }: ReturnType<typeof fitted>): number =>
  Math.max(...(plan.targets ?? []).flatMap((t) => offTarget(t, t.after ?? []).map((o) => Math.abs(o.off))));
const stepsOf = (steps: readonly PlannedStep[], alteration: string): PlannedStep[] =>
  steps.filter((s) => s.alteration === alteration);

describe('waist lengths of front and back', () => {
  const sides = (changes: Record<string, number>) =>
    planFitting(BODICE, wearing(BODICE, changes), OPTIONS).steps.map((s) => [
      s.alteration,
      s.amount,
      s.options['side seam'],
    ]);

  it('go across the pieces as far as both need it; the rest is a wedge', () => {
    expect(sides({ 'front waist length': 18, 'back neck to waist': 12 })).toEqual([
      ['front waist length', expect.closeTo(12, 9), 'with it'],
      ['front waist length', expect.closeTo(6, 9), 'keep'],
      ['back waist length', expect.closeTo(12, 9), 'with it'],
    ]);
  });
  it('are wedges where one is longer and the other shorter', () => {
    expect(sides({ 'front waist length': 10, 'back neck to waist': -6 }).map(([, , side]) => side)).toEqual([
      'keep',
      'keep',
    ]);
  });
  it('go together where only the back was measured', () => {
    expect(sides({ 'back neck to waist': -8 })).toEqual([
      ['front waist length', expect.closeTo(-8, 9), 'with it'],
      ['back waist length', expect.closeTo(-8, 9), 'with it'],
    ]);
  });
});

describe('the bust', () => {
  const asked = (changes: Record<string, number>) => {
    const pattern = { ...BODICE, draftedFor: { ...BODICE.draftedFor, 'high bust girth': 820 } };
    const needs = wearing(pattern, changes);
    const { changes: read } = changesAsked(pattern, needs);
    return chooseAlterations(read, pattern, OPTIONS).asked.map((a) => [a.alteration, a.amount, a.options?.share]);
  };
  it('is altered as its alteration sees fit where only it is measured', () => {
    expect(asked({ 'bust girth': 30 })).toEqual([['bust', expect.closeTo(30, 9), undefined]]);
  });
  it('is parted into what differs all round and what only the full bust has, by the high bust (E-372)', () => {
    expect(asked({ 'bust girth': 50, 'high bust girth': 20 })).toEqual([
      ['bust', expect.closeTo(20, 9), 'all round'],
      ['bust', expect.closeTo(30, 9), 'front'],
    ]);
  });
  it('says nothing where only the high bust is measured, and that is told', () => {
    const pattern = { ...BODICE, draftedFor: { ...BODICE.draftedFor, 'high bust girth': 820 } };
    const { findings } = changesAsked(pattern, wearing(pattern, { 'high bust girth': 20 }));
    expect(findings.map((f) => f.code)).toEqual(['plan-measurement-unused']);
  });
});

describe('the arm', () => {
  it('is lengthened above the elbow by what is measured there, and below it by the rest', () => {
    const { steps } = planFitting(BODICE, wearing(BODICE, { 'outer arm length': 20, 'shoulder to elbow': 8 }), OPTIONS);
    expect(steps.map((s) => [s.alteration, s.amount])).toEqual([
      ['length above the elbow', expect.closeTo(8, 9)],
      ['length below the elbow', expect.closeTo(12, 9)],
    ]);
  });
  it('is lengthened in proportion where only the whole is measured', () => {
    const { steps } = planFitting(BODICE, wearing(BODICE, { 'outer arm length': 20 }), OPTIONS);
    const part = SAMPLE_BODICE_BODY.shoulderToElbow / SAMPLE_BODICE_BODY.armLength;
    expect(steps.map((s) => s.amount)).toEqual([expect.closeTo(20 * part, 1), expect.closeTo(20 * (1 - part), 1)]);
  });
  it('keeps its length where a larger upper arm lowers the cap: the drop is put back (derived check D8)', () => {
    const changes = { 'upper-arm girth': 20, 'outer arm length': 0, 'shoulder to elbow': 0 };
    const done = fitted(BODICE, changes);
    expect(worstOff(done)).toBeLessThanOrEqual(0.05);
    const [above] = stepsOf(done.plan.steps, 'length above the elbow');
    expect(above?.amount).toBeGreaterThan(3);
    expect(above?.explanation).toMatch(/= 0.0 mm; upper arm changes it by −.*; \+.* here/);
  });
});

describe('a wearer who differs in everything', () => {
  const changes = {
    ...{ 'waist girth': 18, 'neck base girth': 6, 'back width': 8, 'chest width': 5, 'shoulder length': 4 },
    ...{ 'front waist length': 12, 'back neck to waist': 8, 'armhole depth': 3, 'upper-arm girth': 12 },
    ...{ 'wrist girth': 5, 'outer arm length': 15, 'shoulder to elbow': 6 },
  };

  it.each([1, -1])('is met in every measurement (%i)', (sign) => {
    const done = fitted(BODICE, Object.fromEntries(Object.entries(changes).map(([m, by]) => [m, sign * by])));
    expect(done.plan.findings.filter((f) => f.level === 'error').map((f) => f.message)).toEqual([]);
    expect(hasErrors(done.altered?.findings ?? [])).toBe(false);
    expect(worstOff(done)).toBeLessThanOrEqual(0.05);
  });

  it('takes lengths first, then widths, then shape', () => {
    const names = fitted(BODICE, changes).plan.steps.map((s) => s.alteration);
    const places = ['back waist length', 'length below the elbow', 'waist', 'armhole depth'].map((n) =>
      names.indexOf(n),
    );
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect(places[0]).toBeGreaterThanOrEqual(0);
  });

  it('has limits judged on what a place comes to, with what others give and take there', () => {
    // A smaller bust takes up the front that the longer waist lets down: the waist turns by the difference (¾ in most).
    const changes = { 'front waist length': 17, 'back neck to waist': -2, 'bust girth': -20 };
    const done = fitted(BODICE, changes);
    expect(hasErrors(done.plan.findings)).toBe(false);
    const [wedge] = stepsOf(done.plan.steps, 'front waist length');
    expect(wedge?.amount).toBeGreaterThan(19.05);
    expect(wedge?.explanation).toMatch(/bust changes it by −.*; in the end the place comes to \+17.0 mm, within/);
    expect(worstOff(done)).toBeLessThanOrEqual(0.05);
    const longer = fitted(BODICE, { ...changes, 'front waist length': 22 });
    expect(longer.plan.findings.map((f) => f.code)).toContain('plan-past-limit');
  });

  it('has lengths from the nape left alone by a larger neck, whose edge is drawn lower', () => {
    const done = fitted(BODICE, { 'armhole depth': 12, 'neck base girth': 20, 'back neck to waist': 0 });
    expect(stepsOf(done.plan.steps, 'armhole depth').map((s) => s.amount)).toEqual([expect.closeTo(12, 1)]);
    expect(stepsOf(done.plan.steps, 'back waist length')).toEqual([]);
    expect(worstOff(done)).toBeLessThanOrEqual(0.05);
  });
});

describe('trousers', () => {
  it('get the crotch depth by the rule where the pattern does not say its own (Guide C-209: hip 39 in, ease 1 in)', () => {
    const { 'crotch depth': _, ...draftedFor } = TROUSERS.draftedFor;
    const needs: Needs = { fitting: 'x', measurements: { 'crotch depth': 270, 'hip girth': 39 * 25.4 }, direct: {} };
    const { targets, findings } = planFitting({ ...TROUSERS, draftedFor }, needs, OPTIONS);
    expect(findings.filter((f) => f.code === 'plan-not-drafted-for')).toEqual([]);
    const depth = targets?.find((t) => t.measurement === 'crotch depth');
    expect(depth?.needed).toBeCloseTo(270 + 25.4 - (depth?.before[0]?.mm as number), 9);
  });

  it('never count ease twice: with a depth it was drafted for, the design keeps what it has', () => {
    const { targets } = planFitting(TROUSERS, wearing(TROUSERS, { 'crotch depth': 10 }), OPTIONS);
    expect(targets?.[0]?.needed).toBeCloseTo(10, 9);
  });
});
