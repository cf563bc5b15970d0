import { add, distance, ORIGIN, type Point, scale, subtract, turn } from '../geometry/point.ts';
import type { Edge, EdgeRole, Piece } from '../pattern/piece.ts';
import { bring, type EndMove, STILL as STILL_END } from './bend.ts';
import { calmed } from './calm.ts';
import { type Faced, type RowNow, type RowUnder, rowsUnder, type Under } from './follow-rows.ts';
import { edgeRow, LIES_ON, type Seat } from './follow-seat.ts';
import { alongRow, footOnRow, placeAt, type Row, type RowFoot } from './lay-on.ts';
import { paperRuns, turnOfArrival } from './runs.ts';
import { tape } from './tape.ts';
import { type Prick, type Tracing, trace } from './tracing.ts';

/*
 * A facing is laid on the pieces it faces and cut anew. Its sewn edge lies on the altered edges; where it ends on another
 * edge of a piece (shoulder, side, centre) it ends there still, as far from the sewn edge as before; its inner edge keeps
 * its distance, as an allowance does.
 */

/** Edges that a facing takes over point by point. */
export const FACED: ReadonlySet<EdgeRole> = new Set(['neck', 'armhole', 'waist', 'hem', 'wrist']);
/** What goes less far than this stays, mm. */
const STILL = 0.002;

/** The facing as it is cut anew by the altered pieces; the very same piece when that changes nothing. */
export const followFaced = (facing: Piece, seat: Seat, faced: ReadonlyMap<string, Faced>): Piece => {
  const tracing = trace(facing);
  const ties = tiesOf(tracing, seat, rowsUnder(seat, faced, anchorPart(facing, seat)));
  const to = cutAnew(tracing, ties);
  const shift = anchor(tracing, to);
  const home = to.map((p) => subtract(p, shift));
  if (home.every((p, i) => distance(p, (tracing.seam[i] as Prick).was) < STILL)) return facing;
  return tape(movedTo(tracing, home));
};

/** The stretch that holds the facing as it lies, so that its grain stays: at its centre, else the longest. */
const anchorPart = ({ edges }: Piece, { edge, parts }: Seat): number => {
  const own = edges.findIndex((e) => e.id === edge);
  const beside = (step: number): boolean => isMiddle(edges[(own + step + edges.length) % edges.length]);
  if (beside(-1)) return 0;
  if (beside(1)) return parts.length - 1;
  return parts.reduce((best, p, k) => (p.covers > (parts[best]?.covers ?? 0) ? k : best), 0);
};

const isMiddle = (edge: Edge | undefined): boolean => edge?.role === 'fold' || edge?.role === 'centre';

/** What an edge of the facing goes by. */
type Tie =
  | { readonly kind: 'sewn' | 'ends on'; readonly edge: Edge; readonly row: RowNow }
  | { readonly kind: 'own'; readonly edge: Edge };

const tiesOf = (tracing: Tracing, seat: Seat, { sewn, others }: Under): Tie[] =>
  tracing.piece.edges.map((edge): Tie => {
    if (edge.id === seat.edge) return { kind: 'sewn', edge, row: sewn };
    const own = edgeRow(tracing, edge.id);
    const under =
      own &&
      nearest(
        own,
        others.filter((o) => own.every((p) => footOnRow(o.was, p).away <= LIES_ON)),
      );
    if (!under) return { kind: 'own', edge };
    const isFaced = FACED.has(edge.role) && under.role === edge.role;
    return { kind: isFaced ? 'sewn' : 'ends on', edge, row: under };
  });

/** Of edges that lie at one place with several stretches (a slit has no width), the one whose stretch is beside it. */
const nearest = (own: readonly Point[], under: readonly RowUnder[]): RowUnder | undefined => {
  const away = (u: RowUnder): number => Math.min(...own.map((p) => footOnRow(u.with, p).away));
  return [...under].sort((a, b) => away(a) - away(b))[0];
};

