import type { Point } from '../geometry/point.ts';
import { add, between, cross, distance, dot, ORIGIN, subtract } from '../geometry/point.ts';
import { line, nearestOn } from '../geometry/segment.ts';
import { ringRange } from '../pattern/edges.ts';
import type { Dart, InnerLine, Notch, Outline, PaperPoint, PaperText, Piece, Span } from '../pattern/piece.ts';
import { fromPaper } from '../pattern/upright.ts';
import { type Carrier, carrierOf, carry, inside } from './carry.ts';
import { inDrawing, redrawLine } from './redraw-line.ts';
import { along, at, mouthIndex, paperRuns } from './runs.ts';
import { displacement, moved, type Prick, type Tracing, trace, traceSpans } from './tracing.ts';

/** Lines that end this near the seam line end on it, mm. */
const ON_SEAM = 1;

/**
 * The tracing taped and drawn again as a piece: the seam as the verbs left it, the cutting line and all that lies on
 * the paper taken along. What nothing moved is the very same object as before.
 */
export const tape = (tracing: Tracing): Piece => {
  const { piece } = tracing;
  const before = trace(piece);
  if (tracing === before) return piece;
  const runs = piece.edges.flatMap((e) => paperRuns(before, e.id));
  const carrier = carrierOf(before, runs, tracing);
  const seamLine = { spans: redrawLine(piece.seamLine.spans, tracing.seam, true, piece.upright) };
  const notchMoves = notchRides(tracing, carrier);
  return {
    ...piece,
    seamLine,
    cuttingLine: piece.cuttingLine && cuttingLine(piece, piece.cuttingLine, carrier, seamLine),
    levels: piece.levels.map((l) => ({ ...l, height: tracing.levels.get(l.name) ?? l.height })),
    notches: piece.notches.map((n) => notchNow(n, tracing, carrier, seamLine)),
    darts: [...piece.darts.map((d) => dartNow(d, tracing)), ...tracing.drawn.map(newDart(piece))],
    lines: [...piece.lines.map((l) => lineNow(l, tracing, carrier, notchMoves)), ...tracing.drawn.map(newLine(piece))],
    points: piece.points.map((p) => pointNow(p, tracing, carrier, notchMoves)),
    texts: piece.texts.map((t) => textNow(t, tracing, carrier)),
    grainline: piece.grainline && grainNow(piece, tracing),
    adjustmentLines: piece.adjustmentLines.map((a) => ({ ...a, height: adjustmentHeight(a, tracing) })),
  };
};

/** The cutting line rides on the seam edges, stretch by stretch; where both are drawn by one entity they are the same. */
const cuttingLine = (piece: Piece, outline: Outline, carrier: Carrier, seamLine: Outline): Outline => {
  const pricks = traceSpans(outline.spans, true, piece.upright);
  const edgeAt = edgesAlongCut(piece, outline);
  const ridden = pricks.flatMap((p) => {
    const { to, folded } = carry(carrier, p.was, edgeAt.get(p.span));
    return folded ? [] : [moved(p, subtract(to, p.was))];
  });
  const drawn = redrawLine(outline.spans, ridden, true, piece.upright);
  return { spans: drawn.map((span) => sharedSpan(span, piece.seamLine, seamLine) ?? span) };
};

/** A stretch that is seam line and cutting line at once (a fold edge) is redrawn once. */
const sharedSpan = (span: Span, before: Outline, after: Outline): Span | undefined => {
  if (!span.source) return undefined;
  const { drawable, index } = span.source;
  const twin = before.spans.findIndex((s) => s.source?.drawable === drawable && s.source.index === index);
  return twin < 0 ? undefined : after.spans[twin];
};

/** Which seam edge each span of the cutting line runs beside. */
const edgesAlongCut = (piece: Piece, outline: Outline): Map<number, string> => {
  const edges = new Map<number, string>();
  for (const e of piece.edges) {
    if (e.cuttingFirst === undefined || e.cuttingLast === undefined) continue;
    for (const i of ringRange(e.cuttingFirst, e.cuttingLast, outline.spans.length)) edges.set(i, e.id);
  }
  return edges;
};

type Ride = (p: Point) => { to: Point; turned: number };

