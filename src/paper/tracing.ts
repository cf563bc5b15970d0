import type { Point } from '../geometry/point.ts';
import { add, between, distance, subtract } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';
import { lengthOf, pointAt } from '../geometry/segment.ts';
import { edgeSpans } from '../pattern/edges.ts';
import type { Dart, LevelName, Piece, Span } from '../pattern/piece.ts';
import { toPaper } from '../pattern/upright.ts';

/*
 * A tracing is a piece laid on tracing paper: its lines pricked through as rows of points, standing upright
 * (x across, y height, mm). The verbs of this folder move the pricks; `tape` draws the lines again through them.
 *
 * Why points and not curves: a seam that is shifted, swung and blended several times would be fitted anew each time
 * and gather error and control points. Here each prick remembers where on the source it stands, all verbs only add up
 * displacements, and one fit at the end sees the source segment and where its points have gone. A prick whose
 * displacement is exactly nothing leaves its source untouched.
 */

/** One prick. `was` and `at` are in the upright frame of the piece; `home` is where it lies in the drawing. */
export interface Prick {
  readonly id: number;
  /** Span it stands on, and the parameter (0 to 1) on it. A prick with t = 0 is the joint where its span begins. */
  readonly span: number;
  readonly t: number;
  /** A corner of the piece, or a mouth or tip of a dart: runs end here, and it is never folded away. */
  readonly corner: boolean;
  /** The line may bend here: a curve drawn through its pricks ends and begins anew. */
  readonly bends?: boolean;
  /** A mouth of a dart that is drawn as inner lines: which dart, which of its two mouths. */
  readonly mouth?: { readonly dart: string; readonly which: 0 | 1 };
  readonly home: Point;
  readonly was: Point;
  readonly at: Point;
}

/** Pricks put in later carry no number: nothing is ever looked up at them. */
export const UNNUMBERED = -1;

export interface Tracing {
  readonly piece: Piece;
  /** The seam line, a ring. */
  readonly seam: readonly Prick[];
  /** Inner lines by id; the last prick of an open line has span = number of spans. */
  readonly lines: ReadonlyMap<string, readonly Prick[]>;
  /** Points and texts by id: where they are and how far they were turned. */
  readonly marks: ReadonlyMap<string, PlacedMark>;
  /**
   * Tips of darts by id. Their mouths are pricks of the seam; those of a dart that lies inside, and its other tip, stand
   * here too, by {@link innerPlace}.
   */
  readonly tips: ReadonlyMap<string, { readonly was: Point; readonly at: Point }>;
  /** Named points, like the bust point, by {@link landmarkKey}. */
  readonly landmarks: ReadonlyMap<string, { readonly was: Point; readonly at: Point }>;
  readonly levels: ReadonlyMap<LevelName, number>;
  /** Lines drawn new, by the verbs that put in darts and tucks. */
  readonly drawn: readonly DrawnLine[];
}

/** Key of a landmark: its name; the second of a name (the other bust point of a whole piece) is 'bust point 2'. */
export const landmarkKey = (piece: Pick<Piece, 'landmarks'>, index: number): string => {
  const name = piece.landmarks[index]?.name;
  const before = piece.landmarks.slice(0, index).filter((l) => l.name === name).length;
  return before === 0 ? `${name}` : `${name} ${before + 1}`;
};

/** The key among the tips of one more place of a dart that lies inside. */
export const innerPlace = (dartId: string, place: 'other tip' | 'mouth 0' | 'mouth 1'): string => `${dartId} ${place}`;

export interface PlacedMark {
  readonly was: Point;
  readonly at: Point;
  readonly turned: number;
}

/** A new line on the paper; it takes layer and style of the drawable `like`. */
export interface DrawnLine {
  readonly kind: 'dart' | 'tuck';
  /** The edge it takes in. */
  readonly edge: string;
  readonly like: string;
  /** Upright frame; the first and the last lie on the edge. */
  readonly points: readonly Point[];
}

