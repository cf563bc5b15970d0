import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { draftDress, SAMPLE_DRESS_BODY } from '../../fixtures/blocks/draft/dress.ts';
import { transformPath, translation } from '../../src/geometry/transform.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { patternOf } from '../drafted.ts';
import { apart, closedPath, edgePath, greatestMove } from '../properties/comparing.ts';
import { alteredBy, edgeChanges, faultsOf, measureChanges, pieceIn } from './altering.ts';

/*
 * Front and back waist length, and sway back, on bodices and dresses. What front and back have in common is parted
 * across the piece; what one has over the other is a wedge that leaves the side seam alone (U. S. Department of
 * Agriculture, Home Economics Research Report 32, lists it: side seams stay equal).
 */

const blocks: readonly (readonly [string, () => Pattern])[] = [
  ['half, darts as lines', () => patternOf(draftBodice(SAMPLE_BODICE_BODY, { sleeve: false }))],
  ['darts in the outline', () => patternOf(draftBodice(SAMPLE_BODICE_BODY, { sleeve: false, darts: 'outline' }))],
  ['whole', () => patternOf(draftBodice(SAMPLE_BODICE_BODY, { sleeve: false, whole: true }))],
  ['panels', () => patternOf(draftBodice(SAMPLE_BODICE_BODY, { sleeve: false, panels: true }))],
  ['lined', () => patternOf(draftBodice(SAMPLE_BODICE_BODY, { sleeve: false, lining: true }))],
  ['dress', () => patternOf(draftDress(SAMPLE_DRESS_BODY, { sleeve: false }))],
  ['whole dress', () => patternOf(draftDress(SAMPLE_DRESS_BODY, { sleeve: false, whole: true }))],
];

/** On paper a measure is hit to this; on panels, whose waists are fitted one by one, to the second. mm */
const HIT = 0.01;
const HIT_ON_PANELS = 0.05;
const hit = (block: string): number => (block === 'panels' ? HIT_ON_PANELS : HIT);

const withIt = { 'side seam': 'with it' };

describe.each(blocks)('waist lengths: %s', (block, draft) => {
  const pattern = draft();

  it.each([
    ['front waist length', 'front waist length', 12],
    ['front waist length', 'front waist length', -12],
    ['back waist length', 'back neck to waist', 16],
    ['back waist length', 'back neck to waist', -16],
  ] as const)('%s as a wedge: %s by %f, side seams untouched', (name, measure, amount) => {
    const { pattern: after, findings } = alteredBy(pattern, { [name]: amount });
    expect(findings.filter((f) => f.level !== 'note')).toEqual([]);
    for (const change of measureChanges(pattern, after, measure))
      expect(change).toBeCloseTo(amount, hit(block) < 0.02 ? 2 : 1);
    for (const [edge, change] of edgeChanges(pattern, after)) {
      if (/side|armhole|shoulder|neck|waist/.test(edge) && !/panel/.test(edge))
        expect(Math.abs(change), edge).toBeLessThan(0.01);
    }
    expect(faultsOf(pattern, after)).toEqual([]);
  });

  it.each([20, -20])('front and back alike by %f: parted across, side seams and all', (amount) => {
    const both = { 'front waist length': amount, 'back waist length': amount };
    const choices = { 'front waist length': withIt, 'back waist length': withIt };
    const { pattern: after } = alteredBy(pattern, both, choices);
    for (const m of ['front waist length', 'back neck to waist'] as const) {
      for (const change of measureChanges(pattern, after, m))
        expect(Math.abs(change - amount)).toBeLessThan(hit(block));
    }
    for (const [edge, change] of edgeChanges(pattern, after)) {
      if (/ side/.test(edge)) expect(Math.abs(change - amount), edge).toBeLessThan(0.05);
    }
    expect(faultsOf(pattern, after)).toEqual([]);
  });

  it.each([10, -10])('sway back by %f shortens the centre back, nothing at the side', (amount) => {
    const { pattern: after } = alteredBy(pattern, { 'bodice sway back': amount });
    for (const change of measureChanges(pattern, after, 'back neck to waist')) {
      expect(Math.abs(change + amount)).toBeLessThan(hit(block));
    }
    for (const [edge, change] of edgeChanges(pattern, after))
      if (/ side/.test(edge)) expect(Math.abs(change)).toBeLessThan(0.01);
    expect(faultsOf(pattern, after)).toEqual([]);
  });
});

