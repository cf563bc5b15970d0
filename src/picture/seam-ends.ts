import { flatten } from '../geometry/flatten.ts';
import { distance, type Point, scale, subtract } from '../geometry/point.ts';
import { reversed, type Segment, tangentAt } from '../geometry/segment.ts';
import { edgeSegments, edgeSpans } from '../pattern/edges.ts';
import type { Edge, Piece } from '../pattern/piece.ts';
import { heightOf } from '../pattern/upright.ts';

/* What lies beyond the two ends of an edge: how its neighbours leave it. */

/** A way that leaves the end of an edge: points from (0, 0), where the edge runs along +x and the piece lies above it. */
export type Stub = readonly Point[];

export interface SeamEnds {
  readonly lower: Stub;
  readonly upper: Stub;
}

/** How finely a stub follows its line, mm. */
const TOLERANCE = 0.1;

/** The neighbours of an edge at its lower and at its upper end, as far as `length` mm. */
export const seamEnds = (piece: Piece, edge: Edge, length: number): SeamEnds | undefined => {
  const own = edgeSegments(piece, edge);
  const [first, last] = [own[0], own.at(-1)];
  if (!first || !last) return undefined;
  const out = neighbour(piece, edge, length, 1);
  const into = neighbour(piece, edge, length, -1);
  const climbs = heightOf(piece.upright, last.to) >= heightOf(piece.upright, first.from);
  const [start, end] = [tangentAt(first, 0), tangentAt(last, 1)];
  // An outline runs anticlockwise, so the piece lies on the left of its edge; walked the other way it is turned over.
  return climbs
    ? { lower: laid(into, start, 1), upper: laid(out, end, 1) }
    : { lower: laid(out, scale(end, -1), -1), upper: laid(into, scale(start, -1), -1) };
};

/** Points on the outline beyond an end of the edge, from that end on. */
const neighbour = (piece: Piece, edge: Edge, length: number, way: 1 | -1): Point[] => {
  const { spans } = piece.seamLine;
  const count = spans.length;
  const own = new Set(edgeSpans(piece, edge));
  const segments: Segment[] = [];
  let at = way === 1 ? edge.last : edge.first;
  for (let left = count - own.size; left > 0; left--) {
    at = (at + way + count) % count;
    const along = [...(spans[at]?.segments ?? [])];
    segments.push(...(way === 1 ? along : along.reverse().map(reversed)));
  }
  return cutOff(flatten(segments, TOLERANCE), length);
};

const cutOff = (points: readonly Point[], length: number): Point[] => {
  const kept: Point[] = points.slice(0, 1);
  let left = length;
  for (const p of points.slice(1)) {
    const from = kept.at(-1) as Point;
    const step = distance(from, p);
    if (step >= left)
      return [...kept, { x: from.x + ((p.x - from.x) * left) / step, y: from.y + ((p.y - from.y) * left) / step }];
    kept.push(p);
    left -= step;
  }
  return kept;
};

/** Turned so that `along` is +x, turned over when `side` is −1. */
const laid = (points: readonly Point[], along: Point, side: 1 | -1): Stub => {
  const origin = points[0] ?? { x: 0, y: 0 };
  return points.map((p) => {
    const d = subtract(p, origin);
    return { x: d.x * along.x + d.y * along.y, y: side * (d.y * along.x - d.x * along.y) };
  });
};
