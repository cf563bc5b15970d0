import { Bug } from '../finding.ts';
import type { Point } from '../geometry/point.ts';
import { add, between, distance, dot, scale, subtract, turn, turnBetween, unit } from '../geometry/point.ts';
import type { Dart } from '../pattern/piece.ts';
import { bring, STILL } from './bend.ts';
import { displaced } from './move-edge.ts';
import { NoRoom } from './no-room.ts';
import {
  along,
  at,
  dartLegs,
  inDarts,
  innerMouths,
  intake,
  mouthIndex,
  neighbourRun,
  pointsOf,
  type Run,
  sewnRuns,
  stretchBetweenMouths,
  toMiddle,
} from './runs.ts';
import { type DrawnLine, innerPlace, type Prick, pricked, type Tracing } from './tracing.ts';

/**
 * Makes a dart wider (narrower, when negative) by `by` mm at its mouth, half on each leg; its tip stays.
 *
 * Each leg is swung about the tip, so the legs keep their lengths, and the seam beside it is turned with the leg:
 * folded, the seam comes out as fair as it was. A cap that the pattern draws over the mouth grows with the fold.
 * @throws NoRoom when the dart would become less than nothing
 */
export const widenDart = (tracing: Tracing, dartId: string, by: number): Tracing => {
  if (by === 0) return tracing;
  const wide = intake(tracing, dartId);
  if (wide + by < 0) throw new NoRoom(`a dart ${wide.toFixed(0)} mm wide cannot give ${(-by).toFixed(0)} mm`);
  const dart = tracing.piece.darts.find((d) => d.id === dartId);
  const tip = tracing.tips.get(dartId)?.at;
  if (!dart || !tip) throw new Bug(`no dart ${dartId} on ${tracing.piece.id}`);
  if (dart.otherTip) return widenInnerDart(tracing, dartId, by);
  const [first, second] = legsOf(tracing, dart);
  const mouths = [at(tracing, first[0] as number), at(tracing, second[0] as number)] as const;
  const [before, after] = [openingOf(...mouths, tip, wide), openingOf(...mouths, tip, wide + by)];
  // The second mouth lies anticlockwise of the first, seen from the tip, or clockwise.
  const sense = Math.sign(turnBetween(subtract(mouths[0], tip), subtract(mouths[1], tip))) || 1;
  const half = (sense * (after - before)) / 2;
  const swung = swingLeg(swingLeg(tracing, dart, first, tip, -half, 'before'), dart, second, tip, half, 'after');
  if (dart.drawn.as === 'outline') return swung;
  const more = capHeight(mouths, tip, after) - capHeight(mouths, tip, before);
  return capMouth(swung, tracing, dartId, more * cappedPart(tracing, dartId, capHeight(mouths, tip, before)));
};

/** A dart narrower than this is not worth sewing, mm: ⅛ in (common practice). */
export const LEAST_DART = 3.175;

/** A dart narrower than this is closed, mm. */
const CLOSED = 1e-6;

/** A dart that lies inside is widened where it is widest, half on each side; its tips stay, and no seam moves. */
const widenInnerDart = (tracing: Tracing, dartId: string, by: number): Tracing => {
  const [a, b] = innerMouths(tracing, dartId) as readonly [Point, Point];
  const [top, foot] = [dartId, innerPlace(dartId, 'other tip')].map((key) => tracing.tips.get(key)?.at as Point);
  const up = subtract(top as Point, foot as Point);
  // Closed to nothing it opens square to its middle line.
  const across = distance(a, b) > CLOSED ? subtract(b, a) : { x: up.y, y: -up.x };
  const way = scale(unit(across), by / 2);
  const tips = new Map(tracing.tips);
  ([scale(way, -1), way] as const).forEach((shift, which) => {
    const key = innerPlace(dartId, which === 0 ? 'mouth 0' : 'mouth 1');
    const place = tips.get(key);
    if (place) tips.set(key, { ...place, at: add(place.at, shift) });
  });
  return { ...tracing, tips };
};

/** The pricks of each leg that lie on the seam, mouth first: all but the tip, or the mouth alone of one drawn as a line. */
const legsOf = (tracing: Tracing, dart: Dart): readonly [Run, Run] => {
  if (dart.drawn.as === 'lines') return [[mouthIndex(tracing, dart.id, 0)], [mouthIndex(tracing, dart.id, 1)]];
  const [down, up] = dartLegs(tracing, dart);
  return [down.slice(0, -1), [...up].reverse().slice(0, -1)];
};

