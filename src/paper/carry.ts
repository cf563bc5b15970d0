import type { Point } from '../geometry/point.ts';
import { add, cross, distance, dot, ORIGIN, scale, subtract, turn, turnBetween, unit } from '../geometry/point.ts';
import { blockOf, type Foot, type FootFinder, footFinder, type SeamRow } from './feet.ts';
import { along, type PaperRun } from './runs.ts';
import { type Prick, type Tracing, UNNUMBERED } from './tracing.ts';

/*
 * How the seam line takes along what lies on it, beside it and outside it. Each point is tied once and for all to a
 * place on the seam as it was; it goes where that place goes, and turns about it as the seam is turned there. So an
 * allowance stays what it was. Points past the end of a run (the corners of the allowance, the cap of a dart) keep
 * their distance from both seams that meet there: a mitre stays a mitre.
 */

/** A stretch of sewn seam between two corners, as it was and as it is. Parallel rows. */
export interface SeamRun extends SeamRow {
  readonly by: readonly Point[];
  /** Which of its points a tuck has folded away. */
  readonly gone: readonly boolean[];
  /** How far the seam is turned at each of its points, radians. */
  readonly turned: readonly number[];
}

export interface Carrier {
  readonly runs: readonly SeamRun[];
  readonly footOf: FootFinder;
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
export const carrierOf = (before: Tracing, runsBefore: readonly PaperRun[], now: Tracing): Carrier => {
  const byId = new Map(now.seam.filter((p) => p.id !== UNNUMBERED).map((p) => [p.id, p]));
  const stillThere = (index: number): Prick | undefined => {
    const prick = before.seam[index] as Prick;
    return prick.mouth ? now.seam.find((p) => sameMouth(p, prick)) : byId.get(prick.id);
  };
  const place = (index: number): Place => {
    const prick = stillThere(index);
    const is = prick?.at ?? survivor(before, now, byId, index);
    return { was: (before.seam[index] as Prick).was, is, gone: !prick };
  };
  const lips = lipsOn(before, now);
  const block = blockOf(runsBefore, ({ run }) => run.map((i) => (before.seam[i] as Prick).was));
  const runs = runsBefore.map(({ edge, run, mouth }, r): SeamRun => {
    const row = run.flatMap((i, k) => [place(i), ...lips(i, run[k + 1])]);
    const was = row.length === run.length ? (block.rows[r] as readonly Point[]) : row.map((p) => p.was);
    const is = row.map((p) => p.is);
    const by = was.map((p, k) => (is[k] === p ? ORIGIN : subtract(is[k] as Point, p)));
    return { edge, mouth, was, by, gone: row.map((p) => p.gone), turned: turns(was, is, by) };
  });
  return { runs, footOf: footFinder(runs, block) };
};

interface Place {
  readonly was: Point;
  readonly is: Point;
  readonly gone: boolean;
}

/** Nearer than this two places are one, mm. */
const ONE = 1e-6;

/**
 * The pricks that the verbs have put in between two neighbours: the lips of a slash. Without them a place beside the
 * slash would be carried part of the way with the other side. Both lips of a tuck are marked as gone: between them the
 * paper is folded.
 */
const lipsOn = (before: Tracing, now: Tracing) => {
  const fresh = now.seam.filter((p) => p.id === UNNUMBERED && !p.mouth && !p.bends);
  return (index: number, next: number | undefined): Place[] => {
    if (fresh.length === 0 || next === undefined) return [];
    const a = before.seam[index] as Prick;
    const b = before.seam[next] as Prick;
    const end = b.span === a.span ? b.t : 1;
    const isBetween = (p: Prick): boolean =>
      p.span === a.span && p.t > a.t && p.t < end && distance(p.was, a.was) > ONE && distance(p.was, b.was) > ONE;
    return fresh.filter(isBetween).map((p) => ({ was: p.was, is: p.at, gone: fresh.some((q) => foldsOnto(p, q)) }));
  };
};

const foldsOnto = (p: Prick, q: Prick): boolean => distance(p.at, q.at) < ONE && distance(p.was, q.was) > ONE;

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

/** A stretch as short as this, beside a lip or in a fold, says nothing of where the line goes, mm. */
const SHORT = 0.1;

/** Turn of one stretch; undefined where it has no length to speak of before (an opening) or after (a fold). */
const stretchTurn = (
  was: readonly Point[],
  is: readonly Point[],
  by: readonly Point[],
  k: number,
): number | undefined => {
  const a = by[k] as Point;
  const b = by[k + 1] as Point;
  const before = subtract(was[k + 1] as Point, was[k] as Point);
  const after = subtract(is[k + 1] as Point, is[k] as Point);
  if (distance(after, ORIGIN) < SHORT || distance(before, ORIGIN) < SHORT) return undefined;
  if (a.x === b.x && a.y === b.y) return 0;
  return turnBetween(before, after);
};

/**
 * Turn at each point. Each stretch tells the turn at its middle; between two middles, and past the outermost, the turn
 * goes on in proportion to the way along the seam.
 */
const turns = (was: readonly Point[], is: readonly Point[], by: readonly Point[]): number[] => {
  const way = along(was);
  const told = was.slice(1).flatMap((_, k) => {
    const turned = stretchTurn(was, is, by, k);
    return turned === undefined ? [] : [{ at: ((way[k] as number) + (way[k + 1] as number)) / 2, turned }];
  });
  let k = 0;
  return way.map((here) => {
    while (k < told.length - 2 && (told[k + 1]?.at ?? 0) < here) k++;
    const [a, b] = [told[k], told[k + 1]];
    if (!a || !b) return a?.turned ?? 0;
    return a.turned + ((b.turned - a.turned) * (here - a.at)) / (b.at - a.at);
  });
};

/** Signed distance of a point from the seam: positive inside. */
export const inside = (carrier: Carrier, p: Point): number => {
  const foot = carrier.footOf(p);
  if (!foot) return 0;
  const run = carrier.runs[foot.run] as SeamRun;
  const a = run.was[foot.k] as Point;
  return Math.sign(cross(subtract(run.was[foot.k + 1] as Point, a), subtract(p, a))) * foot.away;
};

/** Where a point goes that is tied to the seam (to one edge of it, when given). The very point when its place is still. */
export const carry = (carrier: Carrier, p: Point, edge?: string): Carried => {
  const foot = carrier.footOf(p, edge);
  if (!foot) return { to: p, turned: 0 };
  if (foot.past) return pastCorner(carrier, foot, p);
  const run = carrier.runs[foot.run] as SeamRun;
  if (run.mouth) return overMouth(carrier, foot, p);
  const by = mixed(run.by[foot.k] as Point, run.by[foot.k + 1] as Point, foot.t);
  const turned = (run.turned[foot.k] as number) * (1 - foot.t) + (run.turned[foot.k + 1] as number) * foot.t;
  const folded = Boolean(run.gone[foot.k] && run.gone[foot.k + 1]);
  const ridden = ride(p, mixed(run.was[foot.k] as Point, run.was[foot.k + 1] as Point, foot.t), by, turned);
  return { to: ridden.to, turned: ridden.turned, folded };
};

/**
 * Over the mouth of a dart drawn as lines the paper goes from riding with one leg to riding with the other, and rises
 * with the cap by as much as the seam does.
 */
const overMouth = (carrier: Carrier, foot: Foot, p: Point): Carried => {
  const run = carrier.runs[foot.run] as SeamRun;
  const count = carrier.runs.length;
  const a = endOf(carrier.runs[(foot.run + count - 1) % count] as SeamRun, 'end');
  const b = endOf(carrier.runs[(foot.run + 1) % count] as SeamRun, 'start');
  const way = along(run.was);
  const here = (way[foot.k] as number) + ((way[foot.k + 1] as number) - (way[foot.k] as number)) * foot.t;
  const u = here / (way.at(-1) as number);
  const rise = subtract(mixed(run.by[foot.k] as Point, run.by[foot.k + 1] as Point, foot.t), mixed(a.by, b.by, u));
  // Between the mouths of a dart that is closed now the paper is folded away.
  if (distance(add(a.was, a.by), add(b.was, b.by)) < SHUT && distance(a.was, b.was) > SHUT) {
    return { to: add(a.was, a.by), turned: 0, folded: true };
  }
  const [withA, withB] = [ride(p, a.was, a.by, a.turned), ride(p, b.was, b.by, b.turned)];
  if (withA.to === p && withB.to === p && rise.x === 0 && rise.y === 0) return { to: p, turned: 0 };
  return { to: add(mixed(withA.to, withB.to, u), rise), turned: a.turned * (1 - u) + b.turned * u };
};

/** Mouths nearer to each other than this are one place, mm. */
const SHUT = 0.005;

/** The ends of the seam on either side of a mouth that was no wider than a slit. */
export const endsAtMouth = (carrier: Carrier, mouth: Point): readonly [RunEnd, RunEnd] | undefined => {
  const count = carrier.runs.length;
  const r = carrier.runs.findIndex((run) => run.mouth && distance(run.was[0] as Point, mouth) < ONE);
  if (r < 0) return undefined;
  const [one, other] = [carrier.runs[(r + count - 1) % count], carrier.runs[(r + 1) % count]] as [SeamRun, SeamRun];
  return [endOf(one, 'end'), endOf(other, 'start')];
};

const mixed = (a: Point, b: Point, t: number): Point => ({ x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t });

const ride = (p: Point, foot: Point, by: Point, turned: number): Carried => {
  if (by.x === 0 && by.y === 0 && turned === 0) return { to: p, turned: 0 };
  const [c, s] = turned === 0 ? [1, 0] : [Math.cos(turned), Math.sin(turned)];
  const dx = p.x - foot.x;
  const dy = p.y - foot.y;
  return { to: { x: foot.x + by.x + (c * dx - s * dy), y: foot.y + by.y + (s * dx + c * dy) }, turned };
};

export interface RunEnd {
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
  // Mouths of a dart cut into the outline that have come together: what lay over it is folded away.
  const [here, there] = [add(mine.was, mine.by), add(other.was, other.by)];
  if (distance(here, there) < SHUT && distance(mine.was, other.was) > SHUT)
    return { to: here, turned: 0, folded: true };
  // Over the mouth of such a dart that has no cap, the paper goes from riding with one leg to riding with the other.
  const acrossMouth =
    carrier.runs[beside]?.edge === carrier.runs[foot.run]?.edge && distance(mine.was, other.was) > SHUT;
  if (acrossMouth && Math.abs(cross(mine.along, other.along)) < FLAT) {
    const chord = subtract(other.was, mine.was);
    const u = Math.min(1, Math.max(0, dot(subtract(p, mine.was), chord) / dot(chord, chord)));
    const withOther = ride(p, other.was, other.by, other.turned);
    return {
      to: mixed(ride(p, mine.was, mine.by, mine.turned).to, withOther.to, u),
      turned: mine.turned * (1 - u) + other.turned * u,
    };
  }
  const a = turn(mine.along, mine.turned);
  const b = turn(other.along, other.turned);
  const rigid = ride(p, mine.was, mine.by, mine.turned);
  if (Math.abs(cross(a, b)) < FLAT) return rigid;
  const fromA = cross(mine.along, subtract(p, mine.was));
  const fromB = cross(other.along, subtract(p, other.was));
  return {
    to: atDistances(add(mine.was, mine.by), a, fromA, add(other.was, other.by), b, fromB),
    turned: rigid.turned,
  };
};

/** The point at signed distances from two lines, each given by a point and a unit direction. */
const atDistances = (p: Point, a: Point, fromA: number, q: Point, b: Point, fromB: number): Point => {
  const from = add(p, scale({ x: -a.y, y: a.x }, fromA));
  const to = add(q, scale({ x: -b.y, y: b.x }, fromB));
  const s = cross(subtract(to, from), b) / cross(a, b);
  return add(from, scale(a, s));
};
