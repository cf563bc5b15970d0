import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { fitToPerson } from '../../src/alterations/person.ts';
import { compose, rotation, transformPath, translation } from '../../src/geometry/transform.ts';
import { capDrop } from '../../src/paper/sleeve-cap.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { patternOf } from '../drafted.ts';
import { apart, closedPath, edgePath } from '../properties/comparing.ts';
import { pieceOf } from '../published/pieces.ts';
import { alteredBy, edgeChanges, faultsOf, measureChanges, pieceIn } from './altering.ts';
import { capEase, INCH, lengthOf, sleeveBlocks, sleevesOf, topOf, turnedPattern, withSleeve } from './sleeve-blocks.ts';

/* Larger and smaller upper arms and wrists. Constructions and limits: common practice. */

const EXACT = 0.01;
const SOUND = /^check-(mates|notches|corner|outline|allowance|grain)/;
const faults = (before: Pattern, after: Pattern): string[] => faultsOf(before, after).filter((f) => SOUND.test(f));

describe.each(sleeveBlocks)('a sleeve %s', (_, before) => {
  it.each([INCH, -0.75 * INCH])('upper arm %d mm: as wide as asked, the cap as long as it was', (by) => {
    const { pattern, findings } = alteredBy(before, { 'upper arm': by });
    expect(findings.filter((f) => f.level !== 'note')).toEqual([]);
    const changes = measureChanges(before, pattern, 'upper-arm girth');
    expect(changes.length).toBeGreaterThan(0);
    for (const change of changes) expect(Math.abs(change - by)).toBeLessThan(EXACT);
    for (const change of measureChanges(before, pattern, 'wrist girth')) expect(Math.abs(change)).toBeLessThan(EXACT);
    for (const piece of sleevesOf(before)) {
      const now = pieceIn(pattern, piece.id);
      expect(Math.abs(lengthOf(now, 'cap') - lengthOf(piece, 'cap')), piece.id).toBeLessThan(0.05);
      if (piece.part !== 'under sleeve') expect(Math.sign(topOf(now) - topOf(piece))).toBe(-Math.sign(by));
    }
    expect(faults(before, pattern)).toEqual([]);
  });

  it.each([INCH, -9])('wrist %d mm: half an edge, or a quarter on two pieces, and nothing at the elbow', (by) => {
    const { pattern, plan } = alteredBy(before, { wrist: by });
    for (const change of measureChanges(before, pattern, 'wrist girth')) {
      expect(Math.abs(change - by)).toBeLessThan(EXACT);
    }
    for (const change of measureChanges(before, pattern, 'elbow girth')) expect(Math.abs(change)).toBeLessThan(EXACT);
    for (const share of plan.steps[0]?.shares ?? []) {
      const pieces = sleevesOf(before).filter((p) => p.cut.cloth === share.cloth);
      expect(share.amount).toBeCloseTo(by / (2 * pieces.length), 9);
    }
    for (const piece of sleevesOf(before)) {
      const now = pieceIn(pattern, piece.id);
      const cap = piece.edges.find((e) => e.role === 'cap') as (typeof piece.edges)[number];
      expect(apart(edgePath(piece, cap), edgePath(now, cap))).toBeLessThan(1e-9);
    }
    expect(faults(before, pattern)).toEqual([]);
  });

  it.each(['upper arm', 'wrist'])('%s and its opposite come back', (name) => {
    const back = alteredBy(alteredBy(before, { [name]: 14 }).pattern, { [name]: -14 }).pattern;
    for (const piece of sleevesOf(before)) {
      expect(apart(closedPath(piece.seamLine), closedPath(pieceIn(back, piece.id).seamLine))).toBeLessThan(0.5);
    }
    for (const [edge, change] of edgeChanges(before, back)) expect(Math.abs(change), edge).toBeLessThan(0.1);
  });

  it('turned on the table it is altered alike', () => {
    fc.assert(
      fc.property(fc.double({ min: -3, max: 3, noNaN: true }), fc.integer({ min: -15, max: 20 }), (angle, by) => {
        fc.pre(by !== 0);
        const asked = { 'upper arm': by, wrist: by / 2 };
        const plain = alteredBy(before, asked).pattern;
        const turned = alteredBy(turnedPattern(before, angle), asked).pattern;
        const move = compose(translation({ x: 70, y: -30 }), rotation(angle));
        for (const piece of sleevesOf(plain)) {
          const there = transformPath(move, closedPath(piece.seamLine));
          expect(apart(there, closedPath(pieceIn(turned, piece.id).seamLine))).toBeLessThan(0.01);
        }
      }),
      { numRuns: 1 },
    );
  });

  it('asked for next to nothing, hardly anything moves', () => {
    const { pattern } = alteredBy(before, { 'upper arm': 0.01, wrist: 0.01 });
    for (const piece of sleevesOf(before)) {
      expect(apart(closedPath(piece.seamLine), closedPath(pieceIn(pattern, piece.id).seamLine))).toBeLessThan(0.1);
    }
  });
});

