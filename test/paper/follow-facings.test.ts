import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import * as c from '../../fixtures/blocks/draft/curves.ts';
import type { Draft, DraftPiece } from '../../fixtures/blocks/draft/draft.ts';
import { draftSkirt, SAMPLE_BODY } from '../../fixtures/blocks/draft/skirt.ts';
import { nearestOnPath, selfCrossings } from '../../src/geometry/path.ts';
import { add, type Point, subtract } from '../../src/geometry/point.ts';
import { pointAt } from '../../src/geometry/segment.ts';
import { sewn } from '../../src/paper/follow-band.ts';
import { alongRow } from '../../src/paper/lay-on.ts';
import { edgeCalled, edgeLength, edgeSegments, outlineSegments } from '../../src/pattern/edges.ts';
import type { Pattern, SewnEdge } from '../../src/pattern/pattern.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { alteredBy, pieceIn } from '../alterations/altering.ts';
import { patternOf } from '../drafted.ts';

/*
 * Facings over more than one stretch of seam: of an armhole, in one piece for front and back; of a waist or neck with a
 * dart, which is laid closed under them (common practice).
 */

const bodice = draftBodice(SAMPLE_BODICE_BODY, { sleeve: false, facings: true, armholeFacing: true });
const skirt = draftSkirt(SAMPLE_BODY, { facings: true });
const slashedSkirt = draftSkirt(SAMPLE_BODY, { facings: true, darts: 'outline', back: 'centre seam' });

const round = (pattern: Pattern, row: readonly SewnEdge[]): number =>
  row.reduce((sum, s) => sum + sewn(pattern, s) * s.times, 0);

/** How much less well each facing fits what it is sewn to than before, mm. */
const unevenness = (before: Pattern, after: Pattern): number[] =>
  before.mates
    .filter((m) => [...m.one, ...m.other].some((s) => s.piece.endsWith('facing')))
    .map((m) => round(after, m.one) - round(after, m.other) - (round(before, m.one) - round(before, m.other)));

const sewnEdges: ReadonlySet<string> = new Set(['neck', 'armhole', 'waist', 'fold']);

const lengthOf = (piece: Piece, edge: string): number => edgeLength(piece, edgeCalled(piece, edge) as never);

const pathOf = (piece: Piece, edge: string) => ({
  segments: edgeSegments(piece, edgeCalled(piece, edge) as never),
  closed: false,
});

/** Widths of a facing between its free and its sewn edge, at even places along the free one, mm. */
const widths = (facing: Piece, edge: string): number[] => {
  const free = edgeSegments(facing, edgeCalled(facing, 'free') as never);
  const points = free.flatMap((s) => Array.from({ length: 40 }, (_, i) => pointAt(s, i / 40)));
  const way = alongRow(points);
  return [0.15, 0.25, 0.35, 0.45, 0.55, 0.65, 0.75, 0.85].map((part) => {
    const at = way.findIndex((s) => s >= part * (way.at(-1) as number));
    return nearestOnPath(pathOf(facing, edge), points[at] as Point)?.distance ?? Number.NaN;
  });
};

const armholes: readonly Readonly<Record<string, number>>[] = [
  { 'armhole depth': 10 },
  { 'shoulder width': 8 },
  { 'shoulder slope': -8 },
  { 'back width': 20 },
  { bust: 25 },
  { 'armhole gape': 10 },
];
const waists: readonly Readonly<Record<string, number>>[] = [
  { waist: 30 },
  { waist: -20 },
  { abdomen: 15 },
  { 'sway back': 10 },
  { 'hip slope': 8 },
];

describe.each([
  ['armhole', 'a bodice', patternOf(bodice), armholes],
  ['waist', 'a skirt', patternOf(skirt), waists],
  ['waist', 'a skirt with darts in its outline', patternOf(slashedSkirt), waists],
] as const)('facings of the %s of %s', (edge, _, before, asked) => {
  it.each(asked)('follow %j', (direct) => {
    const { pattern: after, findings } = alteredBy(before, direct);
    expect(findings.filter((f) => f.level !== 'note')).toEqual([]);
    for (const uneven of unevenness(before, after)) expect(Math.abs(uneven)).toBeLessThan(0.05);
    for (const was of before.pieces.filter((p) => p.edges.some((e) => e.role === edge) && p.id.endsWith('facing'))) {
      const is = pieceIn(after, was.id);
      expect(selfCrossings({ segments: outlineSegments(is.seamLine), closed: true })).toEqual([]);
      const [w, v] = [widths(was, edge), widths(is, edge)];
      v.forEach((mm, i) => void expect(Math.abs(mm - (w[i] as number)), `${was.id} ${i}`).toBeLessThan(1.2));
      for (const e of was.edges.filter((x) => x.role === 'side' || x.role === 'fold' || x.role === 'centre'))
        expect(lengthOf(is, e.id) - lengthOf(was, e.id), `${was.id} ${e.id}`).toBeCloseTo(0, 1);
    }
  });
});

