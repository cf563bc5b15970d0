import { edgeCalled } from '../pattern/edges.ts';
import { type Mates, type Pattern, pieceCalled, type SewnEdge } from '../pattern/pattern.ts';
import type { EdgeRole, Piece } from '../pattern/piece.ts';
import { tierOf } from '../pattern/round.ts';
import { type BandFollowed, followBand, sewn } from './follow-band.ts';
import { followFaced, laidOn } from './follow-facing.ts';
import { type Garment, tracingOf } from './garment.ts';
import { trace } from './tracing.ts';

/*
 * What follows the pieces it is sewn to: bands, cuffs and collars by what their row of edges gained, facings (linings,
 * pockets) by being laid on the altered piece and cut anew.
 */

/** What was done to a piece that followed. */
export type Followed =
  | ({ readonly kind: 'band'; readonly edge: string } & Pick<BandFollowed, 'at' | 'by'> & { readonly id: string })
  | { readonly kind: 'facing'; readonly id: string; readonly edge: string; readonly faced: string };

/** A piece that ought to have followed and could not. */
export interface LeftBehind {
  readonly id: string;
  readonly edge: string;
  /** What the edge would have to gain on the paper, mm; unknown when nothing says where it is sewn. */
  readonly needs: number | undefined;
  readonly why: 'no notches' | 'shape' | 'unknown place';
}

export interface Following {
  readonly pattern: Pattern;
  readonly followed: readonly Followed[];
  readonly left: readonly LeftBehind[];
}

/** Mates that come to differ by more than this do not match any more, mm. */
const TELLING = 0.5;

/**
 * @param garment as the verbs left it
 * @param taped the same, drawn again
 */
export const followAll = (garment: Garment, taped: Pattern): Following => {
  const before = garment.pattern;
  let pattern = taped;
  const followed: Followed[] = [];
  const left: LeftBehind[] = [];
  for (const piece of before.pieces) {
    if (!isCompanion(piece) || pieceCalled(taped, piece.id) !== piece) continue;
    const done = isBand(piece) ? bandDone(before, taped, piece) : facingDone(garment, piece);
    if (!done) continue;
    if ('why' in done) left.push(done);
    else {
      followed.push(done.deed);
      pattern = { ...pattern, pieces: pattern.pieces.map((p) => (p.id === piece.id ? done.piece : p)) };
    }
  }
  const told = new Set(left.map((l) => l.id));
  return { pattern, followed, left: [...left, ...unmatched(before, pattern).filter((l) => !told.has(l.id))] };
};

/** What is sewn to body or sleeve and has no measurement of its own. */
const isCompanion = (piece: Piece): boolean => tierOf(piece) === undefined && !piece.part.endsWith('sleeve');

const isBand = (piece: Piece): boolean =>
  piece.part === 'waistband' ||
  piece.part === 'collar' ||
  piece.part === 'cuff' ||
  piece.edges.some((e) => e.role === 'band seam');

type Done = { readonly piece: Piece; readonly deed: Followed } | LeftBehind | undefined;

const bandDone = (before: Pattern, taped: Pattern, piece: Piece): Done => {
  for (const { own, row } of rowsOf(before.mates, piece.id)) {
    const [edge] = own;
    if (!edge || own.length !== 1) continue;
    const done = followBand(before, taped, { piece, edge, row });
    if (done === undefined) continue;
    if (done === 'unmatched') {
      const needs = gained(before, taped, row) / edge.times;
      return { id: piece.id, edge: edge.edge, needs, why: 'no notches' };
    }
    if (done.by.length === 0) continue;
    return { piece: done.piece, deed: { kind: 'band', id: piece.id, edge: edge.edge, at: done.at, by: done.by } };
  }
  return undefined;
};

const gained = (before: Pattern, after: Pattern, row: readonly SewnEdge[]): number =>
  row.reduce((sum, s) => sum + (sewn(after, s) - sewn(before, s)) * s.times, 0);

