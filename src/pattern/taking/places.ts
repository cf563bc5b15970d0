import { crossingsWithLine } from '../../geometry/intersect.ts';
import { near, type Point } from '../../geometry/point.ts';
import type { Segment } from '../../geometry/segment.ts';
import { edgeSegments, edgeWithRole } from '../edges.ts';
import type { Edge, EdgeRole, LandmarkName, LevelName, Piece } from '../piece.ts';
import { acrossOf, fromPaper, heightOf, toPaper } from '../upright.ts';

/* Finding places on a piece. All in its own frame: x across, y height, mm. */

export const levelHeight = (piece: Piece, level: LevelName): number | undefined =>
  piece.levels.find((l) => l.name === level)?.height;

/** Height of the waist at the centre: its level where one is known, else where the frame begins. */
export const waistHeight = (piece: Piece): number => levelHeight(piece, 'waist') ?? 0;

export const landmark = (piece: Piece, name: LandmarkName): Point | undefined => {
  const found = piece.landmarks.find((l) => l.name === name);
  return found && toPaper(piece.upright, found.at);
};

const segmentsOf = (piece: Piece, role: EdgeRole): Segment[] =>
  edgeWithRole(piece, role).flatMap((e) => edgeSegments(piece, e));

const ends = (piece: Piece, edge: Edge): Point[] => {
  const segments = edgeSegments(piece, edge);
  return [segments[0]?.from, segments.at(-1)?.to].flatMap((p) => (p ? [toPaper(piece.upright, p)] : []));
};

/** Ends of drawn lines this far apart are one corner, mm. */
const ONE_CORNER = 0.05;

/** Corners at which edges of two roles meet: on a whole piece one on each side. */
export const corners = (piece: Piece, one: EdgeRole, other: EdgeRole): Point[] => {
  const others = edgeWithRole(piece, other).flatMap((e) => ends(piece, e));
  return edgeWithRole(piece, one)
    .flatMap((e) => ends(piece, e))
    .filter((p) => others.some((q) => near(p, q, ONE_CORNER)));
};

/** Heights at which the vertical at x crosses the edges of a role, highest first. */
export const heightsAt = (piece: Piece, role: EdgeRole, x: number): number[] =>
  crossingsWithLine(segmentsOf(piece, role), fromPaper(piece.upright, { x, y: 0 }), piece.upright.up)
    .map((c) => heightOf(piece.upright, c.point))
    .sort((a, b) => b - a);

/** Height of an edge at x, straight across the mouths of darts; beyond its ends that of its nearest end. */
export const heightOfEdge = (piece: Piece, role: EdgeRole, x: number): number | undefined => {
  const mouth = edgeWithRole(piece, role).flatMap((e) => mouthAt(piece, e, x))[0];
  if (mouth !== undefined) return mouth;
  const [crossing] = heightsAt(piece, role, x);
  if (crossing !== undefined) return crossing;
  const all = segmentsOf(piece, role).flatMap((s) => [s.from, s.to]);
  const nearest = all.reduce<Point | undefined>((best, p) => {
    const off = (q: Point) => Math.abs(acrossOf(piece.upright, q) - x);
    return best && off(best) <= off(p) ? best : p;
  }, undefined);
  return nearest && heightOf(piece.upright, nearest);
};

/** Height of the straight line across the mouth of a dart that x falls into. */
const mouthAt = (piece: Piece, edge: Edge, x: number): number[] =>
  piece.darts
    .filter((d) => d.edge === edge.id)
    .flatMap((d) => {
      const [a, b] = d.mouth.map((p) => toPaper(piece.upright, p)) as [Point, Point];
      const t = (x - a.x) / (b.x - a.x);
      return t >= 0 && t <= 1 ? [a.y + t * (b.y - a.y)] : [];
    });

/** x of the garment's centre: of its edge, or in the middle of a whole piece. Undefined for a side panel. */
export const centreOf = (piece: Piece): number | undefined => {
  const edges = [...edgeWithRole(piece, 'fold'), ...edgeWithRole(piece, 'centre')].flatMap((e) => ends(piece, e));
  if (edges.length > 0) return average(edges.map((p) => p.x));
  const sides = corners(piece, 'waist', 'side');
  const necks = corners(piece, 'neck', 'shoulder');
  for (const pair of [necks, sides]) if (pair.length === 2) return average(pair.map((p) => p.x));
  return undefined;
};

export const average = (numbers: readonly number[]): number => numbers.reduce((a, b) => a + b, 0) / numbers.length;

export const highest = (piece: Piece, role: EdgeRole): Point | undefined =>
  furthest(piece, role, (p, best) => p.y > best.y);

export const lowest = (piece: Piece, role: EdgeRole): Point | undefined =>
  furthest(piece, role, (p, best) => p.y < best.y);

/** Of the places where the segments of a role meet. */
const furthest = (piece: Piece, role: EdgeRole, isFurther: (p: Point, best: Point) => boolean): Point | undefined =>
  segmentsOf(piece, role)
    .flatMap((s) => [s.from, s.to])
    .map((p) => toPaper(piece.upright, p))
    .reduce<Point | undefined>((best, p) => (best && !isFurther(p, best) ? best : p), undefined);
