import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { checkPattern } from '../../src/checks/index.ts';
import { distance } from '../../src/geometry/point.ts';
import { edgeLength } from '../../src/pattern/edges.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { patternOf } from '../drafted.ts';
import { apart, closedPath, edgePath } from '../properties/comparing.ts';
import { alteredBy, edgeChanges, measureChanges, pieceIn } from './altering.ts';
import { INCH, sleeveBlocks, sleeveOnFold, sleevesOf, withSleeve } from './sleeve-blocks.ts';

/* Elbow and forearm. Construction and limit: common practice. */

const SOUND = /^check-(mates|notches|corner|outline|allowance|grain|not-fair)/;
const whole = sleeveBlocks.filter(([name]) => name !== 'on the fold');

describe.each(whole)('a sleeve %s', (_, before) => {
  it.each([-9, 0.75 * INCH])('elbow %d mm: the back opens by just so much, the front seam keeps its length', (by) => {
    const { pattern, eased, findings } = alteredBy(before, { elbow: by });
    expect(findings.filter((f) => f.level === 'error')).toEqual([]);
    const changes = edgeChanges(before, pattern);
    for (const piece of sleevesOf(before)) {
      const now = pieceIn(pattern, piece.id);
      const [dart] = piece.darts;
      const gained = dart
        ? distance(...(now.darts[0] as typeof dart).mouth) - distance(...dart.mouth)
        : (changes.get(`${piece.id} sleeve-seam`) as number) - (changes.get(`${piece.id} sleeve-seam-2`) as number);
      expect(gained, piece.id).toBeCloseTo(by, 2);
      if (dart) expect(now.darts[0]?.tip).toEqual(dart.tip);
      expect(Math.abs(changes.get(`${piece.id} sleeve-seam-2`) as number)).toBeLessThan(0.3);
      for (const role of ['cap', 'wrist'] as const) {
        expect(Math.abs(changes.get(`${piece.id} ${role}`) as number), role).toBeLessThan(1e-3);
      }
      expect(now.grainline).toEqual(piece.grainline);
    }
    expect(checkPattern(before, pattern, eased).filter((f) => SOUND.test(f.code))).toEqual([]);
    expect(measureChanges(before, pattern, 'upper-arm girth')[0]).toBeCloseTo(0, 6);
  });

  it('opened and closed again it is what it was', () => {
    const back = alteredBy(alteredBy(before, { elbow: 10 }).pattern, { elbow: -10 }).pattern;
    for (const piece of sleevesOf(before)) {
      expect(apart(closedPath(piece.seamLine), closedPath(pieceIn(back, piece.id).seamLine))).toBeLessThan(0.5);
    }
  });
});

describe('what an elbow needs', () => {
  const lacks = (pattern: Pattern): string[] =>
    alteredBy(pattern, { elbow: 10 })
      .plan.findings.filter((f) => f.level === 'error')
      .map((f) => f.code);

  it('is a sleeve drawn whole', () => {
    expect(lacks(sleeveOnFold())).toEqual(['plan-missing-piece']);
  });

  it('is an elbow level', () => {
    const bare = withSleeve();
    const pieces = bare.pieces.map((p) => ({ ...p, levels: p.levels.filter((l) => l.name !== 'elbow') }));
    expect(lacks({ ...bare, pieces })).toEqual(['plan-missing-piece']);
  });

  it('is something that tells the back from the front: notches, a dart, or a longer seam', () => {
    const unmarked = (pattern: Pattern): Pattern => ({
      ...pattern,
      pieces: pattern.pieces.map((p) => ({ ...p, notches: [] })),
    });
    expect(lacks(unmarked(withSleeve()))).toEqual(['plan-missing-piece']);
    expect(lacks(unmarked(withSleeve({ elbowDart: 14 })))).toEqual([]);
    const eased = alteredBy(withSleeve(), { elbow: 8 }).pattern;
    expect(lacks(unmarked(eased))).toEqual([]);
  });
});

describe('against the sleeve drafted with a larger elbow dart', () => {
  it.each([10, -8])('%d mm: within 1 mm', (by) => {
    for (const darts of ['lines', 'outline'] as const) {
      const drafted = (elbowDart: number) => patternOf(draftBodice(SAMPLE_BODICE_BODY, { elbowDart, darts }));
      const is = pieceIn(alteredBy(drafted(16), { elbow: by }).pattern, 'sleeve');
      const should = pieceIn(drafted(16 + by), 'sleeve');
      for (const edge of is.edges) {
        const twin = should.edges.find((e) => e.id === edge.id) as typeof edge;
        expect(apart(edgePath(is, edge), edgePath(should, twin)), `${darts} ${edge.id}`).toBeLessThan(1);
        expect(edgeLength(is, edge)).toBeCloseTo(edgeLength(should, twin), 0);
      }
    }
  });
});
