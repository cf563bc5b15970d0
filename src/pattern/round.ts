import { edgeWithRole } from './edges.ts';
import type { Piece } from './piece.ts';

/** How often the paper occurs round the body: a half piece twice for each time it is cut. */
export const timesRound = (piece: Pick<Piece, 'half' | 'cut'>): number => (piece.half ? 2 : 1) * piece.cut.count;

/** Pieces that go round the body from the waist down. */
export const goesRound = (piece: Piece): boolean =>
  piece.part.startsWith('skirt') ||
  (piece.part === 'unknown' && edgeWithRole(piece, 'waist').length > 0 && edgeWithRole(piece, 'side').length > 0);
