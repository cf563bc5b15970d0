import { FULL_TURN } from '../../../geometry/arc.ts';
import { add, distance, type Point, size, subtract, turnBetween } from '../../../geometry/point.ts';
import { type ArcSegment, arc, type CubicSegment, cubic, line, type Segment } from '../../../geometry/segment.ts';

/** An elliptical arc as SVG writes it; `rotation` in degrees. */
export interface ArcWords {
  readonly rx: number;
  readonly ry: number;
  readonly rotation: number;
  readonly large: boolean;
  readonly sweep: boolean;
}

/** Radii as near as this count as a circle. */
const SAME_RADIUS = 1e-9;
/** A cubic over 30° of an ellipse is within 4e-7 of its greater radius (0.0001 mm at 270 mm). */
const CUBIC_SPAN = Math.PI / 6;

/**
 * Endpoint form to segments, after SVG 2, appendix B.2.4 and B.2.5 (radii too small are scaled up):
 * one arc when circular, else cubics. Axes are those of the data (y down), so a sweep flag of 1 is a positive turn.
 */
export const arcSegments = (from: Point, words: ArcWords, to: Point): Segment[] => {
  if (from.x === to.x && from.y === to.y) return [];
  let rx = Math.abs(words.rx);
  let ry = Math.abs(words.ry);
  if (rx === 0 || ry === 0) return [line(from, to)];
  const circular = Math.abs(rx - ry) <= SAME_RADIUS * rx;
  const phi = circular ? 0 : (words.rotation * Math.PI) / 180;
  const cos = Math.cos(phi);
  const sin = Math.sin(phi);
  const half = { x: (from.x - to.x) / 2, y: (from.y - to.y) / 2 };
  const x = cos * half.x + sin * half.y;
  const y = -sin * half.x + cos * half.y;
  const stretch = Math.hypot(x / rx, y / ry);
  if (stretch > 1) {
    rx *= stretch;
    ry *= stretch;
  }
  const u = { x: x / rx, y: y / ry };
  const square = Math.max(0, 1 / (u.x * u.x + u.y * u.y) - 1);
  const k = (words.large === words.sweep ? -1 : 1) * Math.sqrt(square);
  const unitCentre = { x: k * u.y, y: -k * u.x };
  const centre = {
    x: cos * rx * unitCentre.x - sin * ry * unitCentre.y + (from.x + to.x) / 2,
    y: sin * rx * unitCentre.x + cos * ry * unitCentre.y + (from.y + to.y) / 2,
  };
  const first = subtract(u, unitCentre);
  const last = subtract({ x: -u.x, y: -u.y }, unitCentre);
  let sweep = turnBetween(first, last);
  if (words.sweep && sweep <= 0) sweep += FULL_TURN;
  if (!words.sweep && sweep >= 0) sweep -= FULL_TURN;
  if (circular) return [arc(from, to, centre, sweep)];
  const at = (p: Point): Point =>
    add(centre, { x: cos * rx * p.x - sin * ry * p.y, y: sin * rx * p.x + cos * ry * p.y });
  return ellipseCubics(from, to, Math.atan2(first.y, first.x), sweep, at);
};

/** Cubics along the image of the unit circle under `at`, from angle `start` through `sweep`, with exact ends. */
export const ellipseCubics = (
  from: Point,
  to: Point,
  start: number,
  sweep: number,
  at: (p: Point) => Point,
): CubicSegment[] => {
  const count = Math.max(1, Math.ceil(Math.abs(sweep) / CUBIC_SPAN - 1e-9));
  const step = sweep / count;
  const reach = (4 / 3) * Math.tan(step / 4);
  const cubics: CubicSegment[] = [];
  for (let i = 0; i < count; i++) {
    const a = start + i * step;
    const b = a + step;
    const c1 = at({ x: Math.cos(a) - reach * Math.sin(a), y: Math.sin(a) + reach * Math.cos(a) });
    const c2 = at({ x: Math.cos(b) + reach * Math.sin(b), y: Math.sin(b) - reach * Math.cos(b) });
    const begin: Point = cubics.at(-1)?.to ?? from;
    cubics.push(cubic(begin, c1, c2, i === count - 1 ? to : at({ x: Math.cos(b), y: Math.sin(b) })));
  }
  return cubics;
};

/** A circular arc in SVG's words; undefined for a full turn, which the endpoint form cannot say. */
export const wordsOf = (s: ArcSegment): ArcWords | undefined => {
  if (Math.abs(s.sweep) > FULL_TURN - 1e-9) return undefined;
  const r = (size(subtract(s.from, s.centre)) + size(subtract(s.to, s.centre))) / 2;
  return { rx: r, ry: r, rotation: 0, large: Math.abs(s.sweep) > Math.PI, sweep: s.sweep > 0 };
};

/**
 * The words of an elliptical arc after its cubics moved as one rigid or evenly scaled body; undefined when they did not.
 * `tolerance` in units of the data.
 */
export const movedWords = (
  words: ArcWords,
  before: readonly Segment[],
  after: readonly Segment[],
  tolerance: number,
): ArcWords | undefined => {
  const [a, b] = [before[0], after[0]];
  if (a === undefined || b === undefined || before.length !== after.length) return undefined;
  for (const mirrored of [false, true]) {
    const move = similarity(a.from, a.to, b.from, b.to, mirrored);
    const fits = before.every((s, i) => {
      const t = after[i];
      if (s.kind !== 'cubic' || t?.kind !== 'cubic') return false;
      const pairs = [
        [s.from, t.from],
        [s.control1, t.control1],
        [s.control2, t.control2],
        [s.to, t.to],
      ] as const;
      return pairs.every(([p, q]) => distance(move.map(p), q) <= tolerance);
    });
    if (!fits) continue;
    const turned = (move.angle * 180) / Math.PI;
    return {
      rx: words.rx * move.scale,
      ry: words.ry * move.scale,
      rotation: mirrored ? turned - words.rotation : turned + words.rotation,
      large: words.large,
      sweep: words.sweep !== mirrored,
    };
  }
  return undefined;
};

/** The map z → k z + m (or its mirrored form) that takes a to a2 and b to b2. */
const similarity = (
  a: Point,
  b: Point,
  a2: Point,
  b2: Point,
  mirrored: boolean,
): { map: (p: Point) => Point; scale: number; angle: number } => {
  const flip = mirrored ? -1 : 1;
  const u = { x: b.x - a.x, y: flip * (b.y - a.y) };
  const v = subtract(b2, a2);
  const angle = turnBetween(u, v);
  const scale = size(v) / size(u);
  const cos = Math.cos(angle) * scale;
  const sin = Math.sin(angle) * scale;
  const map = (p: Point): Point => {
    const x = p.x - a.x;
    const y = flip * (p.y - a.y);
    return { x: a2.x + cos * x - sin * y, y: a2.y + sin * x + cos * y };
  };
  return { map, scale, angle };
};
