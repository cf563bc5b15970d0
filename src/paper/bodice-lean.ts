import type { Point } from '../geometry/point.ts';
import { add, ORIGIN, scale, subtract } from '../geometry/point.ts';
import { type Armhole, partsOfArmhole, runAlong, shouldersOf, widthLevel } from './armhole.ts';
import { bring, plus, STILL, step } from './bend.ts';
import { laidOff } from './curve-length.ts';
import { placedAt, priorOf } from './joining.ts';
import { along, at, edgeRun, inDarts, outwards, pointsOf, type Run, sewnRuns } from './runs.ts';
import { drawnBetweenEnds } from './shoulder-dart.ts';
import type { Tracing } from './tracing.ts';

/* A seam that goes out above the waist and leans back to nothing there, and the armhole that goes out with it. */

/**
 * The armhole moves out as it is; the seam below it goes with it down to the bust, and from there back to nothing at
 * the waist. The shoulder is drawn to its new end.
 */
export const moveOut = (tracing: Tracing, armhole: Armhole, by: number): Tracing => {
  const shift: Point = { x: by * armhole.outward, y: 0 };
  const run = runAlong(tracing, armhole);
  const foot = run.at(-1) as number;
  const bust = tracing.levels.get('bust') ?? Number.POSITIVE_INFINITY;
  const full = Math.min(at(tracing, foot).y, widthLevel(tracing, armhole), bust);
  const moved = placedAt(
    tracing,
    run,
    pointsOf(tracing, run).map((p) => add(p, shift)),
  );
  const seamed = footedAt(moved, tracing, armhole, leanOut(moved, tracing, armhole.beyond.id, shift, full));
  const shoulder = shouldersOf(tracing).find((s) => s.edge === armhole.before.id);
  return shoulder ? drawnBetweenEnds(seamed, priorOf(tracing), shoulder) : seamed;
};

/** The armhole is drawn to where the seam below it ends now. */
const footedAt = (now: Tracing, was: Tracing, armhole: Armhole, seamed: Tracing): Tracing => {
  const { upper, lower } = partsOfArmhole(was, armhole);
  const run = lower.length > 0 ? lower : upper;
  const points = pointsOf(now, run);
  const by = subtract(at(seamed, run.at(-1) as number), points.at(-1) as Point);
  return placedAt(seamed, run, plus(points, bring(points, STILL, { by, turned: 0 })));
};

/**
 * A seam goes out by all of a shift above a height, to nothing at the waist, and is laid off along its new line at the
 * lengths it had, from below: so it still matches its mate, notch for notch. Darts in it go with their mouths.
 */
export const leanOut = (now: Tracing, before: Tracing, edge: string, shift: Point, full: number): Tracing => {
  const stretches = upwards(before, edge);
  const waist = waistBelow(before, edge);
  const all = pointsOf(before, stretches.flat());
  const sewnAt = placesOf(before, stretches);
  const [none, whole] = [placeIn(sewnAt, all, waist), placeIn(sewnAt, all, full)];
  let result = now;
  let carried: Point = ORIGIN;
  let done = 0;
  for (const [n, run] of stretches.entries()) {
    const old = pointsOf(before, run);
    const places = sewnAt.slice(done, done + run.length);
    done += run.length;
    const lean = places.map((s) => scale(shift, step((s - none) / (whole - none))));
    const off = n === 0 ? ORIGIN : subtract(carried, lean[0] as Point);
    const laid = laidOff(
      old.map((p, i) => add(p, add(lean[i] as Point, off))),
      old,
    );
    result = placedAt(result, run, laid);
    carried = subtract(laid.at(-1) as Point, old.at(-1) as Point);
    result = dartMoved(result, before, edge, run.at(-1) as number, carried);
  }
  return result;
};

/** The sewn stretches of a seam from below. */
const upwards = (tracing: Tracing, edge: string): Run[] => {
  const runs = sewnRuns(tracing, edge);
  const climbs = outwards(tracing, edge) > 0;
  return climbs ? runs : runs.map((run) => [...run].reverse()).reverse();
};

/** The dart that opens at a prick moves stiffly, legs, tip and all. */
const dartMoved = (now: Tracing, before: Tracing, edge: string, mouth: number, by: Point): Tracing => {
  const darts = inDarts(before, edge);
  const id = darts.get(mouth)?.dart;
  const tip = id === undefined ? undefined : before.tips.get(id);
  if (id === undefined || !tip) return now;
  const own = [...darts].filter(([, d]) => d.dart === id).map(([i]) => i);
  const moved = placedAt(
    now,
    own,
    own.map((i) => add(at(before, i), by)),
  );
  return { ...moved, tips: new Map([...moved.tips, [id, { ...tip, at: add(tip.at, by) }]]) };
};

/** Distances from the first prick along stretches that are sewn end to end. */
const placesOf = (tracing: Tracing, stretches: readonly Run[]): number[] => {
  let sum = 0;
  return stretches.flatMap((run) => {
    const way = along(pointsOf(tracing, run)).map((d) => d + sum);
    sum = way.at(-1) as number;
    return way;
  });
};

const placeIn = (places: readonly number[], points: readonly Point[], height: number): number => {
  const k = points.findIndex((p) => p.y >= height - 1e-6);
  return (places[k < 0 ? places.length - 1 : k] as number) ?? 0;
};

/** Height at which a seam comes to the waist: its own end at a waist edge, else the waist level. */
const waistBelow = (tracing: Tracing, edge: string): number => {
  const low = Math.min(...pointsOf(tracing, edgeRun(tracing, edge)).map((p) => p.y));
  const ends = tracing.piece.edges.some((e) => e.role === 'waist');
  return ends ? low : Math.max(low, tracing.levels.get('waist') ?? 0);
};
