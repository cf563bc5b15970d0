import type { Alteration } from './alteration.ts';
import { crotchLength, crotchLengthOptions, MOST_AT_CROTCH_SEAM } from './crotch-length.ts';

/**
 * Front crotch seam longer or shorter. At the crotch point: out along the crotch line, to nothing by the knee; the point
 * goes down as it goes out, so that the inseam keeps its length and still meets the back's. Other method: a wedge across
 * the crotch seam on the hip line, hinged at the side seam line; the darts keep the waist. What of the whole crotch length
 * is the front's, the tape says: it is taken from waist to waist between the legs with the crotch point marked on it.
 * Common practice.
 */
export const frontCrotchLength: Alteration = {
  card: {
    name: 'front crotch length',
    title: 'Front crotch longer or shorter',
    synonyms: [
      { name: 'long front crotch', sign: 1 },
      { name: 'short front crotch', sign: -1 },
    ],
    plus: 'longer',
    minus: 'shorter',
    needs: ['a trouser front with crotch seam, inseam and side seam', 'a hip level', 'for the wedge: a waist dart'],
    measurement: 'front crotch length',
    options: crotchLengthOptions,
    limits: [{ place: 'front crotch seam', most: MOST_AT_CROTCH_SEAM, source: 'common practice' }],
    moves: [
      'at the crotch point: crotch seam below the hip, inseam above the knee',
      'with a wedge: front above the hip line, waist, darts',
      'cutting line',
    ],
    keeps: ['waist length', 'inside leg length', 'side length', 'mates', 'grain', 'allowances', 'corner angles'],
    additive: false,
    construction:
      'The crotch point goes out along the crotch line, to nothing by the knee; or a wedge is opened across the crotch seam, hinged at the side.',
    source: 'common practice',
  },
  ...crotchLength('front'),
  examples: [
    { says: 'longer by 1/2 in', amount: 0.5, share: 0.5, source: 'common practice' },
    { says: 'shorter by 3/8 in', amount: -0.375, share: -0.375, source: 'common practice' },
  ],
};
