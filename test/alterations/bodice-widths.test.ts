import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { draftDress, SAMPLE_DRESS_BODY } from '../../fixtures/blocks/draft/dress.ts';
import { planFitting } from '../../src/alterations/plan.ts';
import { distance } from '../../src/geometry/point.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { patternOf } from '../drafted.ts';
import { apart, closedPath, edgePath } from '../properties/comparing.ts';
import { alteredBy, edgeChanges, faultsOf, measureChanges, pieceIn } from './altering.ts';
import { draftPrincess } from './princess.ts';

/* Broad and narrow backs and chests, hollow chests. Constructions and limits: common practice. */

const INCH = 25.4;
const bodice = (options: Parameters<typeof draftBodice>[1] = {}): Pattern =>
  patternOf(draftBodice(SAMPLE_BODICE_BODY, { sleeve: false, ...options }));

const blocks: readonly (readonly [string, Pattern])[] = [
  ['half, darts as lines', bodice()],
  [
    'half, darts cut out, a dart in the back shoulder',
    bodice({ darts: 'outline', shoulderDart: true, back: 'centre seam' }),
  ],
  ['whole', bodice({ whole: true })],
  ['a dress', patternOf(draftDress(SAMPLE_DRESS_BODY, { sleeve: false, darts: 'outline' }))],
  ['panels from the armhole', bodice({ panels: true })],
  ['panels from the shoulder', patternOf(draftPrincess())],
];
const places = [
  ['back width', 'back'],
  ['chest width', 'front'],
] as const;

const SHORT = /^check-(mates|notches|corner|outline|allowance|grain)/;

/** Whole change of the edges of one role, over the pieces of a place. */
const gained = (before: Pattern, after: Pattern, role: string, place: string): number => {
  const changes = edgeChanges(before, after);
  return before.pieces
    .filter((p) => p.part.endsWith(place))
    .flatMap((p) => p.edges.filter((e) => e.role === role).map((e) => changes.get(`${p.id} ${e.id}`) as number))
    .reduce((a, b) => a + b, 0);
};

describe.each(blocks)('%s', (_, before) => {
  describe.each(places)('%s', (name, place) => {
    it.each([INCH, -INCH, 10, -10])('%d mm: just so much wider, and every seam still matches', (by) => {
      const { pattern, findings } = alteredBy(before, { [name]: by });
      expect(findings.filter((f) => f.level === 'error')).toEqual([]);
      expect(measureChanges(before, pattern, name).length).toBeGreaterThan(0);
      for (const change of measureChanges(before, pattern, name)) expect(Math.abs(change - by)).toBeLessThan(0.02);
      for (const role of ['shoulder', 'armhole', 'neck', 'waist', 'side', 'hem'])
        expect(Math.abs(gained(before, pattern, role, place)), role).toBeLessThan(0.05);
      for (const change of measureChanges(before, pattern, 'waist girth')) expect(Math.abs(change)).toBeLessThan(0.05);
      expect(faultsOf(before, pattern).filter((f) => SHORT.test(f))).toEqual([]);
      const others = before.pieces.filter((p) => !p.part.endsWith(place));
      for (const piece of others) expect(pieceIn(pattern, piece.id)).toBe(piece);
    });

    it('comes back with its opposite', () => {
      const back = alteredBy(alteredBy(before, { [name]: 16 }).pattern, { [name]: -16 }).pattern;
      for (const piece of before.pieces) {
        const now = pieceIn(back, piece.id);
        expect(apart(closedPath(piece.seamLine), closedPath(now.seamLine)), piece.id).toBeLessThan(0.5);
      }
    });
  });
});

describe('the surplus of a broad back', () => {
  it('goes into the waist dart, which is wider by it, its tip in the middle of the gap', () => {
    const before = bodice({ darts: 'outline' });
    const [was, is] = [before, alteredBy(before, { 'back width': 20 }).pattern].map((p) => pieceIn(p, 'back').darts[0]);
    if (!was || !is) throw new Error('no dart');
    expect(distance(...is.mouth) - distance(...was.mouth)).toBeCloseTo(10, 2);
    expect(is.tip.x - was.tip.x).toBeCloseTo(5, 6);
    expect(distance(is.mouth[0], is.tip)).toBeCloseTo(distance(is.mouth[1], is.tip), 0);
  });

  it('widens the dart in the shoulder, or draws one where there is none', () => {
    const darted = bodice({ shoulderDart: true, darts: 'outline' });
    const shoulderDart = (p: Pattern) => pieceIn(p, 'back').darts.find((d) => d.edge === 'shoulder');
    const widened = shoulderDart(alteredBy(darted, { 'back width': 20 }).pattern);
    expect(widened && distance(...widened.mouth)).toBeGreaterThan(21);
    const drawn = alteredBy(bodice(), { 'back width': 20 }).pattern;
    const fresh = shoulderDart(drawn);
    expect(fresh && distance(...fresh.mouth)).toBeGreaterThan(9);
    expect(pieceIn(drawn, 'back').lines.some((l) => l.id.startsWith('new:'))).toBe(true);
    const without = alteredBy(bodice(), { 'back width': 20 }, { 'back width': { shoulder: 'armhole' } }).pattern;
    expect(shoulderDart(without)).toBeUndefined();
    expect(Math.abs(edgeChanges(bodice(), without).get('back shoulder') as number)).toBeLessThan(0.01);
  });

  it('leaves no dart of less than ⅛ in when the back is narrower than it has to give', () => {
    const darted = bodice({ shoulderDart: true, darts: 'outline' });
    const { pattern } = alteredBy(darted, { 'back width': -INCH });
    const dart = pieceIn(pattern, 'back').darts.find((d) => d.edge === 'shoulder');
    expect(dart && distance(...dart.mouth)).toBeCloseTo(3.175, 1);
  });
});

