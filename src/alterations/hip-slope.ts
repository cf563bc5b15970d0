import { onPiece } from '../paper/garment.ts';
import { raiseWaistAtSide } from '../paper/skirt-shape.ts';
import { edgeWithRole } from '../pattern/edges.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Alteration } from './alteration.ts';
import { wholeToEveryPiece } from './length-parts.ts';
import { raisedOrLowered } from './sayings.ts';
import { hipRounds, inches, limitFindings, missing, signed } from './shares.ts';

/** Customary most (common practice). */
const MOST = inches(1 / 2);

/**
 * Square or sloping hip: the side waist is raised (lowered) d, to nothing at the centre; the hip curve moves with it,
 * front and back alike. Common practice.
 */
export const hipSlope: Alteration = {
  card: {
    name: 'hip slope',
    title: 'Square hip, sloping hip',
    synonyms: [
      { name: 'square hip', sign: 1 },
      { name: 'sloping hip', sign: -1 },
    ],
    plus: 'square: waist raised at the side',
    minus: 'sloping: waist lowered at the side',
    needs: ['side edges that end at a waist edge'],
    options: [],
    limits: [{ place: 'side waist', most: MOST, source: 'common practice' }],
    moves: ['side edges above the hip', 'waist edge', 'cutting line'],
    keeps: ['waist length', 'hip', 'mates', 'grain', 'allowances'],
    additive: true,
    construction: 'The waist is raised at the side, to nothing at the centre; the hip curve moves with it.',
    source: 'common practice',
  },
  stage: 'shape',
  evenAt: 'waist',
  divide: ({ pattern, amount, beyondLimits, show }) => {
    // The seams of gores are not side seams: which of them lie at the side, the paper does not say.
    const shares = wholeToEveryPiece(hipRounds(pattern), amount, 'side waist', MOST).filter((s) =>
      hasSide(pattern, s.piece),
    );
    const none = shares.length === 0;
    return {
      shares,
      findings: [
        ...(none
          ? [
              missing(
                'hip slope',
                'no skirt or trousers with a waist edge and a side edge were found',
                'Name the side edges in the pattern sheet.',
              ),
            ]
          : []),
        ...limitFindings('hip slope', shares, beyondLimits, show, 'Take part of it, and try the skirt on.'),
      ],
      explanation: `side waist ${signed(amount, show)} on every piece, nothing at the centre`,
    };
  },
  alter: (garment, step) =>
    step.shares.reduce((g, s) => onPiece(g, s.piece, (t) => raiseWaistAtSide(t, s.amount)), garment),
  says: (share, _step, show) => `waist ${raisedOrLowered(share.amount, show)} at the side, nothing at the centre`,
  examples: [{ says: 'square hip 1/4 in', amount: 0.25, share: 0.25, source: 'common practice' }],
};

const hasSide = (pattern: Pattern, id: string): boolean =>
  pattern.pieces.some((p) => p.id === id && edgeWithRole(p, 'side').length > 0 && edgeWithRole(p, 'waist').length > 0);
