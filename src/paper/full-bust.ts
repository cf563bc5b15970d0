import { Bug } from '../finding.ts';
import type { Point } from '../geometry/point.ts';
import { add, between, distance, dot, left, ORIGIN, scale, subtract, turn, unit } from '../geometry/point.ts';
import { isCentre } from '../pattern/edges.ts';
import { widthAcross } from './across.ts';
import { withArmholeLevels } from './armhole-levels.ts';
import { bring, STILL, step } from './bend.ts';
import { type BustCut, type CutSide, cutFront } from './bust-cut.ts';
import { type Bust, bustsOf, moveBust } from './bust-point.ts';
import { lastStretch } from './carry-end.ts';
import { angleAt, keptLines, redrawnDart, trueFolded } from './dart-swing.ts';
import { blendKink, type Prior, priorOf } from './joining.ts';
import { displaced } from './move-edge.ts';
import { NoRoom } from './no-room.ts';
import { moveCutParts } from './parting.ts';
import { at, edgeBeside, edgeRun, intake, lengthOfPoints, pointsOf, sewnLength } from './runs.ts';
import { fitByDarts } from './skirt-shape.ts';
import { type PartMove, shiftBy } from './slash.ts';
import { mouthsOf } from './slit.ts';
import { lastKept, solveAbout, solveBetween } from './solve.ts';
import { innerPlace, type Prick, type Tracing } from './tracing.ts';

/*
 * A front made fuller (flatter) at the bust. Cut as `bust-cut` says, the side part swings about its hinge on the armhole,
 * what lies below it follows without turning, so that the first slash gapes with its sides parallel, and the centre comes
 * down with it, so that the waist is level.
 */

/**
 * Makes the front larger (smaller) by `by` at the bust level on each side that is drawn, measured straight across with
 * its darts closed: the swing is solved for that width. Armhole, shoulder and neck keep their lengths, the side seam too
 * with its dart closed; the waist dart takes what the waist gains. Where the front has no side dart, or no dart in its
 * waist edge, one is drawn. A dress keeps its hip and hem: the side seam takes the width in again below the waist.
 * @throws NoRoom when a dart cannot give what a smaller bust takes from it
 */
export const fullerBust = (tracing: Tracing, by: number): Tracing => {
  if (by === 0) return tracing;
  const busts = bustsOf(tracing);
  const cut = cutFront(tracing, busts);
  const least = leastSwing(cut);
  const level = bustLevel(tracing, busts);
  const target = widthAcross(tracing, level) + by * busts.length;
  const most = Math.min(GREATEST, (3 * by) / Math.abs((busts[0] as Bust).at.y - (cut.sides[0] as CutSide).hinge.y));
  let gives: readonly number[] = busts.map(() => 0);
  let swing: number | undefined;
  const bare = { start: seamOnly(tracing), cut: { ...cut, tracing: seamOnly(cut.tracing) } };
  for (let round = 0; ; round++) {
    const done = lastKept((s: number): Tracing => swungFront(bare.start, bare.cut, s, gives));
    const off = (s: number): number => widthAcross(done(s), level) - target;
    if (by < 0 && off(least.swing) > 0) throw new NoRoom(least.why);
    const reach = [0, by < 0 ? least.swing : most] as const;
    const within = WITHIN[round] ?? 0.0005;
    // The width grows nearly evenly with the swing, from nothing at none.
    swing =
      swing === undefined
        ? solveBetween(off, ...reach, within)
        : solveAbout(off, { root: swing, slope: (by * busts.length) / swing }, ...reach, within);
    const swung = done(swing);
    const lost = cut.sides.map((s) => sewnLength(tracing, s.armhole) - sewnLength(swung, s.armhole));
    if (round === ROUNDS || (round >= WITHIN.length && lost.every((mm) => Math.abs(mm) < 0.002))) {
      return swungFront(tracing, cut, swing, gives);
    }
    // What the blend at the hinge takes from the armhole's length is given back there.
    gives = gives.map((mm, i) => mm + (lost[i] as number));
  }
};

