import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { draftTrousers, SAMPLE_TROUSER_BODY, type TrouserOptions } from '../../fixtures/blocks/draft/trousers.ts';
import { alterations } from '../../src/alterations/index.ts';
import { planFitting } from '../../src/alterations/plan.ts';
import { sharpestTurn } from '../../src/checks/piece-checks.ts';
import { subtract, turnBetween } from '../../src/geometry/point.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Edge } from '../../src/pattern/piece.ts';
import { heightOf } from '../../src/pattern/upright.ts';
import { patternOf } from '../drafted.ts';
import { greatestMove } from '../properties/comparing.ts';
import { alteredBy, edgeChanges, faultsOf, measureChanges, pieceIn } from './altering.ts';

const INCH = 25.4;
const trousers = (options: TrouserOptions = {}): Pattern => patternOf(draftTrousers(SAMPLE_TROUSER_BODY, options));

type Choices = Readonly<Record<string, string>>;

/** An alteration, an amount in inches, what it is there for, and how much each place of it gains for 1. */
const rows: readonly (readonly [string, readonly number[], string, readonly number[], Choices?])[] = [
  ['crotch depth', [0.5, 1.5, -0.5], 'crotch depth', [1, 1]],
  ['front crotch length', [0.5, 0.75, -0.5, -0.75], 'front crotch length', [1]],
  ['back crotch length', [0.5, 0.75, -0.5, -0.75], 'back crotch length', [1]],
  ['front crotch length', [0.5, 0.75, -0.5, -0.75], 'front crotch length', [1], { method: 'wedge' }],
  ['back crotch length', [0.5, 0.75, -0.5, -0.75], 'back crotch length', [1], { method: 'wedge' }],
  ['thigh', [1, 2, -1, -2], 'thigh girth', [1]],
  ['length above the knee', [1, 2, -1, -1.5], 'waist to knee', [1, 1]],
  ['waist', [1, 2, -1], 'waist girth', [1]],
  ['hip', [1, 1.75, -1, -2], 'hip girth', [1]],
  ['waist to hip', [0.5, -0.5, -1], 'waist to hip', [1, 1]],
];

const cases = rows.flatMap(([name, amounts, measure, gains, choices]) =>
  amounts.map((inches) => [name, inches, measure, gains, choices] as const),
);

const greatest = (name: string): number[] => {
  const amounts = rows.filter(([n]) => n === name).flatMap(([, all]) => all);
  return [Math.max(...amounts), Math.min(...amounts)];
};

describe.each([
  ['shaped', {}],
  ['straight, darts cut in the outline', { leg: 'straight', darts: 'outline' }],
] as const)('trousers, %s', (_, options) => {
  const before = trousers(options);
  // The second cut is tried at the greatest amounts only.
  const tried = cases.filter(([name, inches]) => !('leg' in options) || greatest(name).includes(inches));

  it.each(tried)('%s by %d in comes out on the %s', (name, inches, measure, gains, choices) => {
    const amount = inches * INCH;
    const { pattern } = alteredBy(before, { [name]: amount }, choices ? { [name]: choices } : {});
    const changes = measureChanges(before, pattern, measure);
    expect(changes.length).toBe(gains.length);
    gains.forEach((gain, i) => {
      expect(Math.abs((changes[i] as number) - gain * amount)).toBeLessThan(0.01);
    });
    expect(faultsOf(before, pattern)).toEqual([]);
  });
});

