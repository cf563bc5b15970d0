import { describe, expect, it } from 'vitest';
import { withPocket } from '../../fixtures/blocks/draft/pocket.ts';
import { draftSkirt, SAMPLE_BODY } from '../../fixtures/blocks/draft/skirt.ts';
import { distance } from '../../src/geometry/point.ts';
import { notchesAlong } from '../../src/paper/notch-places.ts';
import { trace } from '../../src/paper/tracing.ts';
import { edgeCalled, edgeLength } from '../../src/pattern/edges.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { alteredBy, faultsOf, pieceIn } from '../alterations/altering.ts';
import { patternOf } from '../drafted.ts';

/* A pocket bag in a side seam: it keeps its size, and its seam edge becomes what the seam became between its notches. */

const stated = { evidence: [{ says: 'drafted so', weight: 1 }], confidence: 1 };
const one = { piece: 'pocket', edge: 'side', times: 1 };

const before: Pattern = {
  ...patternOf(withPocket(draftSkirt(SAMPLE_BODY, {}))),
  within: [{ id: 'pocket seam', one: [one], other: ['front', 'back'].map((piece) => ({ ...one, piece })), ...stated }],
};

/** Length of the side seam of the front between the notches of the pocket, mm. */
const opening = (pattern: Pattern): number => {
  const places = notchesAlong(trace(pieceIn(pattern, 'front')), 'side').map((n) => n.along);
  return (places.at(-1) as number) - (places.at(-2) as number);
};
const lengthOf = (piece: Piece, edge: string): number => edgeLength(piece, edgeCalled(piece, edge) as never);

describe('a pocket in the side seam', () => {
  it('is as long as the seam between its notches as drafted', () => {
    expect(lengthOf(pieceIn(before, 'pocket'), 'side')).toBeCloseTo(opening(before), 1);
  });

  it.each<Readonly<Record<string, number>>>([
    { waist: 30 },
    { waist: -25 },
    { hip: 40 },
    { 'waist to hip': 20 },
    { 'waist to hip': -12 },
    { waist: 20, hip: -20 },
  ])('fits the opening after %j, and is no deeper or wider', (direct) => {
    const { pattern: after, findings } = alteredBy(before, direct);
    expect(findings.filter((f) => f.level !== 'note')).toEqual([]);
    expect(faultsOf(before, after).filter((f) => f.includes('pocket'))).toEqual([]);
    const [was, is] = [pieceIn(before, 'pocket'), pieceIn(after, 'pocket')];
    expect(Math.abs(lengthOf(is, 'side') - opening(after))).toBeLessThan(0.3);
    expect(Math.abs(lengthOf(is, 'free-2') - lengthOf(was, 'free-2'))).toBeLessThan(0.01);
    expect(Math.abs(lengthOf(is, 'free') - lengthOf(was, 'free'))).toBeLessThan(6);
  });

  it.each<Readonly<Record<string, number>>>([{ 'length at the hem': 40 }, { 'length at the adjustment line': 25 }])(
    'stays the very same piece when %j leaves its seam as it was',
    (direct) => {
      expect(pieceIn(alteredBy(before, direct).pattern, 'pocket')).toBe(pieceIn(before, 'pocket'));
    },
  );

  it('is told when no notches say where on the seam it lies', () => {
    const pieces = before.pieces.map((p) => ({ ...p, notches: [] }));
    const { findings } = alteredBy({ ...before, pieces }, { waist: 20 });
    expect(findings.filter((f) => f.where.piece === 'pocket').map((f) => [f.code, f.level])).toEqual([
      ['alter-pocket-unplaced', 'error'],
    ]);
  });

  it('marks of a pocket sewn on top go along with the piece as they are', () => {
    const drawn = patternOf(draftSkirt(SAMPLE_BODY, {}));
    const corners = [
      { x: 60, y: -300 },
      { x: 180, y: -300 },
      { x: 180, y: -430 },
      { x: 60, y: -430 },
    ];
    const mark = {
      id: 'pocket-place',
      kind: 'internal' as const,
      closed: true,
      spans: corners.map((from, i) => ({
        source: { drawable: 'pocket-place', index: i, reversed: false },
        segments: [{ kind: 'line' as const, from, to: corners[(i + 1) % 4] as (typeof corners)[number] }],
      })),
      ...stated,
    };
    const marked = {
      ...drawn,
      pieces: drawn.pieces.map((p) => (p.id === 'front' ? { ...p, lines: [...p.lines, mark] } : p)),
    };
    for (const direct of <Readonly<Record<string, number>>[]>[{ waist: 20 }, { hip: 30 }, { 'waist to hip': 20 }]) {
      const line = pieceIn(alteredBy(marked, direct).pattern, 'front').lines.find((l) => l.id === 'pocket-place');
      const sides = line?.spans.map((s) => distance(s.segments[0]?.from as never, s.segments.at(-1)?.to as never));
      expect(sides?.map((mm) => Math.round(mm * 100) / 100)).toEqual([120, 130, 120, 130]);
    }
  });
});
