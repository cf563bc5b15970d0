import { monotoneCubic } from '../geometry/monotone.ts';
import type { Point } from '../geometry/point.ts';
import { scale, size, subtract } from '../geometry/point.ts';
import { isCentre, isSeamDown } from '../pattern/edges.ts';
import type { EdgeRole } from '../pattern/piece.ts';
import { bring, holdingEnds, plus, STILL, step, turnEnd } from './bend.ts';
import {
  along,
  at,
  edgeBeside,
  edgeOf,
  edgeRun,
  inDarts,
  lengthOfPoints,
  mouthIndex,
  neighbourRun,
  outwards,
  pointsOf,
  type Run,
  sewnRuns,
  toMiddle,
  turnOfArrival,
} from './runs.ts';
import { moved, type Prick, type Tracing } from './tracing.ts';

/** Hinges, jogs and turned corners are smoothed over this much of the seam on each side, mm. */
export const BLEND = 50;

/** A cross edge is turned at its corner over this much of it: twice the bend of a blend each side of a hinge. mm */
const CORNER = 80;

/** How far a seam edge goes out (in, when negative) at a height, mm. */
export interface Out {
  readonly height: number;
  readonly by: number;
}

/** The seam with the pricks of a run displaced. */
export const displaced = (seam: readonly Prick[], run: Run, by: readonly Point[]): readonly Prick[] => {
  if (by.every((d) => d.x === 0 && d.y === 0)) return seam;
  const next = [...seam];
  run.forEach((index, k) => {
    next[index] = moved(seam[index] as Prick, by[k] as Point);
  });
  return next;
};

/**
 * Moves the pricks of an edge, and takes the ends of its neighbours along: each neighbour comes to the corner's new
 * place and is turned there as the edge was turned, so the corner keeps its angle.
 * @param whole role of a neighbour that comes along over its whole length, darts with it; others over their last run
 */
export const moveEdge = (tracing: Tracing, edgeId: string, by: readonly Point[], whole?: EdgeRole): Tracing => {
  const run = edgeRun(tracing, edgeId);
  const before = pointsOf(tracing, run);
  const next = displaced(tracing.seam, run, by);
  if (next === tracing.seam) return tracing;
  const after = run.map((i) => (next[i] as Prick).at);
  let result: Tracing = { ...tracing, seam: next };
  const ends: End[] = [
    {
      edge: edgeId,
      side: 'before',
      corner: run[0] as number,
      by: by[0] as Point,
      turned: turnedAtStart(before, after),
    },
    {
      edge: edgeId,
      side: 'after',
      corner: run.at(-1) as number,
      by: by.at(-1) as Point,
      turned: turnOfArrival(before, after),
    },
  ];
  for (const end of ends) {
    const beside = edgeBeside(tracing, edgeId, end.side);
    // A fold or centre line is never bent: the edge that meets it keeps its own angle to it. Nor is a panel seam: the
    // edges of both panels turn alike there.
    const held = staysStraight(edgeOf(tracing, edgeId).role, beside.role) ? { ...end, turned: 0 } : end;
    result = beside.role === whole ? followWhole(tracing, result, end, beside.id) : follow(tracing, result, held);
  }
  return result;
};

const turnedAtStart = (before: readonly Point[], after: readonly Point[]): number =>
  turnOfArrival([before[1] as Point, before[0] as Point], [after[1] as Point, after[0] as Point]);

/** One end of an edge that was moved. */
interface End {
  /** The edge that was moved. */
  readonly edge: string;
  readonly side: 'before' | 'after';
  readonly corner: number;
  readonly by: Point;
  readonly turned: number;
}

/** The neighbour at one corner comes along. */
const follow = (before: Tracing, now: Tracing, end: End): Tracing => {
  const beside = toMiddle(
    before,
    edgeBeside(before, end.edge, end.side).id,
    neighbourRun(before, end.corner, end.side),
  );
  const run = staysStraight(edgeOf(before, end.edge).role, edgeBesideCorner(before, end))
    ? lastOf(before, beside, CLOSE * size(end.by))
    : beside;
  const old = pointsOf(before, run);
  const carried = bring(old, STILL, { by: end.by, turned: 0 });
  const placed = plus(old, carried);
  const shift = run.map((i, k) => subtract(placed[k] as Point, at(now, i)));
  const seam = displaced(now.seam, run, shift);
  const moved: Tracing = { ...now, seam };
  const turns = turnEnd(placed, end.turned, CORNER);
  return { ...moved, seam: displaced(seam, run, turns) };
};

