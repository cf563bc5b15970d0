import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { nearestOnPath } from '../../src/geometry/path.ts';
import { pointAt } from '../../src/geometry/segment.ts';
import { sewn } from '../../src/paper/follow-band.ts';
import { seatOn } from '../../src/paper/follow-seat.ts';
import { notchesAlong } from '../../src/paper/notch-places.ts';
import { trace } from '../../src/paper/tracing.ts';
import { edgeCalled, edgeLength, edgeSegments } from '../../src/pattern/edges.ts';
import type { Pattern, SewnEdge } from '../../src/pattern/pattern.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { fromPaper, toPaper } from '../../src/pattern/upright.ts';
import { alteredBy, pieceIn } from '../alterations/altering.ts';
import { patternOf } from '../drafted.ts';

/* Collar and cuff gain what the measured edge gained (common practice); facings are cut anew by the altered piece. */

const before = patternOf(draftBodice(SAMPLE_BODICE_BODY, { collar: true, facings: true, cuff: true }));

const round = (pattern: Pattern, row: readonly SewnEdge[]): number =>
  row.reduce((sum, s) => sum + sewn(pattern, s) * s.times, 0);

const unevenness = (after: Pattern): number[] =>
  before.mates
    .filter((m) => [...m.one, ...m.other].some((s) => /collar|cuff|facing/.test(s.piece)))
    .map((m) => round(after, m.one) - round(after, m.other) - (round(before, m.one) - round(before, m.other)));

const lengthOf = (piece: Piece, edge: string): number => edgeLength(piece, edgeCalled(piece, edge) as never);

/** The furthest that a facing's neck lies from the neck of the piece, laid on it, mm. */
const offNeck = (facing: Piece, faced: Piece): number => {
  const laid = seatOn(trace(facing), 'neck', [{ piece: faced.id, edge: 'neck', tracing: trace(faced) }])?.parts[0]
    ?.laid;
  if (!laid) return Number.POSITIVE_INFINITY;
  const neck = { segments: edgeSegments(faced, edgeCalled(faced, 'neck') as never), closed: false };
  const places = edgeSegments(facing, edgeCalled(facing, 'neck') as never).flatMap((s) =>
    [0, 0.25, 0.5, 0.75, 1].map((t) => fromPaper(faced.upright, laid.on(toPaper(facing.upright, pointAt(s, t))))),
  );
  return Math.max(...places.map((p) => nearestOnPath(neck, p)?.distance ?? Number.POSITIVE_INFINITY));
};

describe.each<Readonly<Record<string, number>>>([
  { neck: 25.4 },
  { neck: -12.7 },
  { wrist: 20 },
  { wrist: -15 },
  { 'shoulder slope': 8 },
  { 'back width': 20 },
  { neck: 12, wrist: -10 },
])('what follows %j', (direct) => {
  const { pattern: after, findings } = alteredBy(before, direct);

  it('matches what it is sewn to as it did', () => {
    for (const uneven of unevenness(after)) expect(Math.abs(uneven)).toBeLessThan(0.05);
    expect(findings.filter((f) => f.level !== 'note')).toEqual([]);
  });

  it('lies on the altered neck, as wide at shoulder and centre as before', () => {
    for (const id of ['front', 'back']) {
      const facing = pieceIn(after, `${id}-facing`);
      expect(offNeck(facing, pieceIn(after, id)), id).toBeLessThan(0.1);
      for (const edge of ['shoulder', 'fold'])
        expect(lengthOf(facing, edge) - lengthOf(pieceIn(before, `${id}-facing`), edge), `${id} ${edge}`).toBeCloseTo(
          0,
          1,
        );
    }
  });
});

describe('a shaped collar', () => {
  const shaped = patternOf(draftBodice(SAMPLE_BODICE_BODY, { collar: 'shaped', sleeve: false }));
  const notchOf = (pattern: Pattern): number =>
    notchesAlong(trace(pieceIn(pattern, 'collar')), 'neck')[0]?.along ?? Number.NaN;

  it.each([25.4, -15])('neck %d mm: it fits the neck, and its notch still meets the shoulder', (neck) => {
    const { pattern: after, findings } = alteredBy(shaped, { neck });
    expect(findings.filter((f) => f.level !== 'note')).toEqual([]);
    const [was, is] = [shaped, after].map((p) => lengthOf(pieceIn(p, 'back'), 'neck')) as [number, number];
    expect(notchOf(shaped)).toBeCloseTo(was, 1);
    expect(notchOf(after)).toBeCloseTo(is, 1);
    const front = lengthOf(pieceIn(after, 'front'), 'neck');
    expect(lengthOf(pieceIn(after, 'collar'), 'neck')).toBeCloseTo(is + front, 1);
    expect(lengthOf(pieceIn(after, 'collar'), 'fold')).toBeCloseTo(lengthOf(pieceIn(shaped, 'collar'), 'fold'), 2);
  });
});

describe('what was done to what follows', () => {
  it('is told piece by piece, with its amount', () => {
    const did = (direct: Readonly<Record<string, number>>) => alteredBy(before, direct).followed;
    expect(did({ wrist: 20 })).toEqual([
      { piece: 'cuff', did: 'cuff: 20.0 mm longer, in the middle of what is sewn on' },
    ]);
    expect(did({ neck: 25.4 })).toEqual([
      { piece: 'collar', did: 'collar: 12.7 mm longer, at the notch 71.1 mm (now 78.0 mm) from the fold' },
      { piece: 'front-facing', did: 'front-facing: cut anew by the altered neck of front' },
      { piece: 'back-facing', did: 'back-facing: cut anew by the altered neck of back' },
    ]);
    expect(did({ 'front waist length': 20 })).toEqual([]);
  });

  it('a facing that nothing says where to lay is found out by its shape', () => {
    const unstated = { ...before, mates: before.mates.filter((m) => !m.id.endsWith('neck and facing')) };
    const { pattern } = alteredBy(unstated, { neck: 20 });
    expect(offNeck(pieceIn(pattern, 'front-facing'), pieceIn(pattern, 'front'))).toBeLessThan(0.1);
  });

  it('one that lies nowhere is named', () => {
    const stretched = before.pieces.map((p) =>
      p.id === 'front-facing' ? pieceIn(alteredBy(before, { neck: 60 }).pattern, p.id) : p,
    );
    const unlike = { ...before, pieces: stretched, mates: before.mates.filter((m) => !m.id.includes('facing')) };
    const { findings } = alteredBy(unlike, { neck: 20 });
    expect(findings.filter((f) => f.level !== 'note').map((f) => [f.code, f.where.piece])).toEqual([
      ['alter-facing-unplaced', 'front-facing'],
    ]);
  });

  it('a piece stated to be sewn on that cannot follow is refused with the amount it needs', () => {
    const stretched = before.pieces.map((p) =>
      p.id === 'front-facing' ? pieceIn(alteredBy(before, { neck: 60 }).pattern, p.id) : p,
    );
    const { findings } = alteredBy({ ...before, pieces: stretched }, { neck: 20 });
    expect(findings.filter((f) => f.level === 'error').map((f) => [f.code, f.where.piece])).toEqual([
      ['alter-follower-left', 'front-facing'],
    ]);
  });
});
