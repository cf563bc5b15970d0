import { Bug } from '../finding.ts';
import type { Bounds } from '../geometry/bounds.ts';
import { boundsOfPoints, distanceToBounds, overlap } from '../geometry/bounds.ts';
import { flatten } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { cross, distance, dot, scale, subtract } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';
import { boundsOf, lengthOf, nearestOn, parameterAtLength, pointAt, reversed, tangentAt } from '../geometry/segment.ts';
import type { Outline, Span } from '../pattern/piece.ts';

/** How finely outlines are broken into straight lines for questions of inside and near, mm. */
const FLATNESS = 0.1;

/** A closed outline made ready for measuring. Spans have one segment each. */
export interface Trace {
  readonly spans: readonly Span[];
  readonly segments: readonly Segment[];
  /** Length along the outline at which each span starts; one more entry: the whole length. */
  readonly starts: readonly number[];
  readonly length: number;
  readonly polygon: readonly Point[];
  readonly bounds: Bounds;
  /** Bounds of each span. */
  readonly boxes: readonly Bounds[];
  /** Enclosed area, mm², positive: traces are anticlockwise. */
  readonly area: number;
}

export interface TracePlace {
  readonly span: number;
  readonly t: number;
  readonly point: Point;
  readonly tangent: Point;
}

export interface TraceHit {
  readonly span: number;
  readonly t: number;
  readonly point: Point;
  readonly distance: number;
}

const ringArea = (points: readonly Point[]): number => {
  let twice = 0;
  for (let i = 0; i < points.length; i++) twice += cross(points[i] as Point, points[(i + 1) % points.length] as Point);
  return twice / 2;
};

/** The spans run the other way round. */
export const reversedSpans = (spans: readonly Span[]): Span[] =>
  [...spans].reverse().map((span) => ({
    ...(span.source ? { source: { ...span.source, reversed: !span.source.reversed } } : {}),
    segments: [...span.segments].reverse().map(reversed),
  }));

/** A trace of spans that run round once, turned anticlockwise. */
export const trace = (given: readonly Span[]): Trace => {
  const forward = given.flatMap((s) => s.segments);
  const clockwise = ringArea(polygonOf(forward)) < 0;
  const spans = clockwise ? reversedSpans(given) : given;
  const segments = spans.map((s) => s.segments[0] as Segment);
  if (spans.some((s) => s.segments.length !== 1)) throw new Bug('a trace is made of spans of one segment each');
  const starts = [0];
  for (const segment of segments) starts.push((starts[starts.length - 1] as number) + lengthOf(segment));
  const polygon = polygonOf(segments);
  return {
    spans,
    segments,
    starts,
    length: starts[starts.length - 1] as number,
    polygon,
    bounds: boundsOfPoints(polygon),
    boxes: segments.map(boundsOf),
    area: ringArea(polygon),
  };
};

/** Corner points of the outline broken into straight lines; the first is not repeated. */
const polygonOf = (segments: readonly Segment[]): Point[] => {
  const points: Point[] = [];
  for (const segment of segments) {
    const line = segment.kind === 'line' ? [segment.from, segment.to] : flatten([segment], FLATNESS);
    points.push(...line.slice(0, -1));
  }
  return points;
};

export const outlineOf = (t: Trace): Outline => ({ spans: t.spans });

/** `s` brought into 0..length. */
export const wrap = (t: Trace, s: number): number => ((s % t.length) + t.length) % t.length;

/** The place `s` mm along the outline from the start of span 0, going round as often as needed. */
export const placeAt = (t: Trace, s: number): TracePlace => {
  const along = wrap(t, s);
  let low = 0;
  let high = t.segments.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((t.starts[middle] as number) <= along) low = middle;
    else high = middle - 1;
  }
  const segment = t.segments[low] as Segment;
  const span = (t.starts[low + 1] as number) - (t.starts[low] as number);
  const into = along - (t.starts[low] as number);
  const at = segment.kind === 'cubic' ? parameterAtLength(segment, into) : span === 0 ? 0 : into / span;
  return { span: low, t: at, point: pointAt(segment, at), tangent: tangentAt(segment, at) };
};

/** Points every `step` mm or closer from `from` to `to` (mm along, to > from), both ends included. */
export const samplesBetween = (t: Trace, from: number, to: number, count: number): TracePlace[] =>
  Array.from({ length: count }, (_, i) => placeAt(t, from + ((to - from) * i) / Math.max(1, count - 1)));

/** Even-odd rule; points on the line may fall either way. */
export const isInside = (polygon: readonly Point[], p: Point): boolean => {
  let inside = false;
  for (let i = 0, j = polygon.length - 1; i < polygon.length; j = i++) {
    const a = polygon[i] as Point;
    const b = polygon[j] as Point;
    if (a.y > p.y !== b.y > p.y && p.x < ((b.x - a.x) * (p.y - a.y)) / (b.y - a.y) + a.x) inside = !inside;
  }
  return inside;
};

