import type { Point } from '../geometry/point.ts';
import { unkink } from './bend.ts';
import { retapeDarts } from './darts.ts';
import { BLEND, displaced, moveEdge } from './move-edge.ts';
import { at, edgeRun, inDarts, pointsOf, turnAt } from './runs.ts';
import { cut, type Lips, lipsOf, moveParts, prickedAtLevels, shiftBy } from './slash.ts';
import type { Prick, Tracing } from './tracing.ts';

/** The heights between which a length change is blended into the seams that cross the slash. */
export interface Zone {
  readonly top: number;
  readonly bottom: number;
}

/** What single edges do otherwise than the rest when a length change is blended in. */
export interface OwnWays {
  /** Edges with a zone of their own, at both ends of which they are drawn fair. */
  readonly zones?: ReadonlyMap<string, Zone>;
  /** Edges that are not trued: who asks draws them. */
  readonly left?: ReadonlySet<string>;
}

/**
 * Parts the piece at a height and spreads it by `by` (a tuck when negative), square to the upright: the lower part
 * moves down, the upper stays. Seams that cross the slash are taped and trued: their points keep the level their part
 * gave them and move across only, evenly from the slash to the nearest fixed levels, so that a straight seam comes out
 * straight and width at the fixed levels is kept.
 *
 * A seam that slants by m across for 1 up leaves a jog where the lower part moves straight down. Over a zone of height
 * Z the redrawn seam slants by m·Z / (Z + by), so the jog to be shared is m·by·Z / (Z + by), in proportion to the
 * height above and below the slash; a tuck has its jog between the two lips.
 */
export const lengthenAt = (tracing: Tracing, height: number, by: number, zone: Zone, own: OwnWays = {}): Tracing => {
  if (by === 0) return tracing;
  const zones = [zone, ...(own.zones?.values() ?? [])];
  const levelled = prickedAtLevels(tracing, [...new Set(zones.flatMap((z) => [z.top, z.bottom]))]);
  const lips = lipsFor(levelled, height, by);
  const parted = cut(levelled, lips);
  const crossings = lipsOf(parted, lips)
    .filter((c) => !own.left?.has(c.edge))
    .map((c) => ({ ...c, zone: own.zones?.get(c.edge) ?? zone, bothEnds: own.zones?.has(c.edge) ?? false }))
    .map((c) => ({ ...c, jog: jogAt(parted, c, lips, by, c.zone) }));
  const spread = moveParts(parted, lips, { lower: shiftBy({ x: 0, y: -by }) });
  const jogged = crossings.reduce((now, c) => blendJog(now, parted, c), spread);
  // Legs of darts that the slash cuts run straight again from mouth to tip.
  const blended = tracing.piece.edges.reduce((now, e) => retapeDarts(now, parted, e.id), jogged);
  return by < 0 ? crossings.reduce((now, c) => joinTuck(now, parted, c, c.zone), blended) : blended;
};

/**
 * Where a tuck took a stretch out of a curved seam, its two lips meet at an angle: they become one prick, and the kink
 * is spread as far as the fixed levels allow.
 */
const joinTuck = (now: Tracing, parted: Tracing, c: Crossing, zone: Zone): Tracing => {
  const gone = parted.seam[c.lower] as Prick;
  const stays = parted.seam[c.upper] as Prick;
  const twin = now.seam.findIndex((p) => isSame(p, gone));
  const one: Tracing = { ...now, seam: now.seam.filter((_, i) => i !== twin) };
  const run = edgeRun(one, c.edge);
  const k = run.findIndex((i) => isSame(one.seam[i] as Prick, stays));
  if (twin < 0 || k <= 0 || k >= run.length - 1) return one;
  const points = pointsOf(one, run);
  const room = Math.min(
    zone.top - (points[k] as Point).y,
    (points[k] as Point).y + (lipsDepth(parted, c) - zone.bottom),
  );
  const reach = Math.min(BLEND, Math.max(0, room));
  const kink = turnAt(points, k) - neighbourTurn(points, k);
  if (reach < 5 || Math.abs(kink) < 1e-5) return one;
  return { ...one, seam: displaced(one.seam, run, unkink(points, k, kink, reach, 'free')) };
};

const isSame = (a: Prick, b: Prick): boolean => a.span === b.span && a.t === b.t;

const lipsDepth = (parted: Tracing, c: Crossing): number => at(parted, c.lower).y - at(parted, c.upper).y;

/** What the line turns anyway where it runs smoothly: the mean of the turns beside a point. */
const neighbourTurn = (points: readonly Point[], k: number): number => {
  const beside = [k - 2, k + 2].filter((i) => i > 0 && i < points.length - 1).map((i) => turnAt(points, i));
  return beside.reduce((sum, t) => sum + t, 0) / Math.max(1, beside.length);
};

/** An opening is one height, a tuck a strip about it; moved off any prick by a hair, so that none stands on a lip. */
const lipsFor = (tracing: Tracing, height: number, by: number): Lips => {
  const half = Math.max(0, -by) / 2;
  const clear = clearOfPricks(tracing, height, half);
  return { upper: clear + half, lower: clear - half };
};