describe('crotch depth', () => {
  it('moves all below alike and leaves waist, hip and inside leg as they were', () => {
    const before = trousers();
    const { pattern } = alteredBy(before, { 'crotch depth': 20 });
    for (const measure of ['waist girth', 'hip girth', 'inside leg length', 'knee girth']) {
      for (const change of measureChanges(before, pattern, measure)) expect(Math.abs(change)).toBeLessThan(0.01);
    }
    for (const change of measureChanges(before, pattern, 'waist to knee')) expect(change).toBeCloseTo(20, 2);
  });

  it('without a depth drafted for is body + ease − depth measured (Guide C-209: hip 39 in, ease 1 in)', () => {
    const drafted = trousers();
    const { 'crotch depth': _, ...others } = drafted.draftedFor;
    const depth = 290;
    const plan = planFitting(
      { ...drafted, draftedFor: others },
      { fitting: 'Papageno', measurements: { 'crotch depth': depth, 'hip girth': 39 * INCH }, direct: {} },
      { beyondLimits: true, choices: {}, show: 'in' },
    );
    const step = plan.steps.find((s) => s.alteration === 'crotch depth');
    const [measured] = drafted.pieces.map((p) => p.levels.find((l) => l.name === 'crotch')?.height);
    expect(measured).toBeCloseTo(-SAMPLE_TROUSER_BODY.crotchDepth, 6);
    expect(step?.origin).toMatchObject({ kind: 'ease', ease: INCH });
    expect(step?.explanation).toContain('C-209');
  });

  it('with a depth drafted for is wearer − that, and no ease is counted again', () => {
    const plan = planFitting(
      trousers(),
      { fitting: 'Papageno', measurements: { 'crotch depth': SAMPLE_TROUSER_BODY.crotchDepth + 10 }, direct: {} },
      { beyondLimits: false, choices: {}, show: 'mm' },
    );
    expect(plan.steps.map((s) => [s.alteration, s.amount])).toEqual([['crotch depth', 10]]);
  });

  it('made shorter by 1 in bends the crotch curve less than the drafting rule does, which has no more room for it', () => {
    const before = trousers();
    const by = -INCH;
    const { pattern } = alteredBy(before, { 'crotch depth': by });
    const body = SAMPLE_TROUSER_BODY;
    const afresh = patternOf(
      draftTrousers({ ...body, crotchDepth: body.crotchDepth + by, waistToFloor: body.waistToFloor + by }),
    );
    const [drafted, altered] = [afresh, pattern].map((p) => {
      const front = pieceIn(p, 'front');
      return sharpestTurn(front, front.edges.find((e) => e.id === 'crotch') as Edge, 5).turn;
    }) as [number, number];
    expect(altered).toBeLessThan(drafted);
    for (const change of measureChanges(before, pattern, 'crotch depth')) expect(change).toBeCloseTo(by, 2);
    expect(faultsOf(before, pattern)).toEqual(['check-not-fair front crotch']);
  });

  it('folds no more out than half of what lies between hip and crotch', () => {
    const { findings } = alteredBy(trousers(), { 'crotch depth': -1.5 * INCH });
    expect(findings.map((f) => f.code)).toEqual(['alter-no-room']);
  });
});

describe('crotch length', () => {
  it.each(['front', 'back'] as const)('at the %s crotch point keeps the inseam and the other piece', (side) => {
    const before = trousers();
    const { pattern } = alteredBy(before, { [`${side} crotch length`]: 15 });
    const changed = [...edgeChanges(before, pattern)].filter(([, by]) => Math.abs(by) > 0.005).map(([edge]) => edge);
    expect(changed).toEqual([`${side} crotch`]);
    const other = side === 'front' ? 'back' : 'front';
    expect(pieceIn(pattern, other)).toBe(pieceIn(before, other));
  });

  it.each(['front', 'back'] as const)('by a wedge at the %s keeps waist, side and inseam in length', (side) => {
    const before = trousers();
    const name = `${side} crotch length`;
    const { pattern } = alteredBy(before, { [name]: 15 }, { [name]: { method: 'wedge' } });
    const changed = [...edgeChanges(before, pattern)].filter(([, by]) => Math.abs(by) > 0.01).map(([edge]) => edge);
    expect(changed).toEqual([`${side} crotch`]);
  });
});

