import { add, between, type Point, scale, subtract, turnBetween } from '../geometry/point.ts';
import { step } from './bend.ts';
import { priorOf } from './joining.ts';
import { lengthenAt, type OwnWays, type Zone } from './lengthen.ts';
import { NoRoom } from './no-room.ts';
import { along, arrival, edgeRun, lengthOfPoints, pointsOf, type Run } from './runs.ts';
import { lengthenAboveHip } from './skirt-lengths.ts';
import { prickedAtLevels } from './slash.ts';
import { placesAlong } from './slide.ts';
import { moved, type Prick, type Tracing } from './tracing.ts';
import {
  crotchPointEnd,
  endBelow,
  type LegHeights,
  type LegPart,
  legHeights,
  lineOf,
  NEAR,
  seamCalled,
  stretchOf,
} from './trouser-lines.ts';

/* Lengths of trousers: the depth of the crotch, and the leg above and below the knee, each by itself. */

/** The slash goes just below the printed line, which stays as a whole with the part above, mm. */
const CLEAR = 0.001;

/** A tuck may take so much of the stretch that it is folded in. */
const MOST_FOLDED = 0.5;

/**
 * Parts the leg at the adjustment line of a part of it and spreads it (folds a tuck), square to the grain; all below
 * moves, the widths at the levels above and below are kept. The side is trued from hip to knee, or to the hem, and the
 * crotch curve keeps its shape when it comes lower.
 * @throws NoRoom when a tuck would take more than half of the stretch
 */
export const lengthenLeg = (tracing: Tracing, part: LegPart, by: number): Tracing => {
  const at = legHeights(tracing);
  const stretch = stretchOf(tracing, part);
  const line = lineOf(tracing, part);
  if (by === 0 || !at || !stretch || line === undefined) return tracing;
  const room = (stretch.top - stretch.bottom) * MOST_FOLDED;
  if (-by > room) throw new NoRoom(`${part} no more than ${room.toFixed(0)} mm can be folded out`);
  const atSeat = part === 'between hip and crotch';
  const pricks = atSeat ? prickedAtLevels(tracing, [at.hip]) : tracing;
  const lengthened = lengthenAt(pricks, line - CLEAR, by, stretch, ownWays(pricks, at, part, atSeat && by > 0));
  if (!atSeat) return lengthened;
  return by > 0 ? curveLowered(lengthened, pricks, at.hip, by) : curveRaised(lengthened, pricks, at.hip, by);
};

const ownWays = (tracing: Tracing, at: LegHeights, part: LegPart, lowers: boolean): OwnWays => {
  const [side, crotch] = [seamCalled(tracing, 'side'), seamCalled(tracing, 'crotch')];
  const zone: Zone | undefined = part === 'below the knee' ? undefined : { top: at.hip, bottom: at.knee };
  return {
    zones: new Map(side === undefined || !zone ? [] : [[side, zone]]),
    left: new Set(lowers && crotch !== undefined ? [crotch] : []),
  };
};

/** The crotch seam and the part of it below the hip, crotch point last. */
const curveOf = (tracing: Tracing, hip: number) => {
  const [seam, end] = [seamCalled(tracing, 'crotch'), crotchPointEnd(tracing)];
  if (seam === undefined || !end) return undefined;
  const whole = edgeRun(tracing, seam);
  return {
    seam,
    whole: end === 'end' ? whole : whole.toReversed(),
    below: endBelow(tracing, seam, end, (y) => y <= hip + NEAR),
  };
};

/**
 * The crotch seam goes on straight from the hip along its own line and the curve below comes lower as it is, drawn over
 * so far that the crotch point keeps its place across.
 */
const curveLowered = (now: Tracing, before: Tracing, hip: number, by: number): Tracing => {
  const curve = curveOf(before, hip);
  if (!curve) return now;
  const points = pointsOf(before, curve.below);
  const down = downAlong(pointsOf(before, curve.whole), points[0] as Point, by);
  const way = along(points);
  const places = points.map((p, k) => {
    const back = 1 - step((way[k] as number) / (way.at(-1) as number));
    return k === 0 ? p : add(p, { x: down.x * back, y: down.y });
  });
  return redrawn(now, before, curve.seam, curve.below, places);
};

