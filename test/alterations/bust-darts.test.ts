import { describe, expect, it } from 'vitest';
import { type BodiceOptions, draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { distance, type Point, subtract, turnBetween } from '../../src/geometry/point.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Dart, Piece } from '../../src/pattern/piece.ts';
import { patternOf } from '../drafted.ts';
import { alteredBy, edgeChanges, faultsOf, measureChanges, pieceIn } from './altering.ts';

const bodice = (options: BodiceOptions = {}): Pattern =>
  patternOf(draftBodice(SAMPLE_BODICE_BODY, { sleeve: false, ...options }));

const bustPoint = (piece: Piece): Point => {
  const at = piece.landmarks[0]?.at;
  if (!at) throw new Error('no bust point');
  return at;
};
const dartsAt = (piece: Piece, edge: string): Dart[] => piece.darts.filter((d) => d.edge?.startsWith(edge));

/** Angle of a dart as seen from the bust point, radians. */
const angleOf = (piece: Piece, dart: Dart | undefined): number =>
  dart ? turnBetween(subtract(dart.mouth[0], bustPoint(piece)), subtract(dart.mouth[1], bustPoint(piece))) : 0;
const widthOf = (dart: Dart | undefined): number => (dart ? distance(...dart.mouth) : 0);

/** From the waist back to the side. */
const BACK = { 'dart move': { to: 'waist' } };

const changed = (before: Pattern, after: Pattern, edge: string): number =>
  edgeChanges(before, after).get(`front ${edge}`) ?? Number.NaN;

const sound = (before: Pattern, after: Pattern): string[] =>
  faultsOf(before, after).filter((f) => !f.startsWith('check-not-fair'));

describe.each([
  ['lines', bodice()],
  ['outline', bodice({ darts: 'outline' })],
  ['lines, centre seam', bodice({ front: 'centre seam' })],
])('darts about the bust point, drawn as %s', (name, before) => {
  const front = pieceIn(before, 'front');
  const side = dartsAt(front, 'side')[0] as Dart;
  const waist = dartsAt(front, 'waist')[0] as Dart;

  const places = ['shoulder', 'armhole', 'neck', ...(name.includes('seam') ? ['centre'] : [])];
  it.each(places)('a whole dart moved to the %s keeps its angle and leaves nothing behind', (to) => {
    const { pattern, findings } = alteredBy(before, { 'dart move': 1 }, { 'dart move': { to, take: 'all' } });
    expect(findings.filter((f) => f.level === 'error')).toEqual([]);
    const now = pieceIn(pattern, 'front');
    expect(dartsAt(now, 'side')).toEqual([]);
    const [moved] = dartsAt(now, to);
    expect(angleOf(now, moved)).toBeCloseTo(angleOf(front, side), 3);
    // The new dart ends 1/2 in from the bust point (ICAR e-course, pattern making); its legs are equal.
    expect(distance(moved?.tip as Point, bustPoint(now))).toBeCloseTo(12.7, 1);
    const [a, b] = (moved as Dart).mouth.map((m) => distance(m, (moved as Dart).tip)) as [number, number];
    expect(Math.abs(a - b)).toBeLessThan(1.6);
    // The legs and the drill hole of the old dart are gone, the new legs are drawn.
    expect(now.lines.filter((l) => l.kind === 'dart')).toHaveLength(
      now.darts.filter((d) => d.drawn.as === 'lines').length,
    );
    expect(now.points.filter((p) => p.kind === 'drill')).toHaveLength(1);
    for (const edge of ['side', 'armhole', 'shoulder', 'neck', 'waist']) {
      expect(Math.abs(changed(before, pattern, edge)), edge).toBeLessThan(0.15);
    }
    expect(sound(before, pattern)).toEqual([]);
  });

  it('merged into another, the angles add (ICAR e-course, pattern making)', () => {
    const { pattern } = alteredBy(before, { 'dart merge': 1 }, { 'dart merge': { take: 'all' } });
    const now = pieceIn(pattern, 'front');
    expect(now.darts).toHaveLength(1);
    const both = angleOf(front, side) + angleOf(front, waist);
    expect(angleOf(now, dartsAt(now, 'waist')[0])).toBeCloseTo(both, 2);
    expect(sound(before, pattern)).toEqual([]);
  });

  it.each([6, 15])('loses just what is asked for at its mouth, %d mm', (mm) => {
    const { pattern } = alteredBy(before, { 'dart move': mm });
    const now = pieceIn(pattern, 'front');
    const [left] = dartsAt(now, 'side');
    expect(Math.abs(widthOf(side) - widthOf(left) - mm)).toBeLessThan(0.3);
    const [taken] = dartsAt(now, 'shoulder');
    expect(angleOf(now, taken) + angleOf(now, left)).toBeCloseTo(angleOf(front, side), 2);
  });

  // A dart narrower than 1/8 in is not worth sewing: common practice, no source.
  it.each([2.5, 1])('is moved whole where %d mm of it would be left, and that is told', (left) => {
    const { pattern, plan, findings } = alteredBy(before, { 'dart move': left - widthOf(waist) }, BACK);
    expect(plan.findings.map((f) => f.code)).toContain('plan-dart-whole');
    expect(findings.filter((f) => f.level !== 'note')).toEqual([]);
    expect(dartsAt(pieceIn(pattern, 'front'), 'waist')).toEqual([]);
    expect(sound(before, pattern)).toEqual([]);
  });

  it('leaves a narrow dart sound: the parts of the cutting line beside it meet', () => {
    const { pattern, findings } = alteredBy(before, { 'dart move': 4 - widthOf(waist) }, BACK);
    expect(widthOf(dartsAt(pieceIn(pattern, 'front'), 'waist')[0])).toBeCloseTo(4, 0);
    expect(findings.map((f) => f.code)).toEqual([]);
    expect(sound(before, pattern)).toEqual([]);
  });

  it('goes the other way round for a negative amount', () => {
    const { pattern } = alteredBy(before, { 'dart merge': -10 });
    const now = pieceIn(pattern, 'front');
    expect(Math.abs(widthOf(waist) - widthOf(dartsAt(now, 'waist')[0]) - 10)).toBeLessThan(0.3);
    expect(angleOf(now, dartsAt(now, 'side')[0])).toBeGreaterThan(angleOf(front, side));
  });

  it('is refused when the dart is not so wide, when there is none, and on the fold', () => {
    const refused = (amount: number, choices: Record<string, string>): string =>
      alteredBy(before, { 'dart move': amount }, { 'dart move': choices })
        .plan.findings.map((f) => f.message)
        .join(' ');
    expect(refused(40, {})).toContain('mm wide at its mouth');
    expect(refused(5, { from: 'shoulder', to: 'waist' })).toContain('no shoulder dart');
    expect(refused(5, { to: 'side' })).toContain('cannot be moved to where it is');
    if (!name.includes('seam')) expect(refused(5, { to: 'centre' })).toContain('lies on the fold');
  });

  it.each([8, 4, -4])('neckline gape: the neck gives %d mm on each side, and a dart takes it', (mm) => {
    const { pattern } = alteredBy(before, { 'neckline gape': mm });
    const now = pieceIn(pattern, 'front');
    expect(changed(before, pattern, 'neck')).toBeCloseTo(-mm, 1);
    for (const edge of ['side', 'armhole', 'shoulder', 'waist']) {
      expect(Math.abs(changed(before, pattern, edge)), edge).toBeLessThan(0.05);
    }
    const more = angleOf(now, dartsAt(now, 'side')[0]) - angleOf(front, side);
    expect(Math.sign(more)).toBe(Math.sign(mm));
    expect(Math.abs(more)).toBeLessThan(Math.abs(mm) / 150);
    expect(sound(before, pattern)).toEqual([]);
  });

  it.each([8, -4])('armhole gape: the armhole gives %d mm, into the waist dart when asked', (mm) => {
    const { pattern } = alteredBy(before, { 'armhole gape': mm }, { 'armhole gape': { into: 'waist' } });
    const now = pieceIn(pattern, 'front');
    expect(changed(before, pattern, 'armhole')).toBeCloseTo(-mm, 1);
    expect(Math.sign(angleOf(now, dartsAt(now, 'waist')[0]) - angleOf(front, waist))).toBe(Math.sign(mm));
    expect(widthOf(dartsAt(now, 'side')[0])).toBeCloseTo(widthOf(side), 1);
    expect(sound(before, pattern)).toEqual([]);
  });

  it.each([
    ['whole dart', 25],
    ['whole dart', -15],
    ['tip only', 20],
    ['tip only', -12],
  ] as const)('bust height, %s: the bust point lies %d mm further from the neck point', (method, mm) => {
    const { pattern } = alteredBy(before, { 'bust height': mm }, { 'bust height': { method } });
    const now = pieceIn(pattern, 'front');
    expect(measureChanges(before, pattern, 'bust height')[0]).toBeCloseTo(mm, 2);
    for (const edge of ['side', 'armhole', 'shoulder', 'waist', 'neck']) {
      expect(Math.abs(changed(before, pattern, edge)), edge).toBeLessThan(0.1);
    }
    const [dart] = dartsAt(now, 'side');
    const legs = (dart as Dart).mouth.map((m) => distance(m, (dart as Dart).tip)) as [number, number];
    expect(Math.abs(legs[0] - legs[1])).toBeLessThan(1.6);
    if (method === 'whole dart') expect(widthOf(dart)).toBeCloseTo(widthOf(side), 0);
    expect(sound(before, pattern)).toEqual([]);
  });
});

describe('on panels', () => {
  const before = bodice({ panels: true });

  it.each([20, -15])('bust height %d mm: both panel seams alike', (mm) => {
    const { pattern } = alteredBy(before, { 'bust height': mm });
    expect(measureChanges(before, pattern, 'bust height')[0]).toBeCloseTo(mm, 2);
    const changes = edgeChanges(before, pattern);
    const off = (changes.get('front panel-seam') ?? 0) - (changes.get('side-front panel-seam') ?? 0);
    expect(Math.abs(off)).toBeLessThan(0.1);
    expect(sound(before, pattern)).toEqual([]);
  });

  it('there is no dart to move', () => {
    const { plan } = alteredBy(before, { 'dart move': 5 });
    expect(plan.findings.map((f) => f.message).join(' ')).toContain('made of panels');
  });
});