/** What is not bent where an edge that meets it is moved: the centre, which of trousers at the waist is the crotch seam. */
const staysStraight = (moved: EdgeRole, beside: EdgeRole): boolean =>
  isCentre(beside) || beside === 'panel seam' || (moved === 'waist' && beside === 'crotch');

/** A fold, a centre line or a panel seam is only drawn out (or cut short) near the corner, over so many times what the corner moves. */
const CLOSE = 6;
/** At least so much of it, mm. */
const LEAST_CLOSE = 30;

/** The end of a run that lies within a length of its last prick: what ends on the rest of it stays where it is. */
const lastOf = (tracing: Tracing, run: Run, length: number): Run => {
  const way = along(pointsOf(tracing, run));
  const from = (way.at(-1) as number) - Math.max(LEAST_CLOSE, length);
  const first = way.findIndex((d) => d >= from);
  return run.slice(Math.max(0, Math.min(first, run.length - 2)));
};

const edgeBesideCorner = (tracing: Tracing, end: End): EdgeRole => edgeBeside(tracing, end.edge, end.side).role;

/** The whole neighbour comes along, less and less towards its other end; where that is moved alike, towards its middle. */
const followWhole = (before: Tracing, now: Tracing, end: End, edgeId: string): Tracing => {
  const run = edgeRun(before, edgeId);
  const place = end.side === 'after' ? 'start' : 'end';
  const halves = [edgeBeside(before, edgeId, 'before'), edgeBeside(before, edgeId, 'after')].every((e) =>
    isSeamDown(e.role),
  );
  const shares = profile(before, edgeId, run, place, halves ? 0.5 : 1);
  const own = place === 'start' ? run.slice(1) : run.slice(0, -1);
  const shift = own.map((i) => scale(end.by, shares[run.indexOf(i)] as number));
  const moved: Tracing = { ...now, seam: displaced(now.seam, own, shift) };
  const last = neighbourRun(before, end.corner, end.side);
  const left = end.turned - turnOfArrival(pointsOf(before, last), pointsOf(moved, last));
  return { ...moved, seam: displaced(moved.seam, last, turnEnd(pointsOf(moved, last), left, CORNER)) };
};

/**
 * A seam edge goes out across the upright by amounts given at heights; between them the amount follows a monotone
 * cubic (Fritsch and Carlson 1980), beyond them it goes on unchanged. The old line keeps its character.
 */
export const moveSeamOut = (tracing: Tracing, edgeId: string, outs: readonly Out[]): Tracing => {
  const sorted = [...outs].sort((a, b) => a.height - b.height);
  const shift = monotoneCubic(
    sorted.map((o) => ({ at: o.height, value: o.by })),
    { startSlope: 0 },
  );
  return moveSeamBy(tracing, edgeId, (height) => shift.value(height));
};

/**
 * A seam edge goes out across the upright by what is given for each height, mm; heights above a dart in it as they are
 * with the dart closed ({@link closedHeight}), so that both its mouths go alike and its legs stay equal. Its tip stays.
 */
export const moveSeamBy = (tracing: Tracing, edgeId: string, out: (height: number) => number): Tracing => {
  const sign = outwards(tracing, edgeId);
  const darts = inDarts(tracing, edgeId);
  const closed = closedHeight(tracing, edgeId);
  return moveEdge(
    tracing,
    edgeId,
    edgeRun(tracing, edgeId).map((i) => {
      const by = sign * out(closed(at(tracing, i).y));
      return { x: by * (1 - (darts.get(i)?.towardsTip ?? 0)), y: 0 };
    }),
  );
};

/** Heights on a seam with its darts closed: what lies above one comes down by as much as it opens, mm. */
export const closedHeight = (tracing: Tracing, edgeId: string): ((height: number) => number) => {
  const mouths = tracing.piece.darts
    .filter((d) => d.edge === edgeId)
    .map((d) => ([0, 1] as const).map((which) => at(tracing, mouthIndex(tracing, d.id, which)).y) as [number, number])
    .map(([a, b]) => ({ low: Math.min(a, b), high: Math.max(a, b) }));
  return (height) => height - mouths.reduce((sum, m) => sum + Math.max(0, Math.min(height, m.high) - m.low), 0);
};