/** How much smaller each side of a front can be made before a dart has no more to give, mm; 0 when it has no bust point. */
export const smallestBust = (tracing: Tracing): number => {
  const busts = bustsOf(tracing);
  if (busts.length === 0) return 0;
  const cut = cutFront(tracing, busts);
  const level = bustLevel(tracing, busts);
  const none = cut.sides.map(() => 0);
  const least = swungFront(tracing, cut, leastSwing(cut).swing, none);
  return Math.max(0, widthAcross(tracing, level) - widthAcross(least, level)) / busts.length;
};

/** Without what lies on the paper: what is tried to find a swing is measured on the seam. */
const seamOnly = (tracing: Tracing): Tracing => ({ ...tracing, lines: new Map(), marks: new Map() });

const bustLevel = (tracing: Tracing, busts: readonly Bust[]): number =>
  tracing.levels.get('bust') ?? (busts[0] as Bust).at.y;

/** No front is swung further than this, radians: it is three times what the customary most asks. */
const GREATEST = 0.7;

/** How far the sides can swing inwards: until the side dart is closed, or the waist dart. */
const leastSwing = ({ tracing, sides }: BustCut): { swing: number; why: string } => {
  const limits = sides.flatMap((side) => {
    const { take, sideDart, bust } = side;
    const told = (name: string, mm: number): string =>
      mm < 0.01
        ? `there is no ${name} dart to take up`
        : `the ${name} dart is ${mm.toFixed(0)} mm wide and cannot take up`;
    const open = angleAt(tracing, sideDart, bust.at);
    const bySide = { swing: -open, why: `${told('side', intake(tracing, sideDart))} what the front loses in length` };
    if (take.dart === undefined) return [bySide];
    const wide = intake(tracing, take.dart);
    // The bust point is brought across by so much: the chord of the swing about the hinge, taken level.
    const across = (s: number): number => Math.abs(moveOf(tracing, side, s, 0).by.x);
    const swing = across(-GREATEST) <= wide ? -GREATEST : solveBetween((s) => across(s) - wide, 0, -GREATEST, 1e-4);
    return [bySide, { swing, why: `${told('waist', wide)} what the waist loses` }];
  });
  return limits.reduce((a, b) => (b.swing > a.swing ? b : a));
};

/** Each round takes out all but a few per cent of what the armhole is off. */
const ROUNDS = 5;
/** How near the width has to come in the first rounds, mm, which the armhole puts off again. */
const WITHIN = [0.05, 0.005];

/** How a side is moved: the swing, and what is given along the armhole at the hinge. */
interface SideMove {
  readonly upper: PartMove;
  /** Shift of the part below the side dart. */
  readonly by: Point;
}

const swungFront = (start: Tracing, cut: BustCut, swing: number, gives: readonly number[]): Tracing =>
  assembled(
    start,
    cut,
    cut.sides.map((s, i) => moveOf(cut.tracing, s, swing, gives[i] as number)),
  );

const moveOf = (tracing: Tracing, side: CutSide, swing: number, give: number): SideMove => {
  const turned = side.sense * swing;
  const beside = side.upper.part
    .map((i) => at(tracing, i))
    .toSorted((a, b) => distance(a, side.hinge) - distance(b, side.hinge));
  const next = beside.find((p) => distance(p, side.hinge) > 0.5) ?? side.bust.at;
  const given = scale(unit(subtract(turn(next, turned, side.hinge), side.hinge)), give);
  return {
    upper: { by: given, turned, about: side.hinge },
    by: add(subtract(turn(side.bust.at, turned, side.hinge), side.bust.at), given),
  };
};

const assembled = (start: Tracing, cut: BustCut, moves: readonly SideMove[]): Tracing => {
  const { tracing, sides } = cut;
  const down = moves.reduce((sum, m) => sum + m.by.y, 0) / moves.length;
  const parts = sides.flatMap((s, i) => [
    { cut: s.upper, move: (moves[i] as SideMove).upper },
    { cut: s.lower, move: shiftBy((moves[i] as SideMove).by) },
  ]);
  const moved = moveCutParts(
    tracing,
    [...parts, { cut: cut.centre, move: shiftBy({ x: 0, y: down }) }],
    keptLines(tracing),
  );
  const tapered = sides.reduce((t, s, i) => taperedSide(t, tracing, s, (moves[i] as SideMove).by.x), moved);
  const levelled = levelsBelow(tapered, cut.height, down);
  const trued = sides.reduce((t, s, i) => truedSide(t, tracing, s, (moves[i] as SideMove).by), levelled);
  const waists = new Set(sides.flatMap(({ take }) => (take.kind === 'edge' ? [take.edge] : [])));
  const fitted = [...waists].reduce((t, waist) => fitByDarts(t, waist, sewnLength(start, waist)), trued);
  const closed = closedHinges(withArmholeLevels(fitted, tracing), sides, priorOf(tracing));
  return uncovered(closed, cut.height, down);
};

