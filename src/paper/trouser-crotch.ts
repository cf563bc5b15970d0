import { add, dot, type Point, scale, subtract, turnBetween } from '../geometry/point.ts';
import { bring, plus, STILL, turnEnd } from './bend.ts';
import { displaced } from './move-edge.ts';
import { arrival, edgeRun, pointsOf, sewnLength, turnOfArrival } from './runs.ts';
import { wedgeAtCentre } from './skirt-shape.ts';
import { prickedAtLevels } from './slash.ts';
import { solveFor } from './solve.ts';
import type { Tracing } from './tracing.ts';
import { crotchPointEnd, endBelow, type LegHeights, legHeights, legWidth, NEAR, seamCalled } from './trouser-lines.ts';

/*
 * The crotch seam made longer or shorter. At the crotch point: out along the seam's own line, to nothing by the knee on
 * the inseam. The point goes down as it goes out, so far that the inseam keeps its length: front and back still meet.
 */

/** How near a length is brought to what it should be, mm. */
const WITHIN = 5e-4;

interface Crotch {
  readonly seam: string;
  readonly inseam: string;
  readonly end: 'start' | 'end';
  readonly at: LegHeights;
  /** Unit direction in which the crotch seam arrives at the crotch point. */
  readonly out: Point;
}

const crotchOf = (tracing: Tracing): Crotch | undefined => {
  const [seam, inseam] = [seamCalled(tracing, 'crotch'), seamCalled(tracing, 'inseam')];
  const [end, at] = [crotchPointEnd(tracing), legHeights(tracing)];
  if (seam === undefined || inseam === undefined || !end || !at) return undefined;
  const points = pointsOf(tracing, edgeRun(tracing, seam));
  return { seam, inseam, end, at, out: arrival(end === 'end' ? points : points.toReversed()) };
};

/** The crotch point moved by `by`; the crotch seam follows as far as the hip, the inseam as far as the knee. */
const pointMoved = (tracing: Tracing, { seam, inseam, end, at, out }: Crotch, by: Point): Tracing => {
  const curve = endBelow(tracing, seam, end, (y) => y <= at.hip + NEAR);
  const withCurve = displaced(tracing.seam, curve, curveDrawnOut(pointsOf(tracing, curve), out, by));
  const leg = endBelow(tracing, inseam, end === 'end' ? 'start' : 'end', (y) => y >= at.knee - NEAR);
  // The crotch point itself was moved with the crotch seam.
  const follows = bring(pointsOf(tracing, leg), STILL, { by, turned: 0 }).slice(0, -1);
  return { ...tracing, seam: displaced(withCurve, leg.slice(0, -1), follows) };
};

/** The crotch curve sets in to be drawn out over so much of the way from the hip out to the crotch point. */
const SOFTLY = 0.55;
/** Over so much of its end the curve is turned back to the direction in which it came to the crotch point, mm. */
const TURNED_OVER = 60;

/**
 * The crotch curve drawn out: each place goes along by as much as it lies out from the hip, so that the curve, which is
 * sharpest well before its end, is there hardly changed. It comes to the crotch point in the direction it had.
 */
const curveDrawnOut = (points: readonly Point[], out: Point, by: Point): Point[] => {
  const hip = points[0] as Point;
  const far = points.map((p) => dot(subtract(p, hip), out));
  const whole = far.at(-1) as number;
  const shift = far.map((d) => scale(by, setInSoftly(d / whole)));
  const placed = plus(points, shift);
  const back = turnEnd(placed, -turnOfArrival(points, placed), TURNED_OVER);
  return shift.map((d, i) => add(d, back[i] as Point));
};

/** From 0 to 1 in a straight line that sets in level. */
const setInSoftly = (u: number): number => {
  const v = Math.max(0, u);
  return (v < SOFTLY ? (v * v) / (2 * SOFTLY) : v - SOFTLY / 2) / (1 - SOFTLY / 2);
};

/** The crotch point goes out by `by` along the crotch line, and so far down that the inseam keeps its length. */
const pointOut = (tracing: Tracing, crotch: Crotch, by: number): Tracing => {
  if (by === 0) return tracing;
  const long = sewnLength(tracing, crotch.inseam);
  const placed = (down: number): Tracing => pointMoved(tracing, crotch, add(scale(crotch.out, by), { x: 0, y: -down }));
  return solveFor(placed, (made) => sewnLength(made, crotch.inseam) - long, 0, by / 5, WITHIN);
};

/** With a prick on either seam wherever the move ends. */
const pricksAtEnds = (tracing: Tracing, { at }: Crotch): Tracing => prickedAtLevels(tracing, [at.hip, at.knee]);

/** The crotch seam becomes longer by `by` at the crotch point. */
export const crotchPointOut = (tracing: Tracing, by: number): Tracing => {
  const crotch = crotchOf(tracing);
  if (by === 0 || !crotch) return tracing;
  const pricks = pricksAtEnds(tracing, crotch);
  const wanted = sewnLength(tracing, crotch.seam) + by;
  const out = (way: number): Tracing => pointOut(pricks, crotch, way);
  return solveFor(out, (made) => sewnLength(made, crotch.seam) - wanted, by, by * 1.05, WITHIN);
};

/** The inseam goes out so far that the leg is wider by `by` at a height; the crotch point with it, nothing at the knee. */
export const inseamOut = (tracing: Tracing, height: number, by: number): Tracing => {
  const crotch = crotchOf(tracing);
  if (by === 0 || !crotch) return tracing;
  const pricks = pricksAtEnds(tracing, crotch);
  const wanted = legWidth(tracing, height) + by;
  const out = (way: number): Tracing => pointOut(pricks, crotch, way);
  return solveFor(out, (made) => legWidth(made, height) - wanted, by, by * 1.05, WITHIN);
};

/**
 * A wedge is opened (closed) across the crotch seam, hinged on the side seam line, until the crotch seam is longer by
 * `by`; what lies above swings, the darts keep the waist.
 */
export const crotchWedge = (tracing: Tracing, by: number): Tracing => {
  const seam = seamCalled(tracing, 'crotch');
  if (by === 0 || seam === undefined) return tracing;
  const wanted = sewnLength(tracing, seam) + by;
  const opened = (gap: number): Tracing => wedgeAtCentre(tracing, gap, wedgeLine(tracing, by));
  return solveFor(opened, (made) => sewnLength(made, seam) - wanted, by, by * 0.97, WITHIN);
};

/** A seam that has turned by less is still straight, radians. */
const STRAIGHT = 0.02;
/** A closed wedge leaves so much of the straight part of the seam, mm. */
const LEFT = 3;

/**
 * Height at which a wedge is taken: the hip line. One that is closed is taken where the crotch seam is still straight, so
 * that what is folded away is not of the curve; at most halfway up to the waist.
 */
export const wedgeLine = (tracing: Tracing, by: number): number => {
  const crotch = crotchOf(tracing);
  const hip = crotch?.at.hip ?? tracing.levels.get('hip') ?? 0;
  if (!crotch || by >= 0) return hip;
  const run = edgeRun(tracing, crotch.seam);
  const down = pointsOf(tracing, crotch.end === 'end' ? run : run.toReversed());
  const direction = subtract(down[1] as Point, down[0] as Point);
  const bends = down.findIndex(
    (p, k) => k > 0 && Math.abs(turnBetween(direction, subtract(p, down[k - 1] as Point))) > STRAIGHT,
  );
  const straightTo = (down[Math.max(1, bends) - 1] as Point).y;
  return Math.min(Math.max(hip, straightTo) - by + LEFT, ((down[0] as Point).y + hip) / 2);
};