/** Marks of a notch keep their shape: they ride stiffly with the notch's place on the seam. */
const notchRides = (tracing: Tracing, carrier: Carrier): Map<string, Ride> => {
  const rides = new Map<string, Ride>();
  for (const notch of tracing.piece.notches) {
    const span = tracing.piece.seamLine.spans[notch.at.span];
    const prick = before(tracing).seam.find((p) => p.span === notch.at.span);
    if (!span || !prick) continue;
    const foot = notchPlace(tracing, notch.at.span, notch.at.t);
    const { to, turned } = carry(carrier, foot, notch.edge);
    const by = subtract(to, foot);
    const still = by.x === 0 && by.y === 0 && turned === 0;
    const ride: Ride = (p) =>
      still ? { to: p, turned: 0 } : { to: add(to, turnBy(subtract(p, foot), turned)), turned };
    for (const id of notch.marks) rides.set(id, ride);
  }
  return rides;
};

/** Where a notch stands on its span as redrawn: its parameter runs evenly over the segments that the span became. */
const notchNow = (notch: Notch, tracing: Tracing, carrier: Carrier, seamLine: Outline): Notch => {
  const { span, t } = notch.at;
  const segments = seamLine.spans[span]?.segments ?? [];
  if (segments.length === 0 || seamLine.spans[span] === tracing.piece.seamLine.spans[span]) return notch;
  const { to } = carry(carrier, notchPlace(tracing, span, t), notch.edge);
  const place = fromPaper(tracing.piece.upright, to);
  const nearest = segments
    .map((s, k) => ({ k, ...nearestOn(s, place) }))
    .reduce((a, b) => (b.distance < a.distance ? b : a));
  return { ...notch, at: { span, t: (nearest.k + nearest.t) / segments.length } };
};

const turnBy = (v: Point, angle: number): Point => {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return { x: c * v.x - s * v.y, y: s * v.x + c * v.y };
};

const before = (tracing: Tracing): Tracing => trace(tracing.piece);

/** The place on the seam as it was, between the two pricks beside it; upright frame. */
const notchPlace = (tracing: Tracing, span: number, t: number): Point => {
  const seam = before(tracing).seam;
  const i = seam.findLastIndex((p) => p.span === span && p.t <= t + 1e-12);
  const a = seam[i] as Prick;
  const b = seam[(i + 1) % seam.length] as Prick;
  const end = b.span === a.span ? b.t : 1;
  return between(a.was, b.was, end === a.t ? 0 : (t - a.t) / (end - a.t));
};

const lineNow = (inner: InnerLine, tracing: Tracing, carrier: Carrier, notches: Map<string, Ride>): InnerLine => {
  const pricks = tracing.lines.get(inner.id) ?? [];
  const ride = notches.get(inner.id);
  const next = ride
    ? pricks.map((p) => ({ ...p, at: ride(p.was).to }))
    : inner.kind === 'dart'
      ? dartLine(inner, pricks, tracing)
      : inner.kind === 'drill'
        ? drillHole(pricks, tracing)
        : stretched(pricks, carrier);
  const spans = redrawLine(inner.spans, next, inner.closed, tracing.piece.upright);
  return spans === inner.spans ? inner : { ...inner, spans };
};

/** A line that ended on the seam, or lay outside it, still does; between its ends it is stretched evenly. */
const stretched = (pricks: readonly Prick[], carrier: Carrier): readonly Prick[] => {
  const first = pricks[0];
  const last = pricks.at(-1);
  if (!first || !last) return pricks;
  const gaps = [first, last].map((p) => tieTo(p, carrier));
  if (gaps.every((g) => g.x === 0 && g.y === 0)) return pricks;
  const s = along(pricks.map((p) => p.was));
  const length = s.at(-1) as number;
  return pricks.map((p, i) => {
    const u = length === 0 ? 0 : (s[i] as number) / length;
    const end = i === pricks.length - 1;
    return moved(
      p,
      i === 0 ? (gaps[0] as Point) : end ? (gaps[1] as Point) : between(gaps[0] as Point, gaps[1] as Point, u),
    );
  });
};

/** How far a prick has still to go to be where the seam takes it; nothing when it lies inside. */
const tieTo = (prick: Prick, carrier: Carrier): Point =>
  inside(carrier, prick.was) > ON_SEAM ? ORIGIN : subtract(carry(carrier, prick.was).to, prick.at);