describe('upper arm, slashed and spread', () => {
  it('drops the cap by what its chord loses: 6½ by 5½ in, ½ in wider at each half, 0.652 in', () => {
    const half = { across: 6.5, down: 5.5 };
    const { drop, outs } = capDrop([half, half], 1);
    expect(outs[0]).toBeCloseTo(0.5, 6);
    expect(5.5 - drop).toBeCloseTo(Math.sqrt(6.5 ** 2 + 5.5 ** 2 - 7 ** 2), 6);
    expect(drop).toBeCloseTo(0.652, 3);
  });

  it('does so on paper, on a cap of two straight lines', () => {
    const sleeve = pieceOf({
      id: 'sleeve',
      part: 'sleeve',
      half: false,
      cut: 2,
      corners: [
        [6.5, 0],
        [0, 5.5],
        [-6.5, 0],
        [-6.5, -17],
        [6.5, -17],
      ],
      edges: [
        ['cap', 2],
        ['sleeve seam', 1],
        ['wrist', 1],
        ['sleeve seam', 1],
      ],
    });
    const before: Pattern = { ...withSleeve(), pieces: [sleeve], mates: [] };
    const { pattern } = alteredBy(before, { 'upper arm': INCH });
    const now = pieceIn(pattern, 'sleeve');
    // Trued at its corners with the seams, the line is not quite straight: two hundredths of an inch.
    expect(Math.abs(topOf(now) / INCH - 4.848)).toBeLessThan(0.02);
  });

  it('splits a cap that is not even so that it drops alike on both sides', () => {
    const { drop, outs } = capDrop(
      [
        { across: 170, down: 140 },
        { across: 150, down: 140 },
      ],
      24,
    );
    expect((outs[0] as number) + (outs[1] as number)).toBeCloseTo(24, 4);
    [170, 150].forEach((across, i) => {
      expect(Math.hypot(across + (outs[i] as number), 140 - drop)).toBeCloseTo(Math.hypot(across, 140), 4);
    });
  });

  it('refuses more than an inch, and a tuck of more than ¾ in', () => {
    const codes = (by: number): string[] =>
      alteredBy(withSleeve(), { 'upper arm': by }).plan.findings.map((f) => f.code);
    expect(codes(INCH)).toEqual([]);
    expect(codes(INCH + 1)).toContain('plan-beyond-limit');
    expect(codes(-0.75 * INCH)).toEqual([]);
    expect(codes(-0.75 * INCH - 1)).toContain('plan-beyond-limit');
  });

  it('runs out at the elbow when asked, where the width stays', () => {
    const { pattern } = alteredBy(withSleeve(), { 'upper arm': 20 }, { 'upper arm': { to: 'elbow' } });
    expect(measureChanges(withSleeve(), pattern, 'elbow girth')[0]).toBeCloseTo(0, 2);
    expect(measureChanges(withSleeve(), pattern, 'upper-arm girth')[0]).toBeCloseTo(20, 2);
  });

  it('says what is missing on a pattern without a sleeve', () => {
    const { plan } = alteredBy(withSleeve({ sleeve: false }), { 'upper arm': 20 });
    expect(plan.findings.map((f) => f.code)).toContain('plan-missing-piece');
  });
});

