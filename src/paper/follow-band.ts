import { pointAtDistance } from '../geometry/path.ts';
import { distance, dot, type Point, scale, subtract, unit } from '../geometry/point.ts';
import { edgeCalled, edgeLength, edgeSegments, edgeSpans } from '../pattern/edges.ts';
import { type Pattern, pieceCalled, type SewnEdge } from '../pattern/pattern.ts';
import type { Edge, Piece } from '../pattern/piece.ts';
import { lengthenAt } from './lengthen.ts';
import { notchesAlong, type PlacedNotch } from './notch-places.ts';
import { solveFor } from './solve.ts';
import { tape } from './tape.ts';
import { trace } from './tracing.ts';

/*
 * A band follows the edges it is sewn to: it gains what they gained, at the notches that match their seams; overlap and
 * ends stay. A cuff without notches gains it in the middle of what is sewn, a collar at the centre back.
 */

/** A change smaller than this is no change, mm. */
const SAME = 0.005;
/** A band's notch answers a seam when it lies this near the place the seam comes to, mm. */
const MATCH = 6;

/** A band, its edge, and the row of edges it is sewn to. */
export interface Band {
  readonly piece: Piece;
  readonly edge: SewnEdge;
  readonly row: readonly SewnEdge[];
}

/** What a band gained, and where: at its notches, in its middle, at the centre back. */
export interface BandFollowed {
  readonly piece: Piece;
  readonly at: 'notches' | 'beside notches' | 'middle' | 'centre back';
  /** Place by place, mm on the paper. */
  readonly by: readonly number[];
  /** At notches: where each of them stood and stands now. */
  readonly places: readonly BandPlace[];
}

/** A notch of a band. */
export interface BandPlace {
  /** Along the band's edge from its start, mm: as drafted, and now. */
  readonly was: number;
  readonly is: number;
}

/** The band as its row needs it. Undefined when the row did not change; 'unmatched' when nothing says where to change it. */
export const followBand = (before: Pattern, after: Pattern, band: Band): BandFollowed | 'unmatched' | undefined => {
  const { piece, edge, row } = band;
  const changes = row.map((s) => ({
    length: sewn(before, s),
    change: sewn(after, s) - sewn(before, s),
    times: s.times,
  }));
  if (changes.every((c) => Math.abs(c.change) <= SAME)) return undefined;
  const shaped = !isStraight(piece, edge.edge);
  const notched = seamsOn(before, piece, edge, changes);
  const matched = shaped && piece.part === 'collar' ? besideNotches(piece, edge.edge, notched) : notched;
  const seams = matched.length > 0 ? matched : unnotched(piece, edge, changes);
  if (seams.length === 0) return 'unmatched';
  const atNotches = matched === notched ? 'notches' : 'beside notches';
  const at = matched.length > 0 ? atNotches : piece.part === 'collar' ? 'centre back' : 'middle';
  const changed = seams.filter((s) => Math.abs(s.before + s.after) > SAME);
  const longer = lengthenBand(piece, edge.edge, seams);
  const places = at === 'notches' ? placesOf(piece, longer, edge.edge, changed) : [];
  return { piece: longer, at, by: changed.map((s) => s.before + s.after), places };
};

const placesOf = (piece: Piece, longer: Piece, edge: string, seams: readonly Seam[]): BandPlace[] => {
  const [were, are] = [piece, longer].map((p) => notchesAlong(trace(p), edge)) as [PlacedNotch[], PlacedNotch[]];
  return seams.map((seam) => {
    const { notch } = were.find((n) => n.along === seam.at) as PlacedNotch;
    const is = are.find((n) => n.notch.id === notch.id) as PlacedNotch;
    return { was: seam.at, is: is.along };
  });
};

/**
 * Where a shaped collar changes: what the front of the neck gained in front of the shoulder notch, what the back gained
 * at the centre back, where the collar is straightest. The notch comes to meet the shoulder again.
 */
const besideNotches = (piece: Piece, edge: string, notched: readonly Seam[]): Seam[] => {
  const own = piece.edges.findIndex((e) => e.id === edge);
  const beside = (step: number): boolean => isMiddle(piece.edges.at((own + step) % piece.edges.length));
  const length = bandLength(piece, edge);
  const [seam] = notched;
  if (!seam || notched.length > 2) return [];
  if (notched.length === 2) {
    const other = notched[1] as Seam;
    const back = seam.after + other.before;
    const middle = { at: (seam.at + other.at) / 2, before: back / 2, after: back / 2 };
    return [{ ...seam, after: 0 }, middle, { ...other, before: 0 }];
  }
  if (beside(-1))
    return [
      { at: 1 + 2 * roomFor(seam.before), before: seam.before, after: 0 },
      { ...seam, before: 0 },
    ];
  if (!beside(1)) return [];
  return [
    { ...seam, after: 0 },
    { at: length - 1 - 2 * roomFor(seam.after), before: 0, after: seam.after },
  ];
};

const isMiddle = (edge: Edge | undefined): boolean => edge?.role === 'fold' || edge?.role === 'centre';

