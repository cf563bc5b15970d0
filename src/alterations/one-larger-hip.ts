import { onPiece } from '../paper/garment.ts';
import { outAtHip } from '../paper/skirt-widths.ts';
import { legHeights } from '../paper/trouser-lines.ts';
import { timesRound } from '../pattern/round.ts';
import type { WearerSide } from '../pattern/wearer-side.ts';
import type { Alteration } from './alteration.ts';
import type { Share } from './contract.ts';
import { oneSideFindings, onOneSide, sideOption } from './one-side.ts';
import { outOrIn } from './sayings.ts';
import { edgeShare, limitFindings, MOST_AT_EDGE, sharedOut } from './shares.ts';

/**
 * One hip larger than the other: as hip larger, on the side edges of that side alone; front and back take half each.
 *
 * Listed in USDA Home Economics Research Report 32; construction and limit: common practice.
 */
export const oneLargerHip: Alteration = {
  card: {
    name: 'one larger hip',
    title: 'One hip larger, one hip smaller',
    synonyms: [
      { name: 'one large hip', sign: 1 },
      { name: 'one smaller hip', sign: -1 },
    ],
    plus: 'larger on that side',
    minus: 'smaller on that side',
    needs: [
      'front and back drawn whole, or as left and right (--unfold draws half pieces and pairs so)',
      'side edges',
      'a hip level',
    ],
    options: [sideOption],
    limits: [{ place: 'side edge at the hip', most: MOST_AT_EDGE, source: 'common practice' }],
    moves: ['side edges of one side', 'hem width', 'cutting line', 'notches on that side', 'hip line'],
    keeps: ['the other side', 'waist length', 'mates', 'grain', 'fairness', 'allowances', 'corner angles'],
    additive: true,
    construction:
      'The side edges of one side go out at the hip line, half of the amount each, tapering to the waist above it, parallel below it to the hem.',
    source: 'listed: USDA Home Economics Research Report 32; construction: common practice',
  },
  stage: 'width',
  evenAt: 'waist',
  divide: ({ pattern, amount, options, beyondLimits, show }) => {
    const side = options.side as WearerSide;
    const shares = sharesOn(onOneSide(pattern, side), amount);
    return {
      shares,
      findings: [
        ...oneSideFindings('one larger hip', pattern, side),
        ...limitFindings(
          'one larger hip',
          shares,
          beyondLimits,
          show,
          'Share it over both sides, or take another size.',
        ),
      ],
      explanation: `${sharedOut(amount, shares, 'side edge', show)}, on the wearer's ${side}`,
    };
  },
  alter: (garment, step) =>
    step.shares.reduce(
      (g, s) => onPiece(g, s.piece, (t) => outAtHip(t, s.edge as string, s.amount, legHeights(t)?.knee)),
      garment,
    ),
  says: (share, step, show) =>
    `side edge on the wearer's ${step.options.side} ${outOrIn(share.amount, show)} at the hip, parallel below it to the hem, nothing at the waist`,
  examples: [
    {
      says: 'one hip 1 in larger: ½ in at each of two edges',
      amount: 1,
      share: 0.5,
      source: 'derived: 1 in over two edges',
    },
  ],
};

/** Front and back of one layer of cloth share the whole amount. */
const sharesOn = (places: ReturnType<typeof onOneSide>, amount: number): Share[] =>
  places.map(({ piece, edge }) => {
    const layer = places.filter((p) => p.piece.cut.cloth === piece.cut.cloth);
    const edges = layer.reduce((sum, p) => sum + timesRound(p.piece), 0);
    return edgeShare(
      { piece, edge, counted: timesRound(piece) },
      'side edge at the hip',
      amount / edges,
      piece.cut.cloth,
    );
  });