describe('thigh', () => {
  it('takes a quarter at each edge, nothing at hip and knee', () => {
    const before = trousers();
    const { plan, pattern } = alteredBy(before, { thigh: INCH });
    expect(plan.steps[0]?.shares.map((s) => s.amount)).toEqual([0.25, 0.25, 0.25, 0.25].map((q) => q * INCH));
    for (const measure of ['hip girth', 'knee girth', 'waist girth', 'inside leg length']) {
      for (const change of measureChanges(before, pattern, measure)) expect(Math.abs(change)).toBeLessThan(0.01);
    }
  });
});

describe('leg length', () => {
  it.each([25, -25])('below the knee by %d moves nothing above it', (amount) => {
    const before = trousers();
    const { pattern } = alteredBy(before, { 'length below the knee': amount });
    for (const change of measureChanges(before, pattern, 'waist to knee')) expect(Math.abs(change)).toBeLessThan(0.01);
    // The seams slant by 1.3 degrees: what they gain is shorter by its cosine.
    for (const change of measureChanges(before, pattern, 'inside leg length')) {
      expect(Math.abs(change - amount)).toBeLessThan(0.02);
    }
    expect(faultsOf(before, pattern)).toEqual([]);
  });

  it('without a knee line is refused, and says what to draw', () => {
    const before = trousers();
    const pieces = before.pieces.map((p) => ({ ...p, levels: p.levels.filter((l) => l.name !== 'knee') }));
    const { plan } = alteredBy({ ...before, pieces }, { 'length above the knee': 20 });
    expect(plan.findings.map((f) => f.code)).toContain('plan-missing-piece');
    expect(plan.findings[0]?.try).toContain('knee line');
  });

  it('without a printed line is taken midway, with a note', () => {
    const before = trousers();
    const pieces = before.pieces.map((p) => ({ ...p, adjustmentLines: [] }));
    const { plan } = alteredBy({ ...before, pieces }, { 'length above the knee': 20 });
    expect([...new Set(plan.findings.map((f) => f.code))]).toEqual(['plan-line-midway']);
  });
});

describe('leg tilt', () => {
  const before = trousers();
  const gains: readonly (readonly [number, Choices, number, number])[] = [
    [INCH / 2, {}, 1, 0],
    [-INCH / 2, {}, 0, -1],
    [INCH / 2, { from: 'crotch' }, 1, 0],
    [-INCH / 2, { from: 'crotch' }, 0, -1],
    // Hertzer, Garment Cutting, page 20: with the hinge in the middle one seam gains what the other loses.
    [INCH / 2, { hinge: 'mid-grain' }, 0.5, -0.5],
    [-INCH / 2, { hinge: 'mid-grain', from: 'crotch' }, 0.5, -0.5],
  ];
  it.each(gains)('by %d mm, %o, gives each seam its part', (amount, choices, side, inseam) => {
    const { pattern } = alteredBy(before, { 'leg tilt': amount }, { 'leg tilt': choices });
    const changes = edgeChanges(before, pattern);
    for (const piece of ['front', 'back']) {
      expect(changes.get(`${piece} side`)).toBeCloseTo(side * amount, 2);
      expect(changes.get(`${piece} inseam`)).toBeCloseTo(inseam * amount, 2);
      expect(changes.get(`${piece} hem`)).toBeCloseTo(0, 2);
      expect(changes.get(`${piece} crotch`)).toBeCloseTo(0, 2);
    }
    expect(faultsOf(before, pattern)).toEqual([]);
  });

  it('swings the hem inwards for bow legs by the angle that the wedge opens, as wide as the leg is there', () => {
    const { pattern } = alteredBy(before, { 'leg tilt': INCH / 2 });
    const hemOf = (p: Pattern) => {
      const piece = pieceIn(p, 'front');
      const hem = piece.edges.find((e) => e.id === 'hem');
      const [segment] = piece.seamLine.spans[hem?.first ?? 0]?.segments ?? [];
      if (!segment) throw new Error('no hem');
      return segment;
    };
    const [was, is] = [hemOf(before), hemOf(pattern)];
    const turned = turnBetween(subtract(was.to, was.from), subtract(is.to, is.from));
    expect(is.from.x).toBeLessThan(was.from.x - 5);
    // The front is 235 to 222 mm wide over the 150 mm below the knee.
    expect(-turned).toBeGreaterThan(INCH / 2 / 236);
    expect(-turned).toBeLessThan(INCH / 2 / 212);
  });
});

