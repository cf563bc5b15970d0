import type { Point } from '../geometry/point.ts';
import { edgeSpans } from '../pattern/edges.ts';
import type { Edge, Piece } from '../pattern/piece.ts';

/** Where a place of a piece was and is, in the drawing. */
export interface Move {
  readonly from: Point;
  readonly to: Point;
}

/** Where an edge begins on the seam line. */
export const startOfEdge = (piece: Piece, edge: Edge): Point | undefined =>
  edgeSpans(piece, edge)
    .map((i) => piece.seamLine.spans[i])
    .find((s) => s && s.segments.length > 0)?.segments[0]?.from;

/** Where each corner between two edges went, those that stayed included. */
export const cornerMoves = (before: Piece, after: Piece): Move[] =>
  before.edges.flatMap((edge) => {
    const twin = after.edges.find((e) => e.id === edge.id);
    const from = startOfEdge(before, edge);
    const to = twin && startOfEdge(after, twin);
    return from && to ? [{ from, to }] : [];
  });

/** Where the tips of darts went, of those that lie inside the upper one. */
export const tipMoves = (before: Piece, after: Piece): Move[] =>
  before.darts.flatMap((dart) => {
    const twin = after.darts.find((d) => d.id === dart.id);
    return twin ? [{ from: dart.tip, to: twin.tip }] : [];
  });

/** Where the lower tips went of darts that lie inside. */
export const lowerTipMoves = (before: Piece, after: Piece): Move[] =>
  before.darts.flatMap(({ id, otherTip }) => {
    const twin = after.darts.find((d) => d.id === id)?.otherTip;
    return otherTip && twin ? [{ from: otherTip, to: twin }] : [];
  });

/** Where named points inside went: the bust point. */
export const landmarkMoves = (before: Piece, after: Piece): Move[] =>
  before.landmarks.flatMap((mark) => {
    const twin = after.landmarks.find((l) => l.name === mark.name);
    return twin ? [{ from: mark.at, to: twin.at }] : [];
  });