/** Angle at the tip between legs of the lengths they have when the mouth is `wide` mm (law of cosines), radians. */
const openingOf = (a: Point, b: Point, tip: Point, wide: number): number => {
  const p = distance(a, tip);
  const q = distance(b, tip);
  const c = (p * p + q * q - wide * wide) / (2 * p * q);
  return Math.acos(Math.min(1, Math.max(-1, c)));
};

/** Swings one leg (mouth first) about the tip; the seam run beside its mouth follows. */
const swingLeg = (
  tracing: Tracing,
  { edge }: Dart,
  leg: Run,
  tip: Point,
  angle: number,
  side: 'before' | 'after',
): Tracing => {
  const mouth = leg[0] as number;
  const beside = toMiddle(tracing, edge as string, neighbourRun(tracing, mouth, side));
  const swing = (i: number): Point => subtract(turn(at(tracing, i), angle, tip), at(tracing, i));
  const swung = displaced(tracing.seam, leg, leg.map(swing));
  const shift = bring(pointsOf(tracing, beside), STILL, { by: swing(mouth), turned: angle });
  return { ...tracing, seam: displaced(swung, beside.slice(0, -1), shift.slice(0, -1)) };
};

/**
 * Height of the cap of a dart of full angle `angle` over a straight edge square to its middle: folded to one side and
 * cut along the edge, the cloth under the fold reaches h·(1/cos angle − 1) past it, h the length of the middle.
 */
export const capHeight = (mouths: readonly [Point, Point], tip: Point, angle: number): number =>
  distance(between(mouths[0], mouths[1], 0.5), tip) * (1 / Math.cos(angle) - 1);

/** A seam that rises over the mouth by less than this part of the cap has none: a waist line is a little round there. */
const UNCAPPED = 0.3;

/** How much of the cap that it needs the pattern draws: a block that leaves caps out stays without. */
const cappedPart = (tracing: Tracing, dartId: string, needed: number): number => {
  const tip = tracing.tips.get(dartId)?.at as Point;
  const part = needed <= 0 ? 0 : riseOver(tracing, dartId, tip) / needed;
  return part < UNCAPPED ? 0 : Math.min(1, part);
};

/** Draws the cap that a dart drawn as lines needs, where the pattern leaves it out. */
export const capDart = (tracing: Tracing, dartId: string): Tracing => {
  const tip = tracing.tips.get(dartId)?.at as Point;
  const mouths = [at(tracing, mouthIndex(tracing, dartId, 0)), at(tracing, mouthIndex(tracing, dartId, 1))] as const;
  const needed = capHeight(mouths, tip, openingOf(...mouths, tip, intake(tracing, dartId)));
  if (cappedPart(tracing, dartId, needed) > 0) return tracing;
  return capMouth(tracing, tracing, dartId, needed - riseOver(tracing, dartId, tip));
};

/** Whether a dart drawn as lines has its cap drawn into the seam. */
export const isCapped = (tracing: Tracing, dartId: string): boolean => {
  const dart = tracing.piece.darts.find((d) => d.id === dartId);
  if (dart?.edge === undefined || dart.drawn.as !== 'lines' || intake(tracing, dartId) < 1) return false;
  const tip = tracing.tips.get(dartId)?.at as Point;
  const mouths = [at(tracing, mouthIndex(tracing, dartId, 0)), at(tracing, mouthIndex(tracing, dartId, 1))] as const;
  const needed = capHeight(mouths, tip, openingOf(...mouths, tip, intake(tracing, dartId)));
  return cappedPart(tracing, dartId, needed) > 0;
};

/** How far the seam rises over a dart's mouth as it is, away from the tip, mm. */
const riseOver = (tracing: Tracing, dartId: string, tip: Point): number => {
  const points = pointsOf(tracing, stretchBetweenMouths(tracing, dartId));
  const middle = between(points[0] as Point, points.at(-1) as Point, 0.5);
  const out = unit(subtract(middle, tip));
  return Math.max(0, ...points.map((p) => dot(subtract(p, middle), out)));
};

/** A cap lower than this is no more than the thickness of a pencil line, mm. */
const NO_CAP = 0.1;

/** The seam across the mouth goes along with both mouths, and rises to the cap over the middle. */
const capMouth = (now: Tracing, before: Tracing, dartId: string, rise: number): Tracing => {
  const peaked = Math.abs(rise) < NO_CAP ? now : withPeak(now, dartId);
  const was = peaked === now ? before : withPeak(before, dartId);
  const run = stretchBetweenMouths(peaked, dartId);
  const way = along(pointsOf(was, run));
  const tip = now.tips.get(dartId)?.at as Point;
  const [a, b] = [run[0] as number, run.at(-1) as number];
  const out = unit(subtract(between(at(peaked, a), at(peaked, b), 0.5), tip));
  const move = (i: number): Point => subtract(at(peaked, i), at(was, i));
  const targets = run.map((i, k) => {
    const u = (way[k] as number) / (way.at(-1) as number);
    const height = peaked === now ? 0 : rise * (1 - Math.abs(2 * u - 1));
    return add(add(at(was, i), between(move(a), move(b), u)), scale(out, height));
  });
  const inner = run.slice(1, -1);
  const shift = inner.map((i, k) => subtract(targets[k + 1] as Point, at(peaked, i)));
  return { ...peaked, seam: displaced(peaked.seam, inner, shift) };
};