describe.each(blocks.filter(([name]) => ['darts in the outline', 'panels', 'dress'].includes(name)))(
  'waist lengths, there and back: %s',
  (_, draft) => {
    const pattern = draft();

    it.each([['front waist length'], ['back waist length'], ['bodice sway back']])('%s: nothing is nothing', (name) => {
      expect(alteredBy(pattern, { [name]: 0 }).pattern.pieces.every((p, i) => p === pattern.pieces[i])).toBe(true);
      const hair = alteredBy(pattern, { [name]: 0.01 }).pattern;
      expect(greatestMove(pattern, hair)).toBeLessThan(0.1);
    });

    it.each([['front waist length'], ['back waist length'], ['bodice sway back']])(
      '%s: done and undone comes back',
      (name) => {
        const there = alteredBy(pattern, { [name]: 12 }).pattern;
        const back = alteredBy(there, { [name]: -12 }).pattern;
        for (const piece of pattern.pieces) {
          const off = apart(closedPath(piece.seamLine), closedPath(pieceIn(back, piece.id).seamLine));
          expect(off, piece.id).toBeLessThan(0.5);
        }
        for (const [edge, change] of edgeChanges(pattern, back)) expect(Math.abs(change), edge).toBeLessThan(0.1);
      },
    );
  },
);

describe('waist lengths against a block drafted afresh', () => {
  // Ingalls's rule as in fixtures/blocks/draft/bodice.ts measures both lengths; the bust keeps its place below the neck.
  it.each([6.35, 12.7, -12.7])('front and back by %f: within half a millimetre, measured from the neck', (d) => {
    const body = SAMPLE_BODICE_BODY;
    const before = patternOf(draftBodice(body, { sleeve: false }));
    const longer = { ...body, frontLength: body.frontLength + d, backLength: body.backLength + d };
    const afresh = patternOf(draftBodice(longer, { sleeve: false }));
    const after = alteredBy(
      before,
      { 'front waist length': d, 'back waist length': d },
      { 'front waist length': withIt, 'back waist length': withIt },
    ).pattern;
    for (const id of ['front', 'back']) {
      const [is, meant] = [pieceIn(after, id), pieceIn(afresh, id)];
      for (const edge of is.edges) {
        const twin = meant.edges.find((e) => e.id === edge.id);
        // The draft begins at the waist, the altered piece keeps its neck where it was.
        const drafted = twin && transformPath(translation({ x: 0, y: -d }), edgePath(meant, twin));
        expect(drafted && apart(edgePath(is, edge), drafted), `${id} ${edge.id}`).toBeLessThan(0.5);
      }
    }
  });
});

describe('what waist lengths need', () => {
  it('a skirt has no front waist length', () => {
    const bodiceless = { ...blocks[0]?.[1](), pieces: [] } as unknown as Pattern;
    const { plan } = alteredBy(bodiceless, { 'front waist length': 10, 'bodice sway back': 10 });
    expect(plan.findings.map((f) => f.code)).toEqual(['plan-missing-piece', 'plan-missing-piece']);
  });

  it('without a printed line the level midway is taken, and told', () => {
    const pattern = patternOf(draftBodice(SAMPLE_BODICE_BODY, { sleeve: false }));
    const bare = { ...pattern, pieces: pattern.pieces.map((p) => ({ ...p, adjustmentLines: [] })) };
    const { plan, pattern: after } = alteredBy(bare, { 'back waist length': 10 }, { 'back waist length': withIt });
    expect(plan.findings.map((f) => f.code)).toContain('plan-line-midway');
    expect(measureChanges(bare, after, 'back neck to waist')[0]).toBeCloseTo(10, 2);
  });

  it('more at the centre than it takes without a point is refused', () => {
    const pattern = patternOf(draftBodice(SAMPLE_BODICE_BODY, { sleeve: false }));
    expect(alteredBy(pattern, { 'front waist length': 22 }).plan.findings.map((f) => f.code)).toContain(
      'plan-beyond-limit',
    );
  });
});
