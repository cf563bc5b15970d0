import { edgeWithRole } from '../pattern/edges.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import { type Round, rounds, timesRound } from '../pattern/round.ts';
import type { Share } from './contract.ts';

/** The pieces of some rounds take the whole of a length change, each layer of cloth alike. */
export const wholeToEveryPiece = (among: readonly Round[], amount: number, place: string, most: number): Share[] =>
  among.flatMap(({ pieces }) => shareTo(pieces, amount, place, most));

/** Rounds of pieces that hang to a hem: of a bodice with a skirt sewn to it, the skirt alone. */
export const hemRounds = (pattern: Pattern): Round[] =>
  rounds(pattern).filter(({ pieces }) => pieces.some((p) => edgeWithRole(p, 'hem').length > 0));

/** Skirts and dresses: a bodice is lengthened at its waist, trousers above and below the knee. */
export const lineRounds = (pattern: Pattern): Round[] =>
  hemRounds(pattern).filter((r) => r.tier === 'skirt' || r.tier === 'dress');

/** Which part of the garment is meant, where it has several: ', skirt only'. */
export const tiersCalled = (pattern: Pattern, among: readonly Round[]): string => {
  const own = [...new Set(among.map((r) => r.tier))];
  const all = new Set(rounds(pattern).map((r) => r.tier));
  return own.length === 0 || own.length === all.size ? '' : `, ${own.join(' and ')} only`;
};

/** Backs and fronts that hang from the waist: of skirts and trousers. */
export const backPieces = (pattern: Pattern): Piece[] =>
  pattern.pieces.filter((p) => p.part === 'skirt back' || p.part === 'trouser back');
export const frontPieces = (pattern: Pattern): Piece[] =>
  pattern.pieces.filter((p) => p.part === 'skirt front' || p.part === 'trouser front');

/** Whatever hangs at the front (the back) of the body, panels and all. */
export const hangsAt = (piece: Piece, place: 'front' | 'back'): boolean => piece.part.endsWith(place);

export const shareTo = (pieces: readonly Piece[], amount: number, place: string, most: number): Share[] =>
  pieces.map((piece) => ({
    piece: piece.id,
    place,
    amount,
    most,
    cloth: piece.cut.cloth,
    counted: timesRound(piece),
  }));
