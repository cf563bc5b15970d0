import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { draftDress, SAMPLE_DRESS_BODY } from '../../fixtures/blocks/draft/dress.ts';
import { distance } from '../../src/geometry/point.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { patternOf } from '../drafted.ts';
import { apart, closedPath, edgePath } from '../properties/comparing.ts';
import { alteredBy, edgeChanges, faultsOf, measureChanges, pieceIn } from './altering.ts';
import { draftPrincess } from './princess.ts';

/* Shoulders broader and narrower, squarer and more sloping. Constructions and limits: common practice. */

const HALF_INCH = 12.7;
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

/** What all edges of one role gained, front and back each, one arm or half of it. */
const gained = (before: Pattern, after: Pattern, role: string, place: 'front' | 'back'): number => {
  const changes = edgeChanges(before, after);
  const pieces = before.pieces.filter((p) => p.part.endsWith(place));
  return pieces
    .flatMap((p) => p.edges.filter((e) => e.role === role).map((e) => ({ p, e })))
    .filter(({ e }) => !e.id.endsWith('left'))
    .reduce((sum, { p, e }) => sum + (changes.get(`${p.id} ${e.id}`) as number), 0);
};

const SHORT = /^check-(mates|notches|corner|outline|allowance|grain)/;

describe.each(blocks)('shoulder width: %s', (_, before) => {
  it.each([HALF_INCH, -HALF_INCH, 5])(
    '%d mm: the shoulder gains just that, armhole and neck keep their lengths',
    (by) => {
      const { pattern, findings } = alteredBy(before, { 'shoulder width': by });
      expect(findings.filter((f) => f.level === 'error')).toEqual([]);
      for (const place of ['front', 'back'] as const) {
        expect(gained(before, pattern, 'shoulder', place)).toBeCloseTo(by, 1);
        expect(Math.abs(gained(before, pattern, 'shoulder', place) - by)).toBeLessThan(0.01);
        expect(Math.abs(gained(before, pattern, 'armhole', place))).toBeLessThan(0.01);
        expect(Math.abs(gained(before, pattern, 'neck', place))).toBeLessThan(0.01);
        expect(Math.abs(gained(before, pattern, 'side', place))).toBeLessThan(0.001);
      }
      expect(faultsOf(before, pattern).filter((f) => SHORT.test(f))).toEqual([]);
      // Where widths are taken the hinge stays, and what lies below it with it.
      for (const m of ['chest width', 'back width', 'bust girth', 'waist girth']) {
        for (const change of measureChanges(before, pattern, m)) expect(Math.abs(change), m).toBeLessThan(0.05);
      }
    },
  );
});

describe.each(blocks)('shoulder slope: %s', (_, before) => {
  it.each([HALF_INCH, -HALF_INCH, 5])(
    '%d mm: tip and underarm go up alike, shoulder and armhole keep their lengths',
    (by) => {
      const { pattern, findings } = alteredBy(before, { 'shoulder slope': by });
      expect(findings.filter((f) => f.level === 'error')).toEqual([]);
      for (const place of ['front', 'back'] as const) {
        expect(Math.abs(gained(before, pattern, 'shoulder', place))).toBeLessThan(0.01);
        // The hollow below a panel seam puts right what the stretch above it gained.
        expect(Math.abs(gained(before, pattern, 'armhole', place))).toBeLessThan(0.01);
        expect(Math.abs(gained(before, pattern, 'neck', place))).toBeLessThan(0.01);
        expect(Math.abs(gained(before, pattern, 'side', place) - by)).toBeLessThan(0.02);
      }
      for (const change of measureChanges(before, pattern, 'shoulder drop'))
        expect(Math.abs(change + by)).toBeLessThan(0.01);
      for (const change of measureChanges(before, pattern, 'waist girth')) expect(Math.abs(change)).toBeLessThan(0.02);
      expect(faultsOf(before, pattern).filter((f) => SHORT.test(f))).toEqual([]);
    },
  );
});

