import { widenShoulders } from '../paper/bodice-shoulders.ts';
import { onPiece } from '../paper/garment.ts';
import type { Alteration, Division, Request } from './alteration.ts';
import { bodiceLayers, capNote, hasShoulderAtArmhole, levelNotes, shareAt } from './bodice-parts.ts';
import { longerOrShorter } from './sayings.ts';
import { inches, limitFindings, missing, signed } from './shares.ts';

/** Customary most (common practice). */
const MOST = inches(1 / 2);

/**
 * Broad or narrow shoulders, front and back alike: the part of the shoulder next to the armhole is spread (overlapped)
 * from mid-shoulder down to notch level, hinged at the armhole there, and the shoulder seam is redrawn. The shoulder
 * comes to be longer by just the amount; the armhole keeps its length, and below the notch its place. Between hinge and
 * tip it is drawn through, turned at the tip as the shoulder is, so that the two shoulders laid together make no point.
 *
 * On panels it is the panel that has the armhole which is altered.
 *
 * A shoulder ¼ in wider takes ¼ in off the top of the sleeve cap: Hertzer, Garment Cutting, p. 78. The rest: common
 * practice.
 */
export const shoulderWidth: Alteration = {
  card: {
    name: 'shoulder width',
    title: 'Broad shoulders, narrow shoulders',
    synonyms: [
      { name: 'broad shoulders', sign: 1 },
      { name: 'wide shoulders', sign: 1 },
      { name: 'narrow shoulders', sign: -1 },
    ],
    plus: 'broad',
    minus: 'narrow',
    needs: ['fronts and backs with a shoulder that ends at an armhole', 'a chest or blade level, or an armhole notch'],
    measurement: 'shoulder length',
    options: [],
    limits: [{ place: 'shoulder', most: MOST, source: 'common practice' }],
    moves: ['shoulder', 'armhole above the notch', 'neck where it meets the shoulder', 'cutting line'],
    keeps: ['armhole length', 'neck length', 'mates', 'grain', 'fairness', 'allowances', 'corner angles'],
    additive: false,
    construction:
      'From mid-shoulder down to notch level, then to the armhole, hinged there: spread or overlap, and redraw the shoulder from neck to tip, front and back alike.',
    source: 'sleeve cap: Hertzer, Garment Cutting, p. 78; the rest: common practice',
  },
  stage: 'width',
  evenAt: 'waist',
  divide: (request) => divide(request),
  alter: (garment, step) =>
    step.shares.reduce((g, s) => onPiece(g, s.piece, (t) => widenShoulders(t, s.amount)), garment),
  says: (share, _step, show) =>
    `shoulder ${longerOrShorter(share.amount, show)} at the armhole, to nothing at the notch; the armhole keeps its length`,
  examples: [
    { says: 'shoulders 1/4 in broader, front and back', amount: 0.25, share: 0.25, source: 'Hertzer, p. 78' },
    { says: 'shoulders 1/2 in narrower', amount: -0.5, share: -0.5, source: 'common practice' },
    { says: 'past the limit: 3/4 in', amount: 0.75, share: 0.75, source: 'common practice' },
  ],
};

const divide = ({ pattern, amount, beyondLimits, show }: Request): Division => {
  const pieces = bodiceLayers(pattern).flatMap((layer) => layer.pieces.filter(hasShoulderAtArmhole));
  const shares = pieces.map((piece) => shareAt(piece, 'shoulder', amount, MOST));
  return {
    shares,
    findings: [
      ...(shares.length === 0
        ? [
            missing(
              'shoulder width',
              'no front or back with a shoulder that ends at an armhole was found',
              'Name the pieces and their edges in the pattern sheet.',
            ),
          ]
        : []),
      ...limitFindings('shoulder width', shares, beyondLimits, show, 'Take another size.'),
      ...levelNotes('shoulder width', pieces),
      ...capNote(pattern, 'shoulder width', amount, show),
    ],
    explanation: `${signed(amount, show)} at each shoulder, front and back alike`,
  };
};
