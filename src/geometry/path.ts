import { type Bounds, boundsOfPoints, distanceToBounds, EMPTY_BOUNDS, unionBounds } from './bounds.ts';
import { type Point, same } from './point.ts';
import {
  boundsOf,
  lengthBetween,
  lengthOf,
  line,
  nearestOn,
  parameterAtLength,
  pointAt,
  reversed,
  type Segment,
  signedAreaUnder,
  tangentAt,
} from './segment.ts';
import { windingAbout } from './winding.ts';

export { type Chain, type ChainGap, type ChainItem, type ChainLink, chain } from './chain.ts';
export { selfCrossings } from './crossings.ts';
export { flatten } from './flatten.ts';

/** Segments end to end: each starts exactly where the one before ends; closed when the last ends where the first starts. */
export interface Path {
  readonly segments: readonly Segment[];
  readonly closed: boolean;
}

/** A path of these segments, closed when its ends meet exactly. */
export const pathOf = (segments: readonly Segment[]): Path => {
  const first = segments[0];
  const last = segments[segments.length - 1];
  return { segments, closed: first !== undefined && last !== undefined && same(first.from, last.to) };
};

/** Straight lines from point to point; points that repeat the one before are passed over. */
export const polyline = (points: readonly Point[], closed = false): Path => {
  const ring = closed && points[0] ? [...points, points[0]] : points;
  const segments: Segment[] = [];
  for (const p of ring) {
    const from = segments[segments.length - 1]?.to ?? ring[0];
    if (from && !same(from, p)) segments.push(line(from, p));
  }
  return { segments, closed };
};

/** mm, within 1e-6 a segment. */
export const pathLength = (path: Path): number => path.segments.reduce((sum, s) => sum + lengthOf(s), 0);

/** Exact. */
export const pathBounds = (path: Path): Bounds =>
  path.segments.reduce((b, s) => unionBounds(b, boundsOf(s)), EMPTY_BOUNDS);

/** mm², positive when anticlockwise, exact. An open path counts as closed by a straight line. */
export const signedArea = (path: Path): number => {
  const first = path.segments[0];
  const last = path.segments[path.segments.length - 1];
  if (!first || !last) return 0;
  const sum = path.segments.reduce((area, s) => area + signedAreaUnder(s), 0);
  return same(first.from, last.to) ? sum : sum + signedAreaUnder(line(last.to, first.from));
};

export const reversedPath = (path: Path): Path => ({
  segments: path.segments.map(reversed).reverse(),
  closed: path.closed,
});

export interface PlaceOnPath {
  readonly index: number;
  readonly t: number;
  readonly point: Point;
}

/**
 * The place `along` mm from the start. On a closed path it goes on round (also backwards for a negative distance),
 * on an open one it stops at the ends. Undefined for a path without segments.
 */
export const pointAtDistance = (path: Path, along: number): (PlaceOnPath & { readonly tangent: Point }) | undefined => {
  const lengths = path.segments.map(lengthOf);
  const total = lengths.reduce((a, b) => a + b, 0);
  let rest = along;
  if (path.closed && total > 0 && (along < 0 || along > total)) rest = along - Math.floor(along / total) * total;
  let index = 0;
  while (index < path.segments.length - 1 && rest > (lengths[index] as number)) {
    rest -= lengths[index] as number;
    index++;
  }
  const s = path.segments[index];
  if (!s) return undefined;
  const t = parameterAtLength(s, rest);
  return { index, t, point: pointAt(s, t), tangent: tangentAt(s, t) };
};

/** Distance from the start to a place, mm. */
export const distanceAlong = (path: Path, index: number, t: number): number => {
  let sum = 0;
  for (let i = 0; i < index; i++) sum += lengthOf(path.segments[i] as Segment);
  const s = path.segments[index];
  return s ? sum + lengthBetween(s, 0, t) : sum;
};

export interface NearestOnPath extends PlaceOnPath {
  readonly distance: number;
  /** From the start of the path, mm. */
  readonly along: number;
}

/** A box that is quick to make and holds the segment; it may be too large. */
const roughBounds = (s: Segment): Bounds =>
  s.kind === 'cubic' ? boundsOfPoints([s.from, s.control1, s.control2, s.to]) : boundsOf(s);

const boxes = new WeakMap<readonly Segment[], readonly Bounds[]>();

/** Boxes round the segments; many places are sought on one path. */
const boxesOf = (segments: readonly Segment[]): readonly Bounds[] => {
  const known = boxes.get(segments);
  if (known?.length === segments.length) return known;
  const made = segments.map(roughBounds);
  boxes.set(segments, made);
  return made;
};

type Place = PlaceOnPath & { readonly distance: number };

/** Rounding may make a place seem nearer than its box, mm. */
const ROUNDING = 1e-6;

/** The segment with the nearest box bounds how near the place can be; those with boxes further off are passed over. */
const placeNearest = ({ segments }: Path, p: Point): Place | undefined => {
  const around = boxesOf(segments);
  const first = segments[nearestBox(around, p)];
  if (!first) return undefined;
  const bound = nearestOn(first, p).distance + ROUNDING;
  let best: Place | undefined;
  for (let index = 0; index < segments.length; index++) {
    const away = distanceToBounds(around[index] as Bounds, p);
    if (away > bound || (best && away >= best.distance)) continue;
    const { t, point, distance } = nearestOn(segments[index] as Segment, p);
    if (!best || distance < best.distance) best = { index, t, point, distance };
  }
  return best;
};

/** Index of the box nearest to p, the first of equals; −1 of none. */
const nearestBox = (around: readonly Bounds[], p: Point): number => {
  let index = -1;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < around.length; i++) {
    const away = distanceToBounds(around[i] as Bounds, p);
    if (away >= least) continue;
    least = away;
    index = i;
  }
  return index;
};

/** The place nearest to p; the first of equals. Undefined for a path without segments. */
export const nearestOnPath = (path: Path, p: Point): NearestOnPath | undefined => {
  const best = placeNearest(path, p);
  return best && { ...best, along: distanceAlong(path, best.index, best.t) };
};

/** How far p lies from the path, mm; undefined for a path without segments. */
export const distanceToPath = (path: Path, p: Point): number | undefined => placeNearest(path, p)?.distance;

/** How often the closed path goes round p, anticlockwise positive. Not defined within 1e-9 mm of the line. */
export const windingNumber = (path: Path, p: Point): number => {
  const first = path.segments[0];
  const last = path.segments[path.segments.length - 1];
  if (!first || !last) return 0;
  const closing = same(first.from, last.to) ? [] : [line(last.to, first.from)];
  return windingAbout([...path.segments, ...closing], p);
};

/** Whether p lies inside the closed path, whichever way round it runs. */
export const encloses = (path: Path, p: Point): boolean => windingNumber(path, p) !== 0;
