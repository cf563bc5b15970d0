import { turnBetween } from '../geometry/point.ts';
import { lengthBetween, lengthOf, tangentAt } from '../geometry/segment.ts';
import { dartSpans, edgeCalled, edgeLength, edgeSpans } from '../pattern/edges.ts';
import { type Mates, type Pattern, pieceCalled, type SewnEdge } from '../pattern/pattern.ts';
import type { Edge, Piece } from '../pattern/piece.ts';
import { heightOf } from '../pattern/upright.ts';

/** What comes of laying two mates edge to edge. Lengths in mm, darts closed. */
export interface MateWalk {
  readonly mates: string;
  readonly one: number;
  readonly other: number;
  /** one − other. */
  readonly difference: number;
  /** Notches that answer each other, in order from the lower end: how far along the first, and how far apart. */
  readonly notches: readonly { readonly along: number; readonly apart: number }[];
  /**
   * At each end, radians: how much more than 180° the two corners make together; where a facing is laid on its piece,
   * by how much the corner of the first is the greater. Empty for rows of edges.
   */
  readonly angles: readonly number[];
  /** The one lies on the other, as a facing on the piece it faces, and their corners should be the same. */
  readonly laidOn: boolean;
}

/** Lays all mates of a pattern edge to edge along their seam lines. */
export const walkMates = (pattern: Pattern): readonly MateWalk[] =>
  pattern.mates.flatMap((mates) => {
    const one = rowOf(pattern, mates.one);
    const other = rowOf(pattern, mates.other);
    if (!one || !other) return [];
    const lengths = { one: rowLength(one), other: rowLength(other) };
    return [{ mates: mates.id, ...lengths, difference: lengths.one - lengths.other, ...single(mates, one, other) }];
  });

interface Sewn {
  readonly piece: Piece;
  readonly edge: Edge;
  readonly times: number;
}

const rowOf = (pattern: Pattern, row: readonly SewnEdge[]): readonly Sewn[] | undefined => {
  const found = row.flatMap((s) => {
    const piece = pieceCalled(pattern, s.piece);
    const edge = piece && edgeCalled(piece, s.edge);
    return piece && edge ? [{ piece, edge, times: s.times }] : [];
  });
  return found.length === row.length ? found : undefined;
};

const rowLength = (row: readonly Sewn[]): number =>
  row.reduce((sum, s) => sum + edgeLength(s.piece, s.edge) * s.times, 0);

const single = (
  mates: Mates,
  one: readonly Sewn[],
  other: readonly Sewn[],
): Pick<MateWalk, 'notches' | 'angles' | 'laidOn'> => {
  const [a] = one;
  const [b] = other;
  const none = { notches: [], angles: [], laidOn: false };
  if (one.length !== 1 || other.length !== 1 || !a || !b || a.times !== b.times) return none;
  if (sameEdge(mates)) return none;
  const laidOn = isFacing(a.piece) !== isFacing(b.piece);
  return { notches: answeringNotches(a, b), angles: laidOn ? cornerGains(a, b) : cornerSums(a, b), laidOn };
};

const isFacing = ({ part }: Piece): boolean => part === 'facing' || part === 'front facing' || part === 'back facing';

/** An edge that is sewn to its own mirror image (a centre back seam cut as a pair) meets itself. */
const sameEdge = (mates: Mates): boolean =>
  mates.one[0]?.piece === mates.other[0]?.piece && mates.one[0]?.edge === mates.other[0]?.edge;

const climbs = ({ piece, edge }: Sewn): boolean => {
  const spans = edgeSpans(piece, edge);
  const start = piece.seamLine.spans[spans[0] as number]?.segments[0]?.from;
  const end = piece.seamLine.spans[spans.at(-1) as number]?.segments.at(-1)?.to;
  return !start || !end || heightOf(piece.upright, end) >= heightOf(piece.upright, start);
};

/** Places of the notches along the edge from its lower end, dart legs left out, mm, rising. */
export const notchPlaces = (sewn: { piece: Piece; edge: Edge; times: number }): number[] => {
  const { piece, edge } = sewn;
  const legs = dartSpans(piece, edge.id);
  const spans = edgeSpans(piece, edge).filter((i) => !legs.has(i));
  const before = (span: number): number =>
    spans.slice(0, spans.indexOf(span)).reduce((sum, i) => sum + spanLength(piece, i), 0);
  const total = spans.reduce((sum, i) => sum + spanLength(piece, i), 0);
  return piece.notches
    .filter((n) => n.edge === edge.id && spans.includes(n.at.span))
    .map((n) => before(n.at.span) + lengthTo(piece, n.at.span, n.at.t))
    .map((s) => (climbs(sewn) ? s : total - s))
    .sort((a, b) => a - b);
};

const spanLength = (piece: Piece, span: number): number =>
  (piece.seamLine.spans[span]?.segments ?? []).reduce((sum, s) => sum + lengthOf(s), 0);

/** Length of a span up to a parameter that runs evenly over its segments. */
const lengthTo = (piece: Piece, span: number, t: number): number => {
  const segments = piece.seamLine.spans[span]?.segments ?? [];
  const place = t * segments.length;
  return segments.reduce((sum, s, i) => sum + lengthBetween(s, 0, Math.min(1, Math.max(0, place - i))), 0);
};

const answeringNotches = (a: Sewn, b: Sewn): MateWalk['notches'] => {
  const one = notchPlaces(a);
  const other = notchPlaces(b);
  if (one.length !== other.length) return [];
  return one.map((along, i) => ({ along, apart: Math.abs(along - (other[i] as number)) }));
};

/** Inner angle of the seam line at the lower and at the upper end of an edge, radians. */
const cornerAngles = (sewn: Sewn): readonly [number, number] => {
  const { piece, edge } = sewn;
  const spans = edgeSpans(piece, edge);
  const ends = [
    cornerAt(piece, spans[0] as number),
    cornerAt(piece, ((spans.at(-1) as number) + 1) % piece.seamLine.spans.length),
  ];
  return (climbs(sewn) ? ends : ends.reverse()) as [number, number];
};

/** Inner angle where a span begins: π less the turn to the left. */
export const cornerAt = (piece: Piece, span: number): number => {
  const count = piece.seamLine.spans.length;
  let previous = (span - 1 + count) % count;
  while (piece.seamLine.spans[previous]?.segments.length === 0) previous = (previous - 1 + count) % count;
  const into = piece.seamLine.spans[previous]?.segments.at(-1);
  const out = piece.seamLine.spans[span]?.segments[0];
  if (!into || !out) return Math.PI;
  return Math.PI - turnBetween(tangentAt(into, 1), tangentAt(out, 0));
};

const cornerSums = (a: Sewn, b: Sewn): number[] => {
  const one = cornerAngles(a);
  const other = cornerAngles(b);
  return [one[0] + other[0] - Math.PI, one[1] + other[1] - Math.PI];
};

const cornerGains = (a: Sewn, b: Sewn): number[] => {
  const other = cornerAngles(b);
  return cornerAngles(a).map((angle, end) => angle - (other[end] as number));
};
