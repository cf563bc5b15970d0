import type { Point } from '../geometry/point.ts';
import { add } from '../geometry/point.ts';
import {
  type Armhole,
  armholesOf,
  partsOfArmhole,
  prickedAcross,
  runAlong,
  type ShoulderAndArmhole,
  shoulderedArmholes,
  stretchInto,
  widthLevel,
} from './armhole.ts';
import { bring, plus, STILL } from './bend.ts';
import { setShoulder, trueNeckCorner } from './bodice-shoulders.ts';
import { placedAt } from './joining.ts';
import { neckLength, neckTo } from './neck.ts';
import { at, edgeRun, pointsOf, sewnLength } from './runs.ts';
import { centreOf } from './skirt-shape.ts';
import type { Tracing } from './tracing.ts';
import { openWedge } from './wedge.ts';

/* A hollow or full upper chest. */

/**
 * Folds out a tuck (spreads, when positive) of `by` at the centre, at the level of the chest, to nothing at the armhole
 * or panel seam, where it hinges. The centre is refilled straight; the neck is redrawn to its length, and the shoulder
 * and the armhole to theirs.
 */
export const tuckChest = (tracing: Tracing, by: number): Tracing => {
  const centre = centreOf(tracing);
  const [pair] = shoulderedArmholes(tracing);
  if (by === 0 || centre === undefined) return tracing;
  const height = chestHeight(tracing, pair?.armhole);
  const hinge = hingeAt(tracing, centre, height);
  if (hinge === undefined) return tracing;
  const kept = new Set(tracing.piece.lines.filter((l) => l.kind === 'grain').map((l) => l.id));
  const swung = openWedge(tracing, by, { height, opensAt: centre, hingesAt: hinge, kept, pinned: false });
  const necked = neckTo(pair ? sidewaysBack(swung, tracing, pair) : swung, neckLength(tracing));
  return pair ? trued(necked, tracing, pair) : necked;
};

/** The swing took the neck point sideways: neck and shoulder go back to the width that the neck had. */
const sidewaysBack = (swung: Tracing, was: Tracing, { shoulder, armhole }: ShoulderAndArmhole): Tracing => {
  const now = prickedAcross(swung);
  const root = (t: Tracing): Point => at(t, runAlong(t, shoulder)[0] as number);
  const by: Point = { x: root(was).x - root(now).x, y: 0 };
  const run = runAlong(now, shoulder);
  const neck = stretchInto(now, shoulder, 'first');
  const { upper } = partsOfArmhole(now, armhole);
  const [curve, hole] = [pointsOf(now, neck), pointsOf(now, upper)];
  const end = { by, turned: 0 };
  const shifted = placedAt(
    now,
    run,
    pointsOf(now, run).map((p) => add(p, by)),
  );
  const tips = new Map(
    [...shifted.tips].map(([id, t]) => [id, isIn(was, id, shoulder.edge) ? { ...t, at: add(t.at, by) } : t]),
  );
  const necked = placedAt({ ...shifted, tips }, neck, plus(curve, bring(curve, STILL, end)));
  return placedAt(necked, upper, plus(hole, bring(hole, end, STILL)));
};

const isIn = (tracing: Tracing, dart: string, edge: string): boolean =>
  tracing.piece.darts.some((d) => d.id === dart && d.edge === edge);

const trued = (now: Tracing, was: Tracing, pair: ShoulderAndArmhole): Tracing => {
  const lengths = { shoulder: sewnLength(was, pair.shoulder.edge), armhole: sewnLength(was, pair.armhole.edge) };
  return trueNeckCorner(setShoulder(now, now, pair, lengths), now, pair.shoulder);
};

const chestHeight = (tracing: Tracing, armhole: Armhole | undefined): number => {
  const [first] = armholesOf(tracing);
  const hole = armhole ?? first;
  return hole ? widthLevel(tracing, hole) : (tracing.levels.get('chest') ?? 0);
};

/** The edge across from the centre at a height. */
const hingeAt = (tracing: Tracing, centre: string, height: number): string | undefined =>
  tracing.piece.edges.find((e) => {
    if (e.id === centre || e.role === 'neck' || e.role === 'shoulder') return false;
    const heights = pointsOf(tracing, edgeRun(tracing, e.id)).map((p) => p.y);
    return Math.min(...heights) < height && Math.max(...heights) > height;
  })?.id;
