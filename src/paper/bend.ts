import type { Point } from '../geometry/point.ts';
import { add, distance, dot, ORIGIN, scale, subtract, turn, unit } from '../geometry/point.ts';
import { NoRoom } from './no-room.ts';
import { along, arrival, turnOfArrival } from './runs.ts';

/*
 * The one way in which a line changes its shape here: a displacement that grows smoothly along it is added to its
 * points (a cubic Hermite over the length of the line). What the line was shines through; its vertices stay.
 */

export interface EndMove {
  /** How far this end moves. */
  readonly by: Point;
  /** How far the direction of the line is turned at this end, radians. */
  readonly turned: number;
}
export const STILL: EndMove = { by: ORIGIN, turned: 0 };

/**
 * A step from 0 to 1 that starts and ends level, of two parabolas: of all such steps the one that turns least sharply.
 */
export const step = (u: number): number => (u <= 0 ? 0 : u >= 1 ? 1 : u < 0.5 ? 2 * u * u : 1 - 2 * (1 - u) ** 2);

/** Cubic Hermite basis on u in [0, 1]: value at 0, value at 1, slope at 0, slope at 1. */
const hermite = (u: number) => ({
  value0: (1 + 2 * u) * (1 - u) ** 2,
  value1: u * u * (3 - 2 * u),
  slope0: u * (1 - u) ** 2,
  slope1: u * u * (u - 1),
});

/**
 * Displacements that carry a line to its new ends. Between them each point keeps its place in the line; the direction
 * at each end is turned by just what that end says, so an angle with a neighbour that turns alike is kept.
 * @param points the line as it is
 * @throws NoRoom when an end would be pushed back over the line itself
 * @returns one displacement a point; exactly nothing everywhere when both ends are still
 */
export const reseat = (points: readonly Point[], start: EndMove, end: EndMove): Point[] => {
  if (isStill(start) && isStill(end)) return points.map(() => ORIGIN);
  const s = along(points);
  const length = s.at(-1) as number;
  if (shrinks(points, start, end, length))
    throw new NoRoom('a stretch of seam is too short for what is to be taken from it');
  const slope0 = turnedSlope(reverseArrival(points), start.turned, length);
  const slope1 = turnedSlope(arrival(points), end.turned, length);
  return points.map((_, i) => {
    const h = hermite((s[i] as number) / length);
    return {
      x: start.by.x * h.value0 + end.by.x * h.value1 + slope0.x * h.slope0 + slope1.x * h.slope1,
      y: start.by.y * h.value0 + end.by.y * h.value1 + slope0.y * h.slope0 + slope1.y * h.slope1,
    };
  });
};

/** A Hermite step is one and a half times as steep as even: a line that loses two thirds of itself folds over. */
const shrinks = (points: readonly Point[], start: EndMove, end: EndMove, length: number): boolean => {
  const chord = unit(subtract(points.at(-1) as Point, points[0] as Point));
  const loss = dot(subtract(start.by, end.by), chord);
  return loss > 0.6 * length;
};

/**
 * As `reseat`, and where the line is made of chords, its first and last chord are turned by just what the ends say: a
 * corner with a neighbour is made by them, not by the smooth line they stand for.
 */
export const bring = (points: readonly Point[], start: EndMove, end: EndMove): Point[] =>
  holdingEnds(points, reseat(points, start, end), { start: start.turned, end: end.turned });

/** Displacements of a line, mended so that its first or last chord (those named) come to be turned by just so much. */
export const holdingEnds = (
  points: readonly Point[],
  by: Point[],
  turned: { readonly start?: number; readonly end?: number },
): Point[] => {
  if (by.every((d) => d.x === 0 && d.y === 0)) return by;
  const placed = plus(points, by);
  const chord = (k: number): boolean =>
    distance(points.at(k) as Point, points.at(k < 0 ? k - 1 : k + 1) as Point) > CHORDED;
  const [was, is] = [backwards(points), backwards(placed)];
  const endOff = turned.end === undefined || !chord(-1) ? 0 : turned.end - turnOfArrival(points, placed);
  const startOff = turned.start === undefined || !chord(0) ? 0 : turned.start - turnOfArrival(was, is);
  const atEnd = turnEnd(placed, endOff, REACH);
  const atStart = backwards(turnEnd(is, startOff, REACH));
  return by.map((d, i) => add(d, add(atEnd[i] as Point, atStart[i] as Point)));
};

