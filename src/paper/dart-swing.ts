import { Bug } from '../finding.ts';
import type { Point } from '../geometry/point.ts';
import { add, between, distance, dot, scale, subtract, turn, turnBetween, unit } from '../geometry/point.ts';
import { isCentre } from '../pattern/edges.ts';
import { withArmholeLevels } from './armhole-levels.ts';
import { bring, STILL, unkink } from './bend.ts';
import { centreLine } from './bust-point.ts';
import { capHeight, isCapped } from './darts.ts';
import { evenly, priorOf } from './joining.ts';
import { besideMouth, tangentAtEnd } from './mouth-runs.ts';
import { BLEND, displaced } from './move-edge.ts';
import { NoRoom } from './no-room.ts';
import { cutOut, moveCutParts } from './parting.ts';
import { along, at, dartLegs, edgeRun, intake, mouthIndex, pointsOf, type Run, stretchBetweenMouths } from './runs.ts';
import { swingAbout } from './slash.ts';
import { mouthsOf } from './slit.ts';
import type { Tracing } from './tracing.ts';

/*
 * Swinging the paper between two darts about the point to which they are aimed: one closes by the angle by which the
 * other opens. A slit serves as a dart of no width.
 */

export interface Swing {
  /** The point swung about. */
  readonly about: Point;
  /** Dart that becomes narrower, and dart that becomes wider. */
  readonly closes: string;
  readonly opens: string;
  /** Radians. */
  readonly angle: number;
  /** What closes is a slit whose sides come to overlap; the edge is redrawn there afterwards. */
  readonly laps?: boolean;
}

/** Angle between the mouths of a dart as seen from a point inside the paper, radians. */
export const angleAt = (tracing: Tracing, dartId: string, from: Point): number => {
  const [a, b] = mouthsOf(tracing, dartId);
  return turnBetween(subtract(a, from), subtract(b, from));
};

/** Lines that are square to the grain, or the grain itself: a swing leaves them where they are. */
export const keptLines = (tracing: Tracing): ReadonlySet<string> =>
  new Set(
    tracing.piece.lines
      .filter((l) => ['grain', 'level', 'adjustment', 'centre', 'fold mark'].includes(l.kind))
      .map((l) => l.id),
  );

/** The place of the seam that no swing moves: the lower end of the centre, or the middle of a whole piece's lower edge. */
const heldAt = (tracing: Tracing): number => {
  const centre = tracing.piece.edges.find((e) => isCentre(e.role));
  if (centre) {
    const run = edgeRun(tracing, centre.id);
    const [a, b] = [run[0] as number, run.at(-1) as number];
    return at(tracing, a).y < at(tracing, b).y ? a : b;
  }
  const middle = centreLine(tracing);
  const low = Math.min(...tracing.seam.map((p) => p.at.y));
  const high = Math.max(...tracing.seam.map((p) => p.at.y));
  const cost = ({ at: p }: Tracing['seam'][number]): number =>
    Math.abs(p.x - middle) + Math.max(0, p.y - (low + high) / 2);
  return tracing.seam.reduce((best, p, i) => (cost(p) < cost(tracing.seam[best] as typeof p) ? i : best), 0);
};

/** Whether a ring index lies on the way from one to another, both included. */
const onWay = (count: number, from: number, to: number, index: number): boolean =>
  (index - from + count) % count <= (to - from + count) % count;

/**
 * Swings the part between the two darts that does not hold the centre. Legs, tips and the seam across the mouths follow;
 * with the darts folded, the seams come out as fair as they were.
 * @throws NoRoom when the dart that closes has not the angle asked for
 */
