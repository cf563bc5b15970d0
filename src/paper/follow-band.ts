import type { Finding } from '../finding.ts';
import { distance, type Point, scale, subtract, unit } from '../geometry/point.ts';
import { edgeCalled, edgeLength, edgeSpans } from '../pattern/edges.ts';
import { type Mates, type Pattern, pieceCalled, type SewnEdge } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import { lengthenAt } from './lengthen.ts';
import { tape } from './tape.ts';
import { trace } from './tracing.ts';

/*
 * A straight waistband follows the waist: it gains what the waist edges gained, at the notches that match the side
 * seams; overlap and ends stay.
 */

/** A change smaller than this is no change, mm. */
const SAME = 0.005;
/** A band's notch answers a side seam when it lies this near the place the seam comes to, mm. */
const MATCH = 6;

export const followBands = (before: Pattern, after: Pattern): { pattern: Pattern; findings: readonly Finding[] } => {
  let pattern = after;
  const findings: Finding[] = [];
  for (const { band, row, bandEdge } of bandsOf(before)) {
    const changes = row.map((s) => ({
      length: sewn(before, s),
      change: sewn(after, s) - sewn(before, s),
      times: s.times,
    }));
    const piece = pieceCalled(before, band);
    if (!piece || changes.every((c) => Math.abs(c.change) <= SAME)) continue;
    const seams = seamsOn(before, piece, bandEdge, changes);
    if (seams.length === 0) {
      findings.push(unmatched(piece));
      continue;
    }
    const followed = lengthenBand(piece, bandEdge.edge, seams);
    pattern = { ...pattern, pieces: pattern.pieces.map((p) => (p.id === band ? followed : p)) };
  }
  return { pattern, findings };
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

interface Band {
  readonly band: string;
  readonly bandEdge: SewnEdge;
  readonly row: readonly SewnEdge[];
}

/** Bands that are sewn to a row of waist edges. */
const bandsOf = (pattern: Pattern): Band[] =>
  pattern.mates.flatMap((mates: Mates) => {
    const sides = [mates.one, mates.other] as const;
    const side = sides.findIndex(
      (s) => s.length === 1 && pieceCalled(pattern, s[0]?.piece ?? '')?.part === 'waistband',
    );
    const bandEdge = sides[side]?.[0];
    const row = sides[side === 0 ? 1 : 0];
    return bandEdge && row ? [{ band: bandEdge.piece, bandEdge, row }] : [];
  });

const sewn = (pattern: Pattern, s: SewnEdge): number => {
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
  const notches = notchesAlong(band, bandEdge.edge);
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

const notchesAlong = (piece: Piece, edgeId: string): number[] => {
  const edge = edgeCalled(piece, edgeId);
  const spans = edge ? edgeSpans(piece, edge) : [];
  const start = piece.seamLine.spans[spans[0] ?? 0]?.segments[0]?.from;
  return piece.notches.flatMap((n) => {
    const s = n.edge === edgeId ? piece.seamLine.spans[n.at.span]?.segments[0] : undefined;
    if (!s || !start) return [];
    const p = { x: s.from.x + (s.to.x - s.from.x) * n.at.t, y: s.from.y + (s.to.y - s.from.y) * n.at.t };
    return [distance(start, p)];
  });
};

/** A hair before and after a notch, mm: the notch itself stays between what its two neighbours gained. */
const HAIR = 0.02;

/** A tuck lies wholly on its own side of the notch. */
const roomFor = (by: number): number => HAIR + Math.max(0, -by) / 2;

/**
 * Parts the band square to its length on both sides of each side seam's notch and spreads (folds) it there. The band
 * is stood on end for it, so that its length is its height; what lies further along moves.
 */
const lengthenBand = (piece: Piece, edgeId: string, seams: readonly Seam[]): Piece => {
  const edge = edgeCalled(piece, edgeId);
  const spans = edge ? edgeSpans(piece, edge) : [];
  const from = piece.seamLine.spans[spans[0] ?? 0]?.segments[0]?.from as Point;
  const to = piece.seamLine.spans[spans.at(-1) ?? 0]?.segments.at(-1)?.to as Point;
  const up = scale(unit(subtract(to, from)), -1);
  const onEnd: Piece = { ...piece, upright: { ...piece.upright, origin: from, up }, levels: [] };
  const slashes = seams
    .flatMap((s) => [
      { height: -(s.at - roomFor(s.before)), by: s.before },
      { height: -(s.at + roomFor(s.after)), by: s.after },
    ])
    .sort((a, b) => a.height - b.height);
  // The furthest first: it moves none of those before it.
  // A band that is not quite straight in the file has its jogs spread over its whole length.
  const zone = { top: 0, bottom: -distance(from, to) };
  const tracing = slashes.reduce((t, c) => lengthenAt(t, c.height, c.by, zone), trace(onEnd));
  return { ...tape(tracing), upright: piece.upright, levels: piece.levels };
};

const unmatched = (piece: Piece): Finding => ({
  code: 'alter-band-unmatched',
  level: 'warning',
  where: { piece: piece.id },
  message: `${piece.name} has no notches where the seams come to lie; it was not changed.`,
  try: 'Mark the seams on the band with notches.',
});
