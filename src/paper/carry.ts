import type { Point } from '../geometry/point.ts';
import { add, cross, distance, ORIGIN, scale, subtract, turn, turnBetween, unit } from '../geometry/point.ts';
import { footOn, type Prick, type Tracing } from './tracing.ts';

/*
 * How the seam line takes along what lies on it, beside it and outside it. Each point is tied once and for all to a
 * place on the seam as it was; it goes where that place goes, and turns about it as the seam is turned there. So an
 * allowance stays what it was. Points past the end of a run (the corners of the allowance, the cap of a dart) keep
 * their distance from both seams that meet there: a mitre stays a mitre.
 */

/** A stretch of sewn seam between two corners, as it was and as it is. Parallel rows. */
interface SeamRun {
  readonly edge: string;
  readonly was: readonly Point[];
  readonly by: readonly Point[];
  /** Which of its points a tuck has folded away. */
  readonly gone: readonly boolean[];
  /** How far the seam is turned at each of its points, radians. */
  readonly turned: readonly number[];
}

export interface Carrier {
  readonly runs: readonly SeamRun[];
}

/** Where and how far a place on the seam went. */
export interface Carried {
  readonly to: Point;
  readonly turned: number;
  /** The place was folded away in a tuck: `to` is where the fold lies. */
  readonly folded?: boolean;
}

/**
 * @param before the piece as it was traced
 * @param runsBefore indexes of its sewn runs in ring order, with their edges
 * @param now the same piece after the verbs; pricks that were folded away lie where their neighbours lie
 */
export const carrierOf = (
  before: Tracing,
  runsBefore: readonly { edge: string; run: readonly number[] }[],
  now: Tracing,
): Carrier => {
  const byId = new Map(now.seam.map((p) => [p.id, p]));
  const stillThere = (index: number): Prick | undefined => {
    const prick = before.seam[index] as Prick;
    return prick.mouth ? now.seam.find((p) => sameMouth(p, prick)) : byId.get(prick.id);
  };
  const placeOf = (index: number): Point => stillThere(index)?.at ?? survivor(before, now, byId, index);
  return {
    runs: runsBefore.map(({ edge, run }) => {
      const was = run.map((i) => (before.seam[i] as Prick).was);
      const is = run.map(placeOf);
      const by = was.map((p, k) => (is[k] === p ? ORIGIN : subtract(is[k] as Point, p)));
      return { edge, was, by, gone: run.map((i) => !stillThere(i)), turned: turns(was, is, by) };
    }),
  };
};

const sameMouth = (a: Prick, b: Prick): boolean => a.mouth?.dart === b.mouth?.dart && a.mouth?.which === b.mouth?.which;

/**
 * Where a prick that was taken out has gone: what a tuck folded away lies on the fold, where the two lips met. Where no
 * lip was pricked between the pricks that are left on either side, it lies at the nearer of these.
 */
const survivor = (before: Tracing, now: Tracing, byId: ReadonlyMap<number, Prick>, index: number): Point => {
  const n = before.seam.length;
  const leftBeside = (step: 1 | -1): { prick: Prick; far: number } | undefined => {
    for (let far = 1; far < n; far++) {
      const prick = byId.get((before.seam[(index + step * far + n) % n] as Prick).id);
      if (prick) return { prick, far };
    }
    return undefined;
  };
  const [back, ahead] = [leftBeside(-1), leftBeside(1)];
  if (!back || !ahead) return (before.seam[index] as Prick).was;
  const count = now.seam.length;
  const from = now.seam.indexOf(back.prick);
  const between = (now.seam.indexOf(ahead.prick) - from + count) % count;
  if (between > 1) return (now.seam[(from + Math.floor(between / 2)) % count] as Prick).at;
  return (ahead.far <= back.far ? ahead : back).prick.at;
};

const stretchTurn = (was: readonly Point[], is: readonly Point[], by: readonly Point[], k: number): number => {
  const a = by[k] as Point;
  const b = by[k + 1] as Point;
  if (a.x === b.x && a.y === b.y) return 0;
  const before = subtract(was[k + 1] as Point, was[k] as Point);
  const after = subtract(is[k + 1] as Point, is[k] as Point);
  if (distance(after, ORIGIN) < 1e-9 || distance(before, ORIGIN) < 1e-9) return 0;
  return turnBetween(before, after);
};

/** Turn at each point: mean of the stretches beside it; carried on in a straight line at the ends of the run. */
const turns = (was: readonly Point[], is: readonly Point[], by: readonly Point[]): number[] => {
  const n = was.length;
  const each = Array.from({ length: n - 1 }, (_, k) => stretchTurn(was, is, by, k));
  const ends = (a: number | undefined, b: number | undefined): number => (b === undefined ? (a ?? 0) : 1.5 * (a ?? 0) - 0.5 * b);
  return was.map((_, k) => {
    if (k === 0) return ends(each[0], each[1]);
    if (k === n - 1) return ends(each[n - 2], each[n - 3]);
    return ((each[k - 1] as number) + (each[k] as number)) / 2;
  });
};

