import { Bug } from '../finding.ts';
import type { Point } from '../geometry/point.ts';
import { add, between, distance, scale, subtract, turn, turnBetween, unit } from '../geometry/point.ts';
import { reseat, STILL } from './bend.ts';
import { displaced } from './move-edge.ts';
import { NoRoom } from './no-room.ts';
import { along, at, dartLegs, inDarts, intake, mouthIndex, neighbourRun, pointsOf, type Run, sewnRuns } from './runs.ts';
import { type DrawnLine, prickedAt, type Prick, type Tracing } from './tracing.ts';

/**
 * Makes a dart wider (narrower, when negative) by `by` mm at its mouth, half on each leg; its tip stays.
 *
 * Drawn in the outline: each leg is swung about the tip, so the legs keep their lengths, and the seam beside it is
 * turned with the leg: folded, the seam comes out as fair as it was. Drawn as lines: the mouths slide along the seam.
 * @throws NoRoom when the dart would become less than nothing
 */
export const widenDart = (tracing: Tracing, dartId: string, by: number): Tracing => {
  if (by === 0) return tracing;
  if (intake(tracing, dartId) + by < 0) throw new NoRoom(`a dart ${intake(tracing, dartId).toFixed(0)} mm wide cannot give ${(-by).toFixed(0)} mm`);
  const dart = tracing.piece.darts.find((d) => d.id === dartId);
  if (!dart) throw new Bug(`no dart ${dartId} on ${tracing.piece.id}`);
  return dart.drawn.as === 'outline' ? swingLegs(tracing, dartId, by) : slideMouths(tracing, dartId, by);
};

const swingLegs = (tracing: Tracing, dartId: string, by: number): Tracing => {
  const dart = tracing.piece.darts.find((d) => d.id === dartId);
  const tip = tracing.tips.get(dartId)?.at;
  if (!dart || !tip) throw new Bug(`no dart ${dartId}`);
  const [first, second] = dartLegs(tracing, dart);
  const wide = intake(tracing, dartId);
  const mouths = [at(tracing, first[0] as number), at(tracing, second.at(-1) as number)] as const;
  const opening = openingOf(mouths[0], mouths[1], tip, wide + by) - openingOf(mouths[0], mouths[1], tip, wide);
  // Anticlockwise outline: seen from the tip of a dart the second mouth lies anticlockwise of the first, or clockwise.
  const sense = Math.sign(turnBetween(subtract(mouths[0], tip), subtract(mouths[1], tip))) || 1;
  const swungFirst = swingLeg(tracing, first, tip, (-sense * opening) / 2, 'before');
  return swingLeg(swungFirst, [...second].reverse(), tip, (sense * opening) / 2, 'after');
};

/** Angle at the tip between legs of the lengths they have when the mouth is `wide` mm (law of cosines), radians. */
const openingOf = (a: Point, b: Point, tip: Point, wide: number): number => {
  const p = distance(a, tip);
  const q = distance(b, tip);
  const c = (p * p + q * q - wide * wide) / (2 * p * q);
  return Math.acos(Math.min(1, Math.max(-1, c)));
};

/** Swings one leg (mouth first) about the tip; the seam run beside its mouth follows. */
const swingLeg = (tracing: Tracing, leg: Run, tip: Point, angle: number, side: 'before' | 'after'): Tracing => {
  const mouth = leg[0] as number;
  const beside = neighbourRun(tracing, mouth, side);
  const by = subtract(turn(at(tracing, mouth), angle, tip), at(tracing, mouth));
  const swung = displaced(
    tracing.seam,
    leg.slice(0, -1),
    leg.slice(0, -1).map((i) => subtract(turn(at(tracing, i), angle, tip), at(tracing, i))),
  );
  const shift = reseat(pointsOf(tracing, beside), STILL, { by, turned: angle });
  return { ...tracing, seam: displaced(swung, beside.slice(0, -1), shift.slice(0, -1)) };
};

const slideMouths = (tracing: Tracing, dartId: string, by: number): Tracing =>
  ([0, 1] as const).reduce((now, which) => slideMouth(now, dartId, which, by / 2), tracing);

/** Moves one mouth of a dart drawn as lines along the seam, away from the other. */
const slideMouth = (tracing: Tracing, dartId: string, which: 0 | 1, by: number): Tracing => {
  const here = mouthIndex(tracing, dartId, which);
  const other = mouthIndex(tracing, dartId, which === 0 ? 1 : 0);
  const away = which === 0 ? -1 : 1;
  const step = by > 0 ? away : -away;
  const to = pointAlong(tracing, here, step, Math.abs(by), other);
  const without = tracing.seam.filter((_, i) => i !== here);
  return { ...tracing, seam: prickedAt(without, to, { dart: dartId, which }) };
};

