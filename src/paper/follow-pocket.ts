import { distance, scale, subtract } from '../geometry/point.ts';
import type { Piece } from '../pattern/piece.ts';
import { stiff } from './follow-facing.ts';
import { type Faced, rowsUnder } from './follow-rows.ts';
import { type Ground, LIES_ON, type Seat, seatOn } from './follow-seat.ts';
import { layPoints } from './lay-on.ts';
import { displaced } from './move-edge.ts';
import { notchesAlong } from './notch-places.ts';
import { along, edgeBeside, edgeRun, lengthOfPoints, pointsOf, sewnLength } from './runs.ts';
import { tape } from './tape.ts';
import { displacement, type Prick, type Tracing, trace } from './tracing.ts';

/*
 * A pocket keeps its size and shape. Only the edge by which it is sewn into a seam takes over what became of that
 * stretch of seam, between the notches that mark it; that the stretch went elsewhere, or leans otherwise, is nothing to it.
 */

/** Notches mark a pocket when they are as far apart as its edge is long, so nearly, mm. */
const MARKED = 6;
/** What a seam changed less than this over the pocket is left to the sewer, mm. */
const LEFT_TO_SEWER = 0.25;

/** Where a pocket's edge lies on a seam: between two notches, or a notch and an end of the seam; undefined where none say. */
export const pocketSeat = (pocket: Piece, edge: string, ground: Ground): Seat | undefined => {
  const own = trace(pocket);
  const length = sewnLength(own, edge);
  const whole = sewnLength(ground.tracing, ground.edge);
  const notches = notchesAlong(ground.tracing, ground.edge).map((n) => n.along);
  const places = [0, ...notches, whole];
  const spans = notches.flatMap((n) =>
    places.map((p) => [Math.min(n, p), Math.max(n, p)] as const).filter(([a, b]) => Math.abs(b - a - length) <= MARKED),
  );
  const room = (at: number): number => Math.min(Math.max(0, at), Math.max(0, whole - length));
  const starts = spans.flatMap(([a, b]) => [room(a), room(whole - b)]);
  return starts.length === 0 || whole - length <= LIES_ON ? undefined : seatOn(own, edge, [ground], starts);
};

/** The pocket with its sewn edge as the seam has become; the very same piece when that is as it was. */
export const followPocket = (pocket: Piece, seat: Seat, faced: ReadonlyMap<string, Faced>): Piece => {
  const tracing = trace(pocket);
  const { sewn } = rowsUnder(seat, faced, 0);
  const run = edgeRun(tracing, seat.edge);
  const was = run.map((i) => (tracing.seam[i] as Prick).was);
  const to = was.map((p) => stiff(sewn, p));
  const { on } = layPoints(to, was);
  const by = to.map((p, k) => subtract(on(p), was[k] as (typeof was)[number]));
  const longer = lengthOfPoints(to) - lengthOfPoints(pointsOf(tracing, run));
  if (Math.abs(longer) <= LEFT_TO_SEWER && by.every((d) => distance(d, { x: 0, y: 0 }) <= LEFT_TO_SEWER)) return pocket;
  return tape(
    besideIt(besideIt({ ...tracing, seam: displaced(tracing.seam, run, by) }, seat.edge, 'before'), seat.edge, 'after'),
  );
};

/** The edge that meets the sewn one comes along at that end and stays at its other: a straight edge stays straight. */
const besideIt = (moved: Tracing, edge: string, side: 'before' | 'after'): Tracing => {
  const run = edgeRun(moved, edgeBeside(moved, edge, side).id);
  const points = run.map((i) => (moved.seam[i] as Prick).was);
  const way = along(points);
  const whole = way.at(-1) as number;
  const corner = moved.seam[(side === 'after' ? run[0] : run.at(-1)) as number] as Prick;
  const own = side === 'after' ? run.slice(1) : run.slice(0, -1);
  const by = displacement(corner);
  const share = (k: number): number => (side === 'after' ? 1 - (way[k] as number) / whole : (way[k] as number) / whole);
  return {
    ...moved,
    seam: displaced(
      moved.seam,
      own,
      own.map((i) => scale(by, share(run.indexOf(i)))),
    ),
  };
};
