import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { draftSkirt, SAMPLE_BODY } from '../../fixtures/blocks/draft/skirt.ts';
import type { Needs, PlanOptions } from '../../src/alterations/contract.ts';
import { fitToPerson } from '../../src/alterations/person.ts';
import { offTarget } from '../../src/alterations/targets.ts';
import { checkPattern } from '../../src/checks/index.ts';
import { hasErrors } from '../../src/finding.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { takeMeasurement } from '../../src/pattern/taking/index.ts';
import { patternOf } from '../drafted.ts';
import { capEase, crossed } from '../properties/sewing-up.ts';

/* Where measurements are taken on the pieces, and how several that lie together are met at once. */

const OPTIONS: PlanOptions = { beyondLimits: false, choices: {}, show: 'mm' };
const BODICE = patternOf(draftBodice(SAMPLE_BODICE_BODY, {}));
const PANELS = patternOf(draftBodice(SAMPLE_BODICE_BODY, { panels: true }));
const SKIRT = patternOf(draftSkirt(SAMPLE_BODY, {}));

const fitted = (
  pattern: Pattern,
  changes: Readonly<Record<string, number>>,
  more: Partial<Needs> = {},
  options: Partial<PlanOptions> = {},
) => {
  const measurements = Object.fromEntries(
    Object.entries(changes).map(([m, by]) => [m, (pattern.draftedFor[m] as number) + by]),
  );
  const needs = { fitting: 'Zerlina', measurements, direct: {}, ...more };
  return fitToPerson(pattern, needs, { ...OPTIONS, ...options }, { true: false, fullGrainline: false });
};
type Fitted = ReturnType<typeof fitted>;
const steps = ({ plan }: Fitted) => plan.steps.map((s) => [s.alteration, s.amount]);
const worstOff = ({ plan }: Fitted): number =>
  Math.max(...(plan.targets ?? []).flatMap((t) => offTarget(t, t.after ?? []).map((o) => Math.abs(o.off))));

describe('upper arm and elbow', () => {
  it.each([
    [12, 0],
    [12, 10],
    [0, 8],
    [-8, 4],
    [20, 18],
  ])('come to what each was measured: upper arm %i mm, elbow %i mm', (arm, elbow) => {
    for (const pattern of [BODICE, PANELS]) {
      const done = fitted(pattern, { 'upper-arm girth': arm, 'elbow girth': elbow });
      expect(hasErrors([...done.plan.findings, ...(done.altered?.findings ?? [])])).toBe(false);
      expect(worstOff(done)).toBeLessThanOrEqual(0.05);
      const after = done.altered?.pattern as Pattern;
      expect(hasErrors(checkPattern(pattern, after))).toBe(false);
      expect(capEase(after)).toBeCloseTo(capEase(pattern) as number, 0);
      expect(crossed(after)).toEqual([]);
    }
  });
  it('leave the elbow as it is where only the upper arm is larger: it runs out there', () => {
    const { plan } = fitted(BODICE, { 'upper-arm girth': 12, 'elbow girth': 0 });
    expect(plan.steps.map((s) => [s.alteration, s.amount, s.options.to])).toEqual([
      ['upper arm', expect.closeTo(12, 1), 'elbow'],
    ]);
  });
  it('are one alteration where the elbow needs what it gets on the way to the wrist', () => {
    const part = 8 / 14.8;
    const done = fitted(BODICE, { 'upper-arm girth': 12, 'elbow girth': 12 * part });
    expect(done.plan.steps.map((s) => [s.alteration, s.options.to])).toEqual([['upper arm', 'wrist']]);
    expect(worstOff(done)).toBeLessThanOrEqual(0.5);
  });
  it('run out at the wrist where the elbow was not measured, or by choice', () => {
    const by = (done: Fitted) => done.plan.steps.map((s) => s.options.to);
    expect(by(fitted(BODICE, { 'upper-arm girth': 12 }))).toEqual(['wrist']);
    const chosen = { choices: { 'upper arm': { to: 'wrist' } } };
    const done = fitted(BODICE, { 'upper-arm girth': 12, 'elbow girth': 0 }, {}, chosen);
    expect(by(done)).toEqual(['wrist']);
    expect(done.plan.findings.map((f) => f.code)).toContain('plan-measurements-disagree');
  });
});