/**
 * A tuck leaves a stretch of the crotch curve without pricks: all that the curve had are laid along it as it is now, each
 * as far along in proportion as it was. Where the seam runs straight on below the hip for as much as is folded out, it is
 * that which is left out, and the curve comes higher as it is.
 */
const curveRaised = (now: Tracing, before: Tracing, hip: number, by: number): Tracing => {
  const [was, is] = [curveOf(before, hip), curveOf(now, hip)];
  if (!was || !is) return now;
  const points = pointsOf(before, was.below);
  const straight = withoutStraight(points, pointsOf(before, was.whole), hip + by);
  const line = straight ?? pointsOf(now, is.below);
  const old = along(points);
  const part = lengthOfPoints(line) / (old.at(-1) as number);
  const places = placesAlong(
    line,
    old.map((s) => s * part),
  );
  const stands = straight ? (p: Prick): Point => p.at : priorOf(now);
  const above = was.whole.slice(0, -was.below.length).map((i) => stands(before.seam[i] as Prick));
  return redrawn(now, before, was.seam, was.whole, [...above, ...places]);
};

/** A seam that turns less over what is folded out of it is straight there, radians. */
const STRAIGHT = 0.03;

/** The curve without its stretch down to a height, where that is straight; its end keeps its place across. */
const withoutStraight = (points: readonly Point[], whole: readonly Point[], height: number): Point[] | undefined => {
  const hip = points[0] as Point;
  const k = points.findIndex((p) => p.y <= height);
  const [a, b] = [points[k - 1], points[k]];
  if (!a || !b || k >= points.length - 1) return undefined;
  const into = arrival(whole.slice(0, Math.max(2, whole.indexOf(hip) + 1)));
  if (Math.abs(turnBetween(into, subtract(points[k + 1] as Point, b))) > STRAIGHT) return undefined;
  const cut = between(a, b, (a.y - height) / (a.y - b.y));
  const rest = [cut, ...points.slice(k)];
  const way = along(rest);
  return rest.map((p, i) => {
    const back = 1 - step((way[i] as number) / (way.at(-1) as number));
    return add(p, { x: (hip.x - cut.x) * back, y: hip.y - cut.y });
  });
};

/** The way down by `by` along a line as it comes to a place on it. */
const downAlong = (line: readonly Point[], place: Point, by: number): Point => {
  const way = arrival(line.slice(0, Math.max(2, line.indexOf(place) + 1)));
  return scale(way, by / -way.y);
};

/** The pricks that an edge had before, those of a run of it at other places, in the seam as it is now. */
const redrawn = (now: Tracing, before: Tracing, edge: string, run: Run, places: readonly Point[]): Tracing => {
  const whole = edgeRun(before, edge);
  const to = new Map(run.map((i, k) => [i, places[k] as Point]));
  const pricks = whole.map((i) => {
    const prick = before.seam[i] as Prick;
    return moved(prick, subtract(to.get(i) ?? prick.at, prick.at));
  });
  const own = edgeRun(now, edge);
  const [first, last] = [own[0] as number, own.at(-1) as number];
  if (first <= last) return { ...now, seam: [...now.seam.slice(0, first), ...pricks, ...now.seam.slice(last + 1)] };
  // An edge that goes on past the end of the ring: its first part stays there.
  const atEnd = whole.findIndex((i, k) => k > 0 && i < (whole[k - 1] as number));
  return { ...now, seam: [...pricks.slice(atEnd), ...now.seam.slice(last + 1, first), ...pricks.slice(0, atEnd)] };
};

/** The hip level is lowered by `by` (raised, when negative); the crotch and all below it stay where they are. */
export const lowerHip = (tracing: Tracing, by: number): Tracing =>
  lengthenLeg(lengthenAboveHip(tracing, by), 'between hip and crotch', -by);
