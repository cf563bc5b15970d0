import type { Point } from '../geometry/point.ts';
import { add, between, scale, subtract, unit } from '../geometry/point.ts';
import { isCentre } from '../pattern/edges.ts';
import { turning } from './curve-length.ts';
import { evenly, placedAt, priorOf } from './joining.ts';
import { NoRoom } from './no-room.ts';
import { along, edgeBeside, edgeRun, inDarts, neighbourRun, pointsOf, type Run, sewnLength } from './runs.ts';
import { solveFor } from './solve.ts';
import type { Tracing } from './tracing.ts';

/* The neck edge drawn larger or smaller all round. */

export const neckEdges = (tracing: Tracing): string[] =>
  tracing.piece.edges.filter((e) => e.role === 'neck').map((e) => e.id);

/** Sewn length of the neck edges of a piece, mm. */
export const neckLength = (tracing: Tracing): number =>
  neckEdges(tracing).reduce((sum, id) => sum + sewnLength(tracing, id), 0);

/** Every neck edge of the piece is drawn again with a radius larger by `by`. */
export const widenNeck = (tracing: Tracing, by: number): Tracing =>
  by === 0 ? tracing : neckEdges(tracing).reduce((t, id) => drawnLarger(t, id, by), tracing);

/** The neck of one piece drawn larger or smaller until it has a length. */
export const neckTo = (tracing: Tracing, length: number): Tracing =>
  solveFor(
    (by) => widenNeck(tracing, by),
    (made) => neckLength(made) - length,
    0,
    0.2,
    5e-4,
  );

/**
 * The neck point goes `by` along the shoulder, so that front and back shoulders still match, and the centre goes `by`
 * down its own line; between them the one runs over into the other, so that the curve keeps its character and its
 * direction at both ends. Both mouths of a dart in it go alike, its tip stays.
 */
const drawnLarger = (tracing: Tracing, edgeId: string, by: number): Tracing => {
  const prior = priorOf(tracing);
  const run = edgeRun(tracing, edgeId);
  const points = pointsOf(tracing, run);
  const [first, last] = (['before', 'after'] as const).map((side) => alongNeighbour(tracing, run, side)) as [
    Point,
    Point,
  ];
  const centred = (['before', 'after'] as const).some((side) => isCentre(edgeBeside(tracing, edgeId, side).role));
  // On a whole piece the middle of the neck goes down the centre as the corner of a half does.
  const knots = centred ? [first, last] : [first, { x: 0, y: -1 }, last];
  const ruled = turning(points) < STRAIGHT;
  const shift = (u: number): Point => {
    const k = Math.min(knots.length - 2, Math.floor(u * (knots.length - 1)));
    const [a, b] = [knots[k] as Point, knots[k + 1] as Point];
    const v = u * (knots.length - 1) - k;
    return between(a, b, ruled ? v : v * v * (3 - 2 * v));
  };
  const darts = inDarts(tracing, edgeId);
  const places = sewnPlaces(points, run, darts);
  const moved = placedAt(
    tracing,
    run,
    points.map((p, i) => {
      const still = darts.get(run[i] as number)?.towardsTip ?? 0;
      return add(p, scale(shift(places[i] as number), by * (1 - still)));
    }),
  );
  return (['before', 'after'] as const).reduce((t, side) => {
    const corner = (side === 'before' ? run[0] : run.at(-1)) as number;
    const beside = neighbourRun(tracing, corner, side);
    return evenly(t, prior, givingWay(tracing, beside, Math.abs(by), isCentre(edgeBeside(tracing, edgeId, side).role)));
  }, moved);
};

/** A neck edge that turns less than this is drawn with a ruler (a pointed neck) and stays straight, radians. */
const STRAIGHT = 0.15;

/** Unit vector from an end of the edge along the edge that it meets there. */
const alongNeighbour = (tracing: Tracing, run: Run, side: 'before' | 'after'): Point => {
  const corner = (side === 'before' ? run[0] : run.at(-1)) as number;
  const beside = pointsOf(tracing, neighbourRun(tracing, corner, side));
  return unit(subtract(beside.at(-2) as Point, beside.at(-1) as Point));
};

/** For each prick its place from 0 to 1 along the edge as sewn: the legs of a dart stand at one place. */
const sewnPlaces = (points: readonly Point[], run: Run, darts: ReadonlyMap<number, { dart: string }>): number[] => {
  const way = along(points);
  let skipped = 0;
  const places = run.map((index, i) => {
    const dart = darts.get(index)?.dart;
    if (i > 0 && dart !== undefined && dart === darts.get(run[i - 1] as number)?.dart) {
      skipped += (way[i] as number) - (way[i - 1] as number);
    }
    return (way[i] as number) - skipped;
  });
  return places.map((p) => p / (places.at(-1) as number));
};

/** A centre only gives way over so many times what its corner moves, and at least over so much, mm. */
const CLOSE = 6;
const LEAST_CLOSE = 30;

/** How much of the edge beside the neck is drawn out or cut short: a shoulder as a whole, a centre near the corner. */
const givingWay = (tracing: Tracing, beside: Run, shift: number, centre: boolean): Run => {
  const way = along(pointsOf(tracing, beside));
  const length = way.at(-1) as number;
  if (shift > 0.6 * length) throw new NoRoom('the seam beside the neck is too short for so large a change');
  if (!centre) return beside;
  const from = way.findIndex((d) => d >= length - Math.max(LEAST_CLOSE, CLOSE * shift));
  return beside.slice(Math.max(0, Math.min(from, beside.length - 2)));
};
