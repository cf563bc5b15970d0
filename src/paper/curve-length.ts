import type { Point } from '../geometry/point.ts';
import { add, between, distance, left, ORIGIN, scale, size, subtract, turn, unit } from '../geometry/point.ts';
import { type EndMove, step } from './bend.ts';
import { displaced } from './move-edge.ts';
import { NoRoom } from './no-room.ts';
import { along, pointsOf, type Run, sewnLength, turnAt } from './runs.ts';
import { solveFor } from './solve.ts';
import type { Tracing } from './tracing.ts';

/* A curved seam brought to a length without moving its ends, and turned at one end without changing its length. */

/** A line that turns less than this has no hollow to draw deeper or flatter, radians. */
const FLAT = 0.15;
/** What a length may miss, mm. */
const WITHIN = 5e-4;

/** How far a row of points turns in all, radians. */
export const turning = (points: readonly Point[]): number =>
  points.slice(1, -1).reduce((sum, _, i) => sum + Math.abs(turnAt(points, i + 1)), 0);

/** Left-hand unit normals of a row of points. */
export const normals = (points: readonly Point[]): Point[] =>
  points.map((_, i) => {
    const a = points[Math.max(0, i - 1)] as Point;
    const b = points[Math.min(points.length - 1, i + 1)] as Point;
    return left(unit(subtract(b, a)));
  });

/**
 * Draws a hollow deeper or flatter between its ends until the edge it belongs to has a sewn length: each point moves
 * square to the line by a·16u²(1−u)², so both ends keep their place and their direction. A line with no hollow to speak
 * of is left as it is.
 */
export const hollowTo = (tracing: Tracing, edgeId: string, run: Run, length: number): Tracing => {
  const points = pointsOf(tracing, run);
  if (run.length < 4 || turning(points) < FLAT) return tracing;
  const way = along(points);
  const whole = way.at(-1) as number;
  const square = normals(points);
  const bowed = (a: number): Tracing => ({
    ...tracing,
    seam: displaced(
      tracing.seam,
      run,
      points.map((_, i) => {
        const u = (way[i] as number) / whole;
        return scale(square[i] as Point, a * 16 * u * u * (1 - u) * (1 - u));
      }),
    ),
  });
  const off = (made: Tracing): number => sewnLength(made, edgeId) - length;
  if (Math.abs(off(tracing)) <= WITHIN) return tracing;
  return solveFor(bowed, off, 0, 0.2, WITHIN);
};

/**
 * Displacements that carry the first end of a line to a place and turn it there, the other end as it was: of all such
 * lines those that bend least. The move is shared out by two parabolas, level at both ends; so is the turn, first back
 * and then away.
 */
export const carryEnd = (points: readonly Point[], end: EndMove): Point[] => {
  const way = along(points);
  const whole = way.at(-1) as number;
  const square = left(unit(subtract(points[0] as Point, points[1] as Point)));
  return points.map((_, i) => {
    const u = 1 - (way[i] as number) / whole;
    return add(scale(end.by, step(u)), scale(square, end.turned * whole * turnedEnd(u)));
  });
};

/** Where the bend of a turned end changes its hand: 1 − 1/√2 of its length. */
const TURNS_AT = 1 - Math.SQRT1_2;

/** Height of two parabolas at u: level at 0; at 1 nothing, with a slope of 1. */
const turnedEnd = (u: number): number => {
  const k = 1 / (1 - 2 * TURNS_AT);
  const away = -(k / 2) * Math.min(u, TURNS_AT) ** 2;
  const v = Math.max(0, u - TURNS_AT);
  return away - k * TURNS_AT * v + (k / 2) * v * v;
};

/**
 * A row of points laid off along a line at the distances they had along the old one, from its first point; past its end
 * the line runs straight on.
 */
export const laidOff = (line: readonly Point[], old: readonly Point[]): Point[] => {
  const [is, was] = [along(line), along(old)];
  let k = 0;
  return was.map((s) => {
    while (k < line.length - 2 && (is[k + 1] as number) < s) k++;
    const [a, b] = [line[k] as Point, line[k + 1] as Point];
    const stretch = (is[k + 1] as number) - (is[k] as number);
    // Two pricks on one place (the mouth of a dart at a joint) have no stretch between them.
    return stretch === 0 ? a : between(a, b, (s - (is[k] as number)) / stretch);
  });
};

