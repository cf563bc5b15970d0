import { type Bounds, EMPTY_BOUNDS, include } from './bounds.ts';
import { angleOf, cross, distance, left, type Point, scale, size, subtract, turn, turnBetween, unit } from './point.ts';
import type { ArcSegment, CubicSegment } from './segment.ts';

/** Circular arcs. Radians, anticlockwise positive. */

export const FULL_TURN = 2 * Math.PI;

export const arc = (from: Point, to: Point, centre: Point, sweep: number): ArcSegment => ({
  kind: 'arc',
  from,
  to,
  centre,
  sweep,
});

export const radiusOf = (s: ArcSegment): number => distance(s.centre, s.from);

/** Arc from its bulge as DXF writes it: tan(sweep / 4), anticlockwise positive, not 0. `from` and `to` differ. */
export const arcFromBulge = (from: Point, to: Point, bulge: number): ArcSegment => {
  const chord = subtract(to, from);
  // Centre on the perpendicular through the chord's middle, (1 − b²) / 4b chords to its left.
  const k = (1 - bulge * bulge) / (4 * bulge);
  const across = left(chord);
  return arc(
    from,
    to,
    { x: (from.x + to.x) / 2 + across.x * k, y: (from.y + to.y) / 2 + across.y * k },
    4 * Math.atan(bulge),
  );
};

/** tan(sweep / 4), as DXF writes it. A full circle has no bulge that a polyline could hold: cut it first. */
export const bulgeOf = (s: ArcSegment): number => Math.tan(s.sweep / 4);

/** Arc about `centre` from angle `start` through `sweep`. */
export const arcAbout = (centre: Point, radius: number, start: number, sweep: number): ArcSegment => {
  const at = (a: number): Point => ({ x: centre.x + radius * Math.cos(a), y: centre.y + radius * Math.sin(a) });
  const from = at(start);
  return arc(from, Math.abs(sweep) === FULL_TURN ? from : at(start + sweep), centre, sweep);
};

/** Arc that leaves `from` in `direction` and ends in `to`; undefined when that is a straight line, or turns right back. */
export const arcLeaving = (from: Point, direction: Point, to: Point): ArcSegment | undefined => {
  const half = turnBetween(direction, subtract(to, from));
  if (Math.abs(half) < 1e-12 || Math.abs(half) > Math.PI - 1e-12) return undefined;
  return arcFromBulge(from, to, Math.tan(half / 2));
};

export const arcPointAt = (s: ArcSegment, t: number): Point =>
  t === 0 ? s.from : t === 1 ? s.to : turn(s.from, s.sweep * t, s.centre);

export const arcDerivativeAt = (s: ArcSegment, t: number): Point =>
  scale(left(subtract(turn(s.from, s.sweep * t, s.centre), s.centre)), s.sweep);

export const arcTangentAt = (s: ArcSegment, t: number): Point => unit(arcDerivativeAt(s, t));

/** Parameter at which direction `angle` from the centre is met, or undefined when the arc does not reach it. */
export const arcParameterAtAngle = (s: ArcSegment, angle: number): number | undefined => {
  const start = angleOf(subtract(s.from, s.centre));
  const way = Math.sign(s.sweep);
  let turned = ((angle - start) * way) % FULL_TURN;
  if (turned < 0) turned += FULL_TURN;
  const t = turned / Math.abs(s.sweep);
  if (t <= 1) return t;
  // A hair past the end is the end; a hair before the start comes out as almost a full turn.
  if (turned - Math.abs(s.sweep) < 1e-12) return 1;
  return FULL_TURN - turned < 1e-12 ? 0 : undefined;
};

export const arcBounds = (s: ArcSegment): Bounds => {
  const r = radiusOf(s);
  let b = include(include(EMPTY_BOUNDS, s.from), s.to);
  const extremes: Point[] = [
    { x: s.centre.x + r, y: s.centre.y },
    { x: s.centre.x, y: s.centre.y + r },
    { x: s.centre.x - r, y: s.centre.y },
    { x: s.centre.x, y: s.centre.y - r },
  ];
  extremes.forEach((p, quarter) => {
    if (arcParameterAtAngle(s, (quarter * Math.PI) / 2) !== undefined) b = include(b, p);
  });
  return b;
};

export const arcNearest = (s: ArcSegment, p: Point): { t: number; point: Point } => {
  const out = subtract(p, s.centre);
  const t = size(out) === 0 ? 0 : arcParameterAtAngle(s, angleOf(out));
  if (t !== undefined) return { t, point: arcPointAt(s, t) };
  return distance(p, s.from) <= distance(p, s.to) ? { t: 0, point: s.from } : { t: 1, point: s.to };
};

/** ½∫(x dy − y dx) along the arc. */
export const arcAreaUnder = (s: ArcSegment): number =>
  cross(s.from, s.to) / 2 + (radiusOf(s) ** 2 * (s.sweep - Math.sin(s.sweep))) / 2;

/**
 * Cubics that follow the arc with radial error ≤ tolerance, mm. The usual handle length, 4/3 tan(θ/4) radii, leaves
 * 2.73e-4 of the radius on a quarter turn and falls with the sixth power of the angle
 * (Goldapp, Approximation of circular arcs by cubic polynomials, CAGD 8, 1991).
 */
export const arcToCubics = (s: ArcSegment, tolerance: number): CubicSegment[] => {
  const r = radiusOf(s);
  const widest = Math.min(1, (tolerance / (2.8e-4 * r)) ** (1 / 6)) * (Math.PI / 2);
  const count = Math.max(1, Math.ceil(Math.abs(s.sweep) / widest - 1e-9));
  const handle = (4 / 3) * Math.tan(s.sweep / count / 4);
  const cubics: CubicSegment[] = [];
  for (let i = 0; i < count; i++) {
    const from = arcPointAt(s, i / count);
    const to = arcPointAt(s, (i + 1) / count);
    const out = scale(left(subtract(from, s.centre)), handle);
    const back = scale(left(subtract(to, s.centre)), handle);
    cubics.push({
      kind: 'cubic',
      from,
      control1: { x: from.x + out.x, y: from.y + out.y },
      control2: { x: to.x - back.x, y: to.y - back.y },
      to,
    });
  }
  return cubics;
};