interface Foot {
  readonly run: number;
  readonly k: number;
  readonly t: number;
  readonly away: number;
  /** Past which end of the run the point lies. */
  readonly past: 'start' | 'end' | undefined;
}

/** The nearest place on the seam, among the runs of one edge when it is given. */
const footOf = (carrier: Carrier, p: Point, edge?: string): Foot | undefined => {
  let best: Foot | undefined;
  carrier.runs.forEach((run, r) => {
    if (edge !== undefined && run.edge !== edge) return;
    for (let k = 0; k + 1 < run.was.length; k++) {
      const a = run.was[k] as Point;
      const b = run.was[k + 1] as Point;
      const t = footOn(a, b, p);
      const away = distance(p, { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t });
      if (!best || away < best.away) best = { run: r, k, t, away, past: pastEnd(run, k, p) };
    }
  });
  return best;
};

const pastEnd = (run: SeamRun, k: number, p: Point): Foot['past'] => {
  const a = run.was[k] as Point;
  const b = run.was[k + 1] as Point;
  const d = unit(subtract(b, a));
  const on = (p.x - a.x) * d.x + (p.y - a.y) * d.y;
  if (k === 0 && on < -0.01) return 'start';
  if (k === run.was.length - 2 && on > distance(a, b) + 0.01) return 'end';
  return undefined;
};

/** Signed distance of a point from the seam: positive inside. */
export const inside = (carrier: Carrier, p: Point): number => {
  const foot = footOf(carrier, p);
  if (!foot) return 0;
  const run = carrier.runs[foot.run] as SeamRun;
  const a = run.was[foot.k] as Point;
  return Math.sign(cross(subtract(run.was[foot.k + 1] as Point, a), subtract(p, a))) * foot.away;
};

/** Where a point goes that is tied to the seam (to one edge of it, when given). The very point when its place is still. */
export const carry = (carrier: Carrier, p: Point, edge?: string): Carried => {
  const foot = footOf(carrier, p, edge);
  if (!foot) return { to: p, turned: 0 };
  if (foot.past) return pastCorner(carrier, foot, p);
  const run = carrier.runs[foot.run] as SeamRun;
  const by = mixed(run.by[foot.k] as Point, run.by[foot.k + 1] as Point, foot.t);
  const turned = (run.turned[foot.k] as number) * (1 - foot.t) + (run.turned[foot.k + 1] as number) * foot.t;
  const folded = Boolean(run.gone[foot.k] && run.gone[foot.k + 1]);
  return { ...ride(p, mixed(run.was[foot.k] as Point, run.was[foot.k + 1] as Point, foot.t), by, turned), folded };
};

const mixed = (a: Point, b: Point, t: number): Point => ({ x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t });

const ride = (p: Point, foot: Point, by: Point, turned: number): Carried => {
  if (by.x === 0 && by.y === 0 && turned === 0) return { to: p, turned: 0 };
  return { to: add(add(foot, by), turn(subtract(p, foot), turned)), turned };
};

interface RunEnd {
  readonly was: Point;
  readonly by: Point;
  readonly along: Point;
  readonly turned: number;
}

const endOf = (run: SeamRun, which: 'start' | 'end'): RunEnd => {
  const k = which === 'start' ? 0 : run.was.length - 1;
  const a = run.was[which === 'start' ? 0 : k - 1] as Point;
  const b = run.was[which === 'start' ? 1 : k] as Point;
  return {
    was: run.was[k] as Point,
    by: run.by[k] as Point,
    along: unit(subtract(b, a)),
    turned: run.turned[k] as number,
  };
};

/** Seams that meet flatter than this have no corner to keep distances from. */
const FLAT = 0.15;

const pastCorner = (carrier: Carrier, foot: Foot, p: Point): Carried => {
  const count = carrier.runs.length;
  const mine = endOf(carrier.runs[foot.run] as SeamRun, foot.past as 'start' | 'end');
  const beside = (foot.run + (foot.past === 'end' ? 1 : count - 1)) % count;
  const other = endOf(carrier.runs[beside] as SeamRun, foot.past === 'end' ? 'start' : 'end');
  const still = [mine, other].every((e) => e.by.x === 0 && e.by.y === 0 && e.turned === 0);
  if (still) return { to: p, turned: 0 };
  const a = turn(mine.along, mine.turned);
  const b = turn(other.along, other.turned);
  const rigid = ride(p, mine.was, mine.by, mine.turned);
  if (Math.abs(cross(a, b)) < FLAT) return rigid;
  const fromA = cross(mine.along, subtract(p, mine.was));
  const fromB = cross(other.along, subtract(p, other.was));
  return { to: atDistances(add(mine.was, mine.by), a, fromA, add(other.was, other.by), b, fromB), turned: rigid.turned };
};

/** The point at signed distances from two lines, each given by a point and a unit direction. */
const atDistances = (p: Point, a: Point, fromA: number, q: Point, b: Point, fromB: number): Point => {
  const from = add(p, scale({ x: -a.y, y: a.x }, fromA));
  const to = add(q, scale({ x: -b.y, y: b.x }, fromB));
  const s = cross(subtract(to, from), b) / cross(a, b);
  return add(from, scale(a, s));
};
