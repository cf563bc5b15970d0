import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { draftDress, SAMPLE_DRESS_BODY } from '../../fixtures/blocks/draft/dress.ts';
import { edgeLength } from '../../src/pattern/edges.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { patternOf } from '../drafted.ts';
import { apart, closedPath, edgePath } from '../properties/comparing.ts';
import { alteredBy, edgeChanges, faultsOf, measureChanges, pieceIn } from './altering.ts';

/* Armholes made deeper and shallower, the sleeve with them. Construction and limit: common practice. */

const bodice = (options: Parameters<typeof draftBodice>[1]): Pattern =>
  patternOf(draftBodice(SAMPLE_BODICE_BODY, options));

const blocks: readonly (readonly [string, Pattern])[] = [
  ['with a sleeve', bodice({})],
  ['with a sleeve in two pieces', bodice({ sleeve: 'two pieces' })],
  ['whole', bodice({ whole: true })],
  ['darts in the outline', bodice({ darts: 'outline', sleeve: false })],
  ['panels', bodice({ panels: true, sleeve: false })],
  ['dress', patternOf(draftDress(SAMPLE_DRESS_BODY, {}))],
];

/** What the caps of one arm are longer than its armhole, mm. */
const capEase = (pattern: Pattern): number => {
  const sum = (role: string): number =>
    pattern.pieces
      .flatMap((p) => p.edges.filter((e) => e.role === role).map((e) => edgeLength(p, e)))
      .reduce((a, b) => a + b, 0);
  const arms = pattern.pieces.some((p) => p.edges.filter((e) => e.role === 'armhole').length > 1) ? 2 : 1;
  return sum('cap') - sum('armhole') / arms;
};

describe.each(blocks)('armhole depth: %s', (block, pattern) => {
  it.each([10, -10])(
    'by %f: the underarm goes down the side, front and back alike, and the cap keeps its ease',
    (amount) => {
      const { pattern: after, findings } = alteredBy(pattern, { 'armhole depth': amount });
      expect(findings.filter((f) => f.level !== 'note')).toEqual([]);
      for (const change of measureChanges(pattern, after, 'armhole depth')) expect(change).toBeCloseTo(amount, 3);
      const changes = edgeChanges(pattern, after);
      const sides = [...changes].filter(([edge]) => / side/.test(edge)).map(([, change]) => change);
      for (const change of sides) expect(Math.abs(change - (sides[0] as number))).toBeLessThan(0.05);
      for (const [edge, change] of changes) {
        if (/ (waist|shoulder|neck|fold|hem)/.test(edge)) expect(Math.abs(change), edge).toBeLessThan(0.01);
      }
      if (pattern.pieces.some((p) => p.edges.some((e) => e.role === 'cap'))) {
        expect(Math.abs(capEase(after) - capEase(pattern))).toBeLessThan(0.1);
      }
      expect(faultsOf(pattern, after).filter((f) => block !== 'panels' || !f.includes('fair'))).toEqual([]);
      for (const m of ['back width', 'chest width']) {
        for (const change of measureChanges(pattern, after, m)) expect(Math.abs(change), m).toBeLessThan(0.01);
      }
    },
  );

  it('comes back with its opposite, and by nothing moves nothing', () => {
    expect(alteredBy(pattern, { 'armhole depth': 0 }).pattern.pieces.every((p, i) => p === pattern.pieces[i])).toBe(
      true,
    );
    const there = alteredBy({ ...pattern, mates: [] }, { 'armhole depth': 8 }).pattern;
    const back = alteredBy(there, { 'armhole depth': -8 }).pattern;
    for (const piece of pattern.pieces.filter((p) => !p.part.includes('sleeve'))) {
      expect(apart(closedPath(piece.seamLine), closedPath(pieceIn(back, piece.id).seamLine)), piece.id).toBeLessThan(
        0.5,
      );
    }
  });
});

describe('armhole depth against a block drafted afresh', () => {
  // Ingalls's rule as in fixtures/blocks/draft/bodice.ts; its width level lies halfway up and goes along by half.
  it.each([6.35, -6.35])('by %f: every edge of front and back within 2 mm', (d) => {
    const before = bodice({ sleeve: false });
    const afresh = patternOf(
      draftBodice({ ...SAMPLE_BODICE_BODY, armholeDepth: SAMPLE_BODICE_BODY.armholeDepth + d }, { sleeve: false }),
    );
    const { pattern: after } = alteredBy(before, { 'armhole depth': d });
    for (const id of ['front', 'back']) {
      const [is, meant] = [pieceIn(after, id), pieceIn(afresh, id)];
      for (const edge of is.edges) {
        const twin = meant.edges.find((e) => e.id === edge.id);
        expect(twin && apart(edgePath(is, edge), edgePath(meant, twin)), `${id} ${edge.id}`).toBeLessThan(2);
      }
    }
  });
});

describe('what armhole depth needs', () => {
  it('is refused past half an inch, and where there is no armhole', () => {
    const pattern = bodice({ sleeve: false });
    expect(alteredBy(pattern, { 'armhole depth': 14 }).plan.findings.map((f) => f.code)).toContain('plan-beyond-limit');
    const none = { ...pattern, pieces: [] };
    expect(alteredBy(none, { 'armhole depth': 5 }).plan.findings.map((f) => f.code)).toContain('plan-missing-piece');
  });

  it('finds no room where a dart lies just below the underarm', () => {
    const { findings } = alteredBy(bodice({ sleeve: false }), { 'armhole depth': 120 });
    expect(findings.map((f) => f.code)).toContain('alter-no-room');
  });
});