/** Lines up to this long are stretches of a digitized curve: they stay lines, however the curve is reshaped. mm */
export const CHORD = 30;
/** Pricks on curves stand no further apart than this: at a radius of 100 mm the chords lose 3 parts in 100,000. mm */
const CURVE_STEP = 2.5;
/** Pricks on straight lines long enough to be bent. mm */
const LINE_STEP = 5;

/** How many stretches a segment is pricked into. */
const stretches = (s: Segment): number => {
  const length = lengthOf(s);
  if (s.kind !== 'line') return Math.max(2, Math.ceil(length / CURVE_STEP));
  return length <= CHORD ? 1 : Math.ceil(length / LINE_STEP);
};

type Frame = Piece['upright'];

/** Pricks of one span, its far end left out. */
const pricksOf = (span: Span, index: number, corner: boolean, frame: Frame, nextId: () => number): Prick[] =>
  span.segments.flatMap((segment, k) => {
    const n = stretches(segment);
    return Array.from({ length: n }, (_, i) => {
      const home = i === 0 ? segment.from : pointAt(segment, i / n);
      const was = toPaper(frame, home);
      const t = (k + i / n) / span.segments.length;
      return { id: nextId(), span: index, t, corner: corner && t === 0, home, was, at: was };
    });
  });

/** Spans of the seam line that begin at a corner: edge ends, dart mouths and tips. */
const cornerSpans = (piece: Piece): Set<number> => {
  const corners = new Set<number>();
  const count = piece.seamLine.spans.length;
  for (const edge of piece.edges) {
    corners.add(edge.first);
    corners.add((edge.last + 1) % count);
  }
  for (const dart of piece.darts) {
    if (dart.drawn.as !== 'outline') continue;
    const { first, last } = dart.drawn;
    corners.add(first);
    corners.add((last + 1) % count);
    corners.add(tipSpan(piece, first, last, dart.tip));
  }
  return corners;
};

/** The span of an outline dart whose start lies nearest the tip. */
const tipSpan = (piece: Piece, first: number, last: number, tip: Point): number => {
  const spans = edgeSpans(piece, { first, last });
  const reach = (i: number): number => distance(piece.seamLine.spans[i]?.segments[0]?.from ?? { x: 1e9, y: 1e9 }, tip);
  return spans.slice(1).reduce((best, i) => (reach(i) < reach(best) ? i : best), spans[1] ?? first);
};

const traceLine = (spans: readonly Span[], closed: boolean, frame: Frame, nextId: () => number): Prick[] => {
  const pricks = spans.flatMap((span, i) => pricksOf(span, i, false, frame, nextId));
  const end = spans.at(-1)?.segments.at(-1)?.to;
  if (!closed && end) {
    const was = toPaper(frame, end);
    pricks.push({ id: nextId(), span: spans.length, t: 0, corner: false, home: end, was, at: was });
  }
  return pricks;
};

/** The mouths of a dart that is drawn as inner lines, pricked into the seam it opens. */
const mouthsPricked = (seam: Prick[], dart: Dart, frame: Frame): Prick[] => {
  if (dart.drawn.as !== 'lines' || dart.edge === undefined) return seam;
  return dart.mouth.reduce(
    (ring, mouth, which) => prickedAt(ring, toPaper(frame, mouth), { dart: dart.id, which: which as 0 | 1 }),
    seam,
  );
};

/** The ring with a mouth put in at the place nearest to p. */
export const prickedAt = (ring: readonly Prick[], p: Point, mouth: NonNullable<Prick['mouth']>): Prick[] => {
  let best = { index: 0, t: 0, away: Number.POSITIVE_INFINITY };
  ring.forEach((a, index) => {
    const b = ring[(index + 1) % ring.length] as Prick;
    const t = footOn(a.at, b.at, p);
    const away = distance(p, between(a.at, b.at, t));
    if (away < best.away) best = { index, t, away };
  });
  const a = ring[best.index] as Prick;
  const b = ring[(best.index + 1) % ring.length] as Prick;
  const prick = { ...pricked(a, b, Math.min(Math.max(best.t, 1e-6), 1 - 1e-6)), corner: true, mouth };
  return [...ring.slice(0, best.index + 1), prick, ...ring.slice(best.index + 1)];
};

