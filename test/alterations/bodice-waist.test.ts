import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { draftDress, draftTieredDress, SAMPLE_DRESS_BODY } from '../../fixtures/blocks/draft/dress.ts';
import { distance } from '../../src/geometry/point.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { patternOf } from '../drafted.ts';
import { apart, edgePath } from '../properties/comparing.ts';
import { alteredBy, edgeChanges, faultsOf, measureChanges, pieceIn } from './altering.ts';

/*
 * Waist, hip and lengths on bodices, on dresses in one piece, and on a bodice with a skirt sewn to it. A quarter of the
 * change at each of four side edges: Central Washington University costume text, chapter 17.
 */

const bodice = (options: Parameters<typeof draftBodice>[1] = {}): Pattern =>
  patternOf(draftBodice(SAMPLE_BODICE_BODY, { sleeve: false, ...options }));
const dress = (options: Parameters<typeof draftDress>[1] = {}): Pattern =>
  patternOf(draftDress(SAMPLE_DRESS_BODY, { sleeve: false, ...options }));
const tiered = patternOf(draftTieredDress(SAMPLE_DRESS_BODY, { sleeve: false }));

const waists: readonly (readonly [string, Pattern])[] = [
  ['bodice, darts as lines', bodice()],
  ['bodice, darts in the outline', bodice({ darts: 'outline' })],
  ['whole bodice', bodice({ whole: true })],
  ['bodice of panels', bodice({ panels: true })],
  ['lined bodice', bodice({ lining: true })],
  ['dress', dress()],
  ['dress, darts in the outline', dress({ darts: 'outline' })],
  ['whole dress', dress({ whole: true })],
  ['bodice and skirt', tiered],
];

const legs = (piece: Piece): number[] =>
  piece.darts.map((d) => distance(d.mouth[0], d.tip) - distance(d.mouth[1], d.tip));

describe.each(waists)('waist: %s', (_, pattern) => {
  it.each([25, -25, 60, -60])('by %f: every round takes the whole of it, bust and hip stay', (amount) => {
    const { pattern: after, findings } = alteredBy(pattern, { waist: amount });
    expect(findings.filter((f) => f.level !== 'note')).toEqual([]);
    for (const change of measureChanges(pattern, after, 'waist girth'))
      expect(Math.abs(change - amount)).toBeLessThan(0.02);
    for (const m of ['bust girth', 'hip girth']) {
      for (const change of measureChanges(pattern, after, m)) expect(Math.abs(change), m).toBeLessThan(0.05);
    }
    for (const [edge, change] of edgeChanges(pattern, after)) {
      if (/armhole|shoulder|neck/.test(edge)) expect(Math.abs(change), edge).toBeLessThan(0.001);
    }
    expect(faultsOf(pattern, after)).toEqual([]);
    // Legs of a dart stay as equal as they were, ⅟₁₆ in.
    for (const piece of pattern.pieces) {
      const now = legs(pieceIn(after, piece.id));
      for (const [i, was] of legs(piece).entries()) expect(Math.abs((now[i] as number) - was)).toBeLessThan(1.6);
    }
  });
});

describe('waist by the darts of a dress', () => {
  it.each([20, -20])('by %f: the darts across its waist level take it, no seam moves', (amount) => {
    const pattern = dress();
    const { pattern: after } = alteredBy(pattern, { waist: amount }, { waist: { take: 'darts' } });
    expect(measureChanges(pattern, after, 'waist girth')[0]).toBeCloseTo(amount, 3);
    for (const piece of pattern.pieces) expect(pieceIn(after, piece.id).seamLine.spans).toBe(piece.seamLine.spans);
  });

  it('cannot be given a new dart or tucks: it has no waist edge', () => {
    const { plan } = alteredBy(dress(), { waist: -20 }, { waist: { take: 'new dart' } });
    expect(plan.findings.map((f) => f.code)).toContain('plan-missing-piece');
  });
});