/** Indexes of the pricks of an edge, both ends included. */
const indexesOf = (tracing: Tracing, edge: Edge): number[] => [
  ...new Set(paperRuns(tracing, edge.id).flatMap(({ run }) => run)),
];

/** Where each prick of the facing comes to lie over the altered pieces, in its own frame. */
const cutAnew = (tracing: Tracing, ties: readonly Tie[]): Point[] => {
  const lay = tracing.seam.map((p) => p.was);
  const to = new Map<number, Point>();
  const sewn = ties.flatMap((t) => (t.kind === 'sewn' ? [t.row] : []));
  for (const tie of ties) {
    if (tie.kind !== 'sewn') continue;
    for (const i of indexesOf(tracing, tie.edge)) to.set(i, stiff(tie.row, lay[i] as Point));
  }
  for (const tie of ties) if (tie.kind === 'ends on') endOn(tie.row, indexesOf(tracing, tie.edge), lay, to);
  for (const tie of ties) if (tie.kind === 'own') beside(sewn, indexesOf(tracing, tie.edge), lay, to);
  return lay.map((p, i) => to.get(i) ?? p);
};

/** A place that goes stiffly with the nearest place of a row. */
export const stiff = (row: RowNow, p: Point): Point => {
  const { was, is } = row;
  const foot = footOnRow(was, p);
  const { k, t, at } = foot;
  const [a, b] = [is.points[k] as Point, is.points[k + 1] as Point];
  return add({ x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t }, turn(subtract(p, at), turnedAt(row, foot)));
};

/** An edge that lies on an edge of the piece: each place stays as far along it from the sewn edge as it was. */
const endOn = (row: RowNow, run: readonly number[], lay: readonly Point[], to: Map<number, Point>): void => {
  const feet = run.map((i) => footOnRow(row.was, lay[i] as Point));
  const [first, last] = [0, run.length - 1].map((k) => {
    const known = to.get(run[k] as number);
    return known ? footOnRow(row.is, known).along - (feet[k]?.along ?? 0) : undefined;
  });
  if (first === undefined && last === undefined) {
    for (const i of run) to.set(i, stiff(row, lay[i] as Point));
    return;
  }
  const [start, end] = [feet[0]?.along ?? 0, feet.at(-1)?.along ?? 0];
  run.forEach((i, k) => {
    if (to.has(i)) return;
    const foot = feet[k] as (typeof feet)[number];
    const u = end === start ? 0 : (foot.along - start) / (end - start);
    const gained = first === undefined ? (last as number) : last === undefined ? first : first + (last - first) * u;
    const p = placeAt(row.is, foot.along + gained);
    const off = subtract(lay[i] as Point, foot.at);
    to.set(i, { x: p.x + off.x, y: p.y + off.y });
  });
};

/**
 * An edge that lies inside the piece keeps its distance from the sewn edge and runs over to where its ends have gone;
 * at its ends it is turned as the sewn edge is, so that it meets that of the next facing as before.
 */
const beside = (
  sewn: readonly RowNow[],
  run: readonly number[],
  lay: readonly Point[],
  to: Map<number, Point>,
): void => {
  const [only] = sewn;
  const own = run.map((i) => lay[i] as Point);
  const rides = sewn.length === 1 && only ? only : undefined;
  const feet = rides ? own.map((p) => footOnRow(rides.was, p)) : [];
  const ridden = rides
    ? calmed(
        own,
        own.map((p) => stiff(rides, p)),
        Math.max(...feet.map((f) => f.away)),
      )
    : own;
  const end = (k: number): EndMove => {
    const known = to.get(run[k] as number);
    if (!known) return STILL_END;
    const turned = rides ? turnedAt(rides, feet[k] as RowFoot) - turnedAtEnd(own, ridden, k) : 0;
    return { by: subtract(known, ridden[k] as Point), turned };
  };
  const by = bring(ridden, end(0), end(run.length - 1));
  const brought = ridden.map((p, k) => add(p, by[k] as Point));
  const wide = rides ? asWide(rides, feet, brought) : brought;
  run.forEach((i, k) => {
    if (!to.has(i)) to.set(i, wide[k] as Point);
  });
};