/**
 * Turns a run where it arrives at its last prick, so that a corner whose other edge was turned keeps its angle. Both
 * ends stay, and so do the direction at its first end and its length. A run drawn with a ruler stays straight.
 *
 * At each prick the line is bent by q more than it was. Bent by q at p, the end swings about p: so the bends have to
 * add up to the turn, and their moments about the end to nothing. Of all bends that do, those of the form
 * w·(a + b·x + c·y) are the least, weighed by w; and w is small where the line is bent already.
 */
export const turnWith = (tracing: Tracing, run: Run, turned: number): Tracing => {
  const points = pointsOf(tracing, run);
  if (Math.abs(turned) < 1e-7 || turning(points) < FLAT) return tracing;
  const end = points.at(-1) as Point;
  const weights = weightsOf(points);
  let bends = points.map(() => 0);
  let bent = points;
  for (let round = 0; round < 6; round++) {
    const off = subtract(end, bent.at(-1) as Point);
    const lacking = turned - bends.reduce((a, b) => a + b, 0);
    if (size(off) < 1e-9 && Math.abs(lacking) < 1e-12) break;
    const more = leastBends(bent, weights, { turn: lacking, by: off });
    bends = bends.map((q, i) => q + (more[i] as number));
    bent = bentBy(points, bends);
  }
  if (distance(bent.at(-1) as Point, end) > WITHIN) throw new NoRoom('a seam cannot be turned so far at its corner');
  return {
    ...tracing,
    seam: displaced(
      tracing.seam,
      run,
      points.map((p, i) => (i === points.length - 1 ? ORIGIN : subtract(bent[i] as Point, p))),
    ),
  };
};

/**
 * How readily a line gives way at each of its points: over the way beside it, less where it bends, and least at its first
 * end, where it keeps its direction.
 */
const weightsOf = (points: readonly Point[]): number[] => {
  const beside = points.map((p, i) => {
    const [a, b] = [points[i - 1], points[i + 1]];
    return a && b ? (distance(a, p) + distance(p, b)) / 2 : 0;
  });
  const mean = turning(points) / beside.reduce((a, b) => a + b, 0);
  const way = along(points);
  const firm = FIRM * (way.at(-1) as number);
  return beside.map((d, i) =>
    d === 0 ? 0 : (d * step((way[i] as number) / firm)) / (Math.abs(turnAt(points, i)) / d + mean) ** 3,
  );
};
/** Over this part of it from its first end a line gives way less. */
const FIRM = 0.3;

/** The least bends that turn the end of a row of points and move it. */
const leastBends = (
  points: readonly Point[],
  weights: readonly number[],
  wanted: { readonly turn: number; readonly by: Point },
): number[] => {
  const end = points.at(-1) as Point;
  // A bend of 1 at p moves the end by a quarter turn of (end − p).
  const effects = points.map((p) => [1, p.y - end.y, end.x - p.x] as const);
  const rows = [0, 1, 2].map((r) =>
    [0, 1, 2].map((c) =>
      effects.reduce((sum, e, i) => sum + (weights[i] as number) * (e[r] as number) * (e[c] as number), 0),
    ),
  ) as unknown as Rows;
  const [a, b, c] = solvedThree(rows, [wanted.turn, wanted.by.x, wanted.by.y]);
  return effects.map((e, i) => (weights[i] as number) * (a * e[0] + b * e[1] + c * e[2]));
};

type Three = readonly [number, number, number];
type Rows = readonly [Three, Three, Three];

/** Three linear equations by Cramer's rule. */
const solvedThree = (rows: Rows, wanted: Three): Three => {
  const det = ([a, b, c]: Rows): number =>
    a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
  const whole = det(rows);
  const withColumn = (k: number): Rows =>
    rows.map((row, r) => row.map((v, c) => (c === k ? (wanted[r] as number) : v))) as unknown as Rows;
  return [0, 1, 2].map((k) => det(withColumn(k)) / whole) as unknown as Three;
};

/** A row of points bent by some more at each: every stretch keeps its length. */
const bentBy = (points: readonly Point[], bends: readonly number[]): Point[] => {
  let angle = 0;
  let at = points[0] as Point;
  return points.map((p, i) => {
    const before = points[i - 1];
    if (before) at = add(at, turn(subtract(p, before), angle));
    angle += bends[i] as number;
    return at;
  });
};
