import type { Alteration } from './alteration.ts';
import { lengthOf, MOST_AT_LINE } from './sleeve-length.ts';

/**
 * Sleeve longer or shorter above the elbow: part and spread, or fold out, at the adjustment line between biceps and
 * elbow, square to the grain (Central Washington University costume text, chapter 17: above and below the elbow
 * separately). The widths at biceps and elbow are kept; all below moves. Where no line is printed, midway between.
 */
export const lengthAboveElbow: Alteration = {
  card: {
    name: 'length above the elbow',
    title: 'Sleeve longer or shorter above the elbow',
    synonyms: [
      { name: 'long upper arm', sign: 1 },
      { name: 'sleeve longer above the elbow', sign: 1 },
      { name: 'short upper arm', sign: -1 },
      { name: 'sleeve shorter above the elbow', sign: -1 },
    ],
    plus: 'longer',
    minus: 'shorter',
    needs: ['a sleeve with sleeve seams', 'an adjustment line above the elbow (midway where none is printed)'],
    measurement: 'shoulder to elbow',
    options: [],
    limits: [{ place: 'line above the elbow', most: MOST_AT_LINE, source: 'common practice' }],
    moves: ['all below the line', 'sleeve seams between biceps and elbow', 'elbow level and its marks', 'wrist'],
    keeps: ['cap', 'biceps', 'elbow width', 'wrist', 'mates', 'grain', 'allowances'],
    additive: false,
    construction: 'Part the sleeve at the line above the elbow, square to the grain, and spread; or fold out a tuck.',
    source: 'Central Washington University costume text, chapter 17; limit: common practice',
  },
  ...lengthOf('above the elbow'),
  examples: [
    { says: 'longer by 1 in above the elbow', amount: 1, share: 1, source: 'chapter 17' },
    { says: 'shorter by 1/2 in above the elbow', amount: -0.5, share: -0.5, source: 'chapter 17' },
  ],
};
