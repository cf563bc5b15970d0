import { add, distance, type Point, subtract, turn } from '../geometry/point.ts';
import type { Edge, EdgeRole, Piece } from '../pattern/piece.ts';
import { bring, type EndMove, STILL as STILL_END } from './bend.ts';
import { calmed } from './calm.ts';
import { type Carrier, carrierOf } from './carry.ts';
import { footOnRow, type Laid, layRow, placeAt, type Row, type RowFoot, rowOf } from './lay-on.ts';
import { paperRuns, turnOfArrival } from './runs.ts';
import { tape } from './tape.ts';
import { type Prick, type Tracing, trace } from './tracing.ts';

/*
 * A facing is laid on the piece it faces and cut anew. Its sewn edge lies on the altered edge; where it ends on another
 * edge of the piece (shoulder, side, centre) it ends there still, as far from the sewn edge as before; its inner edge
 * keeps its distance, as an allowance does.
 */

/** Edges that a facing takes over point by point. */
const FACED: ReadonlySet<EdgeRole> = new Set(['neck', 'armhole', 'waist', 'hem', 'wrist']);
/** An edge lies on another when no place of it is further away, mm. */
const LIES_ON = 1;
/** What goes less far than this stays, mm. */
const STILL = 0.002;

/** The piece that is faced, as it was traced and as the verbs left it. */
export interface Faced {
  readonly before: Tracing;
  readonly now: Tracing;
}

/** Where a facing lies on a piece by one of its edges; undefined when it does not fit there. */
export const laidOn = (facing: Piece, edge: string, faced: Tracing, facedEdge: string): Laid | undefined => {
  const own = edgeRow(trace(facing), edge);
  const other = edgeRow(trace(faced.piece), facedEdge);
  return own && other ? layRow(own, other, LIES_ON) : undefined;
};

/** The facing as it is cut anew by the altered piece; the very same piece when that changes nothing. */
export const followFaced = (facing: Piece, edge: string, { before, now }: Faced, facedEdge: string): Piece => {
  const laid = laidOn(facing, edge, before, facedEdge);
  if (!laid) return facing;
  const tracing = trace(facing);
  const runs = before.piece.edges.flatMap((e) => paperRuns(before, e.id));
  const ties = tiesOf(tracing, edge, laid, carrierOf(before, runs, now), before.piece, facedEdge);
  const to = cutAnew(tracing, laid, ties);
  const shift = anchor(tracing, laid, to);
  const home = to.map((p) => laid.back(subtract(p, shift)));
  if (home.every((p, i) => distance(p, (tracing.seam[i] as Prick).was) < STILL)) return facing;
  return tape(movedTo(tracing, home));
};

/** What an edge of the facing goes by. */
type Tie =
  | { readonly kind: 'sewn' | 'ends on'; readonly edge: Edge; readonly row: RowNow }
  | { readonly kind: 'own'; readonly edge: Edge };

/** A row of the faced piece as it was and as it is. */
interface RowNow {
  readonly was: Row;
  readonly is: Row;
  readonly turned: readonly number[];
}

const tiesOf = (
  tracing: Tracing,
  sewnEdge: string,
  laid: Laid,
  carrier: Carrier,
  faced: Piece,
  facedEdge: string,
): Tie[] => {
  const rows = new Map(faced.edges.map((e) => [e.id, { role: e.role, row: rowNow(carrier, e.id) }]));
  return tracing.piece.edges.map((edge): Tie => {
    const own = edgeRow(tracing, edge.id)?.map(laid.on) ?? [];
    const sewnRow = edge.id === sewnEdge ? rows.get(facedEdge)?.row : undefined;
    if (sewnRow) return { kind: 'sewn', edge, row: sewnRow };
    for (const { role, row } of rows.values()) {
      if (!row || own.length === 0 || own.some((p) => footOnRow(row.was, p).away > LIES_ON)) continue;
      return { kind: role === edge.role && FACED.has(role) ? 'sewn' : 'ends on', edge, row };
    }
    return { kind: 'own', edge };
  });
};

const rowNow = (carrier: Carrier, edge: string): RowNow | undefined => {
  const runs = carrier.runs.filter((r) => r.edge === edge && !r.mouth);
  const was = runs.flatMap((r) => r.was);
  if (was.length < 2) return undefined;
  const by = runs.flatMap((r) => r.by);
  const is = was.map((p, k) => ({ x: p.x + (by[k] as Point).x, y: p.y + (by[k] as Point).y }));
  return { was: rowOf(was), is: rowOf(is), turned: runs.flatMap((r) => r.turned) };
};

const edgeRow = (tracing: Tracing, edge: string): Point[] | undefined => {
  const points = paperRuns(tracing, edge).flatMap(({ run }) => run.map((i) => (tracing.seam[i] as Prick).was));
  return points.length > 1 ? points : undefined;
};

/** Indexes of the pricks of an edge, both ends included. */
const indexesOf = (tracing: Tracing, edge: Edge): number[] => [
  ...new Set(paperRuns(tracing, edge.id).flatMap(({ run }) => run)),
];

/** Where each prick of the facing comes to lie on the altered piece. */
const cutAnew = (tracing: Tracing, laid: Laid, ties: readonly Tie[]): Point[] => {
  const lay = tracing.seam.map((p) => laid.on(p.was));
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
const stiff = (row: RowNow, p: Point): Point => {
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
  run.forEach((i, k) => {
    if (!to.has(i)) to.set(i, add(ridden[k] as Point, by[k] as Point));
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
const anchor = (tracing: Tracing, laid: Laid, to: readonly Point[]): Point => {
  const { edges } = tracing.piece;
  const free = edges.findIndex((e) => !FACED.has(e.role) && e.role !== 'fold' && e.role !== 'centre');
  const fold = edges.findIndex((e) => e.role === 'fold' || e.role === 'centre');
  const run = edges[fold >= 0 ? fold : free];
  const indexes = run ? indexesOf(tracing, run) : [];
  const neighbour = edges[(fold + 1) % edges.length];
  const i = (fold >= 0 && neighbour && FACED.has(neighbour.role) ? indexes[0] : indexes.at(-1)) ?? 0;
  return subtract(to[i] as Point, laid.on((tracing.seam[i] as Prick).was));
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