/** The place `far` mm along the seam from a prick, in ring direction `step`. */
const pointAlong = (tracing: Tracing, from: number, step: number, far: number, stop: number): Point => {
  const count = tracing.seam.length;
  let left = far;
  let i = from;
  for (let n = 0; n < count; n++) {
    const j = (i + step + count) % count;
    const d = distance(at(tracing, i), at(tracing, j));
    if (d >= left) return between(at(tracing, i), at(tracing, j), left / d);
    left -= d;
    i = j;
    if (i === stop) break;
  }
  throw new NoRoom('a dart would be moved off its seam');
};

/** A dart's middle line at its mouth, its length and its width: what limits and messages need. */
export const dartSize = (tracing: Tracing, dartId: string): { intake: number; depth: number } => {
  const tip = tracing.tips.get(dartId)?.at as Point;
  const a = at(tracing, mouthIndex(tracing, dartId, 0));
  const b = at(tracing, mouthIndex(tracing, dartId, 1));
  return { intake: distance(a, b), depth: distance(between(a, b, 0.5), tip) };
};

/**
 * Draws a new dart of the given intake and depth into the longest sewn run of an edge, square to the seam, or, for a
 * tuck, two short lines. Takes layer and style of the drawable `like`.
 */
export const drawDart = (
  tracing: Tracing,
  edgeId: string,
  like: string,
  size: { intake: number; depth: number },
  place: number,
  kind: 'dart' | 'tuck',
): Tracing => {
  const run = longest(tracing, sewnRuns(tracing, edgeId));
  const points = pointsOf(tracing, run);
  const middle = placeOn(points, place);
  const inward = { x: -middle.direction.y, y: middle.direction.x };
  const half = scale(middle.direction, size.intake / 2);
  const a = subtract(middle.point, half);
  const b = add(middle.point, half);
  const deep = scale(inward, size.depth);
  const shape =
    kind === 'dart' ? [a, add(middle.point, deep), b] : [a, add(a, deep), add(b, deep), b];
  const line: DrawnLine = { kind, edge: edgeId, like, points: shape };
  return { ...tracing, drawn: [...tracing.drawn, line] };
};

const longest = (tracing: Tracing, runs: readonly Run[]): Run =>
  runs.reduce((best, run) => {
    const reach = (r: Run) => distance(at(tracing, r[0] as number), at(tracing, r.at(-1) as number));
    return reach(run) > reach(best) ? run : best;
  });

const placeOn = (points: readonly Point[], place: number): { point: Point; direction: Point } => {
  const total = points.slice(1).reduce((sum, p, i) => sum + distance(points[i] as Point, p), 0);
  let left = total * place;
  for (let i = 1; i < points.length; i++) {
    const a = points[i - 1] as Point;
    const b = points[i] as Point;
    const d = distance(a, b);
    if (d >= left) return { point: between(a, b, left / d), direction: unit(subtract(b, a)) };
    left -= d;
  }
  throw new Bug('a place past the end of a run');
};

/** Legs of outline darts drawn straight again from mouth to tip after their ends moved apart. */
export const retapeDarts = (now: Tracing, before: Tracing, edgeId: string): Tracing => {
  const darts = inDarts(before, edgeId);
  if (darts.size === 0) return now;
  let seam = now.seam;
  for (const dart of now.piece.darts.filter((d) => d.edge === edgeId && d.drawn.as === 'outline')) {
    for (const leg of dartLegs(now, dart)) seam = evenLeg({ ...now, seam }, before, leg);
  }
  return { ...now, seam };
};

/** Gives the inner pricks of a leg the displacement of its ends, evenly: a straight leg stays straight. */
const evenLeg = (now: Tracing, before: Tracing, leg: Run): readonly Prick[] => {
  const by = (i: number): Point => subtract(at(now, i), at(before, i));
  const a = by(leg[0] as number);
  const b = by(leg.at(-1) as number);
  const way = along(pointsOf(before, leg));
  const targets = leg.map((i, k) => add(at(before, i), between(a, b, (way[k] as number) / (way.at(-1) as number))));
  return displaced(
    now.seam,
    leg,
    leg.map((i, k) => subtract(targets[k] as Point, at(now, i))),
  );
};
