import { describe, expect, it } from 'vitest';
import { checkPattern } from '../../src/checks/index.ts';
import { flatten } from '../../src/geometry/flatten.ts';
import { nearestOnPath } from '../../src/geometry/path.ts';
import { lowerUnderarm } from '../../src/paper/sleeve-underarm.ts';
import { tape } from '../../src/paper/tape.ts';
import { trace } from '../../src/paper/tracing.ts';
import { edgeRuns } from '../../src/pattern/edges.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Edge, Piece } from '../../src/pattern/piece.ts';
import { apart, closedPath, edgePath } from '../properties/comparing.ts';
import { alteredBy, measureChanges, pieceIn } from './altering.ts';
import { capEase, INCH, lengthOf, sleeveBlocks, sleeveOnFold, sleevesOf, topOf, withSleeve } from './sleeve-blocks.ts';

/* Cap height, and the underarm that goes down with the armhole. Constructions and limits: common practice. */

const SOUND = /^check-(mates|notches|corner|outline|allowance|grain|not-fair)/;
const capOf = (piece: Piece): Edge => piece.edges.find((e) => e.role === 'cap') as Edge;

describe.each(sleeveBlocks)('a sleeve %s', (_, before) => {
  it.each([-12.7, 0.75 * INCH])('cap %d mm higher at its top, the same below its notches', (by) => {
    const { pattern, eased } = alteredBy(before, { 'cap height': by });
    for (const piece of sleevesOf(before)) {
      const now = pieceIn(pattern, piece.id);
      if (piece.part === 'under sleeve') {
        expect(now).toBe(piece);
        continue;
      }
      expect(topOf(now) - topOf(piece)).toBeCloseTo(by, 2);
      // The lowest notches stand 121 mm up from the underarm; a high crown begins a little lower.
      const old = edgePath(piece, capOf(piece));
      const lower = flatten(edgeRuns(now, capOf(now)).flat(), 0.01).filter((p) => p.y < 35);
      for (const p of lower) expect(nearestOnPath(old, p)?.distance ?? 1).toBeLessThan(0.01);
    }
    expect(checkPattern(before, pattern, eased).filter((f) => SOUND.test(f.code))).toEqual([]);
    expect(checkPattern(before, pattern).map((f) => f.code)).toContain('check-mates-apart');
    capEase(pattern).forEach((ease, i) => {
      expect(Math.sign(ease - (capEase(before)[i] as number))).toBe(Math.sign(by));
    });
  });

  it('higher and lower again it is what it was', () => {
    const back = alteredBy(alteredBy(before, { 'cap height': 11 }).pattern, { 'cap height': -11 }).pattern;
    for (const piece of sleevesOf(before)) {
      expect(apart(closedPath(piece.seamLine), closedPath(pieceIn(back, piece.id).seamLine))).toBeLessThan(0.5);
    }
  });
});

describe('the ease of a cap', () => {
  it('is 1¼ in on armholes of 17 in for a cap of 18¼ in, and stays what it is', () => {
    expect(18.25 - 17).toBe(1.25);
    const before = withSleeve();
    expect((capEase(before)[0] as number) / INCH).toBeCloseTo(1.25, 2);
    const { pattern } = alteredBy(before, { 'upper arm': 20, wrist: -10 });
    expect((capEase(pattern)[0] as number) / INCH).toBeCloseTo(1.25, 2);
  });

  it('past 1⅞ in, or under 1 in, it is told (Santa Rosa Junior College, unit 7.2)', () => {
    const codes = (by: number): string[] =>
      alteredBy(withSleeve(), { 'cap height': by }).plan.findings.map((f) => f.code);
    expect(codes(10)).toEqual([]);
    expect(codes(18)).toEqual(['plan-cap-ease']);
    expect(codes(-12)).toEqual(['plan-cap-ease']);
  });

  it('without notches the crown begins a little below its middle, and that is told', () => {
    const bare = withSleeve();
    const before: Pattern = { ...bare, pieces: bare.pieces.map((p) => ({ ...p, notches: [] })) };
    const { plan, pattern } = alteredBy(before, { 'cap height': 10 });
    expect(plan.findings.map((f) => f.code)).toEqual(['plan-no-notches']);
    expect(topOf(pieceIn(pattern, 'sleeve')) - topOf(pieceIn(before, 'sleeve'))).toBeCloseTo(10, 2);
  });
});

describe('the underarm of a sleeve', () => {
  it.each([
    ['in one piece', withSleeve()],
    ['on the fold', sleeveOnFold()],
  ] as const)('%s goes down by just so much, its width kept, its cap deeper', (_, before) => {
    const piece = pieceIn(before, 'sleeve');
    for (const by of [12, -9]) {
      const lowered = tape(lowerUnderarm(trace(piece), by));
      const pattern = { ...before, pieces: before.pieces.map((p) => (p === piece ? lowered : p)) };
      expect(lowered.levels.find((l) => l.name === 'biceps')?.height).toBeCloseTo(-by, 9);
      expect(measureChanges(before, pattern, 'upper-arm girth')[0]).toBeCloseTo(0, 2);
      expect(measureChanges(before, pattern, 'wrist girth')[0]).toBeCloseTo(0, 2);
      expect(measureChanges(before, pattern, 'outer arm length')[0]).toBeCloseTo(0, 2);
      expect(Math.sign(lengthOf(lowered, 'cap') - lengthOf(piece, 'cap'))).toBe(Math.sign(by));
      const seams = piece.edges.filter((e) => e.role === 'sleeve seam').length;
      expect((lengthOf(piece, 'sleeve seam') - lengthOf(lowered, 'sleeve seam')) / seams).toBeCloseTo(by, 0);
    }
  });

  it('by nothing is the very same', () => {
    const piece = pieceIn(withSleeve(), 'sleeve');
    expect(tape(lowerUnderarm(trace(piece), 0))).toBe(piece);
  });
});
