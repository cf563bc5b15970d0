import { fitCubics } from '../geometry/fit.ts';
import type { Point } from '../geometry/point.ts';
import { add, angleOf, distance, dot, scale, subtract, turnBetween, turnOver, unit } from '../geometry/point.ts';
import { line, type Segment, tangentAt, withEnds } from '../geometry/segment.ts';
import { compose, rotation, transformSegment, translation } from '../geometry/transform.ts';
import type { Span, Upright } from '../pattern/piece.ts';
import { rightOf } from '../pattern/upright.ts';
import { CHORD, displacement, type Prick } from './tracing.ts';

/*
 * Lines drawn again through their pricks, each from its own source: what did not move is the very source, what moved
 * as a stiff body is the source moved, a line that is still straight is a line, all else becomes as few cubics as pass
 * within FIT of the pricks.
 */

/** Greatest distance of a redrawn curve from its pricks, mm: half of what the formats are allowed after it. */
const FIT = 0.005;
/** A long line that strays less than this from straight is left a line, mm. */
const STRAIGHT = 0.02;
/** Pricks that agree with one stiff move to this much have moved stiffly, mm. */
const STIFF = 1e-7;

/** Where a prick lies in the drawing now; the very source point when it has not moved. */
export const inDrawing = (prick: { home: Point; was: Point; at: Point }, frame: Upright): Point => {
  const d = displacement(prick);
  if (d.x === 0 && d.y === 0) return prick.home;
  return add(prick.home, add(scale(rightOf(frame), d.x), scale(frame.up, d.y)));
};

/** The spans of a line, redrawn. Spans whose pricks are all gone come out empty. */
export const redrawLine = (
  spans: readonly Span[],
  pricks: readonly Prick[],
  closed: boolean,
  frame: Upright,
): readonly Span[] => {
  if (pricks.every((p) => p.at === p.was)) return spans;
  const groups = groupBySpan(withBends(pricks, closed), spans.length, closed);
  return spans.map((span, i) => redrawSpan(span, groups.get(i), frame));
};

/** A line that turns by so much more at one prick than it did, and at its neighbours hardly more, is bent there. Radians. */
const BENT = 0.03;

/** Marks the pricks at which the line was bent (the mouth of a dart), so that no curve is drawn smoothly through them. */
const withBends = (pricks: readonly Prick[], closed: boolean): readonly Prick[] => {
  const n = pricks.length;
  const more = pricks.map((p, i) => {
    if (!closed && (i === 0 || i === n - 1)) return 0;
    const [a, b] = [pricks[(i - 1 + n) % n] as Prick, pricks[(i + 1) % n] as Prick];
    if (a.at === a.was && p.at === p.was && b.at === b.was) return 0;
    if (!apart(p, a) || !apart(b, p)) return 0;
    return Math.abs(turnOver(a.at, p.at, b.at) - turnOver(a.was, p.was, b.was));
  });
  return pricks.map((p, i) => {
    const beside = Math.max(more[(i - 1 + n) % n] as number, more[(i + 1) % n] as number);
    return (more[i] as number) > BENT && (more[i] as number) > 3 * beside ? { ...p, bends: true } : p;
  });
};

/** Pricks on one place tell no direction. */
const apart = (a: Prick, b: Prick): boolean => distance(a.at, b.at) > 0.05 && distance(a.was, b.was) > 0.05;

/** The pricks of one span and the one after its last. `whole` when neither end was cut away. */
interface Group {
  readonly pricks: readonly Prick[];
  readonly whole: boolean;
}

const groupBySpan = (pricks: readonly Prick[], count: number, closed: boolean): Map<number, Group> => {
  const groups = new Map<number, Group>();
  const n = pricks.length;
  const startsAt = pricks.findIndex((p, i) => closed && pricks[(i - 1 + n) % n]?.span !== p.span);
  const first = Math.max(0, startsAt);
  let open: Prick[] = [];
  const close = (next: Prick | undefined): void => {
    const span = open[0]?.span;
    if (span === undefined) return;
    const all = next ? [...open, next] : open;
    const whole = open[0]?.t === 0 && next?.t === 0 && next.span === (closed ? (span + 1) % count : span + 1);
    groups.set(span, { pricks: all, whole });
  };
  for (let k = 0; k < n; k++) {
    const prick = pricks[(first + k) % n] as Prick;
    if (open.length > 0 && open[0]?.span !== prick.span) {
      close(prick);
      open = [];
    }
    open.push(prick);
  }
  close(closed ? pricks[first] : undefined);
  return groups;
};

const redrawSpan = (span: Span, group: Group | undefined, frame: Upright): Span => {
  if (!group) return { ...span, segments: [] };
  if (group.whole && group.pricks.every((p) => p.at === p.was)) return span;
  const n = span.segments.length;
  const segments = span.segments.flatMap((segment, k) => {
    const own = n === 1 ? group.pricks : partOf(group.pricks, span, k);
    return own.length < 2 ? [] : redrawSegment(segment, own, group.whole, frame);
  });
  return { ...span, segments };
};

/** Pricks of the k-th segment of a span that already was redrawn before. */
const partOf = (pricks: readonly Prick[], span: Span, k: number): Prick[] => {
  const n = span.segments.length;
  const index = (p: Prick, i: number): number => (i === pricks.length - 1 ? n - 1 : Math.floor(p.t * n + 1e-9));
  const own = pricks.filter((p, i) => index(p, i) === k && i < pricks.length - 1);
  const after = pricks.findIndex((p, i) => i === pricks.length - 1 || index(p, i) > k);
  return own.length === 0 ? [] : [...own, pricks[after] as Prick];
};