const rowsOf = (mates: readonly Mates[], id: string): { own: readonly SewnEdge[]; row: readonly SewnEdge[] }[] =>
  mates.flatMap((m) => [
    ...(m.one.some((s) => s.piece === id) ? [{ own: m.one, row: m.other }] : []),
    ...(m.other.some((s) => s.piece === id) ? [{ own: m.other, row: m.one }] : []),
  ]);

/** A place where a facing may lie: its own edge on the edge of another piece. */
interface Seat {
  readonly edge: string;
  readonly on: SewnEdge;
}

const facingDone = (garment: Garment, piece: Piece): Done => {
  const { pattern } = garment;
  const stated = rowsOf(pattern.mates, piece.id).flatMap(({ own, row }) =>
    own.filter((s) => s.piece === piece.id).flatMap((s) => row.map((on): Seat => ({ edge: s.edge, on }))),
  );
  const onBody = stated.filter(({ on }) => !isCompanion(pieceCalled(pattern, on.piece) ?? piece));
  const seats = onBody.length > 0 ? onBody : likelySeats(pattern, piece);
  const seat = seats
    .flatMap((s) => {
      const laid = laidOn(piece, s.edge, trace(pieceCalled(pattern, s.on.piece) ?? piece), s.on.edge);
      return laid ? [{ ...s, off: laid.off }] : [];
    })
    .sort((a, b) => a.off - b.off)[0];
  if (!seat) return onBody.length === 0 ? unplaced(garment, piece) : undefined;
  const now = tracingOf(garment, seat.on.piece);
  const before = trace(now.piece);
  if (now === before) return undefined;
  const anew = followFaced(piece, seat.edge, { before, now }, seat.on.edge);
  if (anew === piece) return undefined;
  return { piece: anew, deed: { kind: 'facing', id: piece.id, edge: seat.edge, faced: seat.on.piece } };
};

/** Edges that are faced. */
const FACED: readonly EdgeRole[] = ['neck', 'armhole', 'waist', 'hem', 'wrist'];

/** Where a facing may lie that is stated to be sewn to nothing: on edges of the same name. */
const likelySeats = (pattern: Pattern, piece: Piece): Seat[] => {
  if (!isFacing(piece)) return [];
  const side = /^(front|back)/.exec(piece.part)?.[0] ?? '';
  const bodies = pattern.pieces.filter((p) => !isCompanion(p) && p.part.includes(side) && p.cut.cloth !== 'lining');
  return piece.edges
    .filter((e) => FACED.includes(e.role))
    .flatMap((e) =>
      bodies.flatMap((p) =>
        p.edges
          .filter((b) => b.role === e.role)
          .map((b) => ({ edge: e.id, on: { piece: p.id, edge: b.id, times: 1 } })),
      ),
    );
};

const isFacing = (piece: Piece): boolean => piece.part.endsWith('facing') || piece.cut.cloth === 'facing';

/** A facing that lies on no piece, when an edge of the kind it faces has changed. */
const unplaced = (garment: Garment, piece: Piece): LeftBehind | undefined => {
  if (!isFacing(piece)) return undefined;
  const edge = piece.edges.find((e) => FACED.includes(e.role));
  if (!edge) return undefined;
  const changed = garment.pattern.pieces.some(
    (p) => !isCompanion(p) && p.edges.some((e) => e.role === edge.role) && tracingOf(garment, p.id) !== trace(p),
  );
  return changed ? { id: piece.id, edge: edge.id, needs: undefined, why: 'unknown place' } : undefined;
};

/** Companions whose edges no longer match what they are sewn to as they did. */
const unmatched = (before: Pattern, after: Pattern): LeftBehind[] => {
  const found: LeftBehind[] = [];
  for (const { one, other } of before.mates) {
    const uneven = gained(before, after, one) - gained(before, after, other);
    if (Math.abs(uneven) <= TELLING) continue;
    const s = [...one, ...other].find((e) => {
      const piece = pieceCalled(before, e.piece);
      return piece && isCompanion(piece) && edgeCalled(piece, e.edge) !== undefined;
    });
    if (!s || found.some((l) => l.id === s.piece)) continue;
    const needs = (one.includes(s) ? -uneven : uneven) / s.times;
    found.push({ id: s.piece, edge: s.edge, needs, why: 'shape' });
  }
  return found;
};
