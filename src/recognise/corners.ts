import type { Point } from '../geometry/point.ts';
import { distance, dot, size, subtract, turnBetween, unit } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';
import { tangentAt } from '../geometry/segment.ts';
import type { Trace } from './trace.ts';
import { placeAt, wrap } from './trace.ts';

/** A corner of an outline: a real turn, at the joint where span `joint` starts. */
export interface Corner {
  readonly joint: number;
  readonly at: Point;
  /** mm along the outline. */
  readonly along: number;
  /** Radians, anticlockwise positive. */
  readonly turn: number;
}

/** A dart whose legs are part of the outline: spans first..last. */
export interface OutlineDart {
  readonly first: number;
  readonly last: number;
  readonly mouth: readonly [Point, Point];
  readonly tip: Point;
}

/** A notch cut into (or standing out of) the outline: spans first..last. */
export interface OutlineNotch {
  readonly first: number;
  readonly last: number;
  readonly along: number;
  readonly tip: Point;
}

export interface Corners {
  readonly corners: readonly Corner[];
  readonly darts: readonly OutlineDart[];
  readonly notches: readonly OutlineNotch[];
}

/** A corner turns by at least this much within the length of line `WITHIN`; less is a curve. (Both ours.) */
const LEAST_TURN = (22 * Math.PI) / 180;
const WITHIN = 5;
/** Notches cut in the outline are no wider and no deeper than this. mm */
const NOTCH = 14;

const jointTurn = (t: Trace, joint: number): number => {
  const n = t.segments.length;
  const before = t.segments[(joint + n - 1) % n] as Segment;
  return turnBetween(tangentAt(before, 1), tangentAt(t.segments[joint] as Segment, 0));
};

/** Turn over the WITHIN mm of line round a joint. */
const windowTurn = (t: Trace, joint: number): number => {
  const along = t.starts[joint] as number;
  const back = placeAt(t, wrap(t, along - WITHIN / 2)).tangent;
  const ahead = placeAt(t, wrap(t, along + WITHIN / 2)).tangent;
  return turnBetween(back, ahead);
};

const cornerAt = (t: Trace, joint: number, turn: number): Corner => ({
  joint,
  at: (t.segments[joint] as Segment).from,
  along: t.starts[joint] as number,
  turn,
});

/** All joints that turn, before neighbours are taken together. */
const turningJoints = (t: Trace): Corner[] =>
  t.segments.flatMap((_, joint) => {
    const sharp = jointTurn(t, joint);
    if (Math.abs(sharp) >= LEAST_TURN) return [cornerAt(t, joint, sharp)];
    const soft = windowTurn(t, joint);
    return Math.abs(soft) >= LEAST_TURN ? [cornerAt(t, joint, soft)] : [];
  });

const forward = (t: Trace, from: Corner, to: Corner): number => wrap(t, to.along - from.along);

/** Runs of three or four turns close together after which the line goes on as before. */
const cutNotches = (t: Trace, turns: readonly Corner[]): { notches: OutlineNotch[]; used: Set<Corner> } => {
  const notches: OutlineNotch[] = [];
  const used = new Set<Corner>();
  const n = turns.length;
  for (let i = 0; i < n && n > 4; i++) {
    for (const count of [3, 4]) {
      const run = Array.from({ length: count }, (_, k) => turns[(i + k) % n] as Corner);
      if (run.some((c) => used.has(c)) || !isNotch(t, run)) continue;
      for (const c of run) used.add(c);
      const [first, last] = [run[0] as Corner, run[count - 1] as Corner];
      const tip = run[1] as Corner;
      const middle = wrap(t, first.along + forward(t, first, last) / 2);
      notches.push({
        first: first.joint,
        last: (last.joint + t.segments.length - 1) % t.segments.length,
        along: middle,
        tip: tip.at,
      });
      break;
    }
  }
  return { notches, used };
};

