import { tuckChest } from '../paper/bodice-chest.ts';
import { onPiece } from '../paper/garment.ts';
import { centreOf } from '../paper/skirt-shape.ts';
import { acrossShares, alterAcross, PANEL_SEAM } from './across.ts';
import type { Alteration, Division, Request } from './alteration.ts';
import { bodiceLayers, hasShoulder, levelNotes, shareAt } from './bodice-parts.ts';
import { outOrIn, spreadOrLapped, spreadOrTucked } from './sayings.ts';
import { inches, limitFindings, MOST_AT_EDGE, missing, sharedOut, signed } from './shares.ts';

/** Customary most of the tuck of a hollow chest (common practice). */
const MOST_IN_TUCK = inches(3 / 8);

/**
 * Broad, narrow or hollow chest, on the front only.
 *
 * Across, for a chest that is broad or narrow: as for the back, each half is slashed from shoulder to waist parallel to
 * the centre and spread (overlapped) by half of the change; the waist dart takes the surplus at the waist. What the
 * shoulder gains is taken off where it meets the armhole, so that it still matches the back.
 *
 * Tuck, for a hollow chest: a tuck of the whole amount is folded out across the upper chest, from the centre to
 * nothing at the armhole, where it hinges; a full upper chest (+) is parted and spread there. The centre is drawn
 * straight again, and neck, shoulder and armhole get their lengths back. Common practice.
 */
export const chestWidth: Alteration = {
  card: {
    name: 'chest width',
    title: 'Broad chest, narrow chest, hollow chest',
    synonyms: [
      { name: 'broad chest', sign: 1 },
      { name: 'wide chest', sign: 1 },
      { name: 'narrow chest', sign: -1 },
      { name: 'hollow chest', sign: -1, options: { method: 'tuck' } },
      { name: 'full upper chest', sign: 1, options: { method: 'tuck' } },
    ],
    plus: 'broad',
    minus: 'narrow',
    needs: [
      'a front with a shoulder that ends at an armhole',
      'a chest level, or an armhole notch',
      'for the tuck: a centre edge',
    ],
    measurement: 'chest width',
    options: [
      {
        name: 'method',
        means: 'widen or narrow the chest across, or fold out a tuck across a hollow chest (−)',
        values: ['across', 'tuck'],
        default: 'across',
      },
    ],
    limits: [
      { place: 'shoulder-to-waist slash', most: MOST_AT_EDGE, source: 'common practice' },
      { place: 'tuck at the centre front', most: MOST_IN_TUCK, source: 'common practice' },
    ],
    moves: [
      'front beyond the slash',
      'front shoulder',
      'waist dart',
      'armhole',
      'side seam',
      'bust girth',
      'with the tuck: the front above it',
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
      'Slash from shoulder to waist parallel to the centre and spread or overlap; or, for a hollow chest, fold out a tuck from the centre to nothing at the armhole.',
    source: 'common practice',
  },
  stage: 'width',
  evenAt: 'waist',
  divide: (request) => (request.options.method === 'tuck' ? byTuck(request) : across(request)),
  alter: (garment, step) =>
    step.options.method === 'tuck'
      ? step.shares.reduce((g, s) => onPiece(g, s.piece, (t) => tuckChest(t, s.amount)), garment)
      : alterAcross(garment, step.shares, 'armhole'),
  says: (share, step, show) => {
    if (step.options.method === 'tuck')
      return `${spreadOrTucked(share.amount, show)} across the upper chest at the centre, nothing at the armhole; neck, shoulder and armhole keep their lengths`;
    return share.place === PANEL_SEAM
      ? `edge of the panel seam ${outOrIn(share.amount, show)} from the shoulder, to nothing at the waist`
      : `slashed from shoulder to waist and ${spreadOrLapped(share.amount, show)}; the waist and the shoulder keep their lengths`;
  },
  examples: [
    { says: 'chest 1 in broader: 1/2 in in each half', amount: 1, share: 0.5, source: 'derived: two halves' },
    { says: 'chest 1/2 in narrower', amount: -0.5, share: -0.25, source: 'derived: two halves' },
  ],
};

const across = ({ pattern, amount, beyondLimits, show }: Request): Division => {
  const shares = acrossShares(pattern, 'front', amount);
  return {
    shares,
    findings: [
      ...(shares.length === 0 ? [noFront()] : []),
      ...limitFindings('chest width', shares, beyondLimits, show, 'Take another size.'),
      ...levelNotes(
        'chest width',
        pattern.pieces.filter((p) => shares.some((s) => s.piece === p.id)),
      ),
    ],
    explanation: sharedOut(amount, shares, shares[0]?.place ?? '', show),
  };
};

const byTuck = ({ pattern, amount, beyondLimits, show }: Request): Division => {
  const pieces = bodiceLayers(pattern, ['front']).flatMap((layer) => layer.pieces.filter(hasShoulder));
  const centred = pieces.filter((piece) => centreOf({ piece }) !== undefined);
  const shares = centred.map((piece) => shareAt(piece, 'tuck at the centre front', amount, MOST_IN_TUCK));
  return {
    shares,
    findings: [
      ...(pieces.length === 0 ? [noFront()] : []),
      ...(pieces.length > 0 && centred.length === 0
        ? [
            missing(
              'chest width',
              'the front is drawn whole, and a tuck opens at a centre edge',
              'Alter the half on the fold, or leave the choice out.',
            ),
          ]
        : []),
      ...limitFindings('chest width', shares, beyondLimits, show, 'Take part of it.'),
    ],
    explanation: `${signed(amount, show)} at the centre front, nothing at the armhole`,
  };
};

const noFront = () =>
  missing(
    'chest width',
    'no front with a shoulder that ends at an armhole was found',
    'Name the front and its edges in the pattern sheet.',
  );