describe('waist at the side seams against a block drafted afresh', () => {
  it.each([25.4, -25.4])('by %f: every edge within 2 mm', (amount) => {
    const options = { waistTaken: 'in the side seams', sleeve: false } as const;
    const before = patternOf(draftBodice(SAMPLE_BODICE_BODY, options));
    const wearer = { ...SAMPLE_BODICE_BODY, waist: SAMPLE_BODICE_BODY.waist + amount };
    const afresh = patternOf(draftBodice(wearer, options));
    const { pattern: after } = alteredBy(before, { waist: amount });
    for (const id of ['front', 'back']) {
      const [is, meant] = [pieceIn(after, id), pieceIn(afresh, id)];
      for (const edge of is.edges) {
        const twin = meant.edges.find((e) => e.id === edge.id);
        expect(twin && apart(edgePath(is, edge), edgePath(meant, twin)), `${id} ${edge.id}`).toBeLessThan(2);
      }
    }
  });
});

describe.each([
  ['dress', dress()],
  ['whole dress', dress({ whole: true })],
  ['bodice and skirt', tiered],
] as const)('hip and lengths: %s', (_, pattern) => {
  it.each([40, -40])('hip by %f runs to the hem, nothing at the waist and above', (amount) => {
    const { pattern: after } = alteredBy(pattern, { hip: amount });
    for (const change of measureChanges(pattern, after, 'hip girth'))
      expect(Math.abs(change - amount)).toBeLessThan(0.02);
    for (const m of ['waist girth', 'bust girth']) {
      for (const change of measureChanges(pattern, after, m)) expect(Math.abs(change), m).toBeLessThan(0.02);
    }
    const hems = [...edgeChanges(pattern, after)].filter(([edge]) => / hem/.test(edge)).map(([, change]) => change);
    expect(hems.reduce((a, b) => a + b, 0) * (pattern.pieces.some((p) => p.half) ? 2 : 1)).toBeCloseTo(amount, 0);
    expect(faultsOf(pattern, after)).toEqual([]);
  });

  it.each([
    ['length at the adjustment line', 40, 'skirt length'],
    ['length at the adjustment line', -30, 'skirt length'],
    ['length at the hem', 40, 'skirt length'],
    ['waist to hip', 15, 'waist to hip'],
    ['waist to hip', -15, 'waist to hip'],
  ] as const)('%s by %f leaves the bodice as it is', (name, amount, measure) => {
    const { pattern: after, findings } = alteredBy(pattern, { [name]: amount });
    expect(findings.filter((f) => f.level !== 'note')).toEqual([]);
    for (const change of measureChanges(pattern, after, measure)) expect(Math.abs(change - amount)).toBeLessThan(0.01);
    for (const m of ['back neck to waist', 'front waist length', 'bust girth', 'waist girth']) {
      for (const change of measureChanges(pattern, after, m)) expect(Math.abs(change), m).toBeLessThan(0.01);
    }
    for (const p of pattern.pieces.filter((q) => q.part.startsWith('bodice'))) expect(pieceIn(after, p.id)).toBe(p);
    expect(faultsOf(pattern, after)).toEqual([]);
  });
});

describe('what is meant where a bodice has a skirt', () => {
  it('lengths to the hem and the hip are told of the skirt alone, the waist of both', () => {
    const says = (direct: Record<string, number>) => alteredBy(tiered, direct).plan.steps[0]?.explanation ?? '';
    expect(says({ 'length at the hem': 20 })).toContain('skirt only');
    expect(says({ 'length at the adjustment line': 20 })).toContain('skirt only');
    expect(says({ waist: 20 })).toMatch(/bodice: .*; skirt: /);
  });

  it('a bodice alone has no hem, no hip and no line to be lengthened at as a skirt is', () => {
    for (const name of [
      'length at the hem',
      'length at the adjustment line',
      'hip',
      'waist to hip',
      'sway back',
      'uneven length',
    ]) {
      expect(
        alteredBy(bodice(), { [name]: 10 }).plan.findings.map((f) => f.code),
        name,
      ).toContain('plan-missing-piece');
    }
  });
});