/** A prick in the middle of a dart's mouth, at which and at the mouths the seam may bend. */
const withPeak = (tracing: Tracing, dartId: string): Tracing => {
  const run = stretchBetweenMouths(tracing, dartId);
  const way = along(pointsOf(tracing, run));
  const half = (way.at(-1) as number) / 2;
  const k = way.findIndex((d) => d > half);
  const [i, j] = [run[k - 1] as number, run[k] as number];
  const t = (half - (way[k - 1] as number)) / ((way[k] as number) - (way[k - 1] as number));
  const bends = new Set([run[0], run.at(-1)]);
  const seam = tracing.seam.map((p, n) => (bends.has(n) ? { ...p, bends: true } : p));
  if (tracing.seam[i]?.bends && i !== run[0]) return { ...tracing, seam };
  const peak = { ...pricked(tracing.seam[i] as Prick, tracing.seam[j] as Prick, t), bends: true };
  return { ...tracing, seam: [...seam.slice(0, i + 1), peak, ...seam.slice(i + 1)] };
};

/**
 * Draws a new dart of the given intake and depth into the longest sewn run of an edge, square to the seam, or, for a
 * tuck, two short lines. Takes layer and style of the drawable `like`.
 */
export const drawDart = (
  tracing: Tracing,
  edgeId: string,
  like: string,
  size: { intake: number; depth: number },
  place: number,
  kind: 'dart' | 'tuck',
): Tracing => {
  const run = longest(tracing, sewnRuns(tracing, edgeId));
  const points = pointsOf(tracing, run);
  const middle = placeOn(points, place);
  const inward = { x: -middle.direction.y, y: middle.direction.x };
  const half = scale(middle.direction, size.intake / 2);
  const a = subtract(middle.point, half);
  const b = add(middle.point, half);
  const deep = scale(inward, size.depth);
  const shape = kind === 'dart' ? [a, add(middle.point, deep), b] : [a, add(a, deep), add(b, deep), b];
  const line: DrawnLine = { kind, edge: edgeId, like, points: shape };
  return { ...tracing, drawn: [...tracing.drawn, line] };
};

const longest = (tracing: Tracing, runs: readonly Run[]): Run =>
  runs.reduce((best, run) => {
    const reach = (r: Run) => distance(at(tracing, r[0] as number), at(tracing, r.at(-1) as number));
    return reach(run) > reach(best) ? run : best;
  });

const placeOn = (points: readonly Point[], place: number): { point: Point; direction: Point } => {
  const total = points.slice(1).reduce((sum, p, i) => sum + distance(points[i] as Point, p), 0);
  let left = total * place;
  for (let i = 1; i < points.length; i++) {
    const a = points[i - 1] as Point;
    const b = points[i] as Point;
    const d = distance(a, b);
    if (d >= left) return { point: between(a, b, left / d), direction: unit(subtract(b, a)) };
    left -= d;
  }
  throw new Bug('a place past the end of a run');
};

/** Legs of outline darts drawn straight again from mouth to tip after their ends moved apart. */
export const retapeDarts = (now: Tracing, before: Tracing, edgeId: string): Tracing => {
  const darts = inDarts(before, edgeId);
  if (darts.size === 0) return now;
  let seam = now.seam;
  for (const dart of now.piece.darts.filter((d) => d.edge === edgeId && d.drawn.as === 'outline')) {
    for (const leg of dartLegs(now, dart)) seam = evenLeg({ ...now, seam }, before, leg);
  }
  return { ...now, seam };
};

/** Gives the inner pricks of a leg the displacement of its ends, evenly: a straight leg stays straight. */
const evenLeg = (now: Tracing, before: Tracing, leg: Run): readonly Prick[] => {
  const by = (i: number): Point => subtract(at(now, i), at(before, i));
  const a = by(leg[0] as number);
  const b = by(leg.at(-1) as number);
  const way = along(pointsOf(before, leg));
  const targets = leg.map((i, k) => add(at(before, i), between(a, b, (way[k] as number) / (way.at(-1) as number))));
  return displaced(
    now.seam,
    leg,
    leg.map((i, k) => subtract(targets[k] as Point, at(now, i))),
  );
};
