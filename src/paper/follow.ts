import { edgeCalled } from '../pattern/edges.ts';
import { type Pattern, pieceCalled, type SewnEdge } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import { tierOf } from '../pattern/round.ts';
import { type BandFollowed, followBand, sewn } from './follow-band.ts';
import { followFaced } from './follow-facing.ts';
import { groundOf, isFaced, isFacing, placeOf, rowsOf } from './follow-place.ts';
import { followPocket, pocketSeat } from './follow-pocket.ts';
import type { Faced } from './follow-rows.ts';
import { followYoke, isYoke } from './follow-yoke.ts';
import { type Garment, onPiece, tracingOf } from './garment.ts';
import { sewnLength } from './runs.ts';
import { tape } from './tape.ts';
import { trace } from './tracing.ts';

/*
 * What follows the pieces it is sewn to: bands, cuffs and collars by what their row of edges gained, facings (linings,
 * pockets) by being laid on the altered pieces and cut anew.
 */

/** What was done to a piece that followed. */
export type Followed =
  | ({ readonly kind: 'band'; readonly edge: string } & Pick<BandFollowed, 'at' | 'by' | 'places'> & {
        readonly id: string;
      })
  | { readonly kind: 'yoke'; readonly id: string; readonly edge: string; readonly by: number }
  | { readonly kind: 'pocket'; readonly id: string; readonly edge: string; readonly into: string; readonly by: number }
  | { readonly kind: 'facing'; readonly id: string; readonly edge: string; readonly faced: readonly string[] };

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

/** An edge below that gained less leaves its yoke alone, mm. */
const STILL = 0.005;
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
  const withYokes = yokesFollowed(garment, taped);
  followed.push(...withYokes.deeds);
  pattern = withYokes.pattern;
  for (const piece of before.pieces) {
    if (!isCompanion(piece) || pieceCalled(pattern, piece.id) !== piece) continue;
    const done = isPocket(piece)
      ? pocketDone(garment, piece)
      : isBand(piece)
        ? bandDone(before, withYokes.pattern, piece)
        : facingDone(withYokes.garment, piece);
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

/** Yokes first: bands and facings are sewn to them. */
const yokesFollowed = (start: Garment, taped: Pattern) => {
  let [garment, pattern] = [start, taped];
  const deeds: Followed[] = [];
  for (const piece of start.pattern.pieces.filter(isYoke)) {
    for (const { own, row } of rowsOf(start.pattern.mates, piece.id)) {
      const [edge] = own;
      if (!edge || own.length !== 1 || edgeCalled(piece, edge.edge)?.role !== 'yoke seam') continue;
      const by = gained(start.pattern, pattern, row) / edge.times;
      const now = Math.abs(by) > STILL ? followYoke(piece, edge.edge, by) : undefined;
      if (!now) continue;
      garment = onPiece(garment, piece.id, () => now);
      pattern = { ...pattern, pieces: pattern.pieces.map((p) => (p.id === piece.id ? tape(now) : p)) };
      deeds.push({ kind: 'yoke', id: piece.id, edge: edge.edge, by });
    }
  }
  return { garment, pattern, deeds };
};

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
    return {
      piece: done.piece,
      deed: { kind: 'band', id: piece.id, edge: edge.edge, at: done.at, by: done.by, places: done.places },
    };
  }
  return undefined;
};

const gained = (before: Pattern, after: Pattern, row: readonly SewnEdge[]): number =>
  row.reduce((sum, s) => sum + (sewn(after, s) - sewn(before, s)) * s.times, 0);

const facingDone = (garment: Garment, piece: Piece): Done => {
  const { stated, seat } = placeOf(garment, piece, (p) => !isCompanion(p) || isYoke(p));
  if (!seat) return stated.length === 0 ? unplaced(garment, piece) : undefined;
  const faced = new Map(seat.parts.map((p) => [p.piece, facedIn(garment, p.piece)]));
  if ([...faced.values()].every((f) => f.now === f.before)) return undefined;
  const anew = followFaced(piece, seat, faced);
  if (anew === piece) return undefined;
  return { piece: anew, deed: { kind: 'facing', id: piece.id, edge: seat.edge, faced: [...faced.keys()] } };
};

const isPocket = (piece: Piece): boolean => piece.part === 'pocket';

/** A pocket that is set into a seam. One that is sewn on top lies where its marks are, and these go with the piece. */
const pocketDone = (garment: Garment, piece: Piece): Done => {
  for (const { one, other } of garment.pattern.within ?? []) {
    const own = one.find((s) => s.piece === piece.id);
    const into = other.find(
      (s) => isThere(garment.pattern, s) && tracingOf(garment, s.piece) !== trace(tracingOf(garment, s.piece).piece),
    );
    if (!own || !into) continue;
    const seat = pocketSeat(piece, own.edge, groundOf(garment, into));
    if (!seat) return { id: piece.id, edge: own.edge, needs: undefined, why: 'unknown place' };
    const anew = followPocket(piece, seat, new Map([[into.piece, facedIn(garment, into.piece)]]));
    if (anew === piece) return undefined;
    const [now, before] = [anew, piece].map((p) => sewnLength(trace(p), own.edge)) as [number, number];
    return { piece: anew, deed: { kind: 'pocket', id: piece.id, edge: own.edge, into: into.piece, by: now - before } };
  }
  return undefined;
};

const isThere = (pattern: Pattern, { piece, edge }: SewnEdge): boolean => {
  const own = pieceCalled(pattern, piece);
  return own !== undefined && edgeCalled(own, edge) !== undefined;
};

const facedIn = (garment: Garment, id: string): Faced => {
  const now = tracingOf(garment, id);
  return { now, before: trace(now.piece) };
};

/** A facing that lies on no piece, when an edge of the kind it faces has changed. */
const unplaced = (garment: Garment, piece: Piece): LeftBehind | undefined => {
  if (!isFacing(piece)) return undefined;
  const edge = piece.edges.find(isFaced);
  if (!edge) return undefined;
  const bodies = garment.pattern.pieces.filter(
    (p) => !isCompanion(p) && p.edges.some((e) => e.role === edge.role) && tracingOf(garment, p.id) !== trace(p),
  );
  if (bodies.length === 0) return undefined;
  const gains = bodies.flatMap((p) =>
    p.edges
      .filter((e) => e.role === edge.role)
      .map((e) => sewnLength(tracingOf(garment, p.id), e.id) - sewnLength(trace(p), e.id)),
  );
  const [only] = gains.length === 1 ? gains : [];
  return { id: piece.id, edge: edge.id, needs: only, why: 'unknown place' };
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
