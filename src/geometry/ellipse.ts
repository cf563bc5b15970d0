import { arc, FULL_TURN } from './arc.ts';
import { left, ORIGIN, type Point, same, scale, size, subtract, turn, turnBetween } from './point.ts';
import { line, type Segment, withEnds } from './segment.ts';
import { type Affine, transformSegment } from './transform.ts';

/** Elliptic arcs as DXF and SVG state them. */

/** A stretch of the unit circle, from parameter `start` through `sweep`, seen through the map. */
const throughMap = (m: Affine, start: number, sweep: number): Segment[] => {
  const at = (a: number): Point => ({ x: Math.cos(a), y: Math.sin(a) });
  const from = at(start);
  const to = Math.abs(sweep) >= FULL_TURN ? from : at(start + sweep);
  return transformSegment(m, arc(from, to, ORIGIN, sweep));
};

/**
 * The stretch of an ellipse from parameter `startParam` anticlockwise to `endParam` (radians, as DXF's ELLIPSE: the
 * parameter, not the angle; equal ones, or a full turn apart, give the whole ellipse). `major` is the vector from the
 * centre to the end of the major axis, the minor axis is `ratio` times as long, a quarter turn to its left.
 * One circular arc when the ratio is 1, else cubics within 1e-4 mm. Empty when an axis has no length.
 */
export const ellipseToSegments = (
  centre: Point,
  major: Point,
  ratio: number,
  startParam: number,
  endParam: number,
): Segment[] => {
  if (size(major) === 0 || ratio === 0) return [];
  let sweep = (endParam - startParam) % FULL_TURN;
  if (sweep <= 1e-12) sweep += FULL_TURN;
  const minor = scale(left(major), ratio);
  return throughMap({ a: major.x, b: major.y, c: minor.x, d: minor.y, e: centre.x, f: centre.y }, startParam, sweep);
};

/**
 * SVG's elliptical arc (endpoint form) as segments: radii rx and ry, the x axis of the ellipse turned by `turned`
 * radians, in whichever axes the points are given. By Scalable Vector Graphics 1.1, appendix F.6: no radius gives a
 * straight line, radii too small are enlarged until the ends are reached, equal end points give nothing.
 */
export const svgArcToSegments = (
  from: Point,
  rx: number,
  ry: number,
  turned: number,
  largeArc: boolean,
  sweep: boolean,
  to: Point,
): Segment[] => {
  if (same(from, to)) return [];
  let a = Math.abs(rx);
  let b = Math.abs(ry);
  if (a === 0 || b === 0) return [line(from, to)];
  // F.6.5 step 1: half the chord in the ellipse's own axes.
  const half = turn(scale(subtract(from, to), 0.5), -turned);
  const reach = (half.x / a) ** 2 + (half.y / b) ** 2;
  if (reach > 1) {
    a *= Math.sqrt(reach);
    b *= Math.sqrt(reach);
  }
  // Step 2 on the unit circle, where the ellipse is round: the centre lies square to the chord.
  const p = { x: half.x / a, y: half.y / b };
  const q = scale(p, -1);
  const square = p.x * p.x + p.y * p.y;
  const away = Math.sqrt(Math.max(0, 1 / square - 1)) * (largeArc === sweep ? -1 : 1);
  const own = { x: away * p.y, y: -away * p.x };
  const startVector = subtract(p, own);
  let angle = turnBetween(startVector, subtract(q, own));
  if (sweep && angle < 0) angle += FULL_TURN;
  if (!sweep && angle > 0) angle -= FULL_TURN;
  const c = Math.cos(turned);
  const s = Math.sin(turned);
  const middle = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
  const shift = turn({ x: own.x * a, y: own.y * b }, turned);
  const map: Affine = { a: a * c, b: a * s, c: -b * s, d: b * c, e: middle.x + shift.x, f: middle.y + shift.y };
  return onExactEnds(throughMap(map, Math.atan2(startVector.y, startVector.x), angle), from, to);
};

const onExactEnds = (segments: Segment[], from: Point, to: Point): Segment[] =>
  segments.map((s, i) => {
    const last = i === segments.length - 1;
    return i === 0 || last ? withEnds(s, i === 0 ? from : s.from, last ? to : s.to) : s;
  });
