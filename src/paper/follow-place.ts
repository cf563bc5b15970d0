import { type Mates, type Pattern, pieceCalled, type SewnEdge } from '../pattern/pattern.ts';
import type { Edge, Piece } from '../pattern/piece.ts';
import { FACED } from './follow-facing.ts';
import { type Ground, type Seat, seatOn } from './follow-seat.ts';
import { type Garment, tracingOf } from './garment.ts';
import { trace } from './tracing.ts';

/* Where a facing lies: on what the mates say it is sewn to; where they say nothing, on edges of the same name. */

/** What goes round the body or the arm, and what is cut anew by it or made longer and shorter with it. */
export type IsBody = (piece: Piece) => boolean;

/** A row of edges that a piece's edge is, or may be, sewn to, each as often as it lies under it. */
export interface RowFor {
  readonly edge: string;
  readonly row: readonly SewnEdge[];
}

export interface Placed {
  /** What the mates say it is sewn to, of body or sleeve. */
  readonly stated: readonly RowFor[];
  readonly seat: Seat | undefined;
}

export const placeOf = (garment: Garment, piece: Piece, isBody: IsBody): Placed => {
  const stated = statedRows(garment.pattern, piece, isBody);
  const rows = stated.length > 0 ? stated : likelyRows(garment.pattern, piece, isBody);
  const seats = rows.flatMap((r) => seatOnRow(garment, piece, r) ?? []);
  return { stated, seat: seats.sort((a, b) => a.off - b.off)[0] };
};

/** A piece as it was traced, cut as far as the verbs have cut it. */
export const groundOf = (garment: Garment, { piece, edge }: Pick<SewnEdge, 'piece' | 'edge'>): Ground => ({
  piece,
  edge,
  tracing: trace(tracingOf(garment, piece).piece),
});

/** On all of the row together; or, where that does not fit, on one of its edges. */
const seatOnRow = (garment: Garment, piece: Piece, { edge, row }: RowFor): Seat | undefined => {
  const own = trace(piece);
  const all = row.flatMap((s) => Array.from({ length: Math.max(1, Math.round(s.times)) }, () => groundOf(garment, s)));
  const single = row.length > 1 ? row.map((s) => [groundOf(garment, s)]) : [];
  const seats = [all, ...single].map((grounds) => seatOn(own, edge, grounds));
  return seats.find((s) => s !== undefined);
};

const statedRows = (pattern: Pattern, piece: Piece, isBody: IsBody): RowFor[] =>
  rowsOf(pattern.mates, piece.id).flatMap(({ own, row }) =>
    own
      .filter((s) => s.piece === piece.id)
      .map((s) => ({
        edge: s.edge,
        row: row
          .filter((on) => isBody(pieceCalled(pattern, on.piece) ?? piece))
          .map((on) => ({ ...on, times: on.times / s.times })),
      }))
      .filter((r) => r.row.length > 0),
  );

/** Each row of mates that a piece is in, seen from the piece. */
export const rowsOf = (mates: readonly Mates[], id: string): { own: readonly SewnEdge[]; row: readonly SewnEdge[] }[] =>
  mates.flatMap((m) => [
    ...(m.one.some((s) => s.piece === id) ? [{ own: m.one, row: m.other }] : []),
    ...(m.other.some((s) => s.piece === id) ? [{ own: m.other, row: m.one }] : []),
  ]);

/** Where a facing may lie that is stated to be sewn to nothing: on one edge of its name, on a front's and a back's. */
const likelyRows = (pattern: Pattern, piece: Piece, isBody: IsBody): RowFor[] => {
  if (!isFacing(piece)) return [];
  const side = /^(front|back)/.exec(piece.part)?.[0] ?? '';
  const bodies = pattern.pieces.filter((p) => isBody(p) && p.part.includes(side) && p.cut.cloth !== 'lining');
  return piece.edges.filter(isFaced).flatMap((e) => {
    const edges = bodies.flatMap((p) =>
      p.edges.filter((b) => b.role === e.role).map((b): SewnEdge => ({ piece: p.id, edge: b.id, times: 1 })),
    );
    const [fronts, backs] = ['front', 'back'].map((of) =>
      edges.filter((s) => pieceCalled(pattern, s.piece)?.part.includes(of)),
    ) as [SewnEdge[], SewnEdge[]];
    const pairs = side ? [] : fronts.flatMap((f) => backs.map((b) => [f, b]));
    const opened = edges.map((s) => [{ ...s, times: 2 }]);
    return [...edges.map((s) => [s]), ...pairs, ...opened].map((row) => ({ edge: e.id, row }));
  });
};

export const isFacing = (piece: Piece): boolean => piece.part.endsWith('facing') || piece.cut.cloth === 'facing';

export const isFaced = (edge: Edge): boolean => FACED.has(edge.role);