export const distanceToStretch = (a: Point, b: Point, p: Point): number => {
  const along = subtract(b, a);
  const square = dot(along, along);
  const t = square === 0 ? 0 : Math.min(1, Math.max(0, dot(subtract(p, a), along) / square));
  return distance({ x: a.x + along.x * t, y: a.y + along.y * t }, p);
};

/** Distance from p to the outline's polygon, mm. */
export const distanceToPolygon = (polygon: readonly Point[], p: Point): number => {
  let least = Infinity;
  for (let i = 0, j = polygon.length - 1; i < polygon.length; j = i++) {
    least = Math.min(least, distanceToStretch(polygon[j] as Point, polygon[i] as Point, p));
  }
  return least;
};

/** The nearest place on the outline to p, among the spans given (all by default). */
export const nearestPlace = (t: Trace, p: Point, among?: readonly number[]): TraceHit => {
  let best: TraceHit | undefined;
  const look = (span: number): void => {
    if (best && distanceToBounds(t.boxes[span] as Bounds, p) >= best.distance) return;
    const hit = nearestOn(t.segments[span] as Segment, p);
    if (!best || hit.distance < best.distance) best = { span, t: hit.t, point: hit.point, distance: hit.distance };
  };
  if (among) among.forEach(look);
  else for (let i = 0; i < t.segments.length; i++) look(i);
  if (!best) throw new Bug('nearestPlace asked of no spans');
  return best;
};

/** The nearest place on the outline within `reach` mm of p; much cheaper than the nearest anywhere. */
export const placeWithin = (t: Trace, p: Point, reach: number): TraceHit | undefined => {
  let best: TraceHit | undefined;
  for (let span = 0; span < t.segments.length; span++) {
    const box = t.boxes[span] as Bounds;
    if (p.x < box.minX - reach || p.x > box.maxX + reach || p.y < box.minY - reach || p.y > box.maxY + reach) continue;
    const hit = nearestOn(t.segments[span] as Segment, p);
    if (hit.distance <= reach && (!best || hit.distance < best.distance))
      best = { span, t: hit.t, point: hit.point, distance: hit.distance };
  }
  return best;
};

/** mm along the outline of a place on it. */
export const alongOf = (t: Trace, span: number, at: number): number => {
  const segment = t.segments[span] as Segment;
  const whole = (t.starts[span + 1] as number) - (t.starts[span] as number);
  if (segment.kind !== 'cubic') return (t.starts[span] as number) + whole * at;
  let low = 0;
  let high = whole;
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    if (parameterAtLength(segment, middle) < at) low = middle;
    else high = middle;
  }
  return (t.starts[span] as number) + (low + high) / 2;
};

/** Where a ray from p meets the outline: the nearest hit within `reach` mm, with its span. */
export const rayHit = (t: Trace, p: Point, direction: Point, reach: number): TraceHit | undefined => {
  let best: TraceHit | undefined;
  const end = { x: p.x + direction.x * reach, y: p.y + direction.y * reach };
  const box = boundsOfPoints([p, end]);
  for (let span = 0; span < t.segments.length; span++) {
    if (!overlap(box, t.boxes[span] as Bounds)) continue;
    const segment = t.segments[span] as Segment;
    const points = segment.kind === 'line' ? [segment.from, segment.to] : flatten([segment], FLATNESS);
    for (let i = 1; i < points.length; i++) {
      const hit = stretchesMeet(p, end, points[i - 1] as Point, points[i] as Point);
      if (hit === undefined || (best && hit * reach >= best.distance)) continue;
      const point = { x: p.x + direction.x * hit * reach, y: p.y + direction.y * hit * reach };
      const exact = nearestOn(segment, point);
      best = { span, t: exact.t, point: exact.point, distance: distance(p, exact.point) };
    }
  }
  return best;
};

/** How far along a→b it meets c→d, 0 to 1. */
export const stretchesMeet = (a: Point, b: Point, c: Point, d: Point): number | undefined => {
  const u = subtract(b, a);
  const v = subtract(d, c);
  const w = cross(u, v);
  if (Math.abs(w) < 1e-12) return undefined;
  const ac = subtract(c, a);
  const s = cross(ac, v) / w;
  const r = cross(ac, u) / w;
  return s >= 0 && s <= 1 && r >= -1e-9 && r <= 1 + 1e-9 ? s : undefined;
};

/** A point and a direction moved by k. */
export const moved = (p: Point, direction: Point, k: number): Point => {
  const d = scale(direction, k);
  return { x: p.x + d.x, y: p.y + d.y };
};
