import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { draftDress, SAMPLE_DRESS_BODY } from '../../fixtures/blocks/draft/dress.ts';
import { distance, type Point } from '../../src/geometry/point.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Dart } from '../../src/pattern/piece.ts';
import { straightWidth } from '../../src/pattern/taking/across.ts';
import { patternOf } from '../drafted.ts';
import { apart, closedPath } from '../properties/comparing.ts';
import { alteredBy, edgeChanges, faultsOf, measureChanges, pieceIn } from './altering.ts';

/*
 * Round and erect backs. Construction: common practice; an erect back is overlapped by ½ to ¾ in (E. B. Hertzer, Garment
 * Cutting, p. 92).
 */

const bodice = (options: Parameters<typeof draftBodice>[1]): Pattern =>
  patternOf(draftBodice(SAMPLE_BODICE_BODY, { sleeve: false, ...options }));

const blocks: readonly (readonly [string, Pattern])[] = [
  ['no dart above the blades', bodice({})],
  ['a dart in the shoulder, drawn as lines', bodice({ shoulderDart: true })],
  ['a dart in the shoulder, in the outline', bodice({ shoulderDart: true, darts: 'outline', back: 'centre seam' })],
  ['whole', bodice({ whole: true })],
  ['whole, darts in the outline', bodice({ whole: true, shoulderDart: true, darts: 'outline' })],
  ['dress', patternOf(draftDress(SAMPLE_DRESS_BODY, { sleeve: false }))],
];

/** Angle between the legs of a dart, radians. */
const angleOf = ({ mouth, tip }: Dart): number => {
  const [p, q] = [distance(mouth[0], tip), distance(mouth[1], tip)];
  const w = distance(...(mouth as [Point, Point]));
  return Math.acos((p * p + q * q - w * w) / (2 * p * q));
};

const shoulderDart = (pattern: Pattern): Dart => {
  const dart = pieceIn(pattern, 'back').darts.find((d) => d.edge?.startsWith('shoulder'));
  if (!dart) throw new Error('no shoulder dart');
  return dart;
};

const blade = (pattern: Pattern): number => {
  const back = pieceIn(pattern, 'back');
  return straightWidth(back, back.levels.find((l) => l.name === 'blade')?.height ?? Number.NaN);
};

describe.each(blocks)('round back: %s', (_, pattern) => {
  it.each([12.7, 6, -6])(
    'by %f at the centre: neck, shoulder, armhole and what lies below keep their lengths',
    (amount) => {
      const { pattern: after, findings } = alteredBy(pattern, { 'round back': amount });
      expect(findings.filter((f) => f.level === 'error')).toEqual([]);
      for (const change of measureChanges(pattern, after, 'back neck to waist')) expect(change).toBeCloseTo(amount, 3);
      for (const [edge, change] of edgeChanges(pattern, after)) {
        if (!/fold|centre/.test(edge)) expect(Math.abs(change), edge).toBeLessThan(0.05);
      }
      expect(Math.abs(blade(after) - blade(pattern)), 'width at the blades').toBeLessThan(0.1);
      // The corner of neck and shoulder turns with a back that has no dart: its neck may be told as less fair.
      const faults = faultsOf(pattern, after).filter((f) => !(amount < 0 && f === 'check-not-fair back neck'));
      expect(faults).toEqual([]);
      expect(after.pieces.filter((p) => p.id !== 'back')).toEqual(pattern.pieces.filter((p) => p.id !== 'back'));
    },
  );

  it('comes back with its opposite', () => {
    const there = alteredBy(pattern, { 'round back': 8 }).pattern;
    const back = alteredBy(there, { 'round back': -8 }).pattern;
    for (const [edge, change] of edgeChanges(pattern, back)) expect(Math.abs(change), edge).toBeLessThan(0.1);
    for (const piece of pattern.pieces) {
      expect(apart(closedPath(piece.seamLine), closedPath(pieceIn(back, piece.id).seamLine)), piece.id).toBeLessThan(
        // The tip of a dart that is cut into the outline comes back within 1/16 in.
        1.6,
      );
    }
  });

  it('by nothing moves nothing', () => {
    expect(alteredBy(pattern, { 'round back': 0 }).pattern.pieces.every((p, i) => p === pattern.pieces[i])).toBe(true);
  });
});

