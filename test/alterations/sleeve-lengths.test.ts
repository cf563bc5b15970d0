import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { patternOf } from '../drafted.ts';
import { apart, closedPath, edgePath } from '../properties/comparing.ts';
import { alteredBy, edgeChanges, faultsOf, measureChanges, pieceIn } from './altering.ts';
import { sleeveBlocks, sleevesOf, withSleeve } from './sleeve-blocks.ts';

/*
 * Length above and below the elbow, separately: Central Washington University costume text, chapter 17. A tuck of n is
 * a fold n/2 deep (the same chapter).
 */

const SOUND = /^check-(mates|notches|corner|outline|allowance|grain)/;
const ABOVE = 'length above the elbow';
const BELOW = 'length below the elbow';

describe.each(sleeveBlocks)('a sleeve %s', (_, before) => {
  it.each([
    [ABOVE, 30, 30],
    [ABOVE, -22, -22],
    [BELOW, 40, 0],
    [BELOW, -25, 0],
  ])('%s %d mm: elbow and wrist as far down as asked, widths kept', (name, by, atElbow) => {
    const { pattern, findings } = alteredBy(before, { [name]: by });
    expect(findings.filter((f) => f.level === 'error')).toEqual([]);
    for (const change of measureChanges(before, pattern, 'shoulder to elbow')) expect(change).toBeCloseTo(atElbow, 2);
    for (const change of measureChanges(before, pattern, 'outer arm length')) expect(change).toBeCloseTo(by, 2);
    for (const girth of ['upper-arm girth', 'elbow girth', 'wrist girth']) {
      for (const change of measureChanges(before, pattern, girth)) expect(Math.abs(change), girth).toBeLessThan(0.05);
    }
    expect(faultsOf(before, pattern).filter((f) => SOUND.test(f))).toEqual([]);
  });

  it('both together, and back again', () => {
    const there = alteredBy(before, { [ABOVE]: 18, [BELOW]: -12 }).pattern;
    for (const change of measureChanges(before, there, 'outer arm length')) expect(change).toBeCloseTo(6, 2);
    const back = alteredBy(there, { [ABOVE]: -18, [BELOW]: 12 }).pattern;
    for (const piece of sleevesOf(before)) {
      expect(apart(closedPath(piece.seamLine), closedPath(pieceIn(back, piece.id).seamLine))).toBeLessThan(0.5);
    }
    for (const [edge, change] of edgeChanges(before, back)) expect(Math.abs(change), edge).toBeLessThan(0.15);
  });
});

describe('the place where a sleeve is parted', () => {
  const without = (what: (piece: Piece) => Partial<Piece>): Pattern => {
    const pattern = withSleeve();
    return { ...pattern, pieces: pattern.pieces.map((p) => (p.part === 'sleeve' ? { ...p, ...what(p) } : p)) };
  };

  it('lies midway where no line is printed, and that is told', () => {
    const before = without(() => ({ adjustmentLines: [] }));
    const { plan, pattern } = alteredBy(before, { [ABOVE]: 20 });
    expect(plan.findings.map((f) => [f.code, f.level])).toEqual([['plan-line-midway', 'note']]);
    expect(measureChanges(before, pattern, 'shoulder to elbow')[0]).toBeCloseTo(20, 2);
  });

  it('below the elbow cannot be told from the rest where no elbow is marked', () => {
    const before = without((p) => ({ levels: p.levels.filter((l) => l.name !== 'elbow') }));
    expect(alteredBy(before, { [BELOW]: 20 }).plan.findings.map((f) => f.code)).toContain('plan-missing-piece');
    expect(alteredBy(before, { [ABOVE]: 20 }).plan.findings.filter((f) => f.level === 'error')).toEqual([]);
  });

  it('takes 2 in at one line, no more', () => {
    expect(alteredBy(withSleeve(), { [ABOVE]: 50.8 }).plan.findings).toEqual([]);
    expect(alteredBy(withSleeve(), { [ABOVE]: 52 }).plan.findings.map((f) => f.code)).toEqual(['plan-beyond-limit']);
  });
});

describe('against the sleeve drafted afresh', () => {
  const B = SAMPLE_BODICE_BODY;
  const drafted = (change: Partial<typeof B>): Pattern => patternOf(draftBodice({ ...B, ...change }));

  it.each([20, -20, 40])('%d mm above or below the elbow: within 1 mm', (by) => {
    const above = drafted({ shoulderToElbow: B.shoulderToElbow + by, armLength: B.armLength + by });
    const below = drafted({ armLength: B.armLength + by });
    for (const [name, afresh] of [
      [ABOVE, above],
      [BELOW, below],
    ] as const) {
      const [is, should] = [alteredBy(drafted({}), { [name]: by }).pattern, afresh].map((p) => pieceIn(p, 'sleeve'));
      for (const edge of (is as Piece).edges) {
        const twin = (should as Piece).edges.find((e) => e.id === edge.id) as typeof edge;
        expect(apart(edgePath(is as Piece, edge), edgePath(should as Piece, twin)), `${name} ${edge.id}`).toBeLessThan(
          1,
        );
      }
    }
  });
});
