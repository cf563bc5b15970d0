import type { ShoulderSurplus } from '../paper/bodice-widths.ts';
import { acrossShares, alterAcross, PANEL_SEAM } from './across.ts';
import type { Alteration, Division, Request } from './alteration.ts';
import { levelNotes } from './bodice-parts.ts';
import { outOrIn, spreadOrLapped } from './sayings.ts';
import { limitFindings, MOST_AT_EDGE, missing, sharedOut } from './shares.ts';

/**
 * Broad or narrow back: each half of the back is slashed from shoulder to waist parallel to the centre and spread
 * (overlapped) by half of the change; the surplus at the waist goes into the waist dart, that of the shoulder into a
 * dart there. Where there is no waist dart the side seam runs back to nothing at the waist. A shoulder without a dart
 * gets one; less than ⅛ in, and what a narrow back lacks, is put right where the shoulder meets the armhole. Armhole and
 * side seam keep their lengths. Common practice.
 */
export const backWidth: Alteration = {
  card: {
    name: 'back width',
    title: 'Broad back, narrow back',
    synonyms: [
      { name: 'broad back', sign: 1 },
      { name: 'wide back', sign: 1 },
      { name: 'narrow back', sign: -1 },
    ],
    plus: 'broad',
    minus: 'narrow',
    needs: ['a back with a shoulder that ends at an armhole', 'a blade level, or an armhole notch'],
    measurement: 'back width',
    options: [
      {
        name: 'shoulder',
        means: 'what the shoulder gains goes into a dart there, or is taken off where it meets the armhole',
        values: ['dart', 'armhole'],
        default: 'dart',
      },
    ],
    limits: [{ place: 'shoulder-to-waist slash', most: MOST_AT_EDGE, source: 'common practice' }],
    moves: [
      'back beyond the slash',
      'back shoulder and its dart',
      'waist dart',
      'armhole',
      'side seam',
      'bust girth',
      'cutting line',
    ],
    keeps: [
      'waist length',
      'armhole length',
      'shoulder length',
      'neck length',
      'mates',
      'grain',
      'fairness',
      'allowances',
    ],
    additive: false,
    construction:
      'Slash from shoulder to waist parallel to the centre and spread or overlap; the waist surplus into the waist dart, that of the shoulder into a shoulder dart.',
    source: 'common practice',
  },
  stage: 'width',
  evenAt: 'waist',
  divide: (request) => divide(request),
  alter: (garment, step) => alterAcross(garment, step.shares, step.options.shoulder as ShoulderSurplus),
  says: (share, step, show) =>
    share.place === PANEL_SEAM
      ? `edge of the panel seam ${outOrIn(share.amount, show)} from the shoulder, to nothing at the waist`
      : `slashed from shoulder to waist and ${spreadOrLapped(share.amount, show)}; the waist and the shoulder keep their lengths, the shoulder by ${step.options.shoulder === 'dart' ? 'its dart' : 'the armhole'}`,
  examples: [
    { says: 'back 1 in broader: 1/2 in in each half', amount: 1, share: 0.5, source: 'derived: two halves' },
    { says: 'back 1/2 in narrower', amount: -0.5, share: -0.25, source: 'derived: two halves' },
  ],
};

const divide = ({ pattern, amount, beyondLimits, show }: Request): Division => {
  const shares = acrossShares(pattern, 'back', amount);
  const pieces = pattern.pieces.filter((p) => shares.some((s) => s.piece === p.id));
  return {
    shares,
    findings: [
      ...(shares.length === 0
        ? [
            missing(
              'back width',
              'no back with a shoulder that ends at an armhole was found',
              'Name the back and its edges in the pattern sheet.',
            ),
          ]
        : []),
      ...limitFindings('back width', shares, beyondLimits, show, 'Take another size.'),
      ...levelNotes('back width', pieces),
    ],
    explanation: sharedOut(amount, shares, shares[0]?.place ?? '', show),
  };
};