/** Dart lines run from the mouths to the tip, wherever these are now: each prick by its share of the way. */
const dartLine = (inner: InnerLine, pricks: readonly Prick[], tracing: Tracing): readonly Prick[] => {
  const dart = tracing.piece.darts.find((d) => d.drawn.as === 'lines' && d.drawn.lines.includes(inner.id));
  const ride = dart && rideOfDart(tracing, dart);
  return ride ? pricks.map((p) => ({ ...p, at: ride.move(p.was) })) : pricks;
};

/** A drill hole keeps its shape and goes with the dart it marks. */
const drillHole = (pricks: readonly Prick[], tracing: Tracing): readonly Prick[] => {
  const n = Math.max(1, pricks.length);
  const middle = { x: pricks.reduce((s, p) => s + p.was.x, 0) / n, y: pricks.reduce((s, p) => s + p.was.y, 0) / n };
  const ride = dartRide(tracing, middle);
  return ride ? pricks.map((p) => ({ ...p, at: plusOr(p.was, subtract(ride.to, middle)) })) : pricks;
};

const plusOr = (p: Point, by: Point): Point => (by.x === 0 && by.y === 0 ? p : add(p, by));

/** Where a mark inside a dart goes with it; undefined when it lies in none. */
const dartRide = (tracing: Tracing, p: Point): { to: Point; turned: number } | undefined => {
  for (const dart of tracing.piece.darts) {
    const ride = rideOfDart(tracing, dart);
    if (ride?.holds(p)) return { to: ride.move(p), turned: 0 };
  }
  return undefined;
};

/** How a dart takes along what lies in it: at the mouth as each of its mouths, at the tip as the tip. */
const rideOfDart = (
  tracing: Tracing,
  dart: Dart,
): { move: (p: Point) => Point; holds: (p: Point) => boolean } | undefined => {
  const tip = tracing.tips.get(dart.id);
  if (!tip || dart.edge === undefined) return undefined;
  const start = before(tracing);
  const [a, b] = ([0, 1] as const).map((which) => ({
    was: at(start, mouthIndex(start, dart.id, which)),
    at: at(tracing, mouthIndex(tracing, dart.id, which)),
  })) as [Moved, Moved];
  const tipBy = subtract(tip.at, tip.was);
  const place = placeInDart(a.was, b.was, tip.was);
  return {
    move: (p) => {
      const { towardsTip, lean } = place(p);
      const mouthBy = between(subtract(a.at, a.was), subtract(b.at, b.was), lean);
      return still(mouthBy, tipBy) ? p : add(p, between(mouthBy, tipBy, towardsTip));
    },
    holds: (p) => {
      const { towardsTip, off } = place(p);
      return towardsTip > 0 && towardsTip <= 1 && off <= 1;
    },
  };
};

interface Moved {
  readonly was: Point;
  readonly at: Point;
}

/**
 * Where a point lies in a dart: how far towards its tip (0 to 1), and between which of its legs (0 on the first, 1 on
 * the second, a half on its middle line). `off` is its distance from the middle line, 1 on a leg.
 */
const placeInDart =
  (a: Point, b: Point, tip: Point) =>
  (p: Point): { towardsTip: number; lean: number; off: number } => {
    const middle = between(a, b, 0.5);
    const axis = subtract(middle, tip);
    const deep = dot(axis, axis);
    const up = Math.max(0, dot(subtract(p, tip), axis) / deep);
    const half = cross(axis, subtract(b, middle));
    const off = cross(axis, subtract(p, tip));
    const aside = up < 1e-6 || half === 0 ? 0 : off / (half * up);
    return {
      towardsTip: Math.max(0, 1 - up),
      lean: Math.min(1, Math.max(0, 0.5 + aside / 2)),
      off: Math.abs(aside),
    };
  };

const still = (a: Point, b: Point): boolean => a.x === 0 && a.y === 0 && b.x === 0 && b.y === 0;

const pointNow = (p: PaperPoint, tracing: Tracing, carrier: Carrier, notches: Map<string, Ride>): PaperPoint => {
  const mark = tracing.marks.get(p.id);
  if (!mark) return p;
  const ride = notches.get(p.id);
  const inDart = p.kind === 'drill' ? dartRide(tracing, mark.was) : undefined;
  const tied =
    ride?.(mark.was) ?? inDart ?? (inside(carrier, mark.was) > ON_SEAM ? undefined : carry(carrier, mark.was));
  const place = tied ? { was: mark.was, at: tied.to, turned: tied.turned } : mark;
  return placed(p, place, tracing);
};

