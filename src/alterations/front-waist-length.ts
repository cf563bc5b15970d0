import type { Alteration } from './alteration.ts';
import { alterWaistLength, divideWaistLength, SIDE_SEAM, saysWaistLength, waistLengthLimits } from './waist-lengths.ts';

/**
 * Front waist length, longer or shorter, on bodice and dress fronts.
 *
 * What the front needs over the back is a wedge: slashed at the adjustment line between underarm and waist from the
 * centre to, not through, the side seam line, and spread (overlapped). The centre is drawn straight again, the width
 * that the swing took is put back, and the waist is redrawn: it drops at the centre and meets centre and side at the
 * angles it had, so **the side seam keeps its length**. The amount is that straight below the bust point, where the
 * length is measured. What front and back have in common is parted and spread, or folded out, level across the piece
 * (`side seam`: with it); it has to be given to the back as well.
 *
 * At the adjustment line: Central Washington University costume text, chapter 17; side seams stay equal: Home Economics
 * Research Report 32 lists the alteration; wedge and limit: common practice.
 */
export const frontWaistLength: Alteration = {
  card: {
    name: 'front waist length',
    title: 'Front waist length longer, front waist length shorter',
    synonyms: [
      { name: 'long front waist', sign: 1 },
      { name: 'long-waisted front', sign: 1 },
      { name: 'short front waist', sign: -1 },
      { name: 'short-waisted front', sign: -1 },
    ],
    plus: 'longer',
    minus: 'shorter',
    needs: ['a bodice or dress front with a side seam and a waist', 'a bust point (else the centre front counts)'],
    measurement: 'front waist length',
    options: [SIDE_SEAM],
    limits: waistLengthLimits('front'),
    moves: [
      'front waist',
      'waist dart',
      'centre front length',
      'cutting line',
      'with it: all below the line, side seam',
    ],
    keeps: ['waist length', 'side seam length', 'bust', 'mates', 'grain', 'fairness', 'allowances', 'corner angles'],
    additive: false,
    construction:
      'Slash at the adjustment line from the centre to, not through, the side seam line; spread or overlap; draw the centre straight and the waist smooth. With the side seam: part and spread across the whole piece, the back alike.',
    source: 'Central Washington University costume text, chapter 17; wedge and limit: common practice',
  },
  stage: 'length',
  evenAt: 'waist',
  divide: (request) => divideWaistLength(request, 'front waist length', 'front'),
  alter: (garment, step) => alterWaistLength(garment, step, 'front'),
  says: (share, step, show) => saysWaistLength(share, step, show, 'below the bust point'),
  examples: [
    { says: 'front waist 1/2 in longer', amount: 0.5, share: 0.5, source: 'common practice' },
    { says: 'front waist 3/8 in shorter', amount: -0.375, share: -0.375, source: 'common practice' },
  ],
};
