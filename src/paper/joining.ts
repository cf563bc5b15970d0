import { Bug } from '../finding.ts';
import type { Point } from '../geometry/point.ts';
import { add, between, distance, subtract } from '../geometry/point.ts';
import { bring, type EndMove, plus, unkink } from './bend.ts';
import { BLEND, displaced } from './move-edge.ts';
import type { Parted } from './parting.ts';
import { along, at, dartLegs, edgeRun, pointsOf, type Run, turnAt } from './runs.ts';
import type { Prick, Tracing } from './tracing.ts';

/* Closing up a slash: its lips become one line again, and the edges it crossed are trued. */

const places = new WeakMap<readonly Prick[], ReadonlyMap<string, Point>>();

/** Where the pricks of a seam lie, by key. A verb that is tried again and again asks for the same seam. */
const placesOn = (seam: readonly Prick[]): ReadonlyMap<string, Point> => {
  const known = places.get(seam) ?? new Map(seam.map((p) => [keyOf(p), p.at]));
  places.set(seam, known);
  return known;
};

/** Where each prick of the seam lay before a verb; pricks are found again by their place on the source. */
export type Prior = (prick: Prick) => Point;

const keyOf = (p: Prick): string => `${p.span}:${p.t}:${p.mouth ? `${p.mouth.dart}${p.mouth.which}` : ''}`;

export const priorOf = (before: Tracing): Prior => {
  return (prick) => {
    const place = placesOn(before.seam).get(keyOf(prick));
    if (!place) throw new Bug('a prick that was not there before');
    return place;
  };
};

/**
 * Takes the doubled pricks of a slash out again. At a hinge one stays, so that the turn happens just there; at an
 * opening both go, and the edge is to be drawn through (`evenly`, `mapped`) between its ends.
 */
export const closeLips = (
  now: Tracing,
  parted: Parted,
  ends: { readonly from: 'hinge' | 'open'; readonly to: 'hinge' | 'open' },
): Tracing => {
  const gone = new Set<number>();
  for (const [end, how] of [
    [parted.from, ends.from],
    [parted.to, ends.to],
  ] as const) {
    if (!end.lips) continue;
    gone.add(end.lips.moves);
    if (how === 'open') gone.add(end.lips.stays);
  }
  return { ...now, seam: now.seam.filter((_, i) => !gone.has(i)) };
};

/** Sets the pricks of a run to places. */
export const placedAt = (now: Tracing, run: Run, places: readonly Point[]): Tracing => ({
  ...now,
  seam: displaced(
    now.seam,
    run,
    run.map((i, k) => subtract(places[k] as Point, at(now, i))),
  ),
});

const priorPoints = (now: Tracing, run: Run, prior: Prior): Point[] => run.map((i) => prior(now.seam[i] as Prick));

/** Between its ends, where they are now, a run gets their moves in proportion to the way along it: straight stays straight. */
export const evenly = (now: Tracing, prior: Prior, run: Run): Tracing => {
  const old = priorPoints(now, run, prior);
  const way = along(old);
  const length = way.at(-1) as number;
  const [a, b] = [run[0] as number, run.at(-1) as number].map((i, k) =>
    subtract(at(now, i), old.at(k === 0 ? 0 : -1) as Point),
  ) as [Point, Point];
  return placedAt(
    now,
    run,
    old.map((p, k) => add(p, between(a, b, length === 0 ? 0 : (way[k] as number) / length))),
  );
};

/**
 * A curved run mapped from where it lay onto its ends as they are now: its character is kept, and its direction at each
 * end is turned by as much as stated, so that an angle with a neighbour that turns alike is kept.
 * @param turned radians, at the start and at the end
 */
export const mapped = (
  now: Tracing,
  prior: Prior,
  run: Run,
  turned: { readonly start: number; readonly end: number } = { start: 0, end: 0 },
): Tracing => {
  const old = priorPoints(now, run, prior);
  const end = (k: 0 | -1, by: number): EndMove => ({
    by: subtract(at(now, run.at(k) as number), old.at(k) as Point),
    turned: by,
  });
  return placedAt(now, run, plus(old, bring(old, end(0, turned.start), end(-1, turned.end))));
};

/**
 * Spreads the kink that a hinge left in an edge over a blend on each side.
 * @param place where the hinge lies now
 * @param hold pinned: the point keeps its place
 */
export const blendKink = (
  now: Tracing,
  prior: Prior,
  edgeId: string,
  place: Point,
  hold: 'free' | 'pinned' = 'free',
  reach = BLEND,
): Tracing => {
  const run = edgeRun(now, edgeId);
  const points = pointsOf(now, run);
  const k = points.reduce((best, p, i) => (distance(p, place) < distance(points[best] as Point, place) ? i : best), 0);
  if (k <= 0 || k >= run.length - 1) return now;
  const was = priorPoints(now, run, prior);
  const kink = turnAt(points, k) - turnAt(was, k);
  if (Math.abs(kink) < 1e-6) return now;
  return { ...now, seam: displaced(now.seam, run, unkink(points, k, kink, reach, hold)) };
};

/** Brings the tip of a dart to a place; legs drawn in the outline run straight to it, as they were straight before. */
export const setTip = (now: Tracing, prior: Prior, dartId: string, to: Point): Tracing => {
  const dart = now.piece.darts.find((d) => d.id === dartId);
  const tip = now.tips.get(dartId);
  if (!dart || !tip) throw new Bug(`no dart ${dartId} on ${now.piece.id}`);
  const tipped: Tracing = { ...now, tips: new Map([...now.tips, [dartId, { ...tip, at: to }]]) };
  if (dart.drawn.as !== 'outline') return tipped;
  const tipAt = dartLegs(tipped, dart)[0].at(-1) as number;
  const moved = placedAt(tipped, [tipAt], [to]);
  return dartLegs(moved, dart).reduce((t, leg) => evenly(t, prior, leg), moved);
};
