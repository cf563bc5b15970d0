import type { Point } from '../geometry/point.ts';
import { add, between, dot, ORIGIN, scale, subtract, turn, turnBetween, unit } from '../geometry/point.ts';
import {
  type Armhole,
  departure,
  firstStretch,
  lastStretch,
  partsOfArmhole,
  prickedAcross,
  runAlong,
  type Shoulder,
  type ShoulderAndArmhole,
  shoulderedArmholes,
  shoulderVector,
  stretchInto,
} from './armhole.ts';
import { bring, plus, STILL } from './bend.ts';
import { carryEnd, hollowTo, turnWith } from './curve-length.ts';
import { placedAt } from './joining.ts';
import { NoRoom } from './no-room.ts';
import { along, at, lengthOfPoints, pointsOf, type Run, sewnLength, turnOfArrival } from './runs.ts';
import { solve, solveFor } from './solve.ts';
import type { Prick, Tracing } from './tracing.ts';

/* The shoulder seam of a bodice made longer, or swung higher, the armhole and the neck beside it trued. */

/** Less than this part of its outer stretch is no shoulder to sew. */
const LEAST = 0.4;
/** What a length may miss, mm. */
const WITHIN = 5e-4;

/**
 * Brings a shoulder to a sewn length and its armhole to its own: the stretch of the shoulder next to the armhole is
 * drawn longer (shorter), and the whole shoulder, darts with it, swung about its root until both come out. The armhole
 * above the level of widths is drawn through to the new tip; at that level and below it stays. It is turned at the tip
 * as the shoulder was, so that shoulders laid together make no point or hollow.
 * @param was the tracing whose corner at the tip is to be kept
 * @throws NoRoom when too little of the shoulder would be left
 */
export const setShoulder = (
  tracing: Tracing,
  was: Tracing,
  { shoulder, armhole }: ShoulderAndArmhole,
  lengths: { readonly shoulder: number; readonly armhole: number },
): Tracing => {
  const now = prickedAcross(tracing);
  const { upper, lower } = partsOfArmhole(now, armhole);
  const curve = pointsOf(now, upper);
  const turned = turnOfArrival(pointsOf(was, lastStretch(was, shoulder)), pointsOf(now, lastStretch(now, shoulder)));
  const longer = lengthened(now, shoulder, lengths.shoulder);
  const swung = (angle: number): Tracing => {
    const set = turnShoulder(longer, shoulder, angle);
    const by = subtract(at(set, upper[0] as number), curve[0] as Point);
    return placedAt(set, upper, plus(curve, carryEnd(curve, { by, turned: turned + angle })));
  };
  // A panel goes on in the line of the other: there it is the hollow of the armhole that gives the length.
  if (shoulder.before.role === 'panel seam') return hollowTo(swung(0), armhole.edge, lower, lengths.armhole);
  const set = solveFor(swung, (made) => sewnLength(made, armhole.edge) - lengths.armhole, 0, 0.002, WITHIN);
  return withDrawnDarts(set, now, shoulder);
};

/** The stretch of a shoulder next to its tip drawn longer or shorter until the shoulder has a sewn length. */
const lengthened = (tracing: Tracing, shoulder: Shoulder, length: number): Tracing => {
  const outer = lastStretch(tracing, shoulder);
  const points = pointsOf(tracing, outer);
  const root = points[0] as Point;
  const k = 1 + (length - sewnLength(tracing, shoulder.edge)) / lengthOfPoints(points);
  if (k < LEAST) throw new NoRoom('the shoulder is too short for what is to be taken from it');
  return placedAt(
    tracing,
    outer,
    points.map((p) => add(root, scale(subtract(p, root), k))),
  );
};

/** A shoulder turned about its root, darts in it with it. */
const turnShoulder = (tracing: Tracing, shoulder: Shoulder, angle: number, root: Point = ORIGIN): Tracing => {
  const run = runAlong(tracing, shoulder);
  const about = at(tracing, run[0] as number);
  const turned = (p: Point): Point => add(turn(p, angle, about), root);
  const placed = placedAt(tracing, run, pointsOf(tracing, run).map(turned));
  const darts = new Set(tracing.piece.darts.filter((d) => d.edge === shoulder.edge).map((d) => d.id));
  return {
    ...placed,
    tips: new Map([...placed.tips].map(([id, t]) => [id, darts.has(id) ? { ...t, at: turned(t.at) } : t])),
  };
};

/** Darts that a verb drew new into the shoulder go with the place they stand at, turned as the shoulder is. */
const withDrawnDarts = (now: Tracing, before: Tracing, shoulder: Shoulder): Tracing => {
  if (now.drawn.every((d) => d.edge !== shoulder.edge)) return now;
  const [a, b] = endsOf(before, shoulder);
  const [c, d] = endsOf(now, shoulder);
  const way = subtract(b, a);
  const turned = turnBetween(way, subtract(d, c));
  const move = (p: Point): Point => {
    const u = dot(subtract(p, a), way) / dot(way, way);
    return add(scale(subtract(c, a), 1 - u), scale(subtract(d, b), u));
  };
  return {
    ...now,
    drawn: now.drawn.map((line) => {
      if (line.edge !== shoulder.edge) return line;
      const middle = between(line.points[0] as Point, line.points.at(-1) as Point, 0.5);
      const by = move(middle);
      return { ...line, points: line.points.map((p) => add(turn(p, turned, middle), by)) };
    }),
  };
};