describe('a facing over one edge and part of another', () => {
  it('is told with both pieces that it lies on', () => {
    expect(alteredBy(patternOf(bodice), { 'armhole depth': 10 }).followed).toEqual([
      { piece: 'armhole-facing', did: 'armhole-facing: cut anew by the altered armhole of front and back' },
    ]);
  });

  it('is found out by its shape where no mates are stated', () => {
    const stated = patternOf(bodice);
    const unstated = { ...stated, mates: stated.mates.filter((m) => m.id !== 'armhole and facing') };
    const { pattern } = alteredBy(unstated, { 'armhole depth': 10 });
    for (const uneven of unevenness(stated, pattern)) expect(Math.abs(uneven)).toBeLessThan(0.05);
  });

  it('stays the very same piece when its armhole does', () => {
    const before = patternOf(bodice);
    const { pattern } = alteredBy(before, { 'front waist length': 15 });
    expect(pieceIn(pattern, 'armhole-facing')).toBe(pieceIn(before, 'armhole-facing'));
  });
});

describe('a dart moved to a faced edge', () => {
  const before = patternOf(bodice);
  it.each(['neck', 'armhole', 'shoulder'])('%s: the facing lies on it with the dart closed', (to) => {
    const { pattern: after, plan, findings } = alteredBy(before, { 'dart move': 15 }, { 'dart move': { to } });
    expect([...plan.findings, ...findings].filter((f) => f.level !== 'note')).toEqual([]);
    for (const uneven of unevenness(before, after)) expect(Math.abs(uneven)).toBeLessThan(0.3);
    const facing = pieceIn(after, to === 'armhole' ? 'armhole-facing' : 'front-facing');
    expect(facing.darts).toEqual([]);
    expect(selfCrossings({ segments: outlineSegments(facing.seamLine), closed: true })).toEqual([]);
  });

  it('and the facing still follows the neck with the dart in it', () => {
    const dartInNeck = alteredBy(before, { 'dart move': 15 }, { 'dart move': { to: 'neck' } }).pattern;
    const { pattern: after, findings } = alteredBy(dartInNeck, { neck: 20 });
    expect(findings.filter((f) => f.level === 'error')).toEqual([]);
    for (const uneven of unevenness(dartInNeck, after)) expect(Math.abs(uneven)).toBeLessThan(0.1);
  });
});

describe('a facing drawn turned, or turned over', () => {
  const flip = (p: Point): Point => c.at(-p.x, p.y);
  const turned =
    (angle: number, mirrored: boolean) =>
    (p: Point): Point =>
      c.plus(c.turnedBy(mirrored ? flip(p) : p, angle), c.at(40, -25));
  const drawnSo = (piece: DraftPiece, move: (p: Point) => Point, mirrored: boolean): DraftPiece => ({
    ...piece,
    edges: (mirrored ? [...piece.edges].reverse() : piece.edges).map((e) => {
      const moved = e.segments.map((s) => c.moved(s, move, mirrored));
      return { ...e, segments: mirrored ? c.allBackwards(moved) : moved };
    }),
    grain: [move(piece.grain[0]), move(piece.grain[1])],
  });
  const withFacings = (draft: Draft, move: (p: Point) => Point, mirrored: boolean): Draft => ({
    ...draft,
    pieces: draft.pieces.map((p) => (p.id.endsWith('facing') ? drawnSo(p, move, mirrored) : p)),
  });

  const startOf = (piece: Piece, edge: string, atEnd: boolean): Point => {
    const segments = edgeSegments(piece, edgeCalled(piece, edge) as never);
    return (atEnd ? segments.at(-1)?.to : segments[0]?.from) as Point;
  };

  it.each([
    [0.6, false],
    [-2, false],
    [0, true],
    [1.1, true],
  ])('by %d rad, turned over: %s, comes out as when it lies on its piece', (angle, mirrored) => {
    const move = turned(angle, mirrored);
    for (const [draft, direct] of [
      [bodice, { 'armhole depth': 10, neck: 15 }],
      [skirt, { waist: 30 }],
    ] as const) {
      const plain = alteredBy(patternOf(draft), direct).pattern;
      const other = alteredBy(patternOf(withFacings(draft, move, mirrored)), direct).pattern;
      for (const piece of plain.pieces.filter((p) => p.id.endsWith('facing'))) {
        // It may lie elsewhere on the sheet: what stays in its place is another corner when it is turned over.
        const edge = piece.edges.some((e) => e.role === 'armhole') ? 'armhole' : 'free';
        const corner = move(startOf(piece, edge, false));
        const by = subtract(startOf(pieceIn(other, piece.id), edge, mirrored), corner);
        const path = { segments: outlineSegments(pieceIn(other, piece.id).seamLine), closed: true };
        for (const e of piece.edges) {
          for (const s of edgeSegments(piece, e)) {
            const foot = nearestOnPath(path, add(move(pointAt(s, 0.5)), by));
            // An edge drawn anew is drawn from one end to the other, which are two ways to draw one curve.
            expect(foot?.distance, `${piece.id} ${e.id}`).toBeLessThan(sewnEdges.has(e.role) ? 0.01 : 0.1);
          }
        }
      }
    }
  });
});
