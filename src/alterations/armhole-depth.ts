import { deepenArmhole, reachesUnderarm } from '../paper/armhole-depth.ts';
import { onPiece } from '../paper/garment.ts';
import { lowerUnderarm } from '../paper/sleeve-underarm.ts';
import { type Tracing, trace } from '../paper/tracing.ts';
import { isPartOf } from '../pattern/parts.ts';
import type { Alteration, Division, Request } from './alteration.ts';
import { bodiceLayers, hasShoulderAtArmhole, levelNotes, shareAt } from './bodice-parts.ts';
import { sleeves } from './garment-parts.ts';
import { raisedOrLowered } from './sayings.ts';
import { inches, limitFindings, missing, signed } from './shares.ts';

/** Customary most (common practice). */
const MOST = inches(1 / 2);

/**
 * Armhole deeper or shallower, front and back alike: the underarm is moved d down (up) along the side seam, the armhole
 * redrawn from the level of its notches to the new underarm, where it meets the side at the angle it had; above that
 * level it stays. The sleeve's underarm is moved alike, so that armhole and cap match; what its ease then lacks, its
 * cap takes when it follows the armhole. Home Economics Research Report 32 lists it; construction and limit: common
 * practice.
 */
export const armholeDepth: Alteration = {
  card: {
    name: 'armhole depth',
    title: 'Armhole deeper, armhole shallower',
    synonyms: [
      { name: 'tight armhole', sign: 1 },
      { name: 'low armhole', sign: 1 },
      { name: 'high armhole', sign: -1 },
    ],
    plus: 'deeper',
    minus: 'shallower',
    needs: ['fronts and backs with an armhole that ends at a side seam', 'a chest or blade level, or armhole notches'],
    measurement: 'armhole depth',
    options: [],
    limits: [{ place: 'underarm', most: MOST, source: 'common practice' }],
    moves: [
      'armhole below its notches',
      'upper end of the side seam',
      'underarm level',
      'cutting line',
      'sleeve underarm',
    ],
    keeps: ['shoulder length', 'back and chest width', 'mates', 'cap ease', 'grain', 'fairness', 'allowances'],
    additive: false,
    construction:
      'Move the underarm down or up the side seam; redraw the armhole from its notches to there; the underarm of the sleeve alike.',
    source: 'common practice',
  },
  stage: 'shape',
  evenAt: 'waist',
  divide: (request) => divide(request),
  alter: (garment, step) =>
    step.shares.reduce((g, { piece, amount }) => {
      const onPaper = (t: Tracing): Tracing =>
        isPartOf(t.piece, 'sleeve') ? lowerUnderarm(t, amount) : deepenArmhole(t, amount);
      return onPiece(g, piece, onPaper);
    }, garment),
  says: (share, _step, show) =>
    share.place === 'underarm'
      ? `underarm ${raisedOrLowered(-share.amount, show)} along the side seam, the armhole redrawn from its notches`
      : `underarm of the sleeve ${raisedOrLowered(-share.amount, show)} with the armhole`,
  examples: [
    { says: 'armhole 3/8 in deeper', amount: 0.375, share: 0.375, source: 'common practice' },
    { says: 'armhole 1/4 in shallower', amount: -0.25, share: -0.25, source: 'common practice' },
  ],
};

const divide = ({ pattern, amount, beyondLimits, show }: Request): Division => {
  const bodies = bodiceLayers(pattern).flatMap((l) => l.pieces.filter((p) => reachesUnderarm(trace(p))));
  const arms = bodies.length === 0 ? [] : sleeves(pattern).flatMap((s) => s.pieces);
  return {
    shares: [
      ...bodies.map((p) => shareAt(p, 'underarm', amount, MOST)),
      ...arms.map((p) => shareAt(p, 'underarm of the sleeve', amount, MOST)),
    ],
    findings: [
      ...(bodies.length === 0
        ? [
            missing(
              'armhole depth',
              'no armhole that ends at a side seam was found',
              'Name the edges of front and back in the pattern sheet.',
            ),
          ]
        : []),
      ...levelNotes('armhole depth', bodies.filter(hasShoulderAtArmhole)),
      ...limitFindings(
        'armhole depth',
        bodies.map((p) => shareAt(p, 'underarm', amount, MOST)),
        beyondLimits,
        show,
        'Take part of it, and try the garment on with its sleeve.',
      ),
    ],
    explanation: `underarm ${signed(-amount, show)}, front, back and sleeve alike`,
  };
};
