import type { Point } from '../geometry/point.ts';
import { add, between, distance, ORIGIN, subtract } from '../geometry/point.ts';
import { ringRange } from '../pattern/edges.ts';
import type { InnerLine, Landmark, Outline, PaperPoint, PaperText, Piece, Span } from '../pattern/piece.ts';
import { type Carrier, carrierOf, carry, inside } from './carry.ts';
import { foldMark } from './fold-marks.ts';
import { inDrawing, redrawLine } from './redraw-line.ts';
import { along, sewnOnPaper } from './runs.ts';
import { closedDarts, goneWith, seamDrawn } from './tape-closed.ts';
import { dartLine, dartNow, dartRide, drillHole, newDart, newLine } from './tape-darts.ts';
import { notchNow, notchRides, type Ride } from './tape-notches.ts';
import { partedAtSlits } from './tape-slits.ts';
import { displacement, landmarkKey, moved, type Prick, type Tracing, trace, traceSpans } from './tracing.ts';
import { unlooped } from './unlooped.ts';

/** Lines that end this near the seam line end on it, mm. */
const ON_SEAM = 1;

const seams = new WeakMap<Tracing, Piece>();

/** What is measured of a piece (seam line, levels, darts, named points) as the verbs left it; the rest is as it was. */
export const tapeSeam = (tracing: Tracing): Piece => {
  const { piece } = tracing;
  if (tracing === trace(piece)) return piece;
  const known = seams.get(tracing);
  if (known) return known;
  const closed = closedDarts(tracing);
  const taped = {
    ...piece,
    seamLine: { spans: redrawLine(piece.seamLine.spans, seamDrawn(tracing, closed), true, piece.upright) },
    levels: piece.levels.map((l) => ({ ...l, height: tracing.levels.get(l.name) ?? l.height })),
    darts: [
      ...piece.darts.filter((d) => !closed.includes(d)).map((d) => dartNow(d, tracing)),
      ...tracing.drawn.map(newDart(piece)),
    ],
    landmarks: piece.landmarks.map((l, i) => landmarkNow(l, tracing.landmarks.get(landmarkKey(piece, i)), tracing)),
  };
  seams.set(tracing, taped);
  return taped;
};

/**
 * The tracing taped and drawn again as a piece: the seam as the verbs left it, the cutting line and all that lies on
 * the paper taken along. What nothing moved is the very same object as before.
 */
export const tape = (tracing: Tracing): Piece => {
  const { piece } = tracing;
  const before = trace(piece);
  if (tracing === before) return piece;
  const carrier = carrierOf(before, sewnOnPaper(before), tracing);
  const closed = closedDarts(tracing);
  const gone = goneWith(tracing, closed);
  const measured = tapeSeam(tracing);
  const { seamLine } = measured;
  const notchMoves = notchRides(tracing, carrier);
  return {
    ...measured,
    cuttingLine: piece.cuttingLine && cuttingLine(tracing, piece.cuttingLine, carrier, seamLine),
    notches: piece.notches.map((n) => notchNow(n, tracing, carrier, seamLine)),
    lines: [
      ...piece.lines.filter((l) => !gone.has(l.id)).map((l) => lineNow(l, tracing, carrier, notchMoves)),
      ...tracing.drawn.map(newLine(piece)),
    ],
    points: piece.points.filter((p) => !gone.has(p.id)).map((p) => pointNow(p, tracing, carrier, notchMoves)),
    texts: piece.texts.map((t) => textNow(t, tracing, carrier)),
    grainline: piece.grainline && grainNow(piece, tracing),
    adjustmentLines: piece.adjustmentLines.map((a) => ({ ...a, height: adjustmentHeight(a, tracing) })),
  };
};

