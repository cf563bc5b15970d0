import { gapeAlteration, gapeLimits, gapeOption } from './gape.ts';

/**
 * Armhole that gapes (or binds) over the front of the arm.
 *
 * What can be pinched out of the armhole is folded out as a wedge from the middle of the front armhole to nothing at the
 * bust point; the dart that is there opens for it, by the same angle, and the armhole is drawn smooth again, shorter by
 * just the amount. Binding: slashed and spread, and the dart gives. A sleeve follows the armhole.
 *
 * Construction and limit: common practice.
 */
export const armholeGape = gapeAlteration(
  'armhole',
  {
    name: 'armhole gape',
    title: 'Gaping armhole, binding armhole',
    synonyms: [
      { name: 'gaping armhole', sign: 1 },
      { name: 'gaping armscye', sign: 1 },
      { name: 'binding armhole', sign: -1 },
    ],
    plus: 'gaping: taken out',
    minus: 'binding: let in',
    needs: ['a front with an armhole', 'a bust point (else where the darts are aimed)'],
    options: [gapeOption],
    limits: gapeLimits('armhole'),
    moves: ['armhole', 'part below it as one stiff part', 'dart that takes it', 'cutting line', 'sleeve cap'],
    keeps: [
      'shoulder length',
      'neck length',
      'side length with its dart closed',
      'waist length',
      'grain',
      'allowances',
    ],
    additive: false,
    construction:
      'Fold out a wedge, the amount wide at the middle of the front armhole and nothing at the bust point; the side (or waist) dart opens for it; draw the armhole smooth.',
    source: 'common practice',
  },
  [
    { says: '1/4 in pinched out on each side', amount: 0.25, share: 0.25, source: 'common practice' },
    { says: '1/8 in let in on each side', amount: -0.125, share: -0.125, source: 'common practice' },
  ],
);
