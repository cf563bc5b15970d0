import { unionBounds } from '../geometry/bounds.ts';
import { flatten } from '../geometry/flatten.ts';
import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';
import { boundsOf, lengthOf } from '../geometry/segment.ts';
import { transformSegment } from '../geometry/transform.ts';
import { edgeSpans } from '../pattern/edges.ts';
import type { Edge, EdgeRole, Level, LevelName, Upright } from '../pattern/piece.ts';
import { heightOf, rightOf, toPaper } from '../pattern/upright.ts';
import { judge } from './judging.ts';
import type { Seam } from './seam.ts';
import { outlineOf, placeAt } from './trace.ts';

/** A piece as far as its levels follow from it. */
export interface Levelled {
  readonly seam: Seam;
  readonly edges: readonly Edge[];
  readonly upright: Upright;
}

const level = (name: LevelName, height: number, says: string, weight: number): Level => ({
  name,
  height,
  ...judge([{ says, weight }]),
});

const segmentsOf = ({ seam }: Levelled, edge: Edge): Segment[] =>
  edgeSpans({ seamLine: outlineOf(seam.shape.trace) }, edge).map((i) => seam.shape.trace.segments[i] as Segment);

const endsOf = (p: Levelled, edge: Edge): readonly [Point, Point] => {
  const segments = segmentsOf(p, edge);
  return [(segments[0] as Segment).from, (segments[segments.length - 1] as Segment).to];
};

/** The edge of a role; of several, parted by the corners of a vent or a fly, the longest. */
const withRole = (p: Levelled, role: EdgeRole): Edge | undefined => {
  const own = p.edges.filter((e) => e.role === role);
  const length = (e: Edge): number => segmentsOf(p, e).reduce((sum, s) => sum + lengthOf(s), 0);
  return own.length <= 1 ? own[0] : own.reduce((a, b) => (length(b) > length(a) ? b : a));
};

/** Least height of an edge, exactly: the bounds of its curves seen upright. */
const lowestOf = (p: Levelled, edge: Edge): number => {
  const { up, origin } = p.upright;
  const right = rightOf(p.upright);
  const upright = {
    ...{ a: right.x, b: up.x, c: right.y, d: up.y },
    e: -(right.x * origin.x + right.y * origin.y),
    f: -(up.x * origin.x + up.y * origin.y),
  };
  return segmentsOf(p, edge)
    .flatMap((s) => transformSegment(upright, s))
    .map(boundsOf)
    .reduce(unionBounds).minY;
};

/** Where an edge meets the centre: at the centre edge of a half piece, else midway. */
const atCentre = (p: Levelled, edge: Edge): Point => {
  const centre = p.edges.find((e) => e.role === 'fold' || e.role === 'centre');
  if (!centre) return middleOf(p, edge);
  const others = endsOf(p, centre);
  const away = (q: Point): number => Math.min(...others.map((o) => distance(o, q)));
  const [from, to] = endsOf(p, edge);
  return away(from) <= away(to) ? from : to;
};

