import type { Point } from '../geometry/point.ts';
import { add, between, distance, dot, ORIGIN, scale, subtract, turn, turnBetween } from '../geometry/point.ts';
import {
  type Armhole,
  armholesOf,
  departure,
  firstStretch,
  partsOfArmhole,
  type Shoulder,
  shoulderVector,
  stretchInto,
} from './armhole.ts';
import { type Half, meetings } from './back-halves.ts';
import { plus, turnEnd } from './bend.ts';
import { setShoulder } from './bodice-shoulders.ts';
import { centreLine, OFF_POINT } from './bust-point.ts';
import { stretchEdge } from './carry-end.ts';
import { hollowTo, turnWith } from './curve-length.ts';
import { blendKink, evenly, mapped, type Prior, placedAt, setTip } from './joining.ts';
import { NoRoom } from './no-room.ts';
import { at, edgeRun, lengthOfPoints, pointsOf, sewnLength, stretchBetweenMouths } from './runs.ts';
import { mouthsOf, towards } from './slit.ts';
import type { Tracing } from './tracing.ts';

/* A back trued after its parts have swung: the dart or the shoulder between them, the hinge on the armhole. */

/** The hinge holds its place, so that the width at the blades does: it is blended over so much of the armhole each side. mm */
const REACH = 80;
/** The dart (or the shoulder) drawn where the parts have come to, and the hinge blended. */
export const trued = (now: Tracing, before: Tracing, prior: Prior, half: Half, by: number): Tracing => {
  if (half.swing === 0) return putBack(now, before, half, by);
  const met = half.dart === undefined ? eased(now, prior, half) : darted(now, before, prior, half, by);
  const { edge } = half.armhole;
  const armhole = (t: Tracing): Armhole => armholesOf(t).find((a) => a.edge === edge) as Armhole;
  if (half.armhole.beyond.role === 'panel seam') {
    // The armhole of the next panel goes on from the hinge as it did: all of this one takes the turn.
    const turned = half.armhole.from === 'end' ? { start: 0, end: half.swing } : { start: half.swing, end: 0 };
    const drawn = mapped(met, prior, edgeRun(met, edge), turned);
    return hollowTo(drawn, edge, edgeRun(drawn, edge), sewnLength(before, edge));
  }
  const blended = blendKink(met, prior, edge, half.hinge, 'pinned', REACH);
  return hollowTo(blended, edge, partsOfArmhole(blended, armhole(blended)).lower, sewnLength(before, edge));
};

/** The shoulder runs from where the inner part has come to the tip, which it meets with the length it had. */
const putBack = (now: Tracing, before: Tracing, { shoulder, armhole }: Half, by: number): Tracing => {
  const root = { x: 0, y: by };
  const ends = shoulder.from === 'start' ? { start: root, end: ORIGIN } : { start: ORIGIN, end: root };
  const lengths = { shoulder: sewnLength(before, shoulder.edge), armhole: sewnLength(before, armhole.edge) };
  const run = edgeRun(now, shoulder.edge);
  // As it was, darts and all, so that the ends alone say how it goes.
  const own = new Set(now.piece.darts.filter((d) => d.edge === shoulder.edge).map((d) => d.id));
  const tips = [...now.tips].map(([id, t]) => [id, (own.has(id) ? before.tips.get(id) : undefined) ?? t] as const);
  const lain = placedAt({ ...now, tips: new Map(tips) }, run, pointsOf(before, run));
  const joined = rootTurned(stretchEdge(lain, shoulder.edge, ends), before, shoulder);
  return neckTrued(setShoulder(joined, before, { shoulder, armhole }, lengths), before, shoulder);
};

/** Shoulder and neck share the turn of their corner: the shoulder is bent back by half of what its chord was swung. */
const rootTurned = (now: Tracing, before: Tracing, shoulder: Shoulder): Tracing => {
  const chord = (t: Tracing): Point => shoulderVector(t, shoulder);
  const run = [...firstStretch(now, shoulder)].reverse();
  const points = pointsOf(now, run);
  const half = -turnBetween(chord(before), chord(now)) / 2;
  return placedAt(now, run, plus(points, turnEnd(points, half, lengthOfPoints(points))));
};

/** The neck is turned where the shoulder meets it, as that was turned; on a whole piece as far as the centre. */
const neckTrued = (now: Tracing, before: Tracing, shoulder: Shoulder): Tracing => {
  if (shoulder.before.role !== 'neck') return now;
  const leaves = (t: Tracing): Point => departure(pointsOf(t, firstStretch(t, shoulder)));
  const middle = centreLine(before);
  const neck = stretchInto(now, shoulder, 'first');
  const root = at(now, neck.at(-1) as number).x - middle;
  const own = neck.filter((i) => (at(now, i).x - middle) * root >= -1e-6);
  return turnWith(now, own, turnBetween(leaves(before), leaves(now)));
};

/** The shoulder drawn from the inner to the outer part, at the angles it had at both. */
const eased = (now: Tracing, prior: Prior, { shoulder, swing }: Half): Tracing => {
  const turned = shoulder.from === 'start' ? { start: 0, end: swing } : { start: swing, end: 0 };
  return mapped(now, prior, edgeRun(now, shoulder.edge), turned);
};

/** The dart opened (closed) by the swing, its tip where that asks for it. */
const darted = (now: Tracing, before: Tracing, prior: Prior, half: Half, by: number): Tracing => {
  const { dart, meets } = half as Half & { dart: string };
  const [was, is] = [before, now].map((t) => mouthsOf(t, dart)) as [Mouths, Mouths];
  if (dot(subtract(was[1], was[0]), subtract(is[1], is[0])) < 0)
    throw new NoRoom('the dart of the back is too narrow to give so much');
  const found = now.piece.darts.find((d) => d.id === dart);
  const mouthed = found?.drawn.as === 'lines' ? evenly(now, prior, stretchBetweenMouths(now, dart)) : now;
  if (distance(...was) < SLIT) {
    // A new dart ends short of the blades, as darts do (½ in).
    const blades = add(meets, { x: 0, y: by });
    return setTip(mouthed, prior, dart, towards(blades, between(...is, 0.5), OFF_POINT));
  }
  return setTip(mouthed, prior, dart, tipOfBoth(before, half as Half & { dart: string }, by));
};

/**
 * A dart folds its outer side onto the inner one by a turn about its tip. After the swing it has to undo that first:
 * both together are a turn about one place, (I − R)⁻¹c with R the turn and c where it takes the origin.
 */
const tipOfBoth = (before: Tracing, half: Half & { dart: string }, by: number): Point => {
  const tip = before.tips.get(half.dart)?.at as Point;
  const [outer, inner] = meetings(before, half).map((i) => subtract(at(before, i), tip)) as [Point, Point];
  const fold = turnBetween(outer, inner);
  const lift = { x: 0, y: by };
  const folded = (p: Point): Point => add(lift, turn(turn(p, -half.swing, half.hinge), fold, tip));
  const angle = fold - half.swing;
  if (Math.abs(angle) < NEARLY_CLOSED * Math.abs(fold))
    return between(add(tip, lift), turn(tip, half.swing, half.hinge), 0.5);
  const c = folded(ORIGIN);
  return scale(add(c, scale({ x: -c.y, y: c.x }, 1 / Math.tan(angle / 2))), 0.5);
};

type Mouths = readonly [Point, Point];
/** A dart narrower than this was only slit, mm. */
const SLIT = 0.01;
/** Closed to less than this part of itself a dart keeps its tip. */
const NEARLY_CLOSED = 0.4;