const endsOf = (tracing: Tracing, shoulder: Shoulder): readonly [Point, Point] => {
  const run = runAlong(tracing, shoulder);
  return [at(tracing, run[0] as number), at(tracing, run.at(-1) as number)];
};

/** The neck is turned where the shoulder meets it, by as much as the shoulder was turned there; its length is kept. */
export const trueNeckCorner = (now: Tracing, was: Tracing, shoulder: Shoulder): Tracing => {
  const leaves = (t: Tracing): Point => departure(pointsOf(t, firstStretch(t, shoulder)));
  return turnNeck(now, shoulder, turnBetween(leaves(was), leaves(now)));
};

const turnNeck = (tracing: Tracing, shoulder: Shoulder, turned: number): Tracing =>
  shoulder.before.role === 'neck' ? turnWith(tracing, stretchInto(tracing, shoulder, 'first'), turned) : tracing;

/** Every shoulder of the piece made longer (shorter) by `by`, as sewn. */
export const widenShoulders = (tracing: Tracing, by: number): Tracing =>
  by === 0
    ? tracing
    : shoulderedArmholes(tracing).reduce((now, pair) => {
        const longer = setShoulder(now, now, pair, {
          shoulder: sewnLength(now, pair.shoulder.edge) + by,
          armhole: sewnLength(now, pair.armhole.edge),
        });
        return trueNeckCorner(longer, now, pair.shoulder);
      }, tracing);

/** The swing, radians, that lifts the tip of a shoulder by `by`; panels of one shoulder are laid end to end. */
export const swingToLift = (tracing: readonly { tracing: Tracing; shoulder: Shoulder }[], by: number): number => {
  const stretches = tracing.map((s) => shoulderVector(s.tracing, s.shoulder));
  const lift = (up: number): number => stretches.reduce((sum, v) => sum + turn(v, Math.sign(v.x) * up).y - v.y, 0) - by;
  const across = stretches.reduce((sum, v) => sum + Math.abs(v.x), 0);
  return solve(lift, by / across, (by / across) * 1.02, 1e-6);
};

/** How a shoulder is swung, radians, outer end up. */
export interface Swing {
  readonly up: number;
  /** How far its root moves: nothing at a neck point, as the tip of the other panel at a panel seam. */
  readonly root: Point;
  /** How far the neck is turned where it meets the shoulder. */
  readonly neck: number;
}

/** Swings a shoulder about its root: it keeps its length, and darts in it swing with it. */
export const swingShoulder = (tracing: Tracing, shoulder: Shoulder, { up, root, neck }: Swing): Tracing => {
  const swung = withDrawnDarts(turnShoulder(tracing, shoulder, shoulder.outward * up, root), tracing, shoulder);
  return panelSeamsAlong(turnNeck(swung, shoulder, shoulder.outward * neck), tracing, shoulder);
};

/** Panel seams that end at the shoulder are drawn on to where it is now. */
const panelSeamsAlong = (now: Tracing, before: Tracing, shoulder: Shoulder): Tracing =>
  (['first', 'last'] as const).reduce((t, end) => {
    if ((end === 'first' ? shoulder.before : shoulder.beyond).role !== 'panel seam') return t;
    const run = stretchInto(t, shoulder, end);
    const [was, corner] = [pointsOf(before, run), run.at(-1) as number];
    const by = subtract(at(t, corner), was.at(-1) as Point);
    return placedAt(t, run, plus(was, bring(was, STILL, { by, turned: 0 })));
  }, now);

export interface Lift {
  /** Which way and how far the armhole goes. On a side panel, that may stand askew, up is as its panel seam says. */
  readonly up: Point;
  /** How much the side seam gains. */
  readonly by: number;
  /** How far the shoulder above was turned, radians. */
  readonly turned: number;
  /** Sewn length that the armhole is to come to. */
  readonly length: number;
}

/**
 * The armhole goes up as a whole, after its shoulder was swung: its top stands where the shoulder ends, turned as that
 * was; its foot goes up along the side seam.
 * @param was before the shoulder was swung, prick for prick
 */
