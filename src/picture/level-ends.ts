import { flatten } from '../geometry/flatten.ts';
import type { Point } from '../geometry/point.ts';
import { edgeSegments } from '../pattern/edges.ts';
import type { Level, Piece } from '../pattern/piece.ts';
import { fromPaper, toPaper } from '../pattern/upright.ts';
import type { Move } from './moves.ts';

/** How far chords may lie from the seam line where a level meets it, mm. */
const TOLERANCE = 0.05;

/** Where a level leaves the piece, in the drawing, and through which edge. */
export interface LevelEnd {
  readonly at: Point;
  readonly edge: string;
}

/** The left end and the right end of a level; undefined when it passes the piece by. */
export const levelEnds = (piece: Piece, level: Level): readonly [LevelEnd, LevelEnd] | undefined => {
  const ends = piece.edges.flatMap((edge) => {
    const points = flatten(edgeSegments(piece, edge), TOLERANCE).map((p) => toPaper(piece.upright, p));
    return crossings(points, level.height).map((x) => ({ x, edge: edge.id }));
  });
  if (ends.length < 2) return undefined;
  const [left, right] = [ends.reduce((a, b) => (b.x < a.x ? b : a)), ends.reduce((a, b) => (b.x > a.x ? b : a))];
  const end = ({ x, edge }: { x: number; edge: string }): LevelEnd => ({
    at: fromPaper(piece.upright, { x, y: level.height }),
    edge,
  });
  return [end(left), end(right)];
};

/** Where a chain of chords passes a height. A point on it counts as above on neither side or on one, never on both. */
const crossings = (points: readonly Point[], height: number): number[] =>
  points.slice(1).flatMap((b, i) => {
    const a = points[i] as Point;
    return a.y > height === b.y > height ? [] : [a.x + ((b.x - a.x) * (height - a.y)) / (b.y - a.y)];
  });

/** Levels that run along an edge of their name say no more than the edge does. */
export const levelsAcross = (piece: Piece): readonly Level[] =>
  piece.levels.filter((level) => !piece.edges.some((e) => e.role === level.name));

/** How the ends of levels moved; an end that left through another edge than before says nothing. */
export const levelMoves = (before: Piece, after: Piece): Move[] =>
  levelsAcross(before).flatMap((level) => {
    const twin = after.levels.find((l) => l.name === level.name);
    const [was, is] = [levelEnds(before, level), twin && levelEnds(after, twin)];
    if (!was || !is) return [];
    return was.flatMap((end, i) => (end.edge === is[i]?.edge ? [{ from: end.at, to: is[i].at }] : []));
  });