/** A width is put right over this much of the line to either side, and less and less towards its ends, mm. */
const EASED = 20;

/** The line put right to lie as far from the sewn edge as it did, between its ends. */
const asWide = ({ was, is }: RowNow, feet: readonly RowFoot[], line: readonly Point[]): Point[] => {
  const way = alongRow(line);
  const whole = way.at(-1) as number;
  const isInside = (row: Row, { along }: RowFoot): boolean => along > 0 && along < (row.along.at(-1) as number);
  const off = line.map((p, k) => {
    const [old, foot] = [feet[k] as RowFoot, footOnRow(is, p)];
    if (!isInside(was, old) || !isInside(is, foot) || foot.away === 0) return ORIGIN;
    return scale(subtract(p, foot.at), (old.away - foot.away) / foot.away);
  });
  const calm = calmed(
    line,
    line.map((p, k) => add(p, off[k] as Point)),
    EASED,
  );
  return line.map((p, k) => {
    const room = Math.min(1, Math.min(way[k] as number, whole - (way[k] as number)) / (2 * EASED));
    return add(p, scale(subtract(calm[k] as Point, p), room));
  });
};

/** How far a line is turned at its first or last point between two states of it, radians. */
const turnedAtEnd = (was: readonly Point[], is: readonly Point[], k: number): number =>
  k === 0 ? turnOfArrival([...was].reverse(), [...is].reverse()) : turnOfArrival(was, is);

const turnedAt = ({ turned }: RowNow, { k, t }: RowFoot): number =>
  (turned[k] as number) * (1 - t) + (turned[k + 1] as number) * t;

/**
 * How far the facing would go without changing: it stays in its place on the sheet by the inner end of its centre, or by
 * its first inner corner.
 */
const anchor = (tracing: Tracing, to: readonly Point[]): Point => {
  const { edges } = tracing.piece;
  const free = edges.findIndex((e) => !FACED.has(e.role) && e.role !== 'fold' && e.role !== 'centre');
  const fold = edges.findIndex((e) => e.role === 'fold' || e.role === 'centre');
  const run = edges[fold >= 0 ? fold : free];
  const indexes = run ? indexesOf(tracing, run) : [];
  const neighbour = edges[(fold + 1) % edges.length];
  const i = (fold >= 0 && neighbour && FACED.has(neighbour.role) ? indexes[0] : indexes.at(-1)) ?? 0;
  return subtract(to[i] as Point, (tracing.seam[i] as Prick).was);
};

/** The tracing with its seam where it has to be; what lies inside goes with the middle of it. */
const movedTo = (tracing: Tracing, home: readonly Point[]): Tracing => {
  const seam = tracing.seam.map((p, i) => {
    const at = home[i] as Point;
    return distance(at, p.was) < STILL ? p : { ...p, at };
  });
  const n = seam.length;
  const by = seam.reduce((s, p) => ({ x: s.x + (p.at.x - p.was.x) / n, y: s.y + (p.at.y - p.was.y) / n }), {
    x: 0,
    y: 0,
  });
  const go = <T extends { readonly at: Point }>(m: T): T => ({ ...m, at: { x: m.at.x + by.x, y: m.at.y + by.y } });
  const all = <K, T extends { readonly at: Point }>(map: ReadonlyMap<K, T>): Map<K, T> =>
    new Map([...map].map(([k, m]) => [k, go(m)]));
  return {
    ...tracing,
    seam,
    lines: new Map([...tracing.lines].map(([id, pricks]) => [id, pricks.map(go)])),
    marks: all(tracing.marks),
    tips: all(tracing.tips),
    landmarks: all(tracing.landmarks),
  };
};