describe('places that a pattern does not mark', () => {
  const unmarked = (pattern: Pattern): Pattern => ({
    ...pattern,
    pieces: pattern.pieces.map((p) => ({
      ...p,
      levels: p.levels.filter((l) => l.name !== 'blade' && l.name !== 'chest'),
      notches: p.notches.filter((n) => p.edges.every((e) => e.id !== n.edge || e.role !== 'armhole')),
    })),
  });
  it.each([
    ['bodice', BODICE],
    ['bodice in panels', PANELS],
  ])('are measured where they are altered: widths of a %s, halfway up its armholes', (_, pattern) => {
    const done = fitted(unmarked(pattern), { 'back width': 10, 'chest width': -8 });
    expect(done.plan.findings.map((f) => f.code)).toContain('plan-armhole-level');
    expect(done.plan.findings.map((f) => f.code)).not.toContain('plan-not-measured');
    expect(done.plan.targets?.map((t) => t.before.length)).toEqual([1, 1]);
    expect(worstOff(done)).toBeLessThanOrEqual(0.05);
  });
  it('the bust of a high bust point is taken under the armholes, not across them', () => {
    const at = (height: number): Pattern => ({
      ...PANELS,
      pieces: PANELS.pieces.map((p) => ({
        ...p,
        levels: p.levels.map((l) => (l.name === 'bust' ? { ...l, height: l.height + height } : l)),
      })),
    });
    const girth = (pattern: Pattern): number => takeMeasurement(pattern, 'bust girth').takings[0]?.mm as number;
    // 60 mm higher it would run through the armholes, and lose what they take out of the pieces.
    expect(girth(at(60))).toBeGreaterThan(girth(PANELS) - 20);
  });
});

describe('lengths of the finished garment', () => {
  it('need no word of what was drafted: the pieces show them', () => {
    const bare = { ...SKIRT, draftedFor: {} };
    const done = fitted(bare, {}, { measurements: { 'skirt length at front': SAMPLE_BODY.length + 25 } });
    expect(hasErrors(done.plan.findings)).toBe(false);
    expect(done.plan.steps.map((s) => s.amount)).toEqual([expect.closeTo(25, 6)]);
    expect(done.plan.steps[0]?.explanation).toContain('on the pattern = +25.0 mm');
  });
});

describe('an alteration called for by a measurement and asked for directly too', () => {
  const waist = (amount: number) => ({ direct: { waist: { amount, column: 'waist change (mm)' } } });
  it.each([10, -10])('is done once, by the sum of both: %i mm besides', (besides) => {
    const measurements = { 'waist girth': SAMPLE_BODY.waist + 20 };
    const done = fitted(SKIRT, {}, { measurements, ...waist(besides) });
    expect(steps(done)).toEqual([['waist', expect.closeTo(20 + besides, 1)]]);
    expect(done.plan.steps[0]?.explanation).toMatch(/= \+20.0 mm; asked for besides: waist change \(mm\) [+−]10.0 mm/);
    expect(worstOff(done)).toBeLessThanOrEqual(0.05);
  });
  it('keeps to the most of a place in all, not with each', () => {
    const options = { choices: { waist: { take: 'side edges only' } } };
    const each = { 'waist girth': SAMPLE_BODY.waist + 40 };
    expect(hasErrors(fitted(SKIRT, {}, { measurements: each }, options).plan.findings)).toBe(false);
    const both = fitted(SKIRT, {}, { measurements: each, ...waist(40) }, options);
    expect(both.plan.findings.map((f) => f.code)).toContain('plan-past-limit');
  });
  it('says how much can be done the same way', () => {
    const { plan } = fitted(SKIRT, {}, { measurements: { 'hip girth': SAMPLE_BODY.hip + 100 } });
    expect(plan.findings.find((f) => f.code === 'plan-past-limit')?.try).toMatch(/^At most \+50.8 mm can be done so\./);
  });
});
