import type { Point } from '../geometry/point.ts';
import { add, between, distance, dot, subtract, turn, unit } from '../geometry/point.ts';
import { runAlong } from './armhole.ts';
import { dartOn, halfOf, meetings, type Side, sidesOf, slashLevel } from './back-halves.ts';
import { swing } from './back-swing.ts';
import { trued } from './back-true.ts';
import { centreLine } from './bust-point.ts';
import { priorOf } from './joining.ts';
import { NoRoom } from './no-room.ts';
import { at, pointsOf, sewnLength } from './runs.ts';
import { intoDart } from './shoulder-dart.ts';
import { prickedAtLevels } from './slash.ts';
import { mouthsOf, slit } from './slit.ts';
import { solve } from './solve.ts';
import type { Tracing } from './tracing.ts';

/*
 * The back made longer (shorter) over the shoulder blades. Slashed from the centre at their level to, not through, the
 * armhole: the outer part of what lies above swings about that hinge, the inner part, next to the centre, goes straight
 * up, so that the centre is straight again. Where they meet, a dart in the shoulder or the neck opens (closes) about its
 * own tip: with the dart closed neck, shoulder and armhole are what they were. Without a dart the shoulder is drawn from
 * the one part to the other: what it gains is eased in, what it loses is put back where it meets the armhole.
 */

/** Where the surplus goes when the back has no dart for it. */
export type BackSurplus = 'shoulder dart' | 'neck dart' | 'ease';

/**
 * Makes the back `by` longer at the centre above the level of the shoulder blades (shorter, when negative).
 * @throws NoRoom when it has no armhole with a shoulder over it, or a dart cannot be made so much narrower
 */
export const roundBack = (tracing: Tracing, by: number, surplus: BackSurplus): Tracing => {
  if (by === 0) return tracing;
  const level = slashLevel(tracing);
  const hinged = prickedAtLevels(tracing, [level]);
  const edges = sidesOf(hinged).map((s) => s.armhole.edge);
  if (edges.length === 0) throw new NoRoom('the back has no armhole with a shoulder over it to hinge on');
  const ready = by > 0 ? edges.reduce((t, edge) => withDart(t, edge, surplus, level), hinged) : hinged;
  const byDarts = by > 0 ? by : -Math.min(-by, ...sidesOf(ready).map((s) => roomIn(ready, s, level)));
  const darted = byDarts === 0 ? ready : raised(ready, level, byDarts, true);
  const done = by === byDarts ? darted : raised(darted, level, by - byDarts, false);
  return by > 0 && surplus !== 'ease' ? panelsDarted(done, ready) : done;
};

/** The armhole of a panel is too short to swing about a dart: the dart is drawn into the shoulder when it has gained. */
const panelsDarted = (now: Tracing, before: Tracing): Tracing =>
  sidesOf(now)
    .filter((s) => s.armhole.beyond.role === 'panel seam')
    .reduce((t, s) => intoDart(t, s.shoulder, sewnLength(before, s.shoulder.edge)), now);

/** Raised at the centre, the parts meeting at the darts or, without them, in the shoulder. */
const raised = (ready: Tracing, level: number, by: number, atDarts: boolean): Tracing => {
  const halves = sidesOf(ready).map((s) => halfOf(ready, s, level, by, atDarts));
  const swung = swing(ready, halves, level, by);
  const prior = priorOf(ready);
  return halves.reduce((now, half) => trued(now, ready, prior, half, by), swung);
};

/** A dart is not closed altogether: so much is left of it, mm. */
const LEFT = 0.5;

/** How far the centre can sink until the dart on a side is closed, mm; nothing where there is none. */
const roomIn = (tracing: Tracing, side: Side, level: number): number => {
  const dart = dartOn(tracing, side);
  if (!dart) return 0;
  const [a, b] = mouthsOf(tracing, dart.id);
  const wide = distance(a, b);
  const left = (by: number): number => {
    const half = halfOf(tracing, side, level, -by, true);
    const [outer, inner] = meetings(tracing, half).map((i) => at(tracing, i)) as [Point, Point];
    const gap = subtract(add(inner, { x: 0, y: -by }), turn(outer, half.swing, half.hinge));
    return dot(gap, unit(subtract(inner, outer))) - LEFT;
  };
  return wide <= LEFT ? 0 : solve(left, wide, wide * 1.1, 0.01);
};

/** Whether a back has a dart in shoulder or neck that takes the surplus. */
export const hasBackDart = (tracing: Tracing): boolean =>
  sidesOf(tracing).length > 0 && sidesOf(tracing).every((s) => dartOn(tracing, s) !== undefined);

/** Part of the way from the neck point at which a new dart is put: to the shoulder tip, to the centre (common practice). */
const ALONG_SHOULDER = 0.4;
const ALONG_NECK = 0.5;

const withDart = (tracing: Tracing, edge: string, surplus: BackSurplus, level: number): Tracing => {
  const side = sidesOf(tracing).find((s) => s.armhole.edge === edge) as Side;
  if (surplus === 'ease' || side.armhole.beyond.role === 'panel seam' || dartOn(tracing, side)) return tracing;
  const ends = pointsOf(tracing, runAlong(tracing, side.shoulder));
  const [root, tip] = [ends[0], ends.at(-1)] as [Point, Point];
  if (surplus === 'shoulder dart' || side.shoulder.before.role !== 'neck') {
    const middle = between(root, tip, ALONG_SHOULDER);
    return slit(tracing, side.shoulder.edge, middle, { x: middle.x, y: level }).tracing;
  }
  const x = root.x + (centreLine(tracing) - root.x) * ALONG_NECK;
  return slit(tracing, side.shoulder.before.id, { x, y: root.y }, { x, y: level }).tracing;
};

/** How much longer the shoulder of a back has become on each side, darts closed, mm. */
export const shoulderGain = (before: Tracing, after: Tracing): number => {
  const length = (t: Tracing): number => sidesOf(t).reduce((sum, s) => sum + sewnLength(t, s.shoulder.edge), 0);
  return (length(after) - length(before)) / Math.max(1, sidesOf(before).length);
};
