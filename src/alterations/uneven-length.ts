import type { Finding } from '../finding.ts';
import { onPiece } from '../paper/garment.ts';
import { letHemDownAt } from '../paper/skirt-lengths.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Alteration, Request } from './alteration.ts';
import { hangsAt, hemRounds, shareTo } from './length-parts.ts';
import { takenOrLet } from './sayings.ts';
import { inches, limitFindings, missing, signed } from './shares.ts';

/** Most at one seam: ours; past it half a hem is too short to taper over without a point. */
const MOST = inches(1);

/**
 * Uneven length: one seam longer than another. The change is marked on that seam, tapering to nothing from about the
 * middle of the hem, the old hem curve repeated. Common practice.
 */
export const unevenLength: Alteration = {
  card: {
    name: 'uneven length',
    title: 'Longer or shorter at one seam',
    synonyms: [
      { name: 'longer at one seam', sign: 1 },
      { name: 'shorter at one seam', sign: -1 },
    ],
    plus: 'longer',
    minus: 'shorter',
    needs: ['a hem edge'],
    options: [
      {
        name: 'at',
        means: 'where the hem is let down or taken up',
        values: ['side', 'front', 'back'],
        default: 'side',
      },
    ],
    limits: [{ place: 'hem at one seam', most: MOST, source: 'ours: past it the hem shows a point' }],
    moves: ['half of the hem', 'lower end of that seam', 'hem allowance'],
    keeps: ['waist', 'hip', 'mates', 'grain', 'allowances'],
    additive: false,
    construction: 'The change is marked on one seam and tapers to nothing from the middle of the hem.',
    source: 'common practice',
  },
  stage: 'length',
  evenAt: 'hem',
  divide: (request) => {
    const pieces = piecesAt(request.pattern, request.options);
    const shares = shareTo(pieces, request.amount, `hem at the ${request.options.at}`, MOST);
    return {
      shares,
      findings: [
        ...limitFindings(
          'uneven length',
          shares,
          request.beyondLimits,
          request.show,
          'Share it with the other seams, or give part of it as length at the hem.',
        ),
        ...(pieces.length === 0 ? [nothingToTake(request)] : []),
      ],
      explanation: `${signed(request.amount, request.show)} at the ${request.options.at}, nothing from the middle of the hem on`,
    };
  },
  alter: (garment, step) =>
    step.shares.reduce(
      (g, s) => onPiece(g, s.piece, (t) => letHemDownAt(t, s.amount, step.options.at === 'side' ? 'side' : 'centre')),
      garment,
    ),
  says: (share, step, show) =>
    `hem ${takenOrLet(share.amount, show)} at the ${step.options.at}, nothing from its middle on`,
  examples: [{ says: 'longer by 1/2 in at the side', amount: 0.5, share: 0.5, source: 'common practice' }],
};

const piecesAt = (pattern: Pattern, { at }: Request['options']): Piece[] =>
  hemRounds(pattern).flatMap(({ tier, pieces }) => {
    const hemmed = pieces.filter((p) => p.edges.some((e) => e.role === 'hem'));
    if (at !== 'front' && at !== 'back') return hemmed;
    // A leg has its inseam where a skirt has its centre: let down on one piece, that would not match the other.
    return tier === 'trousers' ? [] : hemmed.filter((p) => hangsAt(p, at));
  });

const nothingToTake = ({ pattern, options }: Request): Finding =>
  hemRounds(pattern).some((r) => r.tier === 'trousers')
    ? missing(
        'uneven length',
        `trouser legs have no seam at the ${options.at}; let down there, the inseam of one piece would not match the other`,
        'Choose “at: side”, or alter the length below the knee.',
      )
    : missing(
        'uneven length',
        `no piece with a hem at the ${options.at} was found`,
        'Name the pieces in the pattern sheet.',
      );
