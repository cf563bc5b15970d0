import type { Pattern } from './pattern.ts';
import type { Cloth, PartName, Piece } from './piece.ts';

/* Which part of the garment a piece is, whatever it is made of: one pattern piece or several panels. */

export type Place = 'front' | 'back' | 'sleeve' | 'trouser front' | 'trouser back';

const PARTS: Readonly<Record<Place, readonly PartName[]>> = {
  front: ['bodice front', 'bodice side front', 'dress front', 'dress side front'],
  back: ['bodice back', 'bodice side back', 'dress back', 'dress side back'],
  sleeve: ['sleeve', 'upper sleeve', 'under sleeve'],
  'trouser front': ['trouser front'],
  'trouser back': ['trouser back'],
};

export const isPartOf = (piece: Piece, place: Place): boolean => PARTS[place].includes(piece.part);

/** The pieces that make up one place in one layer of cloth. */
export interface PlaceInCloth {
  readonly place: Place;
  readonly cloth: Cloth;
  readonly pieces: readonly Piece[];
}

/** The pieces of a place, layer by layer, in the order of the pattern. */
export const layersOf = (pattern: Pattern, place: Place): readonly PlaceInCloth[] => {
  const pieces = pattern.pieces.filter((p) => isPartOf(p, place));
  const layers = [...new Set(pieces.map((p) => p.cut.cloth))];
  return layers.map((cloth) => ({ place, cloth, pieces: pieces.filter((p) => p.cut.cloth === cloth) }));
};

/** How often the paper occurs on one arm or leg: pieces for both limbs are cut in pairs. */
export const timesOnLimb = (piece: Pick<Piece, 'half' | 'cut'>): number =>
  (piece.half ? 2 : 1) * Math.max(1, piece.cut.count / 2);
