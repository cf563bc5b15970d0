import type { Alteration } from './alteration.ts';
import { legLength, MOST_AT_LEG_LINE } from './leg-length.ts';

/**
 * Trousers longer or shorter above the knee: part and spread, or fold out, at the adjustment line between crotch and
 * knee, square to the grain, front and back alike (above and below the knee by itself where the leg is shaped, else at
 * the hem: common practice). The widths at crotch and knee are kept; all below moves.
 * Where no line is printed, midway between.
 */
export const lengthAboveKnee: Alteration = {
  card: {
    name: 'length above the knee',
    title: 'Trousers longer or shorter above the knee',
    synonyms: [
      { name: 'long thigh', sign: 1 },
      { name: 'trousers longer above the knee', sign: 1 },
      { name: 'short thigh', sign: -1 },
      { name: 'trousers shorter above the knee', sign: -1 },
    ],
    plus: 'longer',
    minus: 'shorter',
    needs: [
      'trouser fronts and backs with crotch seam, inseam and side seam',
      'a knee level',
      'an adjustment line above the knee (midway where none is printed)',
    ],
    measurement: 'waist to knee',
    options: [],
    limits: [{ place: 'line above the knee', most: MOST_AT_LEG_LINE, source: 'common practice' }],
    moves: ['all below the line', 'side seams and inseams between crotch and knee', 'knee level and its marks', 'hem'],
    keeps: ['waist', 'hip', 'crotch seam', 'knee width', 'hem width', 'mates', 'grain', 'allowances'],
    additive: false,
    construction:
      'Part front and back at the line above the knee, square to the grain, and spread; or fold out a tuck.',
    source: 'common practice',
  },
  ...legLength({
    name: 'length above the knee',
    part: 'above the knee',
    level: 'knee',
    most: MOST_AT_LEG_LINE,
    help: 'Share it over both parts of the leg, or give part of it as length at the hem.',
  }),
  examples: [
    { says: 'longer by 1 in above the knee', amount: 1, share: 1, source: 'common practice' },
    { says: 'shorter by 1/2 in above the knee', amount: -0.5, share: -0.5, source: 'common practice' },
  ],
};