/** Where a band changes that has no notches for it; nowhere for a waistband, which has to meet the side seams. */
const unnotched = (piece: Piece, edge: SewnEdge, row: readonly WaistEdge[]): Seam[] => {
  if (piece.part === 'waistband') return [];
  const by = row.reduce((sum, e) => sum + e.change * e.times, 0) / edge.times;
  const length = bandLength(piece, edge.edge);
  const own = piece.edges.findIndex((e) => e.id === edge.edge);
  const count = piece.edges.length;
  // Beside the fold, clear of it by a tuck's depth.
  const clear = 1 + 2 * roomFor(by);
  if (piece.edges[(own + count - 1) % count]?.role === 'fold') return [{ at: clear, before: by, after: 0 }];
  if (piece.edges[(own + 1) % count]?.role === 'fold') return [{ at: length - clear, before: 0, after: by }];
  const sewnTo = row.reduce((sum, e) => sum + e.length * e.times, 0) / edge.times;
  return [{ at: Math.min(length, sewnTo) / 2, before: by, after: 0 }];
};

const bandLength = (piece: Piece, edgeId: string): number => {
  const edge = edgeCalled(piece, edgeId);
  return edge ? edgeLength(piece, edge) : 0;
};

/** A band's edge that leaves its chord by no more than this is straight, mm. */
const JOGS = 1;

const isStraight = (piece: Piece, edgeId: string): boolean => {
  const edge = edgeCalled(piece, edgeId);
  const [from, to] = endsOf(piece, edgeId);
  return !!edge && edgeLength(piece, edge) - distance(from, to) < (JOGS * JOGS) / Math.max(1, distance(from, to));
};

const endsOf = (piece: Piece, edgeId: string): readonly [Point, Point] => {
  const edge = edgeCalled(piece, edgeId);
  const spans = edge ? edgeSpans(piece, edge) : [];
  const from = piece.seamLine.spans[spans[0] ?? 0]?.segments[0]?.from as Point;
  const to = piece.seamLine.spans[spans.at(-1) ?? 0]?.segments.at(-1)?.to as Point;
  return [from, to];
};

/** A waist edge of the row: its length before, and what it gained. */
interface WaistEdge {
  readonly length: number;
  readonly change: number;
  readonly times: number;
}

/** A seam of the skirt on the band: where, and what the band gains just before and after it. */
interface Seam {
  readonly at: number;
  readonly before: number;
  readonly after: number;
}

/** Length of a sewn edge, mm. */
export const sewn = (pattern: Pattern, s: SewnEdge): number => {
  const piece = pieceCalled(pattern, s.piece);
  const edge = piece && edgeCalled(piece, s.edge);
  return piece && edge ? edgeLength(piece, edge) : 0;
};

/** A panel as it comes along the band: what it is long, and what it gained. */
interface Panel {
  readonly length: number;
  readonly change: number;
}

/**
 * The seams that the band's notches mark, with what the band gains on each side of each: of all orders in which the
 * panels can follow each other, the one that most notches answer. None when no notch answers any.
 */
const seamsOn = (pattern: Pattern, band: Piece, bandEdge: SewnEdge, row: readonly WaistEdge[]): Seam[] => {
  const notches = notchesAlong(trace(band), bandEdge.edge).map((n) => n.along);
  const sewnTo = row.reduce((sum, e) => sum + e.length * e.times, 0) / bandEdge.times;
  const spare = sewn(pattern, bandEdge) - sewnTo;
  let best: Seam[] = [];
  for (const panels of panelOrders(row, bandEdge.times)) {
    for (const start of [0, spare]) {
      const seams = anchored(panels, start, notches);
      if (seams.length > best.length) best = seams;
    }
  }
  return best;
};

/** Seams between panels that a notch answers. Panels between two of them give half of their gain to each. */
const anchored = (panels: readonly Panel[], start: number, notches: readonly number[]): Seam[] => {
  const seams: { at: number; before: number; after: number }[] = [];
  let place = start;
  let gained = 0;
  panels.forEach((panel, i) => {
    place += panel.length;
    gained += panel.change;
    const at = i === panels.length - 1 ? undefined : notches.find((n) => Math.abs(n - place) <= MATCH);
    if (at === undefined) return;
    const previous = seams.at(-1);
    if (previous) previous.after = gained / 2;
    seams.push({ at, before: previous ? gained / 2 : gained, after: 0 });
    gained = 0;
  });
  const last = seams.at(-1);
  if (last) last.after = gained;
  return seams;
};

/**
 * Orders in which the panels can follow each other round the waist. Halves lie as mirror images about the centre;
 * pieces drawn whole are opened at the middle of one of them, or at a seam.
 */