describe('where the surplus of a round back goes', () => {
  it('an existing dart opens by the swing: asin(d ÷ distance from the hinge)', () => {
    const pattern = bodice({ shoulderDart: true });
    const dart = shoulderDart(pattern);
    const d = 10;
    const { pattern: after } = alteredBy(pattern, { 'round back': d });
    const opened = angleOf(shoulderDart(after)) - angleOf(dart);
    expect(Math.abs(opened - Math.asin(d / (blade(pattern) - dart.tip.x)))).toBeLessThan(0.004);
    const legs = shoulderDart(after).mouth.map((m) => distance(m, shoulderDart(after).tip));
    const were = dart.mouth.map((m) => distance(m, dart.tip));
    expect(
      Math.abs((legs[0] as number) - (legs[1] as number) - ((were[0] as number) - (were[1] as number))),
    ).toBeLessThan(1.6);
  });

  it('a new dart is drawn into the shoulder, or into the neck', () => {
    const pattern = bodice({});
    const drawn = (surplus: string) =>
      pieceIn(alteredBy(pattern, { 'round back': 12 }, { 'round back': { surplus } }).pattern, 'back').darts.filter(
        (d) => d.edge !== 'waist',
      );
    expect(drawn('shoulder dart').map((d) => d.edge)).toEqual(['shoulder']);
    expect(drawn('neck dart').map((d) => d.edge)).toEqual(['neck']);
    expect(drawn('ease')).toEqual([]);
    for (const d of [...drawn('shoulder dart'), ...drawn('neck dart')]) {
      expect(Math.abs(distance(d.mouth[0], d.tip) - distance(d.mouth[1], d.tip))).toBeLessThan(1.6);
    }
  });

  it('eased, the shoulder gains and it is told by how much', () => {
    const pattern = bodice({});
    const {
      plan,
      pattern: after,
      eased,
    } = alteredBy(pattern, { 'round back': 10 }, { 'round back': { surplus: 'ease' } });
    const gain = edgeChanges(pattern, after).get('back shoulder') as number;
    expect(gain).toBeGreaterThan(3);
    expect(eased?.get('back/shoulder')).toBeCloseTo(gain, 2);
    expect(plan.findings.map((f) => f.code)).toContain('plan-shoulder-ease');
  });

  it('a dart gives all it has, and the shoulder is put right for the rest', () => {
    const pattern = bodice({ shoulderDart: true });
    const { pattern: after, findings } = alteredBy(pattern, { 'round back': -15.8 });
    expect(findings.filter((f) => f.level === 'error')).toEqual([]);
    expect(measureChanges(pattern, after, 'back neck to waist')[0]).toBeCloseTo(-15.8, 3);
    expect(Math.abs(edgeChanges(pattern, after).get('back shoulder') as number)).toBeLessThan(0.05);
    expect(angleOf(shoulderDart(after))).toBeLessThan(0.02);
  });

  it('panels from the armhole: the centre panel alone is altered, its armhole hinged where the next one goes on', () => {
    const pattern = bodice({ panels: true });
    for (const amount of [12, -6]) {
      const { pattern: after } = alteredBy(pattern, { 'round back': amount });
      expect(measureChanges(pattern, after, 'back neck to waist')[0]).toBeCloseTo(amount, 3);
      for (const [edge, change] of edgeChanges(pattern, after)) {
        if (!/fold/.test(edge)) expect(Math.abs(change), edge).toBeLessThan(0.05);
      }
      expect(pieceIn(after, 'side-back')).toBe(pieceIn(pattern, 'side-back'));
    }
  });

  it('a front has no round back', () => {
    const pattern = bodice({});
    const front = { ...pattern, pieces: [pieceIn(pattern, 'front')], mates: [] };
    expect(alteredBy(front, { 'round back': 10 }).plan.findings.map((f) => f.code)).toEqual(['plan-missing-piece']);
  });
});