describe('seat, abdomen, sway back on trousers', () => {
  const before = trousers();
  it.each([0.5, -0.5])('seat by %d in raises the centre back and brings the crotch point out as much', (inches) => {
    const { pattern } = alteredBy(before, { seat: inches * INCH });
    expect(pieceIn(pattern, 'front').seamLine).toBe(pieceIn(before, 'front').seamLine);
    const [waist] = [before, pattern].map((p) => {
      const piece = pieceIn(p, 'back');
      const crotch = piece.edges.find((e) => e.role === 'crotch');
      return heightOf(piece.upright, piece.seamLine.spans[crotch?.first ?? 0]?.segments[0]?.from ?? { x: 0, y: 0 });
    });
    expect(waist).toBeCloseTo(20, 6);
    const [longer] = measureChanges(before, pattern, 'back crotch length');
    // The crotch seam leans by 7.2 degrees at the waist: along it the rise is longer by a hundredth.
    expect(longer).toBeGreaterThan(2 * Math.abs(inches) * INCH * Math.sign(inches) - 0.2);
    expect(Math.abs((longer as number) / (2 * inches * INCH) - 1)).toBeLessThan(0.01);
    expect(faultsOf(before, pattern)).toEqual([]);
  });

  it.each([
    ['seat', 20, { 'on trousers': 'wedge' }],
    ['seat', -20, { 'on trousers': 'wedge' }],
    ['abdomen', 20, {}],
    ['abdomen', -15, {}],
    ['abdomen', 8, { method: 'raise the waist' }],
    ['sway back', 12, {}],
    ['sway back', -12, {}],
    ['hip slope', 10, {}],
    ['hip slope', -10, {}],
    ['length at the hem', 40, {}],
    ['length at the hem', -40, {}],
  ] as const)('%s by %d, %o, leaves waist, hip and inseams sound', (name, amount, choices) => {
    const { pattern, plan } = alteredBy(before, { [name]: amount }, { [name]: choices });
    expect(plan.findings.filter((f) => f.level === 'error')).toEqual([]);
    for (const change of measureChanges(before, pattern, 'waist girth')) expect(Math.abs(change)).toBeLessThan(0.02);
    expect(faultsOf(before, pattern)).toEqual([]);
  });
});

describe('there and back', () => {
  const before = trousers();
  it.each([
    ['crotch depth', 12],
    ['front crotch length', 12],
    ['back crotch length', 12],
    ['thigh', 25],
    ['length above the knee', 20],
    ['length below the knee', 20],
    ['leg tilt', 10],
    ['seat', 10],
  ] as const)('%s by %d and back lies where it lay', (name, amount) => {
    const there = alteredBy(before, { [name]: amount }).pattern;
    const back = alteredBy(there, { [name]: -amount }).pattern;
    expect(greatestMove(before, there)).toBeGreaterThan(1);
    // Leg tilt hinges at the other seam on the way back: it leaves the other seam longer.
    if (name === 'leg tilt') return;
    for (const [edge, by] of edgeChanges(before, back)) expect(Math.abs(by), edge).toBeLessThan(0.1);
  });
});

describe('what is missing', () => {
  const bodice = patternOf(draftBodice(SAMPLE_BODICE_BODY));
  const own = ['crotch depth', 'front crotch length', 'back crotch length', 'thigh', 'leg tilt'];
  it.each([...own, 'length above the knee', 'length below the knee'])('%s of a bodice is a finding', (name) => {
    expect(alterations.some((a) => a.card.name === name)).toBe(true);
    const { plan } = alteredBy(bodice, { [name]: 5 });
    expect(plan.findings.some((f) => f.code === 'plan-missing-piece' && f.level === 'error')).toBe(true);
  });
});