const panelOrders = (row: readonly WaistEdge[], bandTimes: number): Panel[][] => {
  const times = row.map((e) => e.times / bandTimes);
  const panel = (e: WaistEdge, part = 1): Panel => ({ length: e.length * part, change: e.change * part });
  const openedIn = (o: readonly WaistEdge[]): Panel[] => {
    const [first, ...rest] = o as [WaistEdge, ...WaistEdge[]];
    return [panel(first, 0.5), ...rest.map((e) => panel(e)), panel(first, 0.5)];
  };
  const [only] = row;
  if (row.length === 1 && only) {
    const all = Array.from({ length: Math.round(times[0] as number) }, () => only);
    return [all.map((e) => panel(e)), openedIn(all)];
  }
  const orders = permutations(row);
  if (bandTimes === 2) return orders.map((o) => o.map((e) => panel(e)));
  if (times.every((t) => t === 2)) {
    const centred = orders.map((o) => [...o, ...[...o].reverse()].map((e) => panel(e)));
    return [...centred, ...orders.map((o) => o.flatMap((e) => [panel(e), panel(e)]))];
  }
  // A piece drawn whole beside halves with a seam at the centre: each occurs as often as it is cut.
  const cutOut = permutations(row.flatMap((e, i) => Array.from({ length: Math.round(times[i] as number) }, () => e)));
  return [...cutOut.map(openedIn), ...cutOut.map((o) => o.map((e) => panel(e)))];
};

/** More panels than this have too many orders to try; they are taken as listed. */
const TRIED = 4;

const permutations = <T>(all: readonly T[]): T[][] => {
  if (all.length > TRIED) return [[...all], [...all].reverse()];
  if (all.length < 2) return [[...all]];
  return all.flatMap((first, i) =>
    permutations([...all.slice(0, i), ...all.slice(i + 1)]).map((rest) => [first, ...rest]),
  );
};

/** A hair before and after a notch, mm: the notch itself stays between what its two neighbours gained. */
const HAIR = 0.02;

/** A tuck lies wholly on its own side of the notch. */
const roomFor = (by: number): number => HAIR + Math.max(0, -by) / 2;

/**
 * Parts the band square to its length on both sides of each seam's notch and spreads (folds) it there. The band is stood
 * on end for it, so that its length is its height; what lies further along moves. On a shaped band the slashes are
 * opened until its edge has gained what it needs.
 */
const lengthenBand = (piece: Piece, edgeId: string, seams: readonly Seam[]): Piece => {
  const needed = seams.reduce((sum, s) => sum + s.before + s.after, 0);
  const opened = (part: number): Piece => spreadAt(piece, edgeId, seams, part);
  if (isStraight(piece, edgeId) || Math.abs(needed) <= SAME) return opened(1);
  const length = bandLength(piece, edgeId);
  return solveFor(opened, (made) => bandLength(made, edgeId) - length - needed, 1, 1.05, SAME);
};

const spreadAt = (piece: Piece, edgeId: string, seams: readonly Seam[], part: number): Piece => {
  const { onEnd, length, height } = stoodOnEnd(piece, edgeId);
  const slashes = seams
    .flatMap((s) => [
      { height: height(s.at) + roomFor(s.before), by: s.before * part },
      { height: height(s.at) - roomFor(s.after), by: s.after * part },
    ])
    .sort((a, b) => a.height - b.height);
  // The furthest first: it moves none of those before it.
  // A band that is not quite straight in the file has its jogs spread over its whole length.
  const zone = { top: 0, bottom: -length };
  const tracing = slashes.reduce((t, c) => lengthenAt(t, c.height, c.by, zone), trace(onEnd));
  return { ...tape(tracing), upright: piece.upright, levels: piece.levels };
};

interface OnEnd {
  readonly onEnd: Piece;
  /** From end to end of its edge, the way it is long, mm. */
  readonly length: number;
  /** Height of a place so far along its edge, mm: on a shaped band by its way along the chord. */
  readonly height: (at: number) => number;
}

const stood = new WeakMap<Piece, Map<string, OnEnd>>();

/** The band turned so that its edge runs down. It is the same for all fittings, and traced once. */
const stoodOnEnd = (piece: Piece, edgeId: string): OnEnd => {
  const known = stood.get(piece)?.get(edgeId);
  if (known) return known;
  const [from, to] = endsOf(piece, edgeId);
  const along = alongBand(piece, edgeId, from, to);
  const onEnd: Piece = { ...piece, upright: { ...piece.upright, origin: from, up: scale(along, -1) }, levels: [] };
  const own = edgeCalled(piece, edgeId);
  const path = { segments: own ? edgeSegments(piece, own) : [], closed: false };
  const height = (at: number): number => -dot(subtract(pointAtDistance(path, at)?.point ?? from, from), along);
  const made = { onEnd, length: dot(subtract(to, from), along), height };
  stood.set(piece, (stood.get(piece) ?? new Map()).set(edgeId, made));
  return made;
};

/** The way a band is long: square to its fold when it is half, else from end to end. */
const alongBand = (piece: Piece, edgeId: string, from: Point, to: Point): Point => {
  const chord = unit(subtract(to, from));
  const fold = piece.edges.find((e) => e.role === 'fold');
  if (!fold || isStraight(piece, edgeId)) return chord;
  const [a, b] = endsOf(piece, fold.id);
  const square = unit({ x: b.y - a.y, y: a.x - b.x });
  return dot(square, chord) < 0 ? scale(square, -1) : square;
};
