import { crossingsWithLine } from '../geometry/intersect.ts';
import { add, distance, dot, ORIGIN, type Point, scale, subtract, unit } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';
import { transformSegment, translation } from '../geometry/transform.ts';
import { outlineSegments } from '../pattern/edges.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { InnerLine, Piece } from '../pattern/piece.ts';

/** Ends nearer to the outline than this reach it already, mm. */
const REACHES = 0.5;

/** Runs every grainline through the whole piece, from outline to outline, its arrow heads with its ends. */
export const fullGrain = (pattern: Pattern): Pattern => ({ ...pattern, pieces: pattern.pieces.map(extendGrain) });

const extendGrain = (piece: Piece): Piece => {
  const grain = piece.grainline;
  if (!grain) return piece;
  const along = unit(subtract(grain.to, grain.from));
  const outline = outlineSegments(piece.cuttingLine ?? piece.seamLine);
  const places = crossingsWithLine(outline, grain.from, along).map((c) => dot(subtract(c.point, grain.from), along));
  const length = distance(grain.from, grain.to);
  // The outline may be crossed several times; the stretch that holds the old line is the one to fill.
  const before = Math.max(...places.filter((s) => s <= REACHES));
  const after = Math.min(...places.filter((s) => s >= length - REACHES));
  if (!Number.isFinite(before) || !Number.isFinite(after)) return piece;
  const byFrom = before > -REACHES ? ORIGIN : scale(along, before);
  const byTo = after < length + REACHES ? ORIGIN : scale(along, after - length);
  if (byFrom === ORIGIN && byTo === ORIGIN) return piece;
  const move = (p: Point): Point => add(p, distance(p, grain.from) <= distance(p, grain.to) ? byFrom : byTo);
  return {
    ...piece,
    grainline: { ...grain, from: add(grain.from, byFrom), to: add(grain.to, byTo) },
    lines: piece.lines.map((l) => (grain.lines.includes(l.id) ? drawnOut(l, move) : l)),
  };
};

/** The shaft is drawn out; an arrow head goes along with its end. */
const drawnOut = (inner: InnerLine, move: (p: Point) => Point): InnerLine => ({
  ...inner,
  spans: inner.spans.map((span) => ({ ...span, segments: span.segments.flatMap((s) => movedSegment(s, move)) })),
});

const movedSegment = (s: Segment, move: (p: Point) => Point): Segment[] => {
  if (s.kind === 'line') return [{ ...s, from: move(s.from), to: move(s.to) }];
  return transformSegment(translation(subtract(move(s.from), s.from)), s);
};