/** Midway along an edge, darts in it not counted. */
const middleOf = (p: Levelled, edge: Edge): Point => {
  const own = p.seam.shape.stretches.filter((s) =>
    edgeSpans({ seamLine: outlineOf(p.seam.shape.trace) }, edge).includes(s.first),
  );
  if (own.length === 1) return (own[0] as (typeof own)[number]).middle;
  const [from, to] = endsOf(p, edge);
  return { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
};

/** Levels that an edge lies on: waist, hem, wrist. They go before what is drawn. */
export const levelsOnEdges = (p: Levelled): Level[] => {
  const levels: Level[] = [];
  if (withRole(p, 'waist')) levels.push(level('waist', 0, 'the waist edge at the centre', 0.9));
  const hem = withRole(p, 'hem');
  if (hem) levels.push(level('hem', heightOf(p.upright, atCentre(p, hem)), 'the hem edge at the centre', 0.9));
  const wrist = withRole(p, 'wrist');
  if (wrist) {
    const [a, b] = endsOf(p, wrist).map((q) => heightOf(p.upright, q)) as [number, number];
    levels.push(level('wrist', (a + b) / 2, 'the corners of the lower edge', 0.9));
  }
  return levels;
};

/** Levels that follow from corners and curves where no line draws them: underarm, biceps, crotch, chest and blade. */
export const levelsFromShape = (p: Levelled, isBack: boolean): Level[] => {
  const levels: Level[] = [];
  const armhole = withRole(p, 'armhole');
  const crotch = withRole(p, 'crotch');
  const inseam = withRole(p, 'inseam');
  const cap = withRole(p, 'cap');
  if (armhole && withRole(p, 'side'))
    levels.push(level('underarm', lowestOf(p, armhole), 'the lowest point of the armhole', 0.9));
  if (armhole) levels.push(...acrossLevel(p, armhole, isBack));
  if (cap) levels.push(biceps(p, cap));
  if (crotch && inseam) {
    const [from, to] = endsOf(p, crotch);
    const others = endsOf(p, inseam);
    const corner = others.some((o) => distance(o, from) < 0.01) ? from : to;
    levels.push(level('crotch', heightOf(p.upright, corner), 'the corner of crotch seam and inseam', 0.9));
  }
  return levels;
};

/** Through the underarm points; where they lie at two heights, as on an upper sleeve, through the lower. */
const biceps = (p: Levelled, cap: Edge): Level => {
  const [a, b] = endsOf(p, cap).map((q) => heightOf(p.upright, q)) as [number, number];
  if (Math.abs(a - b) <= 6) return level('biceps', (a + b) / 2, 'the line through the underarm points', 0.9);
  return level('biceps', Math.min(a, b, lowestOf(p, cap)), 'the lowest point of the cap', 0.5);
};

/** The armhole notch stands at chest level on a front, at blade level on a back. */
const acrossLevel = (p: Levelled, armhole: Edge, isBack: boolean): Level[] => {
  const spans = new Set(edgeSpans({ seamLine: outlineOf(p.seam.shape.trace) }, armhole));
  const heights = p.seam.notches
    .map((n) => placeAt(p.seam.shape.trace, n.along))
    .filter((place) => spans.has(place.span))
    .map((place) => heightOf(p.upright, place.point));
  const alike = heights.every((h) => Math.abs(h - (heights[0] as number)) < 3);
  if (heights.length === 0 || !alike) return [];
  const says = 'the notch in the armhole stands at this height';
  return [level(isBack ? 'blade' : 'chest', heights[0] as number, says, 0.5)];
};

/** How far a side goes in at the waist, at the least, to be told from a straight one, mm. */
const GOES_IN = 8;

/** The waist of a dress in one piece is where its sides go in furthest, between underarm and hem. */
export const waistBySides = (p: Levelled): Level[] => {
  const sides = p.edges.filter((e) => e.role === 'side').map((e) => flatten(segmentsOf(p, e), 0.1));
  const heights = sides.flatMap((side) => furthestIn(side.map((q) => toPaper(p.upright, q))));
  if (heights.length === 0 || heights.length < sides.length) return [];
  const mean = heights.reduce((sum, h) => sum + h, 0) / heights.length;
  return [level('waist', mean, 'the side goes in furthest there', 0.4)];
};

/** The height at which a side lies furthest from the line through its ends, if it goes in there at all. */
const furthestIn = (side: readonly Point[]): number[] => {
  const [from, to] = [side[0] as Point, side[side.length - 1] as Point];
  // Anticlockwise, the piece lies to the left of its edges: the side goes in where it is left of where it starts and ends.
  const sign = Math.sign(from.y - to.y);
  const inwards = (q: Point): number => sign * q.x;
  const innermost = side.reduce((best, q) => (inwards(q) > inwards(best) ? q : best));
  const goesIn = inwards(innermost) - Math.max(inwards(from), inwards(to));
  return goesIn >= GOES_IN ? [innermost.y] : [];
};