/** A height near the given one whose lips meet no prick of the seam. */
export const clearOfPricks = (tracing: Tracing, height: number, half = 0): number => {
  const HAIR = 1e-4;
  let clear = height;
  for (let tries = 0; tries < 100; tries++) {
    const met = tracing.seam.some(
      (p) => Math.abs(p.at.y - clear - half) < HAIR / 2 || Math.abs(p.at.y - clear + half) < HAIR / 2,
    );
    if (!met) return clear;
    clear += HAIR;
  }
  return clear;
};

/** A seam that stands upright has no jog but for rounding, mm. */
const NO_JOG = 1e-9;

interface Crossing {
  readonly edge: string;
  readonly upper: number;
  readonly lower: number;
}

/** Which way and how far the seam has to be drawn over at the slash, across, from its upper to its lower part. */
const jogAt = (cutSeam: Tracing, c: Crossing, lips: Lips, by: number, zone: Zone): number => {
  if (by < 0) return at(cutSeam, c.upper).x - at(cutSeam, c.lower).x;
  const run = edgeRun(cutSeam, c.edge);
  const k = run.indexOf(c.upper);
  const other = run[k - 1] === c.lower ? k + 1 : k - 1;
  const beyond = at(cutSeam, run[other] as number);
  const here = at(cutSeam, c.upper);
  const slant = (beyond.x - here.x) / (beyond.y - here.y);
  const z = zone.top - lips.upper + (lips.lower - zone.bottom);
  return (-slant * by * z) / (z + by);
};

interface Jogged extends Crossing {
  readonly jog: number;
  readonly zone: Zone;
  readonly bothEnds: boolean;
}

/** Spreads the jog evenly over the zone, takes the kink out at its top (or at both ends) where the seam was smooth. */
const blendJog = (now: Tracing, before: Tracing, c: Jogged): Tracing => {
  const { zone } = c;
  if (Math.abs(c.jog) < NO_JOG) return now;
  const run = edgeRun(before, c.edge);
  const old = pointsOf(before, run);
  const upperLip = at(before, c.upper).y;
  const lowerLip = at(before, c.lower).y;
  const z = zone.top - upperLip + (lowerLip - zone.bottom);
  const fromTop = run.indexOf(c.upper) < run.indexOf(c.lower);
  const darts = inDarts(before, c.edge);
  const by = old.map((p, k) => {
    const isUpper = fromTop ? k <= run.indexOf(c.upper) : k >= run.indexOf(c.upper);
    const share = isUpper ? -Math.max(0, zone.top - p.y) / z : Math.max(0, p.y - zone.bottom) / z;
    const towardsTip = darts.get(run[k] as number)?.towardsTip ?? 0;
    return { x: c.jog * share * (1 - towardsTip), y: 0 };
  });
  const moved = moveEdge(now, c.edge, by);
  const fair = smoothAt(moved, before, c.edge, zone.top);
  return c.bothEnds ? smoothAt(fair, before, c.edge, zone.bottom) : fair;
};

/** Takes out the kink that a verb left in an edge at a height where the line used to run on smoothly; the place stays. */
export const smoothAt = (now: Tracing, before: Tracing, edgeId: string, height: number): Tracing => {
  const run = edgeRun(before, edgeId);
  const k = nearestAtHeight(before, run, height);
  if (k <= 0 || k >= run.length - 1 || before.seam[run[k] as number]?.corner) return now;
  const kink = turnAt(pointsOf(now, run), k) - turnAt(pointsOf(before, run), k);
  if (Math.abs(kink) < 1e-5) return now;
  const straight = [isStraight(pointsOf(before, run), k, -1), isStraight(pointsOf(before, run), k, 1)] as const;
  return { ...now, seam: displaced(now.seam, run, unkink(pointsOf(now, run), k, kink, BLEND, 'pinned', straight)) };
};

/** A stretch that turns less than this over the blend is a straight seam, and stays one. Radians. */
const STRAIGHT = 0.003;

/** Whether the line runs straight from a point over the length of a blend. */
const isStraight = (points: readonly Point[], k: number, step: 1 | -1): boolean => {
  let length = 0;
  let turned = 0;
  for (let i = k + step; i > 0 && i < points.length - 1 && length < BLEND; i += step) {
    length += Math.hypot(
      (points[i] as Point).x - (points[i - step] as Point).x,
      (points[i] as Point).y - (points[i - step] as Point).y,
    );
    turned += Math.abs(turnAt(points, i));
  }
  return length > BLEND / 2 && turned < STRAIGHT;
};

const nearestAtHeight = (tracing: Tracing, run: readonly number[], height: number): number =>
  run.reduce((best, i, k) => {
    const d = Math.abs((tracing.seam[i] as Prick).at.y - height);
    return d < Math.abs(at(tracing, run[best] as number).y - height) ? k : best;
  }, 0);
