import { gapeAlteration, gapeLimits, gapeOption } from './gape.ts';

/**
 * Neckline that gapes (or binds).
 *
 * What can be pinched out of the neck edge on each side is folded out as a wedge from the middle of the neck edge to
 * nothing at the bust point; the dart that is there opens for it, by the same angle, and the neck edge is drawn smooth
 * again, shorter by just the amount on each side. Binding: slashed and spread, and the dart gives. A facing or collar has
 * to follow.
 *
 * Listed in USDA Home Economics Research Report 32; construction and limit: common practice.
 */
export const necklineGape = gapeAlteration(
  'neck',
  {
    name: 'neckline gape',
    title: 'Gaping neckline, binding neckline',
    synonyms: [
      { name: 'gaping neckline', sign: 1 },
      { name: 'gaping neck', sign: 1 },
      { name: 'binding neckline', sign: -1 },
    ],
    plus: 'gaping: taken out',
    minus: 'binding: let in',
    needs: ['a front with a neck edge', 'a bust point (else where the darts are aimed)'],
    options: [gapeOption],
    limits: gapeLimits('neck'),
    moves: [
      'neck edge',
      'shoulder and armhole as one stiff part',
      'dart that takes it',
      'cutting line',
      'collar',
      'facings',
    ],
    keeps: [
      'shoulder length',
      'armhole length',
      'side length with its dart closed',
      'waist length',
      'grain',
      'allowances',
    ],
    additive: false,
    construction:
      'Fold out a wedge, the amount wide at the middle of the neck edge on each side and nothing at the bust point; the side (or waist) dart opens for it; draw the neck edge smooth.',
    source: 'listed: USDA Home Economics Research Report 32; construction: common practice',
  },
  [
    { says: '1/4 in pinched out on each side', amount: 0.25, share: 0.25, source: 'common practice' },
    { says: '1/8 in let in on each side', amount: -0.125, share: -0.125, source: 'common practice' },
  ],
);
