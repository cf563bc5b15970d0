import { edgeWithRole } from './edges.ts';
import type { Pattern } from './pattern.ts';
import type { Cloth, Piece } from './piece.ts';

/** How often the paper occurs round the body: a half piece twice for each time it is cut. */
export const timesRound = (piece: Pick<Piece, 'half' | 'cut'>): number => (piece.half ? 2 : 1) * piece.cut.count;

/** Parts of a garment that each go once round the body. A bodice and the skirt sewn to it are two. */
export type Tier = 'bodice' | 'skirt' | 'trousers' | 'dress';

/** Which tier a piece belongs to; undefined for what does not go round the body: sleeves, bands, facings. */
export const tierOf = (piece: Piece): Tier | undefined => {
  if (piece.part.startsWith('skirt')) return 'skirt';
  if (piece.part.startsWith('bodice')) return 'bodice';
  if (piece.part.startsWith('dress')) return 'dress';
  if (piece.part.startsWith('trouser')) return 'trousers';
  const hangs = edgeWithRole(piece, 'waist').length > 0 && edgeWithRole(piece, 'side').length > 0;
  return piece.part === 'unknown' && hangs ? 'skirt' : undefined;
};

/** Pieces that go round the body. */
export const goesRound = (piece: Piece): boolean => tierOf(piece) !== undefined;

/** Pieces that cover hip and seat: all that go round the body but a bodice that ends at the waist. */
export const coversHip = (piece: Piece): boolean => {
  const tier = tierOf(piece);
  return tier !== undefined && (tier !== 'bodice' || piece.levels.some((l) => l.name === 'hip'));
};

/** The pieces that together go once round the body, in one layer of cloth: each such round takes a whole change. */
export interface Round {
  readonly tier: Tier;
  readonly cloth: Cloth;
  readonly pieces: readonly Piece[];
}

/** The rounds of a pattern, in the order of its pieces. */
export const rounds = (pattern: Pattern): readonly Round[] => {
  const found: { tier: Tier; cloth: Cloth; pieces: Piece[] }[] = [];
  for (const piece of pattern.pieces) {
    const tier = tierOf(piece);
    if (tier === undefined) continue;
    const round = found.find((r) => r.tier === tier && r.cloth === piece.cut.cloth);
    if (round) round.pieces.push(piece);
    else found.push({ tier, cloth: piece.cut.cloth, pieces: [piece] });
  }
  return found;
};
