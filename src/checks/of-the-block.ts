import { ringRange } from '../pattern/edges.ts';
import type { Edge, Outline, Piece } from '../pattern/piece.ts';

/* The pattern as it was is the same for every fitting: what is measured of it is measured once. */

/** A measure of an edge, taken once for each edge of a piece. */
export const onceForEachEdge = <T>(take: (piece: Piece, edge: Edge) => T): ((piece: Piece, edge: Edge) => T) => {
  const taken = new WeakMap<Piece, Map<string, { readonly is: T }>>();
  return (piece, edge) => {
    const ofPiece = taken.get(piece) ?? new Map<string, { readonly is: T }>();
    taken.set(piece, ofPiece);
    const known = ofPiece.get(edge.id) ?? { is: take(piece, edge) };
    ofPiece.set(edge.id, known);
    return known.is;
  };
};

/** A measure of an outline, taken once. */
export const onceForEachOutline = (take: (outline: Outline) => number): ((outline: Outline) => number) => {
  const taken = new WeakMap<Outline, number>();
  return (outline) => {
    const known = taken.get(outline) ?? take(outline);
    taken.set(outline, known);
    return known;
  };
};

/** Whether an edge is the very edge it was: seam line and darts, and the cutting line beside it. */
export const isUntouched = (before: Piece, after: Piece, edge: Edge): boolean =>
  before.edges.includes(edge) &&
  sameSpans(before.seamLine, after.seamLine, edge.first, edge.last) &&
  sameSpans(before.cuttingLine, after.cuttingLine, edge.cuttingFirst, edge.cuttingLast) &&
  sameDarts(before, after, edge);

const sameSpans = (
  before: Outline | undefined,
  after: Outline | undefined,
  first: number | undefined,
  last: number | undefined,
): boolean => {
  if (before === after || first === undefined || last === undefined) return true;
  const [was, is] = [before?.spans ?? [], after?.spans ?? []];
  return was.length === is.length && ringRange(first, last, is.length).every((i) => was[i] === is[i]);
};

const sameDarts = (before: Piece, after: Piece, edge: Edge): boolean => {
  const dartsOf = (piece: Piece) => piece.darts.filter((d) => d.edge === edge.id);
  const [was, is] = [dartsOf(before), dartsOf(after)];
  return was.length === is.length && was.every((d, i) => d === is[i]);
};
