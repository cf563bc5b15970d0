import type { Finding } from '../finding.ts';
import { onPiece, seamEased, tracingOf } from '../paper/garment.ts';
import { elbowDart, elbowSeams, openElbow } from '../paper/sleeve-elbow.ts';
import { type Tracing, trace } from '../paper/tracing.ts';
import { edgeWithRole } from '../pattern/edges.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Alteration } from './alteration.ts';
import { sleeves } from './garment-parts.ts';
import { spreadOrLapped } from './sayings.ts';
import { inches, limitFindings, missing, signed } from './shares.ts';
import { sleevesLack, wholeToEverySleeve } from './sleeve-shares.ts';

/** Customary most at the back of the elbow (common practice). */
const MOST = inches(3 / 4);

/**
 * Elbow and forearm: more (less) room over the bent elbow. The sleeve is slashed at the elbow from the back seam to,
 * not through, the seam line of the front, which is the hinge, and the forearm swung until the back gapes (overlaps) by
 * the amount: 2·asin(d / 2r) at r from the hinge. The upper arm keeps the grain. An elbow dart takes what opens and is
 * larger by it; without one the back seam is longer by it and is eased over the elbow. The seams at the back of a
 * sleeve in two pieces both gain it. Listed in U.S.D.A. Home Economics Research Report 32; common practice.
 */
export const elbow: Alteration = {
  card: {
    name: 'elbow',
    title: 'Full elbow and forearm, flat elbow',
    synonyms: [
      { name: 'full elbow', sign: 1 },
      { name: 'large elbow', sign: 1 },
      { name: 'full forearm', sign: 1 },
      { name: 'flat elbow', sign: -1 },
    ],
    plus: 'more room over the elbow',
    minus: 'less room over the elbow',
    needs: [
      'a sleeve with sleeve seams, drawn whole',
      'an elbow level',
      'which seam is at the back (double notch, elbow dart)',
    ],
    options: [],
    limits: [{ place: 'slash at the back of the elbow', most: MOST, source: 'common practice' }],
    moves: ['forearm', 'back seam', 'front seam beside the hinge', 'elbow dart', 'wrist'],
    keeps: [
      'cap',
      'biceps',
      'wrist',
      'front seam length',
      'grain',
      'allowances',
      'mates but for the ease over the elbow',
    ],
    additive: false,
    construction:
      'Slash at the elbow from the back seam to the front seam line, hinge there, and open the back; the elbow dart or the ease takes it.',
    source: 'U.S.D.A. Home Economics Research Report 32 lists it; construction and limit: common practice',
  },
  stage: 'shape',
  evenAt: 'waist',
  divide: ({ pattern, amount, beyondLimits, show }) => {
    const shares = wholeToEverySleeve(pattern, amount, 'slash at the back of the elbow', MOST);
    return {
      shares,
      findings: [
        ...sleevesLack(pattern, 'elbow', ['cap', 'sleeve seam']),
        ...sleeves(pattern).flatMap(({ pieces }) => pieces.flatMap((p) => lacking(pattern, p))),
        ...limitFindings(
          'elbow',
          shares,
          beyondLimits,
          show,
          'Take part of it, and try the sleeve on with the arm bent.',
        ),
      ],
      explanation: `back of the elbow ${signed(amount, show)}, nothing at the front seam`,
    };
  },
  alter: (garment, step) =>
    step.shares.reduce((g, share) => {
      const seams = elbowSeams(g.pattern, tracingOf(g, share.piece));
      const before = tracingOf(g, share.piece);
      if (!seams || !before.levels.has('elbow')) return g;
      const opened = onPiece(g, share.piece, (t) => openElbow(t, seams, share.amount));
      return isEased(before, seams.back) ? seamEased(opened, share.piece, seams.back, share.amount) : opened;
    }, garment),
  says: (share, _step, show) =>
    `slashed at the elbow, hinged at the front seam, ${spreadOrLapped(share.amount, show)} at the back`,
  examples: [
    { says: 'full elbow by 1/2 in', amount: 0.5, share: 0.5, source: 'common practice' },
    { says: 'flat by 1/4 in', amount: -0.25, share: -0.25, source: 'common practice' },
  ],
};

/** Without a dart the back seam of a sleeve in one piece comes out longer than the front. */
const isEased = (tracing: Tracing, back: string): boolean =>
  tracing.piece.part === 'sleeve' && elbowDart(tracing, back) === undefined;

const lacking = (pattern: Pattern, piece: Piece): Finding[] => {
  const called = piece.name || piece.id;
  if (edgeWithRole(piece, 'cap').length === 0 || edgeWithRole(piece, 'sleeve seam').length === 0) return [];
  if (piece.half) {
    return [
      missing(
        'elbow',
        `${called} is drawn on the fold, and front and back differ`,
        'Open the piece out: draw it whole.',
      ),
    ];
  }
  if (!piece.levels.some((l) => l.name === 'elbow')) {
    const sheet = `Draw the elbow line, or give it under “levels” of ${piece.id} in the pattern sheet.`;
    return [missing('elbow', `${called} has no elbow level`, sheet)];
  }
  return elbowSeams(pattern, trace(piece))
    ? []
    : [
        missing(
          'elbow',
          `nothing tells which seam of ${called} is at the back`,
          'Mark the back of the cap with a double notch.',
        ),
      ];
};
