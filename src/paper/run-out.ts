import type { Point } from '../geometry/point.ts';
import { add, cross, scale, subtract, turnBetween, unit } from '../geometry/point.ts';
import { holdingEnds, plus, reseat, step, turnEnd } from './bend.ts';
import { BLEND, displaced } from './move-edge.ts';
import { NoRoom } from './no-room.ts';
import { arrival, edgeRun, pointsOf, type Run } from './runs.ts';
import { type Prick, pricked, type Tracing } from './tracing.ts';

/*
 * An edge goes on along its own line, or is cut off on it, until its end stands at another height. This is how a seam
 * is lengthened at the hem: the sweep changes with its slope.
 */

/** Where the end of an edge comes to stand when it runs on (or back) along its own line to a height. */
interface RunOut {
  readonly seam: readonly Prick[];
  readonly end: Point;
  /** Turn of the edge's direction at its new end, radians, against the old end. */
  readonly turned: number;
}

/**
 * The hem (or any cross edge) is let down by `start` and `end` at its two ends (taken up when negative), measured
 * along the upright; its neighbours run on along their own lines. Between the ends the old shape is kept; when only
 * one end moves, the change tapers to nothing from the middle of the edge.
 */
export const letDown = (tracing: Tracing, hemId: string, amount: { start: number; end: number }): Tracing => {
  const hem = edgeRun(tracing, hemId);
  const old = pointsOf(tracing, hem);
  const first = old[0] as Point;
  const last = old.at(-1) as Point;
  const before = runOut(tracing.seam, ringWayBack(tracing, hem[0] as number, -1), first.y - amount.start);
  const startTracing = { ...tracing, seam: before.seam };
  const hemNow = edgeRun(startTracing, hemId);
  const after = runOut(startTracing.seam, ringWayBack(startTracing, hemNow.at(-1) as number, 1), last.y - amount.end);
  const run = edgeRun({ ...tracing, seam: after.seam }, hemId);
  const by = hemShift(
    old,
    { by: subtract(before.end, first), turned: before.turned },
    { by: subtract(after.end, last), turned: after.turned },
    amount.start === amount.end,
  );
  const placed = plus(old, by);
  const seam = displaced(
    after.seam,
    run,
    run.map((i, k) => subtract(placed[k] as Point, (after.seam[i] as Prick).at)),
  );
  return { ...tracing, seam };
};

/**
 * The end of one seam goes on along its own line, or is cut off on it, until it stands at a height; what meets it there
 * is still to be brought to its new end.
 * @param step the way from the corner back into that seam: 1 in seam direction
 */
export const seamRunTo = (
  tracing: Tracing,
  corner: number,
  step: 1 | -1,
  height: number,
): { readonly tracing: Tracing; readonly end: Point; readonly turned: number } => {
  const { seam, end, turned } = runOut(tracing.seam, ringWayBack(tracing, corner, step), height);
  return { tracing: { ...tracing, seam }, end, turned };
};

/** The way from a corner back along the neighbouring edge, as indexes, the corner first. */
const ringWayBack = (tracing: Tracing, corner: number, step: 1 | -1): Run => {
  const count = tracing.seam.length;
  const way = [corner];
  let i = corner;
  do {
    i = (i + step + count) % count;
    way.push(i);
  } while (!tracing.seam[i]?.corner);
  return way;
};

const hemShift = (
  old: readonly Point[],
  start: { by: Point; turned: number },
  end: { by: Point; turned: number },
  parallel: boolean,
): Point[] => {
  if (!parallel && end.by.y === 0) return tapered(old.toReversed(), start.by).reverse();
  if (!parallel && start.by.y === 0) return tapered(old, end.by);
  const placed = plus(old, reseat(old, { by: start.by, turned: 0 }, { by: end.by, turned: 0 }));
  const atStart = turnEnd([...placed].reverse(), start.turned, BLEND).reverse();
  const atEnd = turnEnd(placed, end.turned, BLEND);
  return placed.map((p, i) => subtract(add(add(p, atStart[i] as Point), atEnd[i] as Point), old[i] as Point));
};

/** Nothing as far as the middle, all of `by` at the last point. */
const tapered = (points: readonly Point[], by: Point): Point[] => {
  const s = alongAcross(points, by);
  const half = (s.at(-1) as number) / 2;
  const shift = s.map((d) => scale(by, step((d - half) / half)));
  return holdingEnds(points, shift, { end: 0 });
};

/**
 * Distances along a row of points, measured square to the way it moves: a move does not change them, so that moving
 * it by a and then by b is moving it by both, and moving it back is back where it was.
 */
const alongAcross = (points: readonly Point[], by: Point): number[] => {
  const way = unit(by);
  let sum = 0;
  return points.map((p, i) => (sum += i === 0 ? 0 : Math.abs(cross(way, subtract(p, points[i - 1] as Point)))));
};

/**
 * @param way from the end of the edge back into it
 */
const runOut = (seam: readonly Prick[], way: Run, height: number): RunOut => {
  const points = way.map((i) => (seam[i] as Prick).at);
  const end = points[0] as Point;
  const inner = points[1] as Point;
  const outward = arrival([inner, end]);
  const goesOn = (height - end.y) * outward.y > 0;
  if (height === end.y) return { seam, end, turned: 0 };
  return goesOn ? goOn(seam, way, outward, height) : cutOff(seam, way, outward, height);
};

const goOn = (seam: readonly Prick[], way: Run, outward: Point, height: number): RunOut => {
  const corner = seam[way[0] as number] as Prick;
  const to = add(corner.at, scale(outward, (height - corner.at.y) / outward.y));
  // The place of the old end stays on the line, so that what was drawn there does not bend.
  const inner = seam[way[1] as number] as Prick;
  const leavesCorner = way[1] === ((way[0] as number) + 1) % seam.length;
  const HAIR = 1e-9;
  const stays: Prick = leavesCorner
    ? { ...pricked(corner, inner, 0), t: HAIR }
    : { ...pricked(inner, corner, 1), span: inner.span, t: 1 - HAIR };
  const next = [...seam];
  next[way[0] as number] = { ...corner, at: to };
  return { seam: insertBetween(next, way, stays), end: to, turned: 0 };
};

/** Puts a prick between the corner and the first prick of the way into the edge. */
const insertBetween = (seam: readonly Prick[], way: Run, prick: Prick): readonly Prick[] => {
  const corner = way[0] as number;
  const inner = way[1] as number;
  const goesUp = inner === (corner + 1) % seam.length;
  const place = goesUp ? corner + 1 : corner;
  return [...seam.slice(0, place), prick, ...seam.slice(place)];
};

const cutOff = (seam: readonly Prick[], way: Run, outward: Point, height: number): RunOut => {
  const corner = seam[way[0] as number] as Prick;
  const gone = new Set<number>();
  for (let k = 1; k < way.length; k++) {
    const a = seam[way[k - 1] as number] as Prick;
    const b = seam[way[k] as number] as Prick;
    if ((a.at.y - height) * (b.at.y - height) <= 0 && a.at.y !== b.at.y) {
      const t = (height - a.at.y) / (b.at.y - a.at.y);
      const to = add(a.at, scale(subtract(b.at, a.at), t));
      const next = seam.map((p, i) => (i === way[0] ? { ...corner, at: to } : p)).filter((_, i) => !gone.has(i));
      return { seam: next, end: to, turned: turnBetween(outward, arrival([b.at, a.at])) };
    }
    gone.add(way[k] as number);
  }
  throw new NoRoom('the seam is shorter than what is to be taken off it');
};