describe('shoulders, there and back', () => {
  it.each(['shoulder width', 'shoulder slope'])('%s: an amount and its opposite give the block again', (name) => {
    for (const [told, before] of blocks.slice(1)) {
      const there = alteredBy(before, { [name]: 8 }).pattern;
      const back = alteredBy(there, { [name]: -8 }).pattern;
      for (const piece of before.pieces) {
        const now = pieceIn(back, piece.id);
        expect(apart(closedPath(piece.seamLine), closedPath(now.seamLine)), `${told} ${piece.id}`).toBeLessThan(0.5);
      }
    }
  });

  it.each(['shoulder width', 'shoulder slope'])(
    '%s: nothing leaves every piece the very same, next to nothing moves it by no more',
    (name) => {
      for (const [, before] of blocks) {
        expect(alteredBy(before, { [name]: 0 }).pattern.pieces.every((p, i) => p === before.pieces[i])).toBe(true);
        const hair = alteredBy(before, { [name]: 0.01 }).pattern;
        for (const piece of before.pieces) {
          const now = pieceIn(hair, piece.id);
          expect(apart(closedPath(piece.seamLine), closedPath(now.seamLine))).toBeLessThan(0.1);
        }
      }
    },
  );

  it('come alike on a half and on either side of a whole piece', () => {
    for (const name of ['shoulder width', 'shoulder slope', 'back width', 'chest width', 'neck']) {
      const half = alteredBy(bodice(), { [name]: 9 }).pattern;
      const whole = alteredBy(bodice({ whole: true }), { [name]: 9 }).pattern;
      for (const id of ['front', 'back']) {
        const [one, both] = [pieceIn(half, id), pieceIn(whole, id)];
        for (const edge of ['armhole', 'shoulder', 'side']) {
          const path = edgePath(one, one.edges.find((e) => e.id === edge) as never);
          const right = edgePath(both, both.edges.find((e) => e.id === `${edge}-right`) as never);
          const left = edgePath(both, both.edges.find((e) => e.id === `${edge}-left`) as never);
          const turned = {
            ...left,
            segments: left.segments.map((s) => JSON.parse(JSON.stringify(s), (k, v) => (k === 'x' ? -v : v))),
          };
          // The two halves of a whole neck are one line, redrawn as one.
          expect(apart(path, right), `${name} ${id} ${edge}`).toBeLessThan(0.3);
          expect(apart(path, turned), `${name} ${id} ${edge} left`).toBeLessThan(0.3);
        }
      }
    }
  });
});

describe('shoulders against a block drafted afresh', () => {
  /*
   * The rule (Ingalls, Text-Book on Domestic Art, 1911: the correct shoulder length laid off from the neck point to the
   * height of the shoulder) takes the shoulder length by itself. Its slope leaves the underarm where it was; with the
   * depth of the armhole measured that much less it says what is done here.
   */
  const afresh = (body: Partial<typeof SAMPLE_BODICE_BODY>, slope = 0): Pattern =>
    patternOf(draftBodice({ ...SAMPLE_BODICE_BODY, ...body }, { sleeve: false, slope }));
  const greatest = (a: Pattern, b: Pattern): number =>
    Math.max(
      ...a.pieces.flatMap((piece) =>
        piece.edges.map((edge) => {
          const other = pieceIn(b, piece.id);
          return apart(edgePath(piece, edge), edgePath(other, other.edges.find((e) => e.id === edge.id) as never));
        }),
      ),
    );

  it.each([6, -6, 12, -12])('%d mm: every edge within 2 mm at one size, 3 at two', (by) => {
    const bound = Math.abs(by) > 6 ? 3 : 2;
    const wide = alteredBy(bodice(), { 'shoulder width': by }).pattern;
    expect(greatest(wide, afresh({ shoulder: SAMPLE_BODICE_BODY.shoulder + by }))).toBeLessThan(bound);
    const square = alteredBy(bodice(), { 'shoulder slope': by }).pattern;
    expect(greatest(square, afresh({ armholeDepth: SAMPLE_BODICE_BODY.armholeDepth - by }, -by))).toBeLessThan(bound);
  });
});

describe('what is told of a broad shoulder', () => {
  it('says what the sleeve cap is to lose: ¼ in of shoulder, ¼ in of cap (Hertzer, Garment Cutting, p. 78)', () => {
    const { plan } = alteredBy(patternOf(draftBodice(SAMPLE_BODICE_BODY)), { 'shoulder width': 6.35 });
    const note = plan.findings.find((f) => f.code === 'plan-cap-height');
    expect(note?.level).toBe('note');
    expect(note?.try).toMatch(/cap height/);
  });

  it('keeps a back shoulder dart at its width, with equal legs', () => {
    for (const darts of ['lines', 'outline'] as const) {
      const before = bodice({ shoulderDart: true, darts });
      for (const name of ['shoulder width', 'shoulder slope']) {
        const dart = pieceIn(alteredBy(before, { [name]: 9 }).pattern, 'back').darts.find((d) => d.edge === 'shoulder');
        if (!dart) throw new Error('no dart');
        const [a, b] = dart.mouth;
        expect(distance(a, b)).toBeCloseTo(12, 2);
        expect(distance(a, dart.tip)).toBeCloseTo(distance(b, dart.tip), 2);
      }
    }
  });
});