const redrawSegment = (segment: Segment, pricks: readonly Prick[], whole: boolean, frame: Upright): Segment[] => {
  const bends = pricks.flatMap((p, i) => (p.bends && i > 0 && i < pricks.length - 1 ? [i] : []));
  const cuts = [0, ...bends, pricks.length - 1];
  return cuts
    .slice(1)
    .flatMap((end, k) => redrawStretch(segment, pricks.slice(cuts[k], end + 1), whole && bends.length === 0, frame));
};

/** A stretch of a segment along which it does not bend. */
const redrawStretch = (segment: Segment, all: readonly Prick[], whole: boolean, frame: Upright): Segment[] => {
  const pricks = clearOfEnds(all);
  const points = pricks.map((p) => inDrawing(p, frame));
  const first = points[0] as Point;
  const last = points.at(-1) as Point;
  const stiff = whole && segment.kind !== 'line' ? movedStiffly(segment, pricks, points) : undefined;
  if (stiff) return stiff;
  if (distance(first, last) < 1e-9) return [];
  if (segment.kind === 'line' && staysLine(points, pricks)) return [line(first, last)];
  return fitCubics(spaced(points), {
    tolerance: FIT,
    startTangent: directionAt(segment, pricks, points, 0),
    endTangent: directionAt(segment, pricks, points, pricks.length - 1),
  });
};

/** A prick that stands on the end of a stretch (the mouth of a dart at a joint) tells no direction there. */
const clearOfEnds = (pricks: readonly Prick[]): readonly Prick[] => {
  const [first, last] = [pricks[0] as Prick, pricks.at(-1) as Prick];
  const clear = (p: Prick): boolean => distance(p.home, first.home) > ON_END && distance(p.home, last.home) > ON_END;
  return pricks.filter((p) => p === first || p === last || clear(p));
};
const ON_END = 1e-3;

/** Two pricks on one place would give a curve no direction. */
const spaced = (points: readonly Point[]): Point[] =>
  points.filter((p, i) => i === 0 || i === points.length - 1 || distance(p, points[i - 1] as Point) > 1e-6);

const staysLine = (points: readonly Point[], pricks: readonly Prick[]): boolean => {
  if (pricks.length === 2) return true;
  const a = points[0] as Point;
  const b = points.at(-1) as Point;
  const along = unit(subtract(b, a));
  const away = Math.max(...points.map((p) => Math.abs(dot(subtract(p, a), { x: -along.y, y: along.x }))));
  const wasLength = distance((pricks[0] as Prick).was, (pricks.at(-1) as Prick).was);
  return away <= (wasLength <= CHORD ? STRAIGHT * 2.5 : STRAIGHT);
};

/** The segment moved as a stiff body, when that is what its pricks did. */
const movedStiffly = (segment: Segment, pricks: readonly Prick[], points: readonly Point[]): Segment[] | undefined => {
  const homeA = (pricks[0] as Prick).home;
  const homeB = (pricks.at(-1) as Prick).home;
  const a = points[0] as Point;
  const b = points.at(-1) as Point;
  const turned = distance(homeA, homeB) < 1e-9 ? 0 : angleOf(subtract(b, a)) - angleOf(subtract(homeB, homeA));
  const shift = translation(subtract(a, homeA));
  const move = Math.abs(turned) < 1e-12 ? shift : compose(shift, rotation(turned, homeA));
  const fits = pricks.every((p, i) => {
    const q = points[i] as Point;
    const there = {
      x: move.a * p.home.x + move.c * p.home.y + move.e,
      y: move.b * p.home.x + move.d * p.home.y + move.f,
    };
    return distance(there, q) < STIFF;
  });
  if (!fits) return undefined;
  const [only] = transformSegment(move, segment);
  return only ? [withEnds(only, a, b)] : undefined;
};

/**
 * Direction of the redrawn line at one of its ends: that of the source there, plus the slope of the displacement
 * along it (three-point difference), so that what was smooth across a joint is smooth after it.
 */
const directionAt = (segment: Segment, pricks: readonly Prick[], points: readonly Point[], index: number): Point => {
  const step = index === 0 ? 1 : -1;
  const prick = pricks[index] as Prick;
  const local = index === 0 ? segmentParameter(prick.t) : index === pricks.length - 1 ? endParameter(prick.t) : prick.t;
  const source = tangentAt(segment, local);
  const by = (k: number): Point => subtract(points[k] as Point, (pricks[k] as Prick).home);
  const one = index + step;
  const two = index + 2 * step;
  const h1 = distance((pricks[index] as Prick).home, (pricks[one] as Prick).home);
  if (h1 < 1e-9) return chordDirection(points, index);
  const d1 = scale(subtract(by(one), by(index)), 1 / h1);
  if (!pricks[two]) return add(source, scale(d1, step));
  const h2 = h1 + distance((pricks[one] as Prick).home, (pricks[two] as Prick).home);
  if (h2 - h1 < 1e-9) return add(source, scale(d1, step));
  const d2 = scale(subtract(by(two), by(index)), 1 / h2);
  const slope = scale(subtract(scale(d1, h2), scale(d2, h1)), 1 / (h2 - h1));
  const direction = add(source, scale(slope, step));
  // Where pricks were taken out beside the end, the slope reaches across the gap and says nothing of the end itself.
  const chord = chordDirection(points, index);
  return Math.abs(turnBetween(direction, chord)) > ASTRAY ? chord : direction;
};

/** An end direction this far off the last chord is no direction of the line, radians. */
const ASTRAY = 0.3;

const segmentParameter = (t: number): number => t % 1;
const endParameter = (t: number): number => (t === 0 ? 1 : t);

const chordDirection = (points: readonly Point[], index: number): Point =>
  index === 0
    ? subtract(points[1] as Point, points[0] as Point)
    : subtract(points[index] as Point, points[index - 1] as Point);