/** Over how much of the line a chord is turned into place, mm. */
const REACH = 50;

const backwards = (points: readonly Point[]): Point[] => [...points].reverse();

const isStill = (end: EndMove): boolean => end.by.x === 0 && end.by.y === 0 && end.turned === 0;

/** Direction in which the line leaves its first point. */
const reverseArrival = (points: readonly Point[]): Point => scale(arrival([...points].slice(0, 2).reverse()), -1);

const turnedSlope = (direction: Point, turned: number, length: number): Point =>
  turned === 0 ? ORIGIN : scale(subtract(turn(direction, turned), direction), length);

/**
 * Displacements that turn the last stretch of a line (at most `reach` mm of it) so that it arrives turned by `turned`
 * radians, its end staying where it is.
 */
export const turnEnd = (points: readonly Point[], turned: number, reach: number): Point[] => {
  const s = along(points);
  const length = s.at(-1) as number;
  const over = Math.min(reach, length);
  const last = length - (s.at(-2) ?? 0);
  const slope = scale(turnedSlope(arrival(points), turned, over), last > CHORDED ? lastChordShare(last / over) : 1);
  return points.map((_, i) => {
    const u = 1 - (length - (s[i] as number)) / over;
    return u <= 0 ? ORIGIN : scale(slope, hermite(u).slope1);
  });
};

/** Pricks further apart than this are vertices of chords: there the last chord is what makes the corner. mm */
const CHORDED = 5.05;

/** By how much more the end has to be turned so that a last chord, `part` of the stretch, turns by all of it. */
const lastChordShare = (part: number): number => (part >= 1 ? 1 : part / -hermite(1 - part).slope1);

/**
 * Displacements that take a kink of `turned` radians (anticlockwise positive) out of a smooth line at point `index`,
 * spreading it over `reach` mm each side. Free: the added curvature is even (displacement ∝ u²) and the point gives
 * way. Pinned: the point holds its place (a hip level).
 * @param straight which of the two sides is a straight seam that must stay one: the other side takes the whole turn
 */
export const unkink = (
  points: readonly Point[],
  index: number,
  turned: number,
  reach: number,
  hold: 'free' | 'pinned',
  straight: readonly [before: boolean, after: boolean] = [false, false],
): Point[] => {
  if (index === 0 || index === points.length - 1) return points.map(() => ORIGIN);
  const s = along(points);
  const here = s[index] as number;
  const reaches = [Math.min(reach, here), Math.min(reach, (s.at(-1) as number) - here)] as const;
  const parts = straight[0] === straight[1] ? evenly(reaches, hold) : straight[0] ? [0, 1] : [1, 0];
  const into = arrival(points.slice(0, index + 1));
  // A line that turns left is drawn over to its left.
  const normal = { x: -into.y, y: into.x };
  return points.map((_, i) => {
    const side = (s[i] as number) <= here ? 0 : 1;
    const over = reaches[side];
    const u = 1 - Math.abs((s[i] as number) - here) / over;
    if (u <= 0) return ORIGIN;
    const slope = turned * (parts[side] as number) * over;
    return scale(normal, hold === 'pinned' ? slope * hermite(u).slope1 : (slope / 2) * u * u);
  });
};

/** A point that gives way is moved alike from both sides: where one is shorter, it turns by more. */
const evenly = ([before, after]: readonly [number, number], hold: 'free' | 'pinned'): [number, number] =>
  hold === 'pinned' || before === after ? [0.5, 0.5] : [after / (before + after), before / (before + after)];

export const plus = (points: readonly Point[], by: readonly Point[]): Point[] =>
  points.map((p, i) => {
    const d = by[i] as Point;
    return d.x === 0 && d.y === 0 ? p : add(p, d);
  });