const textNow = (t: PaperText, tracing: Tracing, carrier: Carrier): PaperText => {
  const mark = tracing.marks.get(t.id);
  if (!mark) return t;
  // A text in the allowance goes with the seam, but stays as level as it was.
  const tied = inside(carrier, mark.was) > 0 ? undefined : carry(carrier, mark.was);
  const outside = tied && { was: mark.was, at: tied.to, turned: 0 };
  return placed(t, outside ?? mark, tracing);
};

const placed = <M extends { at: Point; angle?: number }>(
  m: M,
  mark: { was: Point; at: Point; turned: number },
  tracing: Tracing,
): M => {
  if (mark.at.x === mark.was.x && mark.at.y === mark.was.y && mark.turned === 0) return m;
  const to = inDrawing({ home: m.at, was: mark.was, at: mark.at }, tracing.piece.upright);
  return { ...m, at: to, ...(m.angle === undefined || mark.turned === 0 ? {} : { angle: m.angle + mark.turned }) };
};

const dartNow = (dart: Dart, tracing: Tracing): Dart => {
  const frame = tracing.piece.upright;
  const tip = tracing.tips.get(dart.id);
  if (dart.edge === undefined || !tip) return dart;
  const mouth = (which: 0 | 1): Point => {
    const prick = tracing.seam[mouthIndex(tracing, dart.id, which)] as Prick;
    return prick.at === prick.was ? dart.mouth[which] : inDrawing(prick, frame);
  };
  return { ...dart, mouth: [mouth(0), mouth(1)], tip: inDrawing({ home: dart.tip, ...tip }, frame) };
};

const newLine =
  (piece: Piece) =>
  (drawn: Tracing['drawn'][number], index: number): InnerLine => {
    const points = drawn.points.map((p) => fromPaper(piece.upright, p));
    const strokes = drawn.kind === 'dart' ? [points] : [points.slice(0, 2), points.slice(2)];
    return {
      id: `new:${index}:${drawn.like}`,
      kind: drawn.kind,
      closed: false,
      spans: strokes.flatMap((s) => s.slice(1).map((p, i) => ({ segments: [line(s[i] as Point, p)] }))),
      evidence: [{ says: 'drawn by an alteration', weight: 1 }],
      confidence: 1,
    };
  };

/** A new dart takes in the edge it is drawn on; a tuck does too, and its tip is the middle of its deep end. */
const newDart =
  (piece: Piece) =>
  (drawn: Tracing['drawn'][number], index: number): Dart => {
    const points = drawn.points.map((p) => fromPaper(piece.upright, p));
    const deep = points.slice(1, -1);
    return {
      id: `${drawn.kind}-new-${index + 1}`,
      edge: drawn.edge,
      drawn: { as: 'lines', lines: [`new:${index}:${drawn.like}`] },
      mouth: [points[0] as Point, points.at(-1) as Point],
      tip: between(deep[0] as Point, deep.at(-1) as Point, 0.5),
      evidence: [{ says: 'drawn by an alteration', weight: 1 }],
      confidence: 1,
    };
  };

const grainNow = (piece: Piece, tracing: Tracing): Piece['grainline'] => {
  const grain = piece.grainline;
  if (!grain) return undefined;
  const pricks = tracing.lines.get(grain.lines[0] ?? '') ?? [];
  const near = (p: Point): Prick | undefined =>
    pricks.reduce<Prick | undefined>(
      (best, q) => (!best || distance(q.home, p) < distance(best.home, p) ? q : best),
      undefined,
    );
  const end = (p: Point): Point => {
    const prick = near(p);
    const by = prick ? displacement(prick) : ORIGIN;
    return by.x === 0 && by.y === 0
      ? p
      : add(p, subtract(inDrawing(prick as Prick, piece.upright), (prick as Prick).home));
  };
  return { ...grain, from: end(grain.from), to: end(grain.to) };
};

const adjustmentHeight = (mark: Piece['adjustmentLines'][number], tracing: Tracing): number => {
  const heights = mark.lines.flatMap((id) => (tracing.lines.get(id) ?? []).map((p) => displacement(p).y));
  return mark.height + (heights.length ? heights.reduce((a, b) => a + b, 0) / heights.length : 0);
};
