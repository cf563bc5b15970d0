import type { Point } from '../geometry/point.ts';
import { add, between, cross, distance, dot, subtract } from '../geometry/point.ts';
import { line } from '../geometry/segment.ts';
import type { Dart, InnerLine, Piece } from '../pattern/piece.ts';
import { fromPaper } from '../pattern/upright.ts';
import { inDrawing } from './redraw-line.ts';
import { at, mouthIndex } from './runs.ts';
import { innerPlace, type Prick, type Tracing, trace } from './tracing.ts';

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

/** Whether a place on the source lies in a dart. */
export const dartHolds = (tracing: Tracing, dart: Dart, p: Point): boolean =>
  rideOfDart(tracing, dart)?.holds(p) ?? false;

interface DartRide {
  readonly move: (p: Point) => Point;
  readonly holds: (p: Point) => boolean;
}

/** How a dart takes along what lies in it: at the mouth as each of its mouths, at the tip as the tip. */
const rideOfDart = (tracing: Tracing, dart: Dart): DartRide | undefined => {
  const tip = tracing.tips.get(dart.id);
  if (!tip) return undefined;
  if (dart.otherTip) return rideOfInnerDart(tracing, dart.id, tip);
  if (dart.edge === undefined) return undefined;
  const start = trace(tracing.piece);
  const [a, b] = ([0, 1] as const).map((which) => ({
    was: at(start, mouthIndex(start, dart.id, which)),
    at: at(tracing, mouthIndex(tracing, dart.id, which)),
  })) as [Moved, Moved];
  return rideBetween(a, b, tip);
};

/** Above its mouths a dart that lies inside goes with its upper tip, below them with its lower one. */
const rideOfInnerDart = (tracing: Tracing, dartId: string, tip: Moved): DartRide | undefined => {
  const [a, b, other] = (['mouth 0', 'mouth 1', 'other tip'] as const).map((place) =>
    tracing.tips.get(innerPlace(dartId, place)),
  );
  if (!a || !b || !other) return undefined;
  const up = rideBetween(a, b, tip, true);
  const down = rideBetween(a, b, other, true);
  const middle = between(a.was, b.was, 0.5);
  const half = (p: Point): DartRide => (dot(subtract(p, middle), subtract(tip.was, middle)) >= 0 ? up : down);
  return { move: (p) => half(p).move(p), holds: (p) => half(p).holds(p) };
};

/** @param atMouth whether what lies on the line from mouth to mouth is in the dart: on a seam it rides with that */
const rideBetween = (a: Moved, b: Moved, tip: Moved, atMouth = false): DartRide => {
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
      return (atMouth || towardsTip > 0) && towardsTip <= 1 && off <= 1;
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
      // What lies past the tip is in no dart.
      off: up < 1e-6 && distance(p, tip) > AT_TIP ? Number.POSITIVE_INFINITY : Math.abs(aside),
    };
  };

/** A mark this near the tip of a dart marks it, mm. */
const AT_TIP = 0.5;

const still = (a: Point, b: Point): boolean => a.x === 0 && a.y === 0 && b.x === 0 && b.y === 0;

/** The dart where its mouths and its tip are now. */
export const dartNow = (dart: Dart, tracing: Tracing): Dart => {
  const frame = tracing.piece.upright;
  const tip = tracing.tips.get(dart.id);
  if (!tip) return dart;
  if (dart.otherTip) return innerDartNow(dart, dart.otherTip, tracing);
  if (dart.edge === undefined) return dart;
  const mouth = (which: 0 | 1): Point => {
    const prick = tracing.seam[mouthIndex(tracing, dart.id, which)] as Prick;
    return prick.at === prick.was ? dart.mouth[which] : inDrawing(prick, frame);
  };
  return { ...dart, mouth: [mouth(0), mouth(1)], tip: inDrawing({ home: dart.tip, ...tip }, frame) };
};

const innerDartNow = (dart: Dart, otherTip: Point, tracing: Tracing): Dart => {
  const place = (key: string, home: Point): Point => {
    const now = tracing.tips.get(key);
    return now ? inDrawing({ home, ...now }, tracing.piece.upright) : home;
  };
  return {
    ...dart,
    mouth: [place(innerPlace(dart.id, 'mouth 0'), dart.mouth[0]), place(innerPlace(dart.id, 'mouth 1'), dart.mouth[1])],
    tip: place(dart.id, dart.tip),
    otherTip: place(innerPlace(dart.id, 'other tip'), otherTip),
  };
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
