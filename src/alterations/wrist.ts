import { onPiece } from '../paper/garment.ts';
import { wristOut } from '../paper/sleeve-widths.ts';
import { edgeWithRole } from '../pattern/edges.ts';
import type { Alteration } from './alteration.ts';
import { outOrIn } from './sayings.ts';
import { inches, limitFindings, sharedOut } from './shares.ts';
import { overSleeveSeams, sleevesLack } from './sleeve-shares.ts';

/** Customary most at one edge (common practice). */
const MOST = inches(1 / 2);

/**
 * Wrist larger or smaller: each sleeve seam goes out (in) by its part at the wrist, half the change on a sleeve in one
 * piece and a quarter on one in two, to nothing at the elbow (halfway down where no elbow is marked). The wrist edge
 * gains just the change, and meets the seams at the angles it had. Common practice.
 */
export const wrist: Alteration = {
  card: {
    name: 'wrist',
    title: 'Larger wrist, smaller wrist',
    synonyms: [
      { name: 'larger wrist', sign: 1 },
      { name: 'wide wrist', sign: 1 },
      { name: 'smaller wrist', sign: -1 },
      { name: 'narrow wrist', sign: -1 },
    ],
    plus: 'larger',
    minus: 'smaller',
    needs: ['a sleeve with sleeve seams and a wrist edge', 'an elbow level (halfway down where none is marked)'],
    measurement: 'wrist girth',
    options: [],
    limits: [{ place: 'sleeve seam at the wrist', most: MOST, source: 'common practice' }],
    moves: ['sleeve seams below the elbow', 'wrist', 'cutting line'],
    keeps: ['cap', 'biceps', 'elbow', 'mates', 'grain', 'allowances', 'corner angles'],
    additive: true,
    construction: 'Each sleeve seam goes out by its part at the wrist, to nothing at the elbow; the cuff alike.',
    source: 'common practice',
  },
  stage: 'width',
  evenAt: 'waist',
  divide: ({ pattern, amount, beyondLimits, show }) => {
    const shares = overSleeveSeams(pattern, amount, 'sleeve seam at the wrist', MOST);
    return {
      shares,
      findings: [
        ...sleevesLack(pattern, 'wrist', ['sleeve seam', 'wrist']),
        ...limitFindings('wrist', shares, beyondLimits, show, 'Take the rest in the pleats or the cuff.'),
      ],
      explanation: sharedOut(amount, shares, 'sleeve seam', show),
    };
  },
  alter: (garment, step) => {
    const pieces = garment.pattern.pieces.filter((p) => edgeWithRole(p, 'wrist').length > 0);
    return pieces.reduce((g, { id }) => {
      const change = step.shares.filter((s) => s.piece === id).reduce((sum, s) => sum + s.amount, 0);
      return change === 0 ? g : onPiece(g, id, (t) => wristOut(t, change));
    }, garment);
  },
  says: (share, _step, show) => `sleeve seam ${outOrIn(share.amount, show)} at the wrist, nothing at the elbow`,
  examples: [
    { says: 'wrist 1 in larger: ½ in at each of two edges', amount: 1, share: 0.5, source: 'common practice' },
    { says: 'wrist 1/2 in smaller: ¼ in off each', amount: -0.5, share: -0.25, source: 'common practice' },
  ],
};
