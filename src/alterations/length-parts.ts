import { cloths, type Pattern } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import { timesRound } from '../pattern/round.ts';
import type { Share } from './contract.ts';
import { bodyPieces } from './shares.ts';

/** Every piece that goes round the body takes the whole of a length change, each layer of cloth alike. */
export const wholeToEveryPiece = (pattern: Pattern, amount: number, place: string, most: number): Share[] =>
  cloths(pattern).flatMap((cloth) =>
    bodyPieces(pattern, cloth).map((piece) => ({
      piece: piece.id,
      place,
      amount,
      most,
      cloth,
      counted: timesRound(piece),
    })),
  );

export const backPieces = (pattern: Pattern): Piece[] => pattern.pieces.filter((p) => p.part === 'skirt back');
export const frontPieces = (pattern: Pattern): Piece[] => pattern.pieces.filter((p) => p.part === 'skirt front');

export const shareTo = (pieces: readonly Piece[], amount: number, place: string, most: number): Share[] =>
  pieces.map((piece) => ({
    piece: piece.id,
    place,
    amount,
    most,
    cloth: piece.cut.cloth,
    counted: timesRound(piece),
  }));