export const swingBetween = (tracing: Tracing, { about, closes, opens, angle, laps }: Swing): Tracing => {
  if (angle === 0) return tracing;
  const room = angleAt(tracing, closes, about);
  if (!laps && angle > room + 1e-6) throw new NoRoom('the dart is not wide enough to give so much');
  const [c0, c1] = [mouthIndex(tracing, closes, 0), mouthIndex(tracing, closes, 1)];
  const [o0, o1] = [mouthIndex(tracing, opens, 0), mouthIndex(tracing, opens, 1)];
  // Anticlockwise the seam runs from the closing dart to the opening one: what lies between turns clockwise, or the rest
  // anticlockwise.
  const rest = onWay(tracing.seam.length, c1, o0, heldAt(tracing));
  const by = rest ? angle : -angle;
  const [first, last] = rest ? [o1, c0] : [c1, o0];
  const cut = cutOut(tracing, first, last, [about]);
  const parted = moveCutParts(tracing, [{ cut, move: swingAbout(about, by) }], keptLines(tracing));
  const swung = withArmholeLevels(parted, tracing);
  const tipped = [closes, opens].reduce((t, dart) => {
    const tip = tracing.tips.get(dart);
    if (!tip) throw new Bug(`no dart ${dart} on ${tracing.piece.id}`);
    return { ...t, tips: new Map([...t.tips, [dart, { ...tip, at: turn(tip.at, by / 2, about) }]]) };
  }, swung);
  const opened = redrawnDart(trueFolded(tipped, tracing, opens), tracing, opens);
  if (laps) return opened;
  // Where a dart was, the edge now runs on smoothly.
  const closed =
    room - angle < 1e-6 ? trueClosed(snapped(opened, closes), closes) : trueFolded(opened, tracing, closes);
  return redrawnDart(closed, tracing, closes);
};

/** Mouths of a dart that was closed come to one place: what they miss each other by is half added, half trimmed. */
const snapped = (tracing: Tracing, dartId: string): Tracing => {
  const [a, b] = mouthsOf(tracing, dartId);
  const to = between(a, b, 0.5);
  return (['before', 'after'] as const).reduce((t, side) => {
    const mouth = mouthIndex(t, dartId, side === 'before' ? 0 : 1);
    const run = besideMouth(t, dartId, side);
    const shift = bring(pointsOf(t, run), STILL, { by: subtract(to, at(t, mouth)), turned: 0 });
    return { ...t, seam: displaced(t.seam, run, shift) };
  }, tracing);
};

/** Pricks nearer to a mouth than this stand on it, mm. */
const ON_MOUTH = 0.01;

/** The seam on either side of a dart as it runs when the dart is folded, from corner to corner. */
interface Folded {
  readonly points: readonly Point[];
  /** Where the mouth lies among them. */
  readonly k: number;
  readonly before: Run;
  readonly after: Run;
  /** By how much what lies after the dart was turned to fold it. */
  readonly turned: number;
}

const fold = (tracing: Tracing, dartId: string): Folded => {
  const [m0, m1] = [mouthIndex(tracing, dartId, 0), mouthIndex(tracing, dartId, 1)];
  const tip = tracing.tips.get(dartId)?.at as Point;
  const [a, b] = [at(tracing, m0), at(tracing, m1)];
  const clear = (run: Run, mouth: number): Run =>
    run.filter((i) => i === mouth || distance(at(tracing, i), at(tracing, mouth)) > ON_MOUTH);
  const before = clear(besideMouth(tracing, dartId, 'before'), m0);
  const after = clear([...besideMouth(tracing, dartId, 'after')].reverse(), m1);
  const turned = distance(a, b) < ON_MOUTH ? 0 : -turnBetween(subtract(a, tip), subtract(b, tip));
  const shift = subtract(a, turn(b, turned, tip));
  const over = pointsOf(tracing, after.slice(1)).map((p) => add(turn(p, turned, tip), shift));
  return { points: [...pointsOf(tracing, before), ...over], k: before.length - 1, before, after, turned };
};

const kinkOf = ({ points, k }: Folded): number =>
  turnBetween(tangentAtEnd(points.slice(0, k + 1)), scale(tangentAtEnd(points.slice(k).reverse()), -1));

/** A kink smaller than this is none, radians. */
const NO_KINK = 1e-6;

/**
 * Trues a seam with its dart folded: the kink that a verb has put in at the mouth is spread over a blend on each side,
 * both mouths giving way alike. A kink that the pattern had stays.
 */
export const trueFolded = (now: Tracing, was: Tracing, dartId: string, reach = BLEND): Tracing => {
  const folded = fold(now, dartId);
  const kink = kinkOf(folded) - kinkOf(fold(was, dartId));
  return Math.abs(kink) < NO_KINK ? now : unkinked(now, folded, kink, reach);
};

