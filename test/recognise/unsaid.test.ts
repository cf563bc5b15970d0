import { describe, expect, it } from 'vitest';
import { readByHand } from './handdrawn.ts';

/* What a drawing does not say, and what is taken in its place. */

/** A dress front on the fold, drawn without a waist: the side goes in to `narrowest` at height 0. mm, y up. */
const dress = (narrowest: number) => ({
  outline: `M0 340 C40 340 66 375 71 414 L190 382 C170 320 176 260 230 205 L${narrowest} 0 L270 -600 L0 -610 Z`,
  grain: 'M40 200 L40 -400',
  texts: [['Dress front', 60, -300] as const, ['Cut 1 on the fold', 60, -320] as const],
});
const waistOf = (narrowest: number, angle: number) => {
  const { pattern, findings } = readByHand([dress(narrowest)], angle);
  const [piece] = pattern.pieces;
  const underarm = piece?.levels.find((l) => l.name === 'underarm')?.height;
  return { waist: piece?.levels.find((l) => l.name === 'waist'), underarm, codes: findings.map((f) => f.code) };
};

describe('the waist of a dress in one piece, where nothing draws it', () => {
  it.each([0, 90, 217])('is taken where the side goes in furthest, and told, at %s°', (angle) => {
    const { waist, underarm, codes } = waistOf(195, angle);
    expect(waist?.height).toBeCloseTo(0, 2);
    expect(underarm).toBeCloseTo(205, 2);
    expect(waist?.confidence).toBeLessThan(0.5);
    expect(codes).toContain('recognise-waist-assumed');
    expect(codes).not.toContain('recognise-waist-unknown');
  });

  it('is not made up on a side that runs straight', () => {
    const { waist, codes } = waistOf(240, 0);
    expect(waist).toBeUndefined();
    expect(codes).toContain('recognise-waist-unknown');
  });
});

describe('how often a piece of a limb is cut, where nothing says it', () => {
  const sleeve = (name: string) => ({
    outline: 'M-165 0 C-120 10 -80 140 0 140 C80 140 120 10 165 0 L100 -440 L-100 -440 Z',
    texts: [[name, -40, -200] as const],
  });

  it('is twice, as a pair', () => {
    const { cut } = readByHand([sleeve('Sleeve')]).pattern.pieces[0] ?? {};
    expect([cut?.count, cut?.mirrored]).toEqual([2, true]);
  });

  it('is once where the paper is for one side alone', () => {
    const { cut } = readByHand([sleeve('Left sleeve')]).pattern.pieces[0] ?? {};
    expect([cut?.count, cut?.mirrored]).toEqual([1, false]);
  });
});
