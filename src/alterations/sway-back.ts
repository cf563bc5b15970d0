import { onPiece } from '../paper/garment.ts';
import { raiseWaistAtCentre } from '../paper/skirt-shape.ts';
import type { Alteration } from './alteration.ts';
import { backPieces, shareTo } from './length-parts.ts';
import { raisedOrLowered } from './sayings.ts';
import { inches, limitFindings, missing } from './shares.ts';

/** Customary most (common practice). */
const MOST = inches(5 / 8);

/**
 * Sway back: the back waist is lowered d at the centre, to nothing at the side, meeting centre and side at the angles
 * it had; the darts are drawn again from their tips to the lowered waist. A negative amount raises it (erect back).
 * Common practice.
 */
export const swayBack: Alteration = {
  card: {
    name: 'sway back',
    title: 'Sway back',
    synonyms: [{ name: 'swayback', sign: 1 }],
    plus: 'waist lowered at the centre back',
    minus: 'waist raised at the centre back',
    needs: ['a back of a skirt or of trousers with a waist edge'],
    options: [],
    limits: [{ place: 'centre back waist', most: MOST, source: 'common practice' }],
    moves: ['back waist', 'back dart legs', 'cutting line', 'centre back length'],
    keeps: ['waist length', 'side length', 'grain', 'mates', 'allowances', 'corner angles'],
    additive: true,
    construction: 'The back waist is lowered at the centre, to nothing at the side; darts are drawn again.',
    source: 'common practice',
  },
  stage: 'shape',
  evenAt: 'waist',
  divide: ({ pattern, amount, beyondLimits, show }) => {
    const backs = backPieces(pattern);
    const shares = shareTo(backs, amount, 'centre back waist', MOST);
    return {
      shares,
      findings: [
        ...(backs.length === 0
          ? [
              missing(
                'sway back',
                'no back of a skirt or of trousers was found',
                'Name the back in the pattern sheet; for a bodice or dress ask for bodice sway back.',
              ),
            ]
          : []),
        ...limitFindings('sway back', shares, beyondLimits, show, 'Take part of it, and try the skirt on.'),
      ],
      explanation: `waist ${raisedOrLowered(-amount, show)} at the centre back, nothing at the side`,
    };
  },
  alter: (garment, step) =>
    step.shares.reduce((g, s) => onPiece(g, s.piece, (t) => raiseWaistAtCentre(t, -s.amount)), garment),
  says: (share, _step, show) => `waist ${raisedOrLowered(-share.amount, show)} at the centre back, nothing at the side`,
  examples: [{ says: 'sway back 3/8 in', amount: 0.375, share: 0.375, source: 'common practice' }],
};
