import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { draftTrousers, SAMPLE_TROUSER_BODY } from '../../fixtures/blocks/draft/trousers.ts';
import { alterations } from '../../src/alterations/index.ts';
import { checkPattern } from '../../src/checks/index.ts';
import { distance, subtract } from '../../src/geometry/point.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { patternOf } from '../drafted.ts';
import { turnedMore } from '../properties/declared.ts';
import { alteredBy, faultsOf, pieceIn } from './altering.ts';

/* Lining and facings come out as the shell does. That a lining is cut like its shell: common practice. */

const QUARTER_INCH = 6.35;

/** A pattern with all its pieces once more in lining. */
const lined = (pattern: Pattern): Pattern => {
  const name = (id: string): string => `lining-${id}`;
  const row = (sewn: Pattern['mates'][number]['one']) => sewn.map((s) => ({ ...s, piece: name(s.piece) }));
  return {
    ...pattern,
    pieces: [
      ...pattern.pieces,
      ...pattern.pieces.map((p): Piece => ({ ...p, id: name(p.id), cut: { ...p.cut, cloth: 'lining' } })),
    ],
    mates: [
      ...pattern.mates,
      ...pattern.mates.map((m) => ({ ...m, id: name(m.id), one: row(m.one), other: row(m.other) })),
    ],
  };
};

/** Joints of the seam line, counted from the first, so that it does not matter where the piece lies. */
const joints = (piece: Piece) => {
  const ends = piece.seamLine.spans.flatMap((s) => s.segments.slice(0, 1).map((g) => g.from));
  return ends.map((p) => subtract(p, ends[0] as (typeof ends)[number]));
};

const garments = [
  ['a bodice', patternOf(draftBodice(SAMPLE_BODICE_BODY, { lining: true })), 'lining-'],
  ['trousers', lined(patternOf(draftTrousers(SAMPLE_TROUSER_BODY, {}))), 'lining-'],
] as const;

describe.each(garments)('the lining of %s', (_, before, prefix) => {
  it.each([QUARTER_INCH, -QUARTER_INCH])('takes every alteration whole: %d mm', (by) => {
    let done = 0;
    for (const { card } of alterations) {
      const { plan, pattern } = alteredBy(before, { [card.name]: by });
      if (plan.findings.some((f) => f.level === 'error')) continue;
      done += 1;
      for (const piece of pattern.pieces.filter((p) => p.id.startsWith(prefix))) {
        const shell = joints(pieceIn(pattern, piece.id.slice(prefix.length)));
        const own = joints(piece);
        expect(own.length, `${card.name} ${piece.id}`).toBe(shell.length);
        for (const [i, p] of own.entries()) {
          expect(distance(p, shell[i] as typeof p), `${card.name} ${piece.id}`).toBeLessThan(0.01);
        }
      }
    }
    expect(done).toBeGreaterThan(12);
  });
});

describe('shoulder slope with facings', () => {
  const before = patternOf(draftBodice(SAMPLE_BODICE_BODY, { sleeve: false, facings: true }));

  it.each([2 * QUARTER_INCH, -2 * QUARTER_INCH, QUARTER_INCH, -QUARTER_INCH])(
    '%d mm: the facings still lie on their pieces and meet at the shoulder',
    (by) => {
      const { pattern } = alteredBy(before, { 'shoulder slope': by });
      expect(faultsOf(before, pattern).filter((f) => /corner|mates|notches/.test(f))).toEqual([]);
      // The free edge lies inside the neck's curve, and turns a little more than the neck does.
      const turned = checkPattern(before, pattern)
        .filter((f) => f.where.edge === 'free')
        .map(turnedMore);
      expect(Math.max(0, ...turned)).toBeLessThanOrEqual(1.2);
    },
  );
});

describe('uneven length of trousers', () => {
  const before = patternOf(draftTrousers(SAMPLE_TROUSER_BODY, {}));

  it.each(['front', 'back'])('cannot be at the %s: one inseam would not match the other', (at) => {
    const { plan } = alteredBy(before, { 'uneven length': QUARTER_INCH }, { 'uneven length': { at } });
    const [error] = plan.findings.filter((f) => f.level === 'error');
    expect(error?.code).toBe('plan-missing-piece');
    expect(error?.message).toContain('inseam');
    expect(plan.steps.flatMap((s) => s.shares)).toEqual([]);
  });

  it('may be at the side', () => {
    const { plan, pattern } = alteredBy(before, { 'uneven length': QUARTER_INCH });
    expect(plan.findings.filter((f) => f.level === 'error')).toEqual([]);
    expect(faultsOf(before, pattern).filter((f) => /mates|notches/.test(f))).toEqual([]);
  });
});
