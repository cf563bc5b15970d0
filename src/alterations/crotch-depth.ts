import type { Alteration } from './alteration.ts';
import { legLength } from './leg-length.ts';
import { inches } from './shares.ts';

/** Customary most (common practice). */
const MOST = inches(1.5);

/**
 * Crotch depth longer or shorter: part and spread, or fold out, on the line between hip and crotch, square to the grain,
 * front and back alike; all below moves, the inside leg keeps its length.
 *
 * Needed change = the wearer's seated depth − the depth drafted for. Only where the pattern names none: body + ease −
 * depth measured on the pieces, by the ease of New Mexico State University, Guide C-209 (½ in where the hip is under
 * 36 in, 1 in above 38); never both, or the ease counts twice.
 */
export const crotchDepth: Alteration = {
  card: {
    name: 'crotch depth',
    title: 'Longer or shorter crotch depth',
    synonyms: [
      { name: 'long crotch depth', sign: 1 },
      { name: 'long body rise', sign: 1 },
      { name: 'short crotch depth', sign: -1 },
      { name: 'short body rise', sign: -1 },
    ],
    plus: 'longer',
    minus: 'shorter',
    needs: [
      'trouser fronts and backs with crotch seam, inseam and side seam',
      'a hip level and a crotch level',
      'an adjustment line between them (midway where none is printed)',
    ],
    measurement: 'crotch depth',
    options: [],
    limits: [{ place: 'line between hip and crotch', most: MOST, source: 'common practice' }],
    moves: ['all below the line', 'crotch seam and side seams between hip and crotch', 'crotch and knee levels', 'hem'],
    keeps: ['waist', 'hip', 'inside leg length', 'mates', 'grain', 'allowances'],
    additive: false,
    construction:
      'Part front and back at the line between hip and crotch, square to the grain, and spread; or fold out a tuck.',
    source: 'New Mexico State University, Guide C-209; limit: common practice',
  },
  ...legLength({
    name: 'crotch depth',
    part: 'between hip and crotch',
    level: 'crotch',
    most: MOST,
    help: 'Part of it may be crotch length; try another size.',
  }),
  examples: [
    { says: 'longer by 1/2 in', amount: 0.5, share: 0.5, source: 'Guide C-209: front and back alike' },
    { says: 'shorter by 1 in', amount: -1, share: -1, source: 'Guide C-209' },
  ],
};
