import { edgeWithRole } from './edges.ts';
import type { Edge, Piece } from './piece.ts';
import { acrossOf } from './upright.ts';

export type WearerSide = 'left' | 'right';

const isBack = (piece: Piece): boolean => piece.part.endsWith('back');

/**
 * The side seam on the wearer's left or right of a piece that is drawn whole. Paper lies with its right side up, so a
 * front shows the wearer's left on its right, a back on its left (common practice). Undefined on a half piece.
 */
export const sideOfWearer = (piece: Piece, side: WearerSide): Edge | undefined => {
  const sides = edgeWithRole(piece, 'side').toSorted((a, b) => acrossOfEdge(piece, a) - acrossOfEdge(piece, b));
  if (piece.half || sides.length !== 2) return undefined;
  const onTheRight = (side === 'left') !== isBack(piece);
  return sides[onTheRight ? 1 : 0];
};

/** How far across the piece an edge begins, mm. */
const acrossOfEdge = (piece: Piece, edge: Edge): number => {
  const start = piece.seamLine.spans[edge.first]?.segments[0]?.from;
  return start ? acrossOf(piece.upright, start) : 0;
};