export const raiseArmhole = (now: Tracing, was: Tracing, armhole: Armhole, lift: Lift): Tracing => {
  const seamed = raiseSeamBelow(raiseSeamAbove(now, armhole, lift.up), armhole, lift);
  const { upper, lower } = partsOfArmhole(was, armhole);
  const beyond = (i: number): Point => subtract(subtract(at(seamed, i), at(was, i)), lift.up);
  const top = { by: beyond(upper[0] as number), turned: lift.turned };
  const foot = { by: beyond((lower.length > 0 ? lower : upper).at(-1) as number), turned: 0 };
  const raised = (t: Tracing, run: Run, by: readonly Point[]): Tracing =>
    placedAt(
      t,
      run,
      plus(pointsOf(was, run), by).map((p) => add(p, lift.up)),
    );
  const [above, below] = [pointsOf(was, upper), pointsOf(was, lower)];
  if (lower.length === 0) return raised(seamed, upper, bring(above, top, foot));
  const carried = carryEnd(givingWay(above, below), top);
  const atFoot = bring(below, STILL, foot);
  const run = [...upper, ...lower.slice(1)];
  const by = run.map((_, i) => add(carried[i] ?? ORIGIN, atFoot[i - above.length + 1] ?? ORIGIN));
  const whole = raised(seamed, run, by);
  // Above a panel seam there is little hollow to draw deeper: the side panel puts the length right.
  return armhole.beyond.role === 'side' ? hollowTo(whole, armhole.edge, lower, lift.length) : whole;
};

/**
 * The stretch of an armhole that gives way to its shoulder: down to the level of widths, and a little of the hollow below
 * it. Ended at the level itself it would come to it in a wave; with more of the hollow the widths would change.
 */
const givingWay = (above: readonly Point[], below: readonly Point[]): Point[] => {
  const way = along(below);
  return [...above, ...below.filter((_, i) => i > 0 && (way[i] as number) <= GIVES * (way.at(-1) as number))];
};
/** This part of the hollow below the level of widths gives way with what is above. */
const GIVES = 0.17;

/** The seam at the foot of an armhole drawn on (cut shorter): a side seam along its own line, so that it gains just so much. */
const raiseSeamBelow = (tracing: Tracing, armhole: Armhole, { up, by }: Lift): Tracing => {
  if (armhole.beyond.role !== 'side') return panelSeamUp(tracing, stretchInto(tracing, armhole, 'last'), up);
  const run = lastOf(tracing, stretchInto(tracing, armhole, 'last'), Math.max(LEAST_CLOSE, CLOSE * Math.abs(by)));
  const points = pointsOf(tracing, run);
  const along = unit(subtract(points.at(-1) as Point, points.at(-2) as Point));
  const drawnOn = (x: number): Tracing =>
    placedAt(tracing, run, plus(points, bring(points, STILL, { by: scale(along, x), turned: 0 })));
  const length = sewnLength(tracing, armhole.beyond.id) + by;
  return solveFor(drawnOn, (made) => sewnLength(made, armhole.beyond.id) - length, by, by * 0.98, 1e-5);
};

/** A panel seam that ends at the top of an armhole is drawn on to where that goes. */
const raiseSeamAbove = (tracing: Tracing, armhole: Armhole, up: Point): Tracing => {
  if (armhole.before.role !== 'panel seam') return tracing;
  return panelSeamUp(tracing, stretchInto(tracing, armhole, 'first'), up);
};

/** A panel seam leans into the armhole: it bends with it, over this much of it, mm. */
const PANEL_BEND = 120;

const panelSeamUp = (tracing: Tracing, seam: Run, up: Point): Tracing => {
  const run = [...lastOf(tracing, seam, PANEL_BEND)].reverse();
  const points = pointsOf(tracing, run);
  return placedAt(tracing, run, plus(points, carryEnd(points, { by: up, turned: 0 })));
};

/** The seam gives way over so many times what its corner moves, and at least over so much, mm: notches below it stay. */
const CLOSE = 4;
const LEAST_CLOSE = 30;

/** The end of a run that lies within a length of its last prick. */
const lastOf = (tracing: Tracing, run: Run, length: number): Run => {
  const way = along(pointsOf(tracing, run));
  const from = way.findIndex((d) => d >= (way.at(-1) as number) - length);
  return run.slice(Math.max(0, Math.min(from, run.length - 2)));
};

/** Levels that belong to the armhole go up with it, and the lines that draw them. */
export const raiseLevels = (tracing: Tracing, by: number): Tracing => {
  const own = (name: string): boolean => name === 'chest' || name === 'blade' || name === 'underarm';
  const levels = [...tracing.levels];
  const heights = levels.filter(([name]) => own(name)).map(([, h]) => h);
  const stay = levels.filter(([name]) => !own(name)).map(([, h]) => h);
  const draws = (line: readonly Prick[], h: number): boolean => line.every((p) => Math.abs(p.at.y - h) < ON_LEVEL);
  const drawn = new Set(tracing.piece.lines.filter((l) => l.kind === 'level').map((l) => l.id));
  const moves = (id: string, line: readonly Prick[]): boolean =>
    drawn.has(id) && heights.some((h) => draws(line, h)) && !stay.some((h) => draws(line, h));
  return {
    ...tracing,
    levels: new Map(levels.map(([name, h]) => [name, own(name) ? h + by : h])),
    lines: new Map(
      [...tracing.lines].map(([id, line]) => [
        id,
        moves(id, line) ? line.map((p) => ({ ...p, at: add(p.at, { x: 0, y: by }) })) : line,
      ]),
    ),
  };
};
/** A line this near a level draws it, mm. */
const ON_LEVEL = 0.5;