/**
 * The side seam of a dress takes the width in again: from the waist down to the hip where a dart inside takes what the
 * waist gains; where it has none, from the side dart down to the waist.
 */
const taperedSide = (now: Tracing, cut: Tracing, { take, side, sideDart }: CutSide, across: number): Tracing => {
  if (take.kind === 'edge') return now;
  const low = Math.min(...mouthsOf(cut, sideDart).map((m) => m.y));
  const [from, to] = take.dart === undefined ? [take.waist, low] : [take.hip, take.waist];
  const run = edgeRun(cut, side);
  const part = (y: number): number => step(Math.min(1, Math.max(0, (y - from) / (to - from))));
  const by = run.map((i) => {
    const was = at(cut, i);
    return was.y >= to ? ORIGIN : { x: across * part(was.y) - (at(now, i).x - was.x), y: 0 };
  });
  return asLongAs({ ...now, seam: displaced(now.seam, run, by) }, cut, side, to, from);
};

/** A stretch of a side seam keeps its length, and notches below it their place: all below goes up or down by what it is off. */
const asLongAs = (now: Tracing, was: Tracing, side: string, top: number, low: number): Tracing => {
  const run = edgeRun(was, side);
  const within = run.filter((i) => at(was, i).y <= top + ON_LEVEL && at(was, i).y >= low - ON_LEVEL);
  const off = lengthOfPoints(pointsOf(now, within)) - lengthOfPoints(pointsOf(was, within));
  const by = run.map((i) => ({ x: 0, y: off * Math.min(1, Math.max(0, (top - at(was, i).y) / (top - low))) }));
  const shifted = { ...now, seam: displaced(now.seam, run, by) };
  const hem = (['before', 'after'] as const).find((end) => edgeBeside(was, side, end).role === 'hem');
  if (!hem) return shifted;
  const edge = edgeBeside(was, side, hem).id;
  const over = lengthOfPoints(pointsOf(was, edgeRun(was, edge))) / 2;
  const end = hem === 'before' ? 'end' : 'start';
  const hemRun = lastStretch(now, edge, end, over);
  const bent = bring(pointsOf(now, hemRun), STILL, { by: { x: 0, y: off }, turned: 0 });
  // The corner has gone with the side already.
  return { ...shifted, seam: displaced(shifted.seam, hemRun.slice(0, -1), bent.slice(0, -1)) };
};

/** A prick this near a level stands on it, mm. */
const ON_LEVEL = 0.02;

/** Where the centre comes up over the slash, the pricks of the strip that it covers are taken out. */
const uncovered = (tracing: Tracing, height: number, down: number): Tracing => {
  const edge = tracing.piece.edges.find((e) => isCentre(e.role));
  if (down <= 0 || !edge) return tracing;
  const covered = new Set(
    edgeRun(tracing, edge.id).filter((i) => {
      const p = tracing.seam[i] as Prick;
      return !p.corner && p.at.y > p.was.y && p.at.y >= height;
    }),
  );
  return { ...tracing, seam: tracing.seam.filter((_, i) => !covered.has(i)) };
};

/** Levels below the slash from the centre go down with the waist, and the lines that draw them. */
const levelsBelow = (tracing: Tracing, height: number, down: number): Tracing => {
  const below = new Set(
    tracing.piece.lines
      .filter((l) => l.kind === 'level' || l.kind === 'adjustment')
      .filter((l) => (tracing.lines.get(l.id) ?? []).every((p) => p.at.y < height))
      .map((l) => l.id),
  );
  return {
    ...tracing,
    levels: new Map([...tracing.levels].map(([name, h]) => [name, h < height ? h + down : h])),
    lines: new Map(
      [...tracing.lines].map(([id, line]) => [
        id,
        below.has(id) ? line.map((p): Prick => ({ ...p, at: add(p.at, { x: 0, y: down }) })) : line,
      ]),
    ),
  };
};

