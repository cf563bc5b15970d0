import type { Alteration } from './alteration.ts';
import { alterWaistLength, divideWaistLength, SIDE_SEAM, saysWaistLength, waistLengthLimits } from './waist-lengths.ts';

/**
 * Back waist length, longer or shorter, on bodice and dress backs.
 *
 * What the back needs over the front is a wedge at the adjustment line between underarm and waist, from the centre back
 * to, not through, the side seam line: the waist drops (rises) at the centre back, to nothing at the side, and **the side
 * seam keeps its length**. What both have in common is parted and spread, or folded out, level across the piece
 * (`side seam`: with it); it has to be given to the front as well.
 *
 * At the adjustment line: Central Washington University costume text, chapter 17; side seams stay equal: Home Economics
 * Research Report 32 lists the alteration; wedge and limit: common practice.
 */
export const backWaistLength: Alteration = {
  card: {
    name: 'back waist length',
    title: 'Back waist length longer, back waist length shorter',
    synonyms: [
      { name: 'long back waist', sign: 1 },
      { name: 'long-waisted back', sign: 1 },
      { name: 'short back waist', sign: -1 },
      { name: 'short-waisted back', sign: -1 },
    ],
    plus: 'longer',
    minus: 'shorter',
    needs: ['a bodice or dress back with a side seam and a waist'],
    measurement: 'back neck to waist',
    options: [SIDE_SEAM],
    limits: waistLengthLimits('back'),
    moves: ['back waist', 'waist dart', 'centre back length', 'cutting line', 'with it: all below the line, side seam'],
    keeps: ['waist length', 'side seam length', 'bust', 'mates', 'grain', 'fairness', 'allowances', 'corner angles'],
    additive: false,
    construction:
      'Slash at the adjustment line from the centre back to, not through, the side seam line; spread or overlap; draw the centre straight and the waist smooth. With the side seam: part and spread across the whole piece, the front alike.',
    source: 'Central Washington University costume text, chapter 17; wedge and limit: common practice',
  },
  stage: 'length',
  evenAt: 'waist',
  divide: (request) => divideWaistLength(request, 'back waist length', 'back'),
  alter: (garment, step) => alterWaistLength(garment, step, 'back'),
  says: (share, step, show) => saysWaistLength(share, step, show, 'at the centre back'),
  examples: [
    { says: 'back waist 1/2 in longer', amount: 0.5, share: 0.5, source: 'common practice' },
    { says: 'back waist 3/8 in shorter', amount: -0.375, share: -0.375, source: 'common practice' },
  ],
};
