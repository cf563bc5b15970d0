import type { Point } from '../geometry/point.ts';
import { between, cross, distance, subtract, turnBetween, unit } from '../geometry/point.ts';
import { ringRange } from '../pattern/edges.ts';
import type { Corner, Corners, OutlineDart, OutlineNotch } from './corners.ts';
import { readCorners } from './corners.ts';
import type { Trace } from './trace.ts';
import { placeAt, samplesBetween, wrap } from './trace.ts';

/** A stretch of outline between two corners, measured, before it has a role. */
export interface Stretch {
  readonly first: number;
  readonly last: number;
  readonly spans: readonly number[];
  /** mm along the outline; `to` > `from`, it may go past the outline's length. */
  readonly from: number;
  readonly to: number;
  readonly start: Point;
  readonly end: Point;
  readonly startTurn: number;
  readonly endTurn: number;
  /** mm, legs of darts in the outline left out. */
  readonly length: number;
  /** Unit vector from start to end. */
  readonly direction: Point;
  /** Greatest distance from the straight line between its ends, mm, darts left out. */
  readonly bow: number;
  /** Midway along it, darts left out. */
  readonly middle: Point;
  /** Evenly spread points, darts left out. */
  readonly points: readonly Point[];
  /** Darts in the outline that open on it. */
  readonly darts: readonly OutlineDart[];
}

/** An outline with its corners found. */
export interface Shape {
  readonly trace: Trace;
  readonly corners: readonly Corner[];
  readonly stretches: readonly Stretch[];
  readonly darts: readonly OutlineDart[];
  readonly notches: readonly OutlineNotch[];
}

const SAMPLES = 33;

const stretchBetween = (t: Trace, a: Corner, b: Corner, darts: readonly OutlineDart[]): Stretch => {
  const n = t.segments.length;
  const first = a.joint;
  const last = (b.joint + n - 1) % n;
  const spans = ringRange(first, last, n);
  const from = a.along;
  const to = b.along > a.along ? b.along : b.along + t.length;
  const own = darts.filter((d) => spans.includes(d.first));
  const legs = own.map((d) => {
    const start = t.starts[d.first] as number;
    const stop = t.starts[d.last + 1] as number;
    return [start, stop < start ? stop + t.length : stop] as const;
  });
  const within = (s: number): boolean =>
    legs.some(([x, y]) => [s, s + t.length, s - t.length].some((v) => v > x + 1e-9 && v < y - 1e-9));
  const places = samplesBetween(t, from, to, SAMPLES).filter(
    (_, i) => !within(from + ((to - from) * i) / (SAMPLES - 1)),
  );
  const direction = unit(subtract(b.at, a.at));
  const points = places.map((p) => p.point);
  return {
    first,
    last,
    spans,
    from,
    to,
    start: a.at,
    end: b.at,
    startTurn: a.turn,
    endTurn: b.turn,
    length: to - from - legs.reduce((sum, [x, y]) => sum + (y - x), 0),
    direction,
    bow: points.reduce((most, p) => Math.max(most, Math.abs(cross(direction, subtract(p, a.at)))), 0),
    middle: midway(t, from, to, legs),
    points,
    darts: own,
  };
};

/** The place half way from `from` to `to` when the stretches `legs` do not count. */
const midway = (t: Trace, from: number, to: number, legs: readonly (readonly [number, number])[]): Point => {
  const starts = legs.map(([x, y]) => [x < from ? x + t.length : x, y - x] as const).sort((a, b) => a[0] - b[0]);
  let at = from + (to - from - starts.reduce((sum, [, width]) => sum + width, 0)) / 2;
  for (const [start, width] of starts) if (start < at - 1e-9) at += width;
  return placeAt(t, at).point;
};

/** Stretches between the corners of an outline. One corner or none gives a single stretch all the way round. */
export const readShape = (t: Trace, also: readonly number[] = []): Shape => shapeFrom(t, readCorners(t, also));

export const shapeFrom = (t: Trace, { corners, darts, notches }: Corners): Shape => {
  const ring = corners.length > 0 ? corners : [{ joint: 0, at: placeAt(t, 0).point, along: 0, turn: 0 }];
  const stretches = ring.map((c, i) => stretchBetween(t, c, ring[(i + 1) % ring.length] as Corner, darts));
  return { trace: t, corners: ring, stretches, darts, notches };
};

/** Straight within `tolerance` mm. */
export const isStraight = (s: Stretch, tolerance = 0.5): boolean => s.bow <= tolerance;

/** Turning of the line (sum of absolute turns, radians) in its first and its last half. */
export const turningOf = (t: Trace, s: Stretch): readonly [number, number] => {
  const places = samplesBetween(t, s.from + 2, s.to - 2, 41);
  const halves: [number, number] = [0, 0];
  for (let i = 1; i < places.length; i++) {
    const turn = Math.abs(
      turnBetween((places[i - 1] as { tangent: Point }).tangent, (places[i] as { tangent: Point }).tangent),
    );
    halves[i <= 20 ? 0 : 1] += turn;
  }
  return halves;
};

export const distanceToStretchOf = (s: Stretch, p: Point): number => {
  let least = Infinity;
  for (let i = 1; i < s.points.length; i++) {
    const a = s.points[i - 1] as Point;
    const b = s.points[i] as Point;
    const along = subtract(b, a);
    const square = along.x ** 2 + along.y ** 2;
    const k = square === 0 ? 0 : Math.min(1, Math.max(0, ((p.x - a.x) * along.x + (p.y - a.y) * along.y) / square));
    least = Math.min(least, distance(p, between(a, b, k)));
  }
  return least;
};

/** The stretch that holds the place `along` mm of the outline. */
export const stretchAt = (shape: Shape, along: number): number =>
  Math.max(
    0,
    shape.stretches.findIndex((s) => wrap(shape.trace, along - s.from) <= s.to - s.from),
  );