const unkinked = (now: Tracing, folded: Folded, kink: number, reach: number): Tracing => {
  const by = unkink(folded.points, folded.k, kink, reach, 'free');
  const before = by.slice(0, folded.k + 1);
  const after = by.slice(folded.k).map((d) => turn(d, -folded.turned));
  const seam = displaced(displaced(now.seam, folded.before, before), folded.after, after);
  return { ...now, seam };
};

/** A dart that is closed for good: the kink that is left, the pattern's own too, is spread as at a hinge. */
const trueClosed = (now: Tracing, dartId: string): Tracing => {
  const folded = fold(now, dartId);
  const kink = kinkOf(folded);
  return Math.abs(kink) < NO_KINK ? now : unkinked(now, folded, kink, BLEND);
};

/** What lies between the mouths of a dart drawn again from where these are now: legs, or the seam across with its cap. */
export const redrawnDart = (now: Tracing, was: Tracing, dartId: string): Tracing => {
  const dart = now.piece.darts.find((d) => d.id === dartId);
  if (!dart) throw new Bug(`no dart ${dartId} on ${now.piece.id}`);
  const joints = jointsAtMouths(now, was, dartId);
  if (dart.drawn.as === 'lines') return acrossMouth(joints, was, dartId);
  const tip = joints.tips.get(dartId)?.at as Point;
  const prior = priorOf(was);
  const tipAt = dartLegs(joints, dart)[0].at(-1) as number;
  const tipped = { ...joints, seam: displaced(joints.seam, [tipAt], [subtract(tip, at(joints, tipAt))]) };
  return dartLegs(tipped, dart).reduce((t, leg) => evenly(t, prior, leg), tipped);
};

/** Joints of the source that stood on a mouth still do. */
const jointsAtMouths = (now: Tracing, was: Tracing, dartId: string): Tracing =>
  ([0, 1] as const).reduce((t, which) => {
    const [m, n] = [mouthIndex(t, dartId, which), t.seam.length];
    const beside = [m - 1, m + 1]
      .map((i) => (i + n) % n)
      .filter((i) => {
        const [p, mouth] = [was.seam[i], was.seam[m]];
        return was.seam.length === n && p && mouth && !p.mouth && distance(p.at, mouth.at) < ON_MOUTH / 2;
      });
    return {
      ...t,
      seam: displaced(
        t.seam,
        beside,
        beside.map((i) => subtract(at(t, m), at(t, i))),
      ),
    };
  }, now);

/** The seam across a mouth, evenly between its ends; a cap grows and shrinks as the fold needs it. */
const acrossMouth = (now: Tracing, was: Tracing, dartId: string): Tracing => {
  const run = stretchBetweenMouths(now, dartId);
  const inner = run.slice(1, -1);
  const old = pointsOf(was, stretchBetweenMouths(was, dartId));
  if (inner.length === 0 || old.length !== run.length) return now;
  const way = along(old);
  const length = way.at(-1) as number;
  const [a, b] = mouthsOf(now, dartId);
  const [p, q] = mouthsOf(was, dartId);
  const grown = capIn(now, dartId) / Math.max(1e-9, capIn(was, dartId));
  const outOf = (m: readonly [Point, Point], t: Tracing): Point =>
    unit(subtract(between(m[0], m[1], 0.5), t.tips.get(dartId)?.at as Point));
  const [outWas, out] = [outOf([p, q], was), outOf([a, b], now)];
  const shift = inner.map((i, k) => {
    const u = length === 0 ? 0 : (way[k + 1] as number) / length;
    const rise = dot(subtract(old[k + 1] as Point, between(p, q, u)), outWas) * Math.min(grown, 4);
    return subtract(add(between(a, b, u), scale(out, rise)), at(now, i));
  });
  return { ...now, seam: displaced(now.seam, inner, shift) };
};

/** Height of the cap that the dart needs. */
const capIn = (tracing: Tracing, dartId: string): number => {
  const tip = tracing.tips.get(dartId)?.at as Point;
  return intake(tracing, dartId) < ON_MOUTH
    ? 0
    : capHeight(mouthsOf(tracing, dartId), tip, Math.abs(angleAt(tracing, dartId, tip)));
};

/** Whether the pattern draws the caps of its darts into the seam. */
export const drawsCaps = (tracing: Tracing): boolean => tracing.piece.darts.some((d) => isCapped(tracing, d.id));