/**
 * A cross edge (waist, hem) is raised at one end and by nothing at the other; it keeps its direction at both. Mouths
 * of darts in it go along, both mouths of a dart alike, their tips stay.
 * @param place which end is raised, in seam direction, or the middle of an edge that goes from side to side
 * @param shift displacement of that place; the rest follows a smooth step along the sewn edge
 */
export const raiseEdge = (
  tracing: Tracing,
  edgeId: string,
  place: 'start' | 'end' | 'middle',
  shift: Point,
): Tracing => {
  const run = edgeRun(tracing, edgeId);
  const shares = profile(tracing, edgeId, run, place, 1);
  const by = shares.map((share) => scale(shift, share));
  return moveEdge(tracing, edgeId, withTrueEnds(tracing, edgeId, run, by));
};

/**
 * A cross edge is raised (lowered) by what is given for each place along it, as it is sewn: 0 at its start in seam
 * direction, 1 at its end. Both mouths of a dart go alike, its tip stays.
 * @param flat which ends of the edge keep their direction
 */
export const raiseEdgeBy = (
  tracing: Tracing,
  edgeId: string,
  raised: (place: number) => number,
  flat: { readonly start: boolean; readonly end: boolean },
): Tracing => {
  const run = edgeRun(tracing, edgeId);
  const darts = inDarts(tracing, edgeId);
  const places = sewnPlaces(tracing, run, darts);
  const by = run.map((index, k) => ({
    x: 0,
    y: raised(places[k] as number) * (1 - (darts.get(index)?.towardsTip ?? 0)),
  }));
  return moveEdge(tracing, edgeId, withTrueEnds(tracing, edgeId, run, by, flat));
};

/** The displacements of an edge, mended on its outermost runs so that it meets its neighbours at the angles it had. */
const withTrueEnds = (
  tracing: Tracing,
  edgeId: string,
  run: Run,
  by: readonly Point[],
  flat: { readonly start: boolean; readonly end: boolean } = { start: true, end: true },
): Point[] => {
  const runs = sewnRuns(tracing, edgeId);
  const next = [...by];
  const mend = (outer: Run, turned: { start?: number; end?: number }): void => {
    const places = outer.map((i) => run.indexOf(i));
    const own = places.map((k) => next[k] as Point);
    const held = holdingEnds(pointsOf(tracing, outer), own, turned);
    places.forEach((place, k) => {
      next[place] = held[k] as Point;
    });
  };
  if (runs[0] && flat.start) mend(runs[0], { start: 0 });
  const last = runs.at(-1);
  if (last && flat.end) mend(last, { end: 0 });
  return next;
};

/** How much of a move each prick of an edge takes: a smooth step along the sewn edge, nothing at the tips of darts. */
const profile = (
  tracing: Tracing,
  edgeId: string,
  run: Run,
  place: 'start' | 'end' | 'middle',
  over: number,
): number[] => {
  const darts = inDarts(tracing, edgeId);
  const places = sewnPlaces(tracing, run, darts);
  return run.map((index, k) => {
    const u = Math.max(0, 1 - (1 - nearness(places[k] as number, place)) / over);
    return step(u) * (1 - (darts.get(index)?.towardsTip ?? 0));
  });
};

/** 1 at the place that is raised, 0 where nothing is. */
const nearness = (u: number, place: 'start' | 'end' | 'middle'): number =>
  place === 'end' ? u : place === 'start' ? 1 - u : 1 - Math.abs(2 * u - 1);

/** For each prick of the run its place from 0 to 1 along the sewn line: both mouths of a dart stand at one place. */
const sewnPlaces = (tracing: Tracing, run: Run, darts: ReturnType<typeof inDarts>): number[] => {
  let sum = 0;
  const places = run.map((index, k) => {
    const previous = run[k - 1];
    const inside = previous !== undefined && darts.has(index) && darts.get(index)?.dart === darts.get(previous)?.dart;
    if (previous !== undefined && !inside) sum += lengthOfPoints([at(tracing, previous), at(tracing, index)]);
    return sum;
  });
  return places.map((s) => s / sum);
};