const isNotch = (t: Trace, run: readonly Corner[]): boolean => {
  const first = run[0] as Corner;
  const last = run[run.length - 1] as Corner;
  if (distance(first.at, last.at) > NOTCH || forward(t, first, last) > 3 * NOTCH) return false;
  const whole = run.reduce((sum, c) => sum + c.turn, 0);
  const goesBack = Math.sign((run[1] as Corner).turn) !== Math.sign(first.turn);
  const straightOn = Math.abs(whole) < LEAST_TURN;
  const across = unit(subtract(last.at, first.at));
  const depth =
    Math.max(
      ...run
        .slice(1, -1)
        .map((c) => Math.abs(size(subtract(c.at, first.at)) ** 2 - dot(subtract(c.at, first.at), across) ** 2)),
    ) ** 0.5;
  return goesBack && straightOn && depth <= NOTCH && depth >= 1 && Math.abs((run[1] as Corner).turn) > Math.PI / 4;
};

/** Turns nearer than WITHIN to one another are one corner, at the sharpest. */
const gathered = (t: Trace, turns: readonly Corner[]): Corner[] => {
  const groups: Corner[][] = [];
  for (const c of turns) {
    const group = groups[groups.length - 1];
    const before = group?.[group.length - 1];
    if (group && before && c.along - before.along <= WITHIN) group.push(c);
    else groups.push([c]);
  }
  const first = groups[0];
  const last = groups[groups.length - 1];
  if (
    groups.length > 1 &&
    first &&
    last &&
    wrap(t, (first[0] as Corner).along - (last[last.length - 1] as Corner).along) <= WITHIN
  ) {
    groups.shift();
    last.push(...first);
  }
  return groups.map((g) => sharpestOf(t, g)).sort((a, b) => a.along - b.along);
};

/** The joint that turns most by itself; where none is a corner by itself, the one with most turn round it. */
const sharpestOf = (t: Trace, group: readonly Corner[]): Corner => {
  const sharp = group.filter((c) => Math.abs(jointTurn(t, c.joint)) >= LEAST_TURN);
  return (sharp.length > 0 ? sharp : group).reduce((a, b) => (Math.abs(b.turn) > Math.abs(a.turn) ? b : a));
};

/**
 * Darts in the outline: a sharp turn into the piece (against the outline's sense) between two legs of nearly the same
 * length, whose mouth is narrower than they are long.
 */
const outlineDarts = (t: Trace, corners: readonly Corner[]): { darts: OutlineDart[]; used: Set<Corner> } => {
  const darts: OutlineDart[] = [];
  const used = new Set<Corner>();
  const n = corners.length;
  if (n < 5) return { darts, used };
  corners.forEach((tip, i) => {
    const before = corners[(i + n - 1) % n] as Corner;
    const after = corners[(i + 1) % n] as Corner;
    if (tip.turn > (-110 * Math.PI) / 180 || used.has(before) || before.turn < 0 || after.turn < 0) return;
    const legs = [distance(before.at, tip.at), distance(tip.at, after.at)] as const;
    const longest = Math.max(...legs);
    if (Math.min(...legs) < 15 || Math.abs(legs[0] - legs[1]) > 0.15 * longest) return;
    if (distance(before.at, after.at) > 0.8 * longest) return;
    if (forward(t, before, tip) > 1.1 * legs[0] || forward(t, tip, after) > 1.1 * legs[1]) return;
    for (const c of [before, tip, after]) used.add(c);
    darts.push({
      first: before.joint,
      last: (after.joint + t.segments.length - 1) % t.segments.length,
      mouth: [before.at, after.at],
      tip: tip.at,
    });
  });
  return { darts, used };
};

/** Corners, and the darts and notches that would look like corners. `also`: joints that are corners by the pattern sheet. */
export const readCorners = (t: Trace, also: readonly number[] = []): Corners => {
  const turns = turningJoints(t);
  const { notches, used } = cutNotches(t, turns);
  const kept = gathered(
    t,
    turns.filter((c) => !used.has(c)),
  );
  const dartsFound = outlineDarts(t, kept);
  const corners = kept.filter((c) => !dartsFound.used.has(c));
  for (const joint of also) {
    if (!corners.some((c) => c.joint === joint)) corners.push(cornerAt(t, joint, jointTurn(t, joint)));
  }
  return { corners: corners.sort((a, b) => a.along - b.along), darts: dartsFound.darts, notches };
};