describe('the bust point of a broad chest', () => {
  it('comes to the middle of the gap, its mark with it', () => {
    const before = bodice();
    const front = pieceIn(alteredBy(before, { 'chest width': 20 }).pattern, 'front');
    const was = pieceIn(before, 'front');
    expect((front.landmarks[0]?.at.x as number) - (was.landmarks[0]?.at.x as number)).toBeCloseTo(5, 6);
    const mark = front.points.find((p) => p.kind === 'landmark');
    expect(mark?.at.x).toBeCloseTo(front.landmarks[0]?.at.x as number, 6);
  });
});

describe('back and chest against a block drafted afresh', () => {
  /*
   * The rule (Baldt, Clothing for Women, 1916: widths of back and chest taken halfway up the armhole) moves the armhole
   * alone; the slash takes the side along. With a bust that is larger by both changes the two say the same.
   */
  it.each([10, -10])('%d mm each: every edge within 2 mm', (by) => {
    const { pattern } = alteredBy(
      bodice(),
      { 'back width': by, 'chest width': by },
      { 'back width': { shoulder: 'armhole' } },
    );
    const body = SAMPLE_BODICE_BODY;
    const afresh = patternOf(
      draftBodice(
        { ...body, backWidth: body.backWidth + by, chestWidth: body.chestWidth + by, bust: body.bust + 2 * by },
        { sleeve: false },
      ),
    );
    for (const piece of pattern.pieces) {
      for (const edge of piece.edges) {
        const other = pieceIn(afresh, piece.id);
        const twin = other.edges.find((e) => e.id === edge.id);
        expect(apart(edgePath(piece, edge), edgePath(other, twin as never)), `${piece.id} ${edge.id}`).toBeLessThan(2);
      }
    }
  });
});

describe('a hollow chest', () => {
  const tuck = { 'chest width': { method: 'tuck' } };

  it.each([-9.5, -5, 5, 9.5])(
    '%d mm folded out or spread at the centre; neck, shoulder and armhole keep their lengths',
    (by) => {
      for (const before of [bodice(), bodice({ darts: 'outline' }), bodice({ panels: true })]) {
        const { pattern, findings } = alteredBy(before, { 'chest width': by }, tuck);
        expect(findings.filter((f) => f.level === 'error')).toEqual([]);
        for (const role of ['shoulder', 'armhole', 'neck', 'waist', 'side', 'panel seam'])
          expect(Math.abs(gained(before, pattern, role, 'front')), role).toBeLessThan(0.02);
        const fold = gained(before, pattern, 'fold', 'front');
        expect(Math.sign(fold)).toBe(Math.sign(by));
        expect(Math.abs(fold)).toBeGreaterThan(Math.abs(by) / 2);
        expect(faultsOf(before, pattern).filter((f) => SHORT.test(f))).toEqual([]);
        expect(pieceIn(pattern, 'back')).toBe(pieceIn(before, 'back'));
      }
    },
  );

  it('is a tuck when it is asked for by its name', () => {
    const plan = planFitting(
      bodice(),
      {
        fitting: 'Fiordiligi',
        measurements: {},
        direct: { 'chest width': { amount: -6, column: 'Hollow chest (mm)' } },
      },
      { beyondLimits: false, choices: {}, show: 'mm' },
    );
    expect(plan.steps[0]?.options.method).toBe('tuck');
    expect(plan.steps[0]?.shares[0]?.amount).toBe(-6);
  });

  it('needs a centre edge, and says so', () => {
    const { plan } = alteredBy(bodice({ whole: true }), { 'chest width': -6 }, tuck);
    expect(plan.findings.map((f) => f.code)).toContain('plan-missing-piece');
  });
});