/** Parameter of the foot of p on the stretch from a to b, 0 to 1. */
export const footOn = (a: Point, b: Point, p: Point): number => {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const n = dx * dx + dy * dy;
  return n === 0 ? 0 : Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / n));
};

const dartPlaces = (dart: Dart): (readonly [string, Point])[] => {
  const tip = [dart.id, dart.tip] as const;
  if (!dart.otherTip) return [tip];
  return [
    tip,
    [innerPlace(dart.id, 'other tip'), dart.otherTip],
    [innerPlace(dart.id, 'mouth 0'), dart.mouth[0]],
    [innerPlace(dart.id, 'mouth 1'), dart.mouth[1]],
  ];
};

const traced = new WeakMap<Piece, Tracing>();

const tracedLines = new WeakMap<readonly Span[], { frame: Frame; closed: boolean; pricks: readonly Prick[] }>();

/** The pricks of a line by itself: a cutting line. Traced once for each line, however many fittings use it. */
export const traceSpans = (spans: readonly Span[], closed: boolean, frame: Frame): readonly Prick[] => {
  const known = tracedLines.get(spans);
  if (known?.frame === frame && known.closed === closed) return known.pricks;
  let id = 0;
  const pricks = traceLine(spans, closed, frame, () => id++);
  tracedLines.set(spans, { frame, closed, pricks });
  return pricks;
};

/** The piece pricked through, nothing moved yet. Traced once for each piece, however many fittings use it. */
export const trace = (piece: Piece): Tracing => {
  const known = traced.get(piece);
  if (known) return known;
  const frame = piece.upright;
  let id = 0;
  const nextId = () => id++;
  const corners = cornerSpans(piece);
  const place = (p: Point): PlacedMark => ({ was: toPaper(frame, p), at: toPaper(frame, p), turned: 0 });
  const outline = piece.seamLine.spans.flatMap((span, i) => pricksOf(span, i, corners.has(i), frame, nextId));
  const tracing: Tracing = {
    piece,
    seam: piece.darts.reduce((seam, dart) => mouthsPricked(seam, dart, frame), outline),
    lines: new Map(piece.lines.map((line) => [line.id, traceLine(line.spans, line.closed, frame, nextId)])),
    marks: new Map([...piece.points, ...piece.texts].map((mark) => [mark.id, place(mark.at)])),
    tips: new Map(
      piece.darts.flatMap(dartPlaces).map(([id, p]) => [id, { was: toPaper(frame, p), at: toPaper(frame, p) }]),
    ),
    landmarks: new Map(
      piece.landmarks.map((l, i) => [landmarkKey(piece, i), { was: toPaper(frame, l.at), at: toPaper(frame, l.at) }]),
    ),
    levels: new Map(piece.levels.map((l) => [l.name, l.height])),
    drawn: [],
  };
  traced.set(piece, tracing);
  return tracing;
};

/** The prick moved by `by`; the very same prick when `by` is nothing. */
export const moved = (prick: Prick, by: Point): Prick => {
  if (by.x === 0 && by.y === 0) return prick;
  const at = add(prick.at, by);
  if (prick.mouth !== undefined || prick.bends !== undefined) return { ...prick, at };
  // Written out: nearly all pricks are of this one shape, and thousands are moved in every fitting.
  const { id, span, t, corner, home, was } = prick;
  return { id, span, t, corner, home, was, at };
};

export const displacement = (prick: { readonly was: Point; readonly at: Point }): Point =>
  subtract(prick.at, prick.was);

/** A new prick between two neighbours, t of the way from a to b, on the source as well as on the paper. */
export const pricked = (a: Prick, b: Prick, t: number): Prick => {
  const endT = b.span === a.span ? b.t : 1;
  const was = between(a.was, b.was, t);
  // Between two that did not move it has not moved: the stretch stays as it was.
  const still = a.at === a.was && b.at === b.was;
  return {
    id: UNNUMBERED,
    span: a.span,
    t: a.t + (endT - a.t) * t,
    corner: false,
    home: between(a.home, b.home, t),
    was,
    at: still ? was : between(a.at, b.at, t),
  };
};
