import type { Alteration } from './alteration.ts';
import { legLength, MOST_AT_LEG_LINE } from './leg-length.ts';

/**
 * Trousers longer or shorter below the knee: part and spread, or fold out, at the adjustment line between knee and
 * hem, square to the grain, front and back alike (above and below the knee by itself where the leg is shaped, else at
 * the hem: common practice). The widths at knee and hem are kept: trousers whose hem should grow wider or narrower take length at the hem.
 * Where no line is printed, midway between.
 */
export const lengthBelowKnee: Alteration = {
  card: {
    name: 'length below the knee',
    title: 'Trousers longer or shorter below the knee',
    synonyms: [
      { name: 'long lower leg', sign: 1 },
      { name: 'trousers longer below the knee', sign: 1 },
      { name: 'short lower leg', sign: -1 },
      { name: 'trousers shorter below the knee', sign: -1 },
    ],
    plus: 'longer',
    minus: 'shorter',
    needs: [
      'trouser fronts and backs with crotch seam, inseam and side seam',
      'a knee level',
      'an adjustment line below the knee (midway where none is printed)',
    ],
    measurement: 'inside leg length',
    options: [],
    limits: [{ place: 'line below the knee', most: MOST_AT_LEG_LINE, source: 'common practice' }],
    moves: ['all below the line', 'side seams and inseams between knee and hem', 'hem'],
    keeps: ['waist', 'hip', 'crotch seam', 'knee', 'hem width', 'mates', 'grain', 'allowances'],
    additive: false,
    construction:
      'Part front and back at the line below the knee, square to the grain, and spread; or fold out a tuck.',
    source: 'common practice',
  },
  ...legLength({
    name: 'length below the knee',
    part: 'below the knee',
    level: 'knee',
    most: MOST_AT_LEG_LINE,
    help: 'Share it over both parts of the leg, or give part of it as length at the hem.',
  }),
  examples: [
    { says: 'longer by 1 in below the knee', amount: 1, share: 1, source: 'common practice' },
    { says: 'shorter by 1/2 in below the knee', amount: -0.5, share: -0.5, source: 'common practice' },
  ],
};
