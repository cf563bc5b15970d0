import { longerOverHip } from '../paper/dress-side.ts';
import { onPiece } from '../paper/garment.ts';
import { edgeWithRole } from '../pattern/edges.ts';
import type { Piece } from '../pattern/piece.ts';
import type { WearerSide } from '../pattern/wearer-side.ts';
import type { Alteration } from './alteration.ts';
import { shareTo } from './length-parts.ts';
import { oneSideFindings, onOneSide, sideOption } from './one-side.ts';
import { longerOrShorter, raisedOrLowered } from './sayings.ts';
import { inches, limitFindings, signed } from './shares.ts';

/** Customary most (common practice). */
const MOST = inches(1);

/** Where a dress without a waist seam takes it. */
const OVER_HIP = 'side over the hip';

const hasWaist = (piece: Piece): boolean => edgeWithRole(piece, 'waist').length > 0;

/**
 * One hip higher than the other. The piece lies open to its full width; the waist of that side is raised d, nothing at
 * the centre; hip curve and darts go with it, front and back alike. A dress without a waist seam hangs from the
 * shoulder: its side is made longer by d between waist and hip instead, and the hem comes down by as much on that side.
 *
 * Listed in Montana extension bulletin 265, 1950; construction and limit: common practice.
 */
export const oneHighHip: Alteration = {
  card: {
    name: 'one high hip',
    title: 'One hip higher, one hip lower',
    synonyms: [
      { name: 'uneven hips', sign: 1 },
      { name: 'one low hip', sign: -1 },
    ],
    plus: 'higher: the waist of that side raised',
    minus: 'lower: the waist of that side lowered',
    needs: [
      'front and back drawn whole, or as left and right (--unfold draws half pieces and pairs so)',
      'side edges that end at a waist edge, or run on over a waist level',
    ],
    options: [sideOption],
    limits: [{ place: 'waist at the side, or side over the hip', most: MOST, source: 'common practice' }],
    moves: [
      'side edge above the hip, one side',
      'waist edge of that side',
      'darts of that side',
      'hem of a dress on that side',
      'cutting line',
    ],
    keeps: ['the other side', 'waist length', 'hip', 'mates', 'grain', 'allowances'],
    additive: true,
    construction:
      'On the unfolded piece the waist of one side is raised, to nothing at the centre; hip curve and darts of that side go with it. On a dress without a waist seam that side is made longer between waist and hip, and the hem comes down with it.',
    source: 'listed: Montana extension bulletin 265, 1950; construction: common practice',
  },
  stage: 'shape',
  evenAt: 'waist',
  divide: ({ pattern, amount, options, beyondLimits, show }) => {
    const side = options.side as WearerSide;
    const shares = onOneSide(pattern, side).flatMap(({ piece, edge }) =>
      shareTo([piece], amount, `${hasWaist(piece) ? 'waist' : OVER_HIP} at the ${side} side`, MOST).map((s) => ({
        ...s,
        edge: edge.id,
      })),
    );
    return {
      shares,
      findings: [
        ...oneSideFindings('one high hip', pattern, side),
        ...limitFindings('one high hip', shares, beyondLimits, show, 'Take part of it, and try the skirt on.'),
      ],
      explanation: `${signed(amount, show)} between hip and waist at the wearer's ${side} side, nothing at the centre, front and back alike`,
    };
  },
  alter: (garment, step) =>
    step.shares.reduce((g, s) => onPiece(g, s.piece, (t) => longerOverHip(t, s.edge as string, s.amount)), garment),
  says: (share, step, show) => {
    const where = `at the wearer's ${step.options.side} side, nothing at the centre`;
    return share.place.startsWith(OVER_HIP)
      ? `${longerOrShorter(share.amount, show)} between waist and hip ${where}; the hem comes ${share.amount > 0 ? 'down' : 'up'} with it`
      : `waist ${raisedOrLowered(share.amount, show)} ${where}`;
  },
  examples: [{ says: 'one hip 1/2 in higher', amount: 0.5, share: 0.5, source: 'common practice' }],
};
