import type { PathDrawable } from '../formats/drawing.ts';
import type { Point } from '../geometry/point.ts';
import { between, distance, dot, subtract, unit } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';
import { lengthOf, pointAt } from '../geometry/segment.ts';
import type { Label } from './labels.ts';
import { distanceToStretch } from './trace.ts';

/** A line drawn on a piece, measured. */
export interface Stroke {
  readonly drawable: PathDrawable;
  readonly from: Point;
  readonly to: Point;
  readonly length: number;
  readonly closed: boolean;
  /** Corner points and points along curves. */
  readonly points: readonly Point[];
  /** The longest straight run of it. */
  readonly shaft: { readonly from: Point; readonly to: Point; readonly length: number };
  /** Straight all the way, within 0.5 mm or 1 % of its length. */
  readonly straight: boolean;
}

const pointsOf = (segments: readonly Segment[]): Point[] => [
  (segments[0] as Segment).from,
  ...segments.flatMap((s) =>
    s.kind === 'line' ? [s.to] : [0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875, 1].map((t) => pointAt(s, t)),
  ),
];

/** Longest run of points on one straight line going one way. */
const longestRun = (points: readonly Point[]): { from: Point; to: Point; length: number } => {
  let best = { from: points[0] as Point, to: points[0] as Point, length: 0 };
  for (let i = 0; i < points.length - 1; ) {
    const start = points[i] as Point;
    let j = i + 1;
    const direction = unit(subtract(points[j] as Point, start));
    while (j + 1 < points.length && dot(direction, unit(subtract(points[j + 1] as Point, points[j] as Point))) > 0.9998)
      j++;
    const length = distance(start, points[j] as Point);
    if (length > best.length) best = { from: start, to: points[j] as Point, length };
    i = j;
  }
  return best;
};

export const strokeOf = (drawable: PathDrawable): Stroke => {
  const { segments } = drawable.path;
  const points = pointsOf(segments);
  const from = points[0] as Point;
  const to = points[points.length - 1] as Point;
  const length = segments.reduce((sum, s) => sum + lengthOf(s), 0);
  const bow = points.reduce((most, p) => Math.max(most, distanceToStretch(from, to, p)), 0);
  return {
    drawable,
    from,
    to,
    length,
    closed: drawable.path.closed,
    points,
    shaft: longestRun(points),
    straight: !drawable.path.closed && bow <= Math.max(0.5, 0.01 * length) && distance(from, to) > 0.9 * length,
  };
};

export const directionOf = (s: Pick<Stroke, 'from' | 'to'>): Point => unit(subtract(s.to, s.from));
export const middleOfStroke = (s: Stroke): Point => between(s.from, s.to, 0.5);

/** Distance from a stroke to p, mm. */
export const distanceToStroke = (s: Pick<Stroke, 'points'>, p: Point): number => {
  let least = Infinity;
  for (let i = 1; i < s.points.length; i++) {
    least = Math.min(least, distanceToStretch(s.points[i - 1] as Point, s.points[i] as Point, p));
  }
  return least;
};

/** Sine of the angle between two unit vectors, without regard to sense: 0 parallel, 1 square. */
export const skew = (a: Point, b: Point): number => Math.abs(a.x * b.y - a.y * b.x);

/** A thing a label may stand beside. */
export interface Labelled<T> {
  readonly what: T;
  readonly points: readonly Point[];
  readonly direction: Point;
}

/** A label that reads across a line is less likely to mean it: its distance counts as this many times as far. */
const ACROSS = 3;

/** The candidate a label stands nearest to along its length, lines along which it reads preferred; none beyond `reach` mm. */
export const labelled = <T>(
  label: Label,
  candidates: readonly Labelled<T>[],
  reach: number,
): { what: T; away: number } | undefined => {
  const reading = { x: Math.cos(label.angle), y: Math.sin(label.angle) };
  let best: { what: T; away: number; felt: number } | undefined;
  for (const c of candidates) {
    const each = label.places.map((p) => distanceToStroke(c, p));
    const away = Math.min(...each);
    if (away > reach) continue;
    const felt = (each.reduce((a, b) => a + b, 0) / each.length + 2) * (skew(reading, c.direction) < 0.26 ? 1 : ACROSS);
    if (!best || felt < best.felt) best = { what: c.what, away, felt };
  }
  return best;
};
