import { describe, expect, it } from 'vitest';
import { draftSkirt, SAMPLE_BODY } from '../../fixtures/blocks/draft/skirt.ts';
import { edgeCalled, edgeLength } from '../../src/pattern/edges.ts';
import type { Mates, Pattern } from '../../src/pattern/pattern.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { patternOf } from '../drafted.ts';
import { alteredBy, faultsOf, pieceIn } from './altering.ts';

/*
 * The lining of a skirt takes the whole change of its shell, also where it is cut shorter at the hem. Common practice, no
 * source: a lining ends an inch or more above the hem.
 */

const SHORTER = 30;

const ofLining = (pattern: Pattern): Pick<Pattern, 'pieces' | 'mates'> => {
  const name = (id: string): string => `lining-${id}`;
  const row = (sewn: Mates['one']) => sewn.map((s) => ({ ...s, piece: name(s.piece) }));
  return {
    pieces: pattern.pieces.map((p): Piece => ({ ...p, id: name(p.id), cut: { ...p.cut, cloth: 'lining' } })),
    mates: pattern.mates.map((m) => ({ ...m, id: name(m.id), one: row(m.one), other: row(m.other) })),
  };
};

const lined = (shorter: number): Pattern => {
  const shell = patternOf(draftSkirt(SAMPLE_BODY, { band: false }));
  const lining = ofLining(
    patternOf(draftSkirt({ ...SAMPLE_BODY, length: SAMPLE_BODY.length - shorter }, { band: false })),
  );
  return { ...shell, pieces: [...shell.pieces, ...lining.pieces], mates: [...shell.mates, ...lining.mates] };
};

const gain = (before: Pattern, after: Pattern, id: string, edge: string): number =>
  [after, before]
    .map((p) => pieceIn(p, id))
    .map((p) => edgeLength(p, edgeCalled(p, edge) as never))
    .reduce((a, b) => a - b);

const asked: readonly Readonly<Record<string, number>>[] = [
  { waist: 20 },
  { hip: 30 },
  { abdomen: 12 },
  { seat: 12 },
  { 'sway back': 8 },
  { 'hip slope': 8 },
  { 'waist to hip': 12 },
  { 'length at the hem': 25 },
  { waist: -15, hip: 20 },
];

describe.each([
  ['cut like its shell', 0],
  ['cut short', SHORTER],
] as const)('the lining of a skirt %s', (_, shorter) => {
  const before = lined(shorter);

  it.each(asked)('gains at every edge what the shell gains: %j', (direct) => {
    const { pattern: after, plan, findings } = alteredBy(before, direct);
    expect([...plan.findings, ...findings].filter((f) => f.level === 'error')).toEqual([]);
    for (const id of ['front', 'back']) {
      for (const edge of ['waist', 'hem', 'side', 'fold']) {
        const [shell, lining] = [id, `lining-${id}`].map((p) => gain(before, after, p, edge)) as [number, number];
        expect(Math.abs(shell - lining), `${id} ${edge}`).toBeLessThan(0.1);
      }
    }
    expect(faultsOf(before, after).filter((f) => f.includes('lining') && /mates|notches/.test(f))).toEqual([]);
  });
});
