import { describe, expect, it } from 'vitest';
import { walkMates } from '../../src/checks/walk.ts';
import { edgeCalled, edgeRuns } from '../../src/pattern/edges.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { heightOf } from '../../src/pattern/upright.ts';
import { sideOfWearer } from '../../src/pattern/wearer-side.ts';
import { dress } from '../properties/garments.ts';
import { layOnce, sampleFrom } from '../properties/samples.ts';
import { alteredBy, edgeChanges, faultsOf, measureChanges, pieceIn } from './altering.ts';

/* One high hip on a dress without a waist seam: it hangs from the shoulder, so its side is made longer over the hip. */

const before = layOnce(sampleFrom(dress({ whole: true }))).pattern;

/** Height of the lower end of a side, by the wearer's side. */
const hemAt = (pattern: Pattern, id: string, side: 'left' | 'right'): number => {
  const piece = pieceIn(pattern, id);
  const seam = sideOfWearer(pieceIn(before, id), side)?.id ?? '';
  const edge = edgeCalled(piece, seam);
  const ends = edge ? edgeRuns(piece, edge).flatMap((run) => run.flatMap((s) => [s.from, s.to])) : [];
  return Math.min(...ends.map((p) => heightOf(piece.upright, p)));
};

describe.each([12.7, 25.4, -12.7])('a dress drawn whole, one hip higher by %f mm', (amount) => {
  const { pattern } = alteredBy(before, { 'one high hip': amount }, { 'one high hip': { side: 'left' } });

  it('is longer between waist and hip on that side, and hangs lower there by as much', () => {
    for (const id of ['dress-front', 'dress-back']) {
      const changed = edgeChanges(before, pattern);
      const side = (s: 'left' | 'right'): number =>
        changed.get(`${id} ${sideOfWearer(pieceIn(before, id), s)?.id}`) ?? Number.NaN;
      // The seam leans: it gains a little less or more than the paper is spread.
      expect(Math.abs(side('left') - amount)).toBeLessThan(0.05 * Math.abs(amount));
      expect(Math.abs(side('right'))).toBeLessThan(0.01);
      expect(hemAt(before, id, 'left') - hemAt(pattern, id, 'left')).toBeCloseTo(amount, 1);
      expect(hemAt(pattern, id, 'right')).toBeCloseTo(hemAt(before, id, 'right'), 2);
    }
  });

  it('keeps waist and bust, and mates meet, notch on notch', () => {
    for (const measure of ['waist girth', 'bust girth'])
      for (const change of measureChanges(before, pattern, measure)) expect(Math.abs(change)).toBeLessThan(0.1);
    expect(faultsOf(before, pattern)).toEqual([]);
    for (const { notches } of walkMates(pattern)) for (const { apart } of notches) expect(apart).toBeLessThan(0.5);
  });
});
