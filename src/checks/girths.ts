import { crossingsWithLine } from '../geometry/intersect.ts';
import { same } from '../geometry/point.ts';
import { line, type Segment } from '../geometry/segment.ts';
import { edgeLength, edgeWithRole, outlineSegments } from '../pattern/edges.ts';
import { cloths, type Pattern } from '../pattern/pattern.ts';
import type { Cloth, LevelName, Piece } from '../pattern/piece.ts';
import { goesRound, timesRound } from '../pattern/round.ts';
import { acrossOf, fromPaper, rightOf } from '../pattern/upright.ts';

/** How far round the garment is at a level, on one layer of cloth. */
export interface LevelGirth {
  readonly level: LevelName;
  readonly cloth: Cloth;
  /** mm */
  readonly girth: number;
  /** The pieces it was added up from: width of one paper and how often it occurs. */
  readonly counted: readonly { readonly piece: string; readonly width: number; readonly times: number }[];
}

/**
 * Girths at each level the pieces have: the waist along the seam line with darts closed, the hem along the hem line,
 * every other level straight across between the seam lines.
 */
export const measureGirths = (pattern: Pattern): readonly LevelGirth[] =>
  cloths(pattern).flatMap((cloth) => {
    const pieces = pattern.pieces.filter((p) => p.cut.cloth === cloth && goesRound(p));
    const levels = [...new Set<LevelName>(['waist', ...pieces.flatMap((p) => p.levels.map((l) => l.name)), 'hem'])];
    return levels.flatMap((level) => girthAt(level, cloth, pieces));
  });

const girthAt = (level: LevelName, cloth: Cloth, pieces: readonly Piece[]): LevelGirth[] => {
  const widths = pieces.map((piece) => ({ piece: piece.id, width: widthAt(piece, level), times: timesRound(piece) }));
  const known = widths.flatMap((w) => (w.width === undefined ? [] : [{ ...w, width: w.width }]));
  // A girth with a piece missing from it would be a wrong number.
  if (known.length === 0 || known.length < widths.length) return [];
  return [{ level, cloth, girth: known.reduce((sum, w) => sum + w.width * w.times, 0), counted: known }];
};

/** Width of one paper at a level, mm; undefined when the piece does not have that level. */
export const widthAt = (piece: Piece, level: LevelName): number | undefined => {
  if (level === 'waist' || level === 'hem') {
    const edges = edgeWithRole(piece, level);
    return edges.length === 0 ? undefined : edges.reduce((sum, e) => sum + edgeLength(piece, e), 0);
  }
  const height = piece.levels.find((l) => l.name === level)?.height;
  return height === undefined ? undefined : straightWidth(piece, height);
};

/** Two crossings nearer than this are one, mm: a level that runs through a joint meets both stretches there, whose ends a file may have a hair apart. */
const SAME_PLACE = 0.001;

/** The ends of drawn lines may lie a hair apart, and a level can pass between them: the gap is bridged. */
const withoutGaps = (ring: readonly Segment[]): Segment[] =>
  ring.flatMap((s, i) => {
    const next = ring[(i + 1) % ring.length] as Segment;
    return same(s.to, next.from) ? [s] : [s, line(s.to, next.from)];
  });

/** Width of the piece straight across at a height, what lies outside the seam line left out, mm. */
export const straightWidth = (piece: Piece, height: number): number => {
  const through = fromPaper(piece.upright, { x: 0, y: height });
  const across = crossingsWithLine(withoutGaps(outlineSegments(piece.seamLine)), through, rightOf(piece.upright))
    .map((c) => acrossOf(piece.upright, c.point))
    .filter((x, i, all) => i === 0 || x - (all[i - 1] as number) > SAME_PLACE);
  const pairs = across.length % 2 === 0 ? across : [across[0] as number, across.at(-1) as number];
  return pairs.reduce((sum, x, i) => (i % 2 === 1 ? sum + x - (pairs[i - 1] as number) : sum), 0);
};