/** The cutting line rides on the seam edges, stretch by stretch; where both are drawn by one entity they are the same. */
const cuttingLine = (tracing: Tracing, outline: Outline, carrier: Carrier, seamLine: Outline): Outline => {
  const { piece } = tracing;
  const pricks = traceSpans(outline.spans, true, piece.upright);
  const edgeAt = edgesAlongCut(piece, outline);
  const ridden = pricks.map((p) => {
    const { to, folded } = carry(carrier, p.was, edgeAt.get(p.span));
    return folded ? undefined : moved(p, subtract(to, p.was));
  });
  const parted = partedAtSlits(pricks, unlooped(closedUp(ridden)), carrier, tracing);
  const drawn = redrawLine(outline.spans, parted, true, piece.upright);
  return { spans: drawn.map((span) => sharedSpan(span, piece.seamLine, seamLine) ?? span) };
};

/** Pricks of a cutting line that a closed dart has brought this near to each other come to one place, mm. */
const CLOSED_UP = 0.01;

const closedUp = (ridden: readonly (Prick | undefined)[]): (Prick | undefined)[] => {
  let last: Prick | undefined;
  return ridden.map((p) => {
    if (!p) return p;
    const met = last && distance(p.at, last.at) < CLOSED_UP && distance(p.was, last.was) > 10 * CLOSED_UP;
    last = met && last ? { ...p, at: last.at } : p;
    return last;
  });
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

const lineNow = (inner: InnerLine, tracing: Tracing, carrier: Carrier, notches: Map<string, Ride>): InnerLine => {
  const pricks = tracing.lines.get(inner.id) ?? [];
  const ride = notches.get(inner.id);
  const next = ride
    ? pricks.map((p) => ({ ...p, at: ride(p.was).to }))
    : inner.kind === 'dart'
      ? dartLine(inner, pricks, tracing)
      : inner.kind === 'drill'
        ? drillHole(pricks, tracing)
        : ((inner.kind === 'fold mark' ? foldMark(inner, tracing) : undefined) ??
          stretched(pricks, carrier, isLevel(inner) ? tracing : undefined));
  const spans = redrawLine(inner.spans, next, inner.closed, tracing.piece.upright);
  return spans === inner.spans ? inner : { ...inner, spans };
};

const isLevel = (inner: InnerLine): boolean => inner.kind === 'level' || inner.kind === 'adjustment';

/**
 * A line that ended on the seam, or lay outside it, still does; between its ends it is stretched evenly.
 * @param level given for a line that stays level: it ends where the seam now crosses its height
 */
const stretched = (pricks: readonly Prick[], carrier: Carrier, level?: Tracing): readonly Prick[] => {
  const first = pricks[0];
  const last = pricks.at(-1);
  if (!first || !last) return pricks;
  const gaps = [first, last].map((p) => levelled(p, tieTo(p, carrier), level));
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

/** A seam that has gone up or down by less than this where a level line ends takes the line along, mm. */
const LEVEL = 0.05;

/** A tie made level: where the place on the seam went up or down, the line goes on to where the seam crosses its height. */
const levelled = (end: Prick, tie: Point, tracing: Tracing | undefined): Point => {
  if (!tracing || Math.abs(tie.y) < LEVEL) return tie;
  const to = add(end.at, tie);
  const crossings = tracing.seam.flatMap((a, i) => {
    const [p, q] = [a.at, (tracing.seam[(i + 1) % tracing.seam.length] as Prick).at];
    return p.y > end.at.y === q.y > end.at.y ? [] : [p.x + ((end.at.y - p.y) / (q.y - p.y)) * (q.x - p.x)];
  });
  const near = crossings.toSorted((a, b) => Math.abs(a - to.x) - Math.abs(b - to.x))[0];
  return near === undefined ? tie : { x: near - end.at.x, y: 0 };
};

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

const landmarkNow = (l: Landmark, now: { was: Point; at: Point } | undefined, tracing: Tracing): Landmark =>
  now ? placed(l, { ...now, turned: 0 }, tracing) : l;

const placed = <M extends { at: Point; angle?: number }>(
  m: M,
  mark: { was: Point; at: Point; turned: number },
  tracing: Tracing,
): M => {
  if (mark.at.x === mark.was.x && mark.at.y === mark.was.y && mark.turned === 0) return m;
  const to = inDrawing({ home: m.at, was: mark.was, at: mark.at }, tracing.piece.upright);
  return { ...m, at: to, ...(m.angle === undefined || mark.turned === 0 ? {} : { angle: m.angle + mark.turned }) };
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
