import type { Point } from '../geometry/point.ts';
import { cross, distance, subtract, unit } from '../geometry/point.ts';
import type { Shape, Stretch } from './shape.ts';

/** Some stretches of an outline, one after the other, measured as one edge. */
export interface Run {
  readonly stretches: readonly number[];
  /** mm along it, darts closed. */
  readonly length: number;
  /** Unit vectors: from end to end, as it starts out, and as it comes in. */
  readonly direction: Point;
  readonly leaves: Point;
  readonly arrives: Point;
  /** Mean distance from the straight line between its ends by that line's length: hollow into the piece is positive. */
  readonly hollow: number;
  /** Most of it on either side, by the line's length. */
  readonly bow: number;
  /** Corners within it, radians: how much they turn together, and how much each by itself. A step out and back turns nothing. */
  readonly turn: number;
  readonly turns: number;
}

/** More stretches than this make no one edge. */
export const LONGEST_RUN = 6;

/** The run of `count` stretches from `first`. */
export const runOf = (shape: Shape, first: number, count: number): Run => {
  const n = shape.stretches.length;
  const stretches = Array.from({ length: count }, (_, k) => (first + k) % n);
  const own = stretches.map((i) => shape.stretches[i] as Stretch);
  const [a, b] = [own[0] as Stretch, own[count - 1] as Stretch];
  const points = own.flatMap((s) => s.points);
  const away = subtract(b.end, a.start);
  const span = Math.max(1e-6, distance(a.start, b.end));
  const direction = unit(away);
  const off = points.map((p) => cross(direction, subtract(p, a.start)) / span);
  const tenth = Math.max(1, Math.round(points.length / 10));
  return {
    stretches,
    length: own.reduce((sum, s) => sum + s.length, 0),
    direction,
    leaves: unit(subtract(points[tenth] ?? b.end, a.start)),
    arrives: unit(subtract(b.end, points[points.length - 1 - tenth] ?? a.start)),
    hollow: off.reduce((sum, d) => sum + d, 0) / off.length,
    bow: off.reduce((most, d) => Math.max(most, Math.abs(d)), 0),
    turn: Math.abs(own.slice(1).reduce((sum, s) => sum + s.startTurn, 0)),
    turns: own.slice(1).reduce((sum, s) => sum + Math.abs(s.startTurn), 0),
  };
};

/** All runs of an outline: by first stretch, then by count less one. */
export const runsOf = (shape: Shape): readonly (readonly Run[])[] => {
  const n = shape.stretches.length;
  return shape.stretches.map((_, first) =>
    Array.from({ length: Math.min(LONGEST_RUN, n - 1) }, (_, k) => runOf(shape, first, k + 1)),
  );
};
