import { edgeWithRole } from './edges.ts';
import type { Edge, Piece } from './piece.ts';
import { acrossOf } from './upright.ts';

export type WearerSide = 'left' | 'right';

const isBack = (piece: Piece): boolean => piece.part.endsWith('back');

/**
 * The side seam on the wearer's left or right of a piece that is drawn whole. Paper lies with its right side up, so a
 * front shows the wearer's left on its right, a back on its left (common practice). A piece that is for one side of the
 * body alone has the side seam of that side. Undefined on a half piece, and on one that is cut as a pair.
 */
export const sideOfWearer = (piece: Piece, side: WearerSide): Edge | undefined => {
  const sides = edgeWithRole(piece, 'side').toSorted((a, b) => acrossOfEdge(piece, a) - acrossOfEdge(piece, b));
  if (piece.half) return undefined;
  if (sides.length === 1) return handOf(piece) === side ? sides[0] : undefined;
  if (sides.length !== 2) return undefined;
  const onTheRight = (side === 'left') !== isBack(piece);
  return sides[onTheRight ? 1 : 0];
};

/** How far across the piece an edge begins, mm. */
const acrossOfEdge = (piece: Piece, edge: Edge): number => {
  const start = piece.seamLine.spans[edge.first]?.segments[0]?.from;
  return start ? acrossOf(piece.upright, start) : 0;
};

/** Words for the two sides of the body, as they stand in the name of a piece. */
const WORDS: Readonly<Record<WearerSide, string>> = {
  left: 'left|links|linke[rs]?|gauche|izquierd[oa]|sinistr[oa]|esquerd[oa]',
  right: 'right|rechts|rechte[rs]?|droite?|derech[oa]|destr[oa]|direit[oa]',
};
const inName = (side: WearerSide): RegExp => new RegExp(`(^|[^\\p{L}])(${WORDS[side]})($|[^\\p{L}])`, 'iu');
/** In other texts the word has to end what is said: “trouser front left”, and not “right side up”. */
const atEnd = (side: WearerSide): RegExp => new RegExp(`(^|[^\\p{L}])(${WORDS[side]})\\s*($|[,;.·])`, 'iu');

/** Which side of the body a piece is for, where its name or a text on it says so and it is cut once. */
export const handOf = (piece: Pick<Piece, 'name' | 'texts' | 'cut'>): WearerSide | undefined => {
  if (piece.cut.count !== 1) return undefined;
  const said = (['left', 'right'] as const).filter(
    (side) => inName(side).test(piece.name) || piece.texts.some((t) => atEnd(side).test(t.text)),
  );
  return said.length === 1 ? said[0] : undefined;
};

/** Whether a piece is cut as a left and a right one from the same paper, one turned over. */
export const isPair = (piece: Piece): boolean =>
  !piece.half && piece.cut.count === 2 && piece.cut.mirrored && edgeWithRole(piece, 'side').length === 1;

/** Which side of the body the paper of a pair is for as it lies, right side up. */
export const handAsDrawn = (piece: Piece): WearerSide => {
  const points = piece.seamLine.spans.flatMap((s) => s.segments.map((g) => acrossOf(piece.upright, g.from)));
  const [side] = edgeWithRole(piece, 'side');
  const middle = (Math.min(...points) + Math.max(...points)) / 2;
  const onTheRight = side ? acrossOfEdge(piece, side) > middle : false;
  return onTheRight === isBack(piece) ? 'right' : 'left';
};
