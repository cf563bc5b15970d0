import type { Alteration } from './alteration.ts';
import { DART_EDGES } from './bust-parts.ts';
import { alterFronts, divide, takeOption, wayOf } from './dart-move.ts';
import { signed } from './shares.ts';

/**
 * Two darts made one: the first is closed (or made narrower by the amount) about the bust point, and its **angle** is
 * added to that of the second, which keeps its tip ½ in from the bust point. The other way round a dart gives part of
 * itself back to the other.
 *
 * The amount is what the dart that gives loses at its mouth, on each side of the front.
 *
 * Angles add: ICAR, pattern making.
 */
export const dartMerge: Alteration = {
  card: {
    name: 'dart merge',
    title: 'Two darts merged',
    synonyms: [
      { name: 'merge darts', sign: 1 },
      { name: 'combine darts', sign: 1 },
      { name: 'split dart', sign: -1 },
    ],
    plus: 'the first into the second',
    minus: 'the second into the first',
    needs: ['a front with two darts aimed at the bust point', 'a bust point (else where the darts are aimed)'],
    options: [
      { name: 'from', means: 'edge of the dart that is closed', values: DART_EDGES, default: 'side' },
      { name: 'into', means: 'edge of the dart that takes it', values: DART_EDGES, default: 'waist' },
      takeOption('merged'),
    ],
    limits: [],
    moves: ['part between the darts', 'both darts', 'seams beside them', 'cutting line', 'notches on that part'],
    keeps: ['seam lengths with darts closed', 'mates', 'grain', 'allowances', 'angle of the darts together'],
    additive: false,
    construction:
      'Swing the part between the darts about the bust point until the one is closed (or narrower by the amount): the other takes its angle.',
    source: 'ICAR, pattern making',
  },
  stage: 'shape',
  evenAt: 'waist',
  divide: (request) => divide(request, 'dart merge', 'into'),
  alter: (garment, step) => alterFronts(garment, step, 'into'),
  says: (share, step, show) => {
    const [from, into] = wayOf(step, share.amount, 'into');
    const much = step.options.take === 'all' ? 'all' : signed(Math.abs(share.amount), show).replace('+', '');
    return `${much} of the ${from} dart laid into the ${into} dart, swung about the bust point`;
  },
  examples: [
    { says: '1/2 in of the side dart into the waist dart', amount: 0.5, share: 0.5, source: 'ICAR: the angles add' },
    {
      says: '1/4 in of the waist dart into the side dart',
      amount: -0.25,
      share: -0.25,
      source: 'the same the other way round',
    },
  ],
};
