import type { Alteration } from './alteration.ts';
import { lengthOf, MOST_AT_LINE } from './sleeve-length.ts';

/**
 * Sleeve longer or shorter below the elbow: part and spread, or fold out, at the adjustment line between elbow and
 * wrist, square to the grain (Central Washington University costume text, chapter 17: above and below the elbow
 * separately). The widths at elbow and wrist are kept; all below moves. Where no line is printed, midway between.
 */
export const lengthBelowElbow: Alteration = {
  card: {
    name: 'length below the elbow',
    title: 'Sleeve longer or shorter below the elbow',
    synonyms: [
      { name: 'long forearm', sign: 1 },
      { name: 'sleeve longer below the elbow', sign: 1 },
      { name: 'short forearm', sign: -1 },
      { name: 'sleeve shorter below the elbow', sign: -1 },
    ],
    plus: 'longer',
    minus: 'shorter',
    needs: [
      'a sleeve with sleeve seams',
      'an elbow level',
      'an adjustment line below the elbow (midway where none is printed)',
    ],
    measurement: 'outer arm length',
    options: [],
    limits: [{ place: 'line below the elbow', most: MOST_AT_LINE, source: 'common practice' }],
    moves: ['all below the line', 'sleeve seams between elbow and wrist', 'wrist'],
    keeps: ['cap', 'biceps', 'elbow width', 'wrist', 'mates', 'grain', 'allowances'],
    additive: false,
    construction: 'Part the sleeve at the line below the elbow, square to the grain, and spread; or fold out a tuck.',
    source: 'Central Washington University costume text, chapter 17; limit: common practice',
  },
  ...lengthOf('below the elbow'),
  examples: [
    { says: 'longer by 1 1/2 in below the elbow', amount: 1.5, share: 1.5, source: 'chapter 17' },
    { says: 'shorter by 1 in below the elbow', amount: -1, share: -1, source: 'chapter 17' },
  ],
};
