import type { Finding } from '../finding.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Edge, Piece } from '../pattern/piece.ts';
import { coversHip } from '../pattern/round.ts';
import { handOf, isPair, sideOfWearer, type WearerSide } from '../pattern/wearer-side.ts';
import type { AlterationOption } from './contract.ts';
import { missing } from './shares.ts';

/* What is needed on one side of the body only. The piece has to lie open: a half piece would get it twice. */

export const sideOption: AlterationOption = {
  name: 'side',
  means: "the wearer's side that differs",
  values: ['left', 'right'],
  default: 'left',
};

export interface OneSide {
  readonly piece: Piece;
  readonly edge: Edge;
}

/** Fronts and backs over the hip, each with the side seam on the side asked for. */
export const onOneSide = (pattern: Pattern, side: WearerSide): OneSide[] =>
  hipPieces(pattern).flatMap((piece) => {
    const edge = sideOfWearer(piece, side);
    return edge ? [{ piece, edge }] : [];
  });

const hipPieces = (pattern: Pattern): Piece[] =>
  pattern.pieces.filter((p) => coversHip(p) && p.edges.some((e) => e.role === 'side'));

/** Pieces that cannot be altered on one side as they lie, or that none was found at all. */
export const oneSideFindings = (alteration: string, pattern: Pattern, side: WearerSide): Finding[] => {
  const pieces = hipPieces(pattern);
  if (pieces.length === 0)
    return [
      missing(
        alteration,
        'no piece that covers the hip and has a side edge was found',
        'Name the pieces and their side edges in the pattern sheet.',
      ),
    ];
  return pieces.filter((p) => !sideOfWearer(p, side) && handOf(p) === undefined).map((p) => notOpen(alteration, p));
};

const notOpen = (alteration: string, piece: Piece): Finding => ({
  code: 'plan-needs-unfolding',
  level: 'error',
  where: { alteration, piece: piece.id },
  message: `${alteration}: ${piece.name || piece.id} is ${piece.half ? 'half of what is cut' : 'cut as a pair'}, and one side is to differ from the other.`,
  try:
    piece.half || isPair(piece)
      ? 'Unfold it first with --unfold.'
      : 'Draw the left and the right piece each by itself, and name them left and right.',
});
