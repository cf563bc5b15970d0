import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { draftDress, SAMPLE_DRESS_BODY } from '../../fixtures/blocks/draft/dress.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { patternOf } from '../drafted.ts';
import { apart, closedPath } from '../properties/comparing.ts';
import { alteredBy, edgeChanges, faultsOf, measureChanges, pieceIn } from './altering.ts';
import { draftPrincess } from './princess.ts';

const INCH = 25.4;
const bodice = (options: Parameters<typeof draftBodice>[1] = {}): Pattern =>
  patternOf(draftBodice(SAMPLE_BODICE_BODY, { sleeve: false, ...options }));

const blocks: readonly (readonly [string, Pattern])[] = [
  ['half', bodice()],
  [
    'half, a centre seam, a dart in the back shoulder',
    bodice({ darts: 'outline', shoulderDart: true, back: 'centre seam' }),
  ],
  ['whole', bodice({ whole: true })],
  ['a dress', patternOf(draftDress(SAMPLE_DRESS_BODY, { sleeve: false }))],
  ['panels', bodice({ panels: true })],
  ['panels from the shoulder', patternOf(draftPrincess())],
];

describe.each(blocks)('a larger or smaller neck: %s', (_, before) => {
  it.each([INCH, -INCH / 2, 10, -10])('%d mm round the whole neck edge; shoulders still match', (by) => {
    const { pattern, findings } = alteredBy(before, { neck: by });
    expect(findings.filter((f) => f.level === 'error')).toEqual([]);
    const changes = edgeChanges(before, pattern);
    const necks = before.pieces.flatMap((p) =>
      p.edges
        .filter((e) => e.role === 'neck')
        .map((e) => (changes.get(`${p.id} ${e.id}`) as number) * (p.half ? 2 : p.cut.count)),
    );
    expect(Math.abs(necks.reduce((a, b) => a + b, 0) - by)).toBeLessThan(0.02);
    for (const change of measureChanges(before, pattern, 'neck base girth'))
      expect(Math.abs(change - by)).toBeLessThan(0.02);
    for (const [edge, change] of changes) {
      if (/armhole|side|waist|hem|panel/.test(edge)) expect(Math.abs(change), edge).toBeLessThan(0.005);
      // The neck point goes along the shoulder: it is shorter by the radius, front and back alike.
      if (/^(front|back) shoulder/.test(edge)) expect(Math.sign(change)).toBe(-Math.sign(by));
    }
    const [front, back] = ['front', 'back'].map((id) => {
      const edge = [...changes.keys()].find((k) => k.startsWith(`${id} shoulder`)) as string;
      return changes.get(edge) as number;
    }) as [number, number];
    expect(Math.abs(front - back)).toBeLessThan(0.01);
    expect(faultsOf(before, pattern).filter((f) => !f.startsWith('check-not-fair'))).toEqual([]);
  });

  it('comes back with its opposite, and nothing leaves it the very same', () => {
    const back = alteredBy(alteredBy(before, { neck: 12 }).pattern, { neck: -12 }).pattern;
    for (const piece of before.pieces)
      expect(apart(closedPath(piece.seamLine), closedPath(pieceIn(back, piece.id).seamLine))).toBeLessThan(0.5);
    expect(alteredBy(before, { neck: 0 }).pattern.pieces.every((p, i) => p === before.pieces[i])).toBe(true);
  });
});

describe('the radius of a neck', () => {
  it('is larger by the change ÷ 2π on a full circle: 1 in gives 0.159 in', () => {
    const [step] = alteredBy(bodice(), { neck: INCH }).plan.steps;
    for (const share of step?.shares ?? []) expect(share.amount / INCH).toBeCloseTo(0.159, 3);
  });

  it('leaves a pointed neck straight', () => {
    const before = patternOf(draftPrincess());
    const front = pieceIn(before, 'front');
    const edge = front.edges.find((e) => e.role === 'neck');
    if (!edge) throw new Error('no neck');
    const span = front.seamLine.spans[edge.first];
    const [segment] = span?.segments ?? [];
    if (!segment) throw new Error('no neck line');
    const pointed = {
      ...before,
      pieces: before.pieces.map((p) =>
        p === front
          ? {
              ...p,
              cuttingLine: undefined as never,
              seamLine: {
                spans: p.seamLine.spans.map((s, i) =>
                  i === edge.first
                    ? { ...s, segments: [{ kind: 'line' as const, from: segment.from, to: segment.to }] }
                    : s,
                ),
              },
            }
          : p,
      ),
    };
    const now = pieceIn(alteredBy(pointed, { neck: 10 }).pattern, 'front');
    const segments = now.seamLine.spans[edge.first]?.segments ?? [];
    expect(segments.map((s) => s.kind)).toEqual(['line']);
  });
});