describe('upper arm, let out at the underarm', () => {
  const underarm = { 'upper arm': { method: 'underarm seam' } };

  it.each([20, -20])('%d mm: sleeve and bodice go alike, the ease of the cap is what it was', (by) => {
    for (const before of [withSleeve(), withSleeve({ panels: true }), withSleeve({ whole: true, lining: true })]) {
      const { pattern } = alteredBy(before, { 'upper arm': by }, underarm);
      for (const change of measureChanges(before, pattern, 'upper-arm girth')) expect(change).toBeCloseTo(by, 2);
      capEase(pattern).forEach((ease, i) => {
        expect(Math.abs(ease - (capEase(before)[i] as number))).toBeLessThan(0.2);
      });
      for (const change of measureChanges(before, pattern, 'waist girth')) expect(Math.abs(change)).toBeLessThan(0.05);
      expect(faults(before, pattern)).toEqual([]);
    }
  });

  it('asks for the slash where the sleeve is in two pieces, and where there is no bodice', () => {
    const two = alteredBy(withSleeve({ sleeve: 'two pieces' }), { 'upper arm': 20 }, underarm).plan.findings;
    expect(two.map((f) => f.code)).toContain('plan-missing-piece');
    const sleeve = withSleeve();
    const alone = { ...sleeve, pieces: sleevesOf(sleeve), mates: [] };
    expect(alteredBy(alone, { 'upper arm': 20 }, underarm).plan.findings.map((f) => f.code)).toContain(
      'plan-missing-piece',
    );
  });
});

describe('wrist', () => {
  it('in two steps comes to the same as in one', () => {
    const once = alteredBy(withSleeve(), { wrist: 18 }).pattern;
    const twice = alteredBy(alteredBy(withSleeve(), { wrist: 11 }).pattern, { wrist: 7 }).pattern;
    const [a, b] = [once, twice].map((p) => closedPath(pieceIn(p, 'sleeve').seamLine));
    expect(apart(a as ReturnType<typeof closedPath>, b as ReturnType<typeof closedPath>)).toBeLessThan(0.1);
  });
});

/* The draft takes upper arm and wrist; the hand method is another: the seam tapers, the draft draws it anew. */
describe('against the sleeve drafted afresh', () => {
  const B = SAMPLE_BODICE_BODY;
  const drafted = (change: Partial<typeof B>): Pattern => patternOf(draftBodice({ ...B, ...change }));
  const farthest = (a: Pattern, b: Pattern): Record<string, number> => {
    const [p, q] = [pieceIn(a, 'sleeve'), pieceIn(b, 'sleeve')];
    return Object.fromEntries(
      p.edges.map((e) => {
        const twin = q.edges.find((o) => o.id === e.id) as typeof e;
        return [e.id, apart(edgePath(p, e), edgePath(q, twin))];
      }),
    );
  };

  it.each([12, -12])('wrist %d mm: within 2 mm', (by) => {
    const { pattern } = alteredBy(drafted({}), { wrist: by });
    for (const [edge, mm] of Object.entries(farthest(pattern, drafted({ wrist: B.wrist + by })))) {
      expect(mm, edge).toBeLessThan(2);
    }
  });

  it.each([12, -12])('upper arm %d mm, arm lengths and elbow kept: within 2 mm', (by) => {
    const needs = {
      fitting: 'Marcellina',
      measurements: {
        'upper-arm girth': B.upperArm + by,
        'wrist girth': B.wrist,
        'shoulder to elbow': B.shoulderToElbow,
        'outer arm length': B.armLength,
      },
      direct: {},
    };
    const choices = { 'upper arm': { to: 'elbow' } };
    const { altered } = fitToPerson(
      drafted({}),
      needs,
      { beyondLimits: false, choices, show: 'mm' },
      { true: false, fullGrainline: false },
    );
    if (!altered) throw new Error('not altered');
    for (const [edge, mm] of Object.entries(farthest(altered.pattern, drafted({ upperArm: B.upperArm + by })))) {
      expect(mm, edge).toBeLessThan(2);
    }
  });
});
