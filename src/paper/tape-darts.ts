import type { Point } from '../geometry/point.ts';
import { add, between, cross, dot, subtract } from '../geometry/point.ts';
import { line } from '../geometry/segment.ts';
import type { Dart, InnerLine, Piece } from '../pattern/piece.ts';
import { fromPaper } from '../pattern/upright.ts';
import { inDrawing } from './redraw-line.ts';
import { at, mouthIndex } from './runs.ts';
import { type Prick, type Tracing, trace } from './tracing.ts';

/* Darts and what is drawn in them, once their mouths and tips have come to their places. */

/** Dart lines run from the mouths to the tip, wherever these are now: each prick by its share of the way. */
export const dartLine = (inner: InnerLine, pricks: readonly Prick[], tracing: Tracing): readonly Prick[] => {
  const dart = tracing.piece.darts.find((d) => d.drawn.as === 'lines' && d.drawn.lines.includes(inner.id));
  const ride = dart && rideOfDart(tracing, dart);
  return ride ? pricks.map((p) => ({ ...p, at: ride.move(p.was) })) : pricks;
};

/** A drill hole keeps its shape and goes with the dart it marks. */
export const drillHole = (pricks: readonly Prick[], tracing: Tracing): readonly Prick[] => {
  const n = Math.max(1, pricks.length);
  const middle = { x: pricks.reduce((s, p) => s + p.was.x, 0) / n, y: pricks.reduce((s, p) => s + p.was.y, 0) / n };
  const ride = dartRide(tracing, middle);
  return ride ? pricks.map((p) => ({ ...p, at: plusOr(p.was, subtract(ride.to, middle)) })) : pricks;
};

const plusOr = (p: Point, by: Point): Point => (by.x === 0 && by.y === 0 ? p : add(p, by));

/** Where a mark inside a dart goes with it; undefined when it lies in none. */
export const dartRide = (tracing: Tracing, p: Point): { to: Point; turned: number } | undefined => {
  for (const dart of tracing.piece.darts) {
    const ride = rideOfDart(tracing, dart);
    if (ride?.holds(p)) return { to: ride.move(p), turned: 0 };
  }
  return undefined;
};

/** How a dart takes along what lies in it: at the mouth as each of its mouths, at the tip as the tip. */
const rideOfDart = (
  tracing: Tracing,
  dart: Dart,
): { move: (p: Point) => Point; holds: (p: Point) => boolean } | undefined => {
  const tip = tracing.tips.get(dart.id);
  if (!tip || dart.edge === undefined) return undefined;
  const start = trace(tracing.piece);
  const [a, b] = ([0, 1] as const).map((which) => ({
    was: at(start, mouthIndex(start, dart.id, which)),
    at: at(tracing, mouthIndex(tracing, dart.id, which)),
  })) as [Moved, Moved];
  const tipBy = subtract(tip.at, tip.was);
  const place = placeInDart(a.was, b.was, tip.was);
  return {
    move: (p) => {
      const { towardsTip, lean } = place(p);
      const mouthBy = between(subtract(a.at, a.was), subtract(b.at, b.was), lean);
      return still(mouthBy, tipBy) ? p : add(p, between(mouthBy, tipBy, towardsTip));
    },
    holds: (p) => {
      const { towardsTip, off } = place(p);
      return towardsTip > 0 && towardsTip <= 1 && off <= 1;
    },
  };
};

interface Moved {
  readonly was: Point;
  readonly at: Point;
}

/**
 * Where a point lies in a dart: how far towards its tip (0 to 1), and between which of its legs (0 on the first, 1 on
 * the second, a half on its middle line). `off` is its distance from the middle line, 1 on a leg.
 */
const placeInDart =
  (a: Point, b: Point, tip: Point) =>
  (p: Point): { towardsTip: number; lean: number; off: number } => {
    const middle = between(a, b, 0.5);
    const axis = subtract(middle, tip);
    const deep = dot(axis, axis);
    const up = Math.max(0, dot(subtract(p, tip), axis) / deep);
    const half = cross(axis, subtract(b, middle));
    const off = cross(axis, subtract(p, tip));
    const aside = up < 1e-6 || half === 0 ? 0 : off / (half * up);
    return {
      towardsTip: Math.max(0, 1 - up),
      lean: Math.min(1, Math.max(0, 0.5 + aside / 2)),
      off: Math.abs(aside),
    };
  };

const still = (a: Point, b: Point): boolean => a.x === 0 && a.y === 0 && b.x === 0 && b.y === 0;

/** The dart where its mouths and its tip are now. */
export const dartNow = (dart: Dart, tracing: Tracing): Dart => {
  const frame = tracing.piece.upright;
  const tip = tracing.tips.get(dart.id);
  if (dart.edge === undefined || !tip) return dart;
  const mouth = (which: 0 | 1): Point => {
    const prick = tracing.seam[mouthIndex(tracing, dart.id, which)] as Prick;
    return prick.at === prick.was ? dart.mouth[which] : inDrawing(prick, frame);
  };
  return { ...dart, mouth: [mouth(0), mouth(1)], tip: inDrawing({ home: dart.tip, ...tip }, frame) };
};

/** A line that a verb drew new, as an inner line of the piece. */
export const newLine =
  (piece: Piece) =>
  (drawn: Tracing['drawn'][number], index: number): InnerLine => {
    const points = drawn.points.map((p) => fromPaper(piece.upright, p));
    const strokes = drawn.kind === 'dart' ? [points] : [points.slice(0, 2), points.slice(2)];
    return {
      id: `new:${index}:${drawn.like}`,
      kind: drawn.kind,
      closed: false,
      spans: strokes.flatMap((s) => s.slice(1).map((p, i) => ({ segments: [line(s[i] as Point, p)] }))),
      evidence: [{ says: 'drawn by an alteration', weight: 1 }],
      confidence: 1,
    };
  };

/** A new dart takes in the edge it is drawn on; a tuck does too, and its tip is the middle of its deep end. */
export const newDart =
  (piece: Piece) =>
  (drawn: Tracing['drawn'][number], index: number): Dart => {
    const points = drawn.points.map((p) => fromPaper(piece.upright, p));
    const deep = points.slice(1, -1);
    return {
      id: `${drawn.kind}-new-${index + 1}`,
      edge: drawn.edge,
      drawn: { as: 'lines', lines: [`new:${index}:${drawn.like}`] },
      mouth: [points[0] as Point, points.at(-1) as Point],
      tip: between(deep[0] as Point, deep.at(-1) as Point, 0.5),
      evidence: [{ says: 'drawn by an alteration', weight: 1 }],
      confidence: 1,
    };
  };
