import { onPiece } from '../paper/garment.ts';
import { raiseWaistOnOneSide } from '../paper/skirt-shape.ts';
import type { WearerSide } from '../pattern/wearer-side.ts';
import type { Alteration } from './alteration.ts';
import { shareTo } from './length-parts.ts';
import { oneSideFindings, onOneSide, sideOption } from './one-side.ts';
import { raisedOrLowered } from './sayings.ts';
import { inches, limitFindings, signed } from './shares.ts';

/** Customary most (common practice). */
const MOST = inches(1);

/**
 * One hip higher than the other. The piece lies open to its full width; the waist of that side is raised d, nothing at
 * the centre; hip curve and darts go with it, front and back alike.
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
      'front and back drawn whole (half pieces are unfolded with --unfold)',
      'side edges that end at a waist edge',
    ],
    options: [sideOption],
    limits: [{ place: 'waist at the side', most: MOST, source: 'common practice' }],
    moves: ['side edge above the hip, one side', 'waist edge of that side', 'darts of that side', 'cutting line'],
    keeps: ['the other side', 'waist length', 'hip', 'mates', 'grain', 'allowances'],
    additive: true,
    construction:
      'On the unfolded piece the waist of one side is raised, to nothing at the centre; hip curve and darts of that side go with it.',
    source: 'listed: Montana extension bulletin 265, 1950; construction: common practice',
  },
  stage: 'shape',
  evenAt: 'waist',
  divide: ({ pattern, amount, options, beyondLimits, show }) => {
    const side = options.side as WearerSide;
    const shares = onOneSide(pattern, side).flatMap(({ piece, edge }) =>
      shareTo([piece], amount, `waist at the ${side} side`, MOST).map((s) => ({ ...s, edge: edge.id })),
    );
    return {
      shares,
      findings: [
        ...oneSideFindings('one high hip', pattern, side),
        ...limitFindings('one high hip', shares, beyondLimits, show, 'Take part of it, and try the skirt on.'),
      ],
      explanation: `waist ${signed(amount, show)} at the wearer's ${side} side, nothing at the centre, front and back alike`,
    };
  },
  alter: (garment, step) =>
    step.shares.reduce(
      (g, s) => onPiece(g, s.piece, (t) => raiseWaistOnOneSide(t, s.edge as string, s.amount)),
      garment,
    ),
  says: (share, step, show) =>
    `waist ${raisedOrLowered(share.amount, show)} at the wearer's ${step.options.side} side, nothing at the centre`,
  examples: [{ says: 'one hip 1/2 in higher', amount: 0.5, share: 0.5, source: 'common practice' }],
};