const truedSide = (now: Tracing, cut: Tracing, side: CutSide, by: Point): Tracing => {
  const half = { x: by.x / 2, y: 0 };
  const { take, sideDart } = side;
  const marked = aimSideDart(moveBust(now, cut, side.bust, half), cut, side, add(side.bust.at, half));
  const sided = redrawnDart(trueFolded(marked, cut, sideDart), cut, sideDart);
  if (take.dart === undefined) return sided;
  if (take.kind === 'level') return spreadInside(sided, cut, take.dart, by, side.bust.side);
  const tipped = shiftTip(sided, cut, take.dart, half);
  return redrawnDart(trueFolded(tipped, cut, take.dart), cut, take.dart);
};

/** A dart that lies inside is spread with the gap: its outer side goes with the side part, its tips to the middle. */
const spreadInside = (now: Tracing, cut: Tracing, dart: string, by: Point, side: 1 | -1): Tracing => {
  const down = { x: 0, y: by.y };
  const [inner, outer] = side > 0 ? (['mouth 0', 'mouth 1'] as const) : (['mouth 1', 'mouth 0'] as const);
  const moves: readonly (readonly [string, Point])[] = [
    [dart, { x: by.x / 2, y: 0 }],
    [innerPlace(dart, inner), down],
    [innerPlace(dart, outer), by],
    [innerPlace(dart, 'other tip'), { x: by.x / 2, y: by.y }],
  ];
  return moves.reduce((t, [key, move]) => shiftTip(t, cut, key, move), now);
};

const shiftTip = (now: Tracing, was: Tracing, dart: string, by: Point): Tracing => {
  const tip = was.tips.get(dart);
  if (!tip) throw new Bug(`no dart ${dart}`);
  return { ...now, tips: new Map([...now.tips, [dart, { ...tip, at: add(tip.at, by) }]]) };
};

/** The side dart aims at the bust point in the middle of the gap, ends as far from it as it did, and has equal legs. */
const aimSideDart = (now: Tracing, was: Tracing, side: CutSide, bust: Point): Tracing => {
  const tip = was.tips.get(side.sideDart);
  if (!tip) throw new Bug(`no dart ${side.sideDart}`);
  const [a, b] = mouthsOf(now, side.sideDart);
  const middle = between(a, b, 0.5);
  // The middle line is square to the mouth; the paper lies to the left of the seam.
  const into = left(distance(a, b) < 0.01 ? { x: 0, y: side.bust.side } : unit(subtract(b, a)));
  const depth = dot(subtract(bust, middle), into) - distance(tip.at, side.bust.at);
  return { ...now, tips: new Map([...now.tips, [side.sideDart, { ...tip, at: add(middle, scale(into, depth)) }]]) };
};

/** This near a hinge pricks may come to lie behind it, mm. */
const AT_HINGE = 5;

/** Where a side was moved back along the armhole past its hinge, the pricks it has passed are taken out. */
const forwards = (seam: readonly Prick[], hinges: readonly Point[]): readonly Prick[] => {
  const left: Prick[] = [];
  for (const p of seam) {
    const before = left.at(-1);
    const back = before !== undefined && dot(subtract(p.at, before.at), subtract(p.was, before.was)) < 0;
    if (!back || p.corner || !hinges.some((h) => distance(p.at, h) < AT_HINGE)) left.push(p);
  }
  return left;
};

/** The armhole turns far at its hinge: it is given more room than a blend, mm. */
const HINGE_BLEND = 70;

/** The armholes are one line again at their hinges, the turn spread over a blend on each side. */
const closedHinges = (now: Tracing, sides: readonly CutSide[], prior: Prior): Tracing => {
  const places = sides.map((s) => at(now, s.lips.stays));
  const gone = new Set(sides.map((s) => s.lips.moves));
  const one: Tracing = {
    ...now,
    seam: forwards(
      now.seam.filter((_, i) => !gone.has(i)),
      places,
    ),
  };
  return sides.reduce((t, s, i) => blendKink(t, prior, s.armhole, places[i] as Point, 'free', HINGE_BLEND), one);
};
