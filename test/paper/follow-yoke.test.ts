import { describe, expect, it } from 'vitest';
import { draftSkirt, SAMPLE_BODY } from '../../fixtures/blocks/draft/skirt.ts';
import { withYokes } from '../../fixtures/blocks/draft/yoke.ts';
import { sewn } from '../../src/paper/follow-band.ts';
import { edgeCalled, edgeLength } from '../../src/pattern/edges.ts';
import type { Pattern, SewnEdge } from '../../src/pattern/pattern.ts';
import { alteredBy, faultsOf, pieceIn } from '../alterations/altering.ts';
import { patternOf } from '../drafted.ts';

/* A skirt parted by a hip yoke: the yoke takes on what the seam below it gained, and the band what the yoke did. */

const round = (pattern: Pattern, row: readonly SewnEdge[]): number =>
  row.reduce((sum, s) => sum + sewn(pattern, s) * s.times, 0);

const gainOf = (before: Pattern, after: Pattern, id: string, edge: string): number =>
  [after, before]
    .map((p) => pieceIn(p, id))
    .map((p) => edgeLength(p, edgeCalled(p, edge) as never))
    .reduce((a, b) => a - b);

describe.each([
  ['half, on the fold', withYokes(draftSkirt(SAMPLE_BODY, {}))],
  ['with a centre back seam', withYokes(draftSkirt(SAMPLE_BODY, { back: 'centre seam', flare: 60 }))],
] as const)('a yoke skirt %s', (_, draft) => {
  const before = patternOf(draft);

  it.each([26.9, -20])('waist %d mm: skirt, yoke and band gain it alike', (waist) => {
    const { pattern: after, findings, followed } = alteredBy(before, { waist });
    expect(findings.filter((f) => f.level !== 'note')).toEqual([]);
    for (const side of ['front', 'back']) {
      expect(gainOf(before, after, `${side}-yoke`, 'yoke-seam')).toBeCloseTo(waist / 4, 1);
      // The waist of the yoke is drawn to its new side corner, which is square to a seam that leans.
      expect(Math.abs(gainOf(before, after, `${side}-yoke`, 'waist') - waist / 4), side).toBeLessThan(0.25);
      expect(gainOf(before, after, `${side}-yoke`, 'side')).toBeCloseTo(0, 1);
    }
    for (const m of before.mates) {
      const uneven = round(after, m.one) - round(after, m.other) - (round(before, m.one) - round(before, m.other));
      expect(Math.abs(uneven), m.id).toBeLessThan(0.05);
    }
    expect(followed.map((f) => f.piece)).toEqual(['front-yoke', 'back-yoke', 'waistband']);
    expect(faultsOf(before, after)).toEqual([]);
  });

  it('a change at the hip alone leaves yoke and band as they are', () => {
    const { pattern: after } = alteredBy(before, { hip: 20 });
    for (const id of ['front-yoke', 'back-yoke', 'waistband']) expect(pieceIn(after, id)).toBe(pieceIn(before, id));
  });

  it('a yoke without side seams is refused with what it needs', () => {
    const pieces = before.pieces.map((p) =>
      p.part === 'yoke'
        ? { ...p, edges: p.edges.map((e) => (e.role === 'side' ? { ...e, role: 'unknown' as const } : e)) }
        : p,
    );
    const { findings } = alteredBy({ ...before, pieces }, { waist: 20 });
    const errors = findings.filter((f) => f.level === 'error');
    expect(errors.map((f) => [f.code, f.where.piece])).toEqual([
      ['alter-follower-left', 'front-yoke'],
      ['alter-follower-left', 'back-yoke'],
    ]);
    expect(errors[0]?.message).toContain('+5.0 mm');
  });
});
