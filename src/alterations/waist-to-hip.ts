import { onPiece } from '../paper/garment.ts';
import { lengthenAboveHip, letHemDown } from '../paper/skirt-lengths.ts';
import { lowerHip } from '../paper/trouser-lengths.ts';
import { legHeights } from '../paper/trouser-lines.ts';
import type { Alteration } from './alteration.ts';
import { tiersCalled, wholeToEveryPiece } from './length-parts.ts';
import { spreadOrTucked, takenOrLet } from './sayings.ts';
import { hipRounds, inches, limitFindings, missing, signed } from './shares.ts';

/** Customary most (common practice). */
const MOST = inches(1);

const TROUSER_LINE = 'line between waist and hip of the trousers';

/**
 * Waist to hip longer or shorter: the wearer's hip lies lower (higher) than the pattern's. Part and spread, or fold,
 * on a line between waist and hip, all pieces alike; hip level, its notches and marks move along. The whole length is
 * kept at the hem unless asked; of trousers between hip and crotch, so that the crotch depth stays. Common practice.
 */
export const waistToHip: Alteration = {
  card: {
    name: 'waist to hip',
    title: 'Waist to hip longer, waist to hip shorter',
    synonyms: [
      { name: 'low hip', sign: 1 },
      { name: 'high hip', sign: -1 },
    ],
    plus: 'longer',
    minus: 'shorter',
    needs: ['pieces with a waist (of a dress its level), a side edge and a hem', 'a hip level'],
    measurement: 'waist to hip',
    options: [
      {
        name: 'whole length',
        means:
          'keep the whole length by taking the change off at the hem (of trousers between hip and crotch), or let it change',
        values: ['keep', 'change'],
        default: 'keep',
      },
    ],
    limits: [{ place: 'line between waist and hip', most: MOST, source: 'common practice' }],
    moves: ['all below the line', 'side edges', 'hip level and its marks', 'hem'],
    keeps: ['waist length', 'hip', 'mates', 'grain', 'allowances'],
    additive: false,
    construction:
      'Part and spread, or fold, on a level line between waist and hip; the hem takes it off again, of trousers the stretch between hip and crotch.',
    source: 'common practice',
  },
  stage: 'length',
  evenAt: 'waist',
  divide: ({ pattern, amount, beyondLimits, show, options }) => {
    const shares = hipRounds(pattern).flatMap((round) =>
      wholeToEveryPiece([round], amount, round.tier === 'trousers' ? TROUSER_LINE : 'line between waist and hip', MOST),
    );
    const offAt = [...new Set(shares.map((s) => (s.place === TROUSER_LINE ? 'between hip and crotch' : 'at the hem')))];
    return {
      shares,
      findings: [
        ...(shares.length === 0
          ? [
              missing(
                'waist to hip',
                'no piece with a waist and a side edge was found',
                'Name the edges in the pattern sheet.',
              ),
            ]
          : []),
        ...limitFindings('waist to hip', shares, beyondLimits, show, 'Take another size.'),
      ],
      explanation: `${signed(amount, show)} between waist and hip on every piece${options['whole length'] === 'keep' ? `, taken off ${offAt.join(', ')}` : ''}${tiersCalled(pattern, hipRounds(pattern))}`,
    };
  },
  alter: (garment, step) =>
    step.shares.reduce(
      (g, s) =>
        onPiece(g, s.piece, (t) => {
          if (step.options['whole length'] !== 'keep') return lengthenAboveHip(t, s.amount);
          return legHeights(t) ? lowerHip(t, s.amount) : letHemDown(lengthenAboveHip(t, s.amount), -s.amount);
        }),
      garment,
    ),
  says: (share, step, show) => {
    const longer = `${spreadOrTucked(share.amount, show)} between waist and hip`;
    if (step.options['whole length'] !== 'keep') return longer;
    return share.place === TROUSER_LINE
      ? `${longer}, ${spreadOrTucked(-share.amount, show)} between hip and crotch`
      : `${longer}, ${takenOrLet(-share.amount, show)} at the hem`;
  },
  examples: [{ says: 'hip 1/2 in lower', amount: 0.5, share: 0.5, source: 'common practice' }],
};
