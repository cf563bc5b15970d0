import { Bug } from '../finding.ts';
import { edgeWithRole, isCentre } from '../pattern/edges.ts';
import { notchesAlong } from './notch-places.ts';
import { along, at, edgeBeside, edgeRun, pointsOf, type Run, sewnLength } from './runs.ts';
import type { Tracing } from './tracing.ts';

/* Finding one's way on a sleeve: its cap and the halves of it, its seams, its levels, which half is the front. */

/** Half of a cap: from the point about which it is altered to the corner with a sleeve seam. */
export interface CapHalf {
  /** Which end of the cap, in seam direction. */
  readonly end: 'start' | 'end';
  /** The sleeve seam that meets it there. */
  readonly seam: string;
  /** From the pivot to the corner. */
  readonly run: Run;
  /** +1 when the corner lies to the right of the pivot, −1 to the left. */
  readonly sign: 1 | -1;
}

export const capEdge = (tracing: Pick<Tracing, 'piece'>): string | undefined =>
  edgeWithRole(tracing.piece, 'cap')[0]?.id;

const capOf = (tracing: Tracing): string => {
  const cap = capEdge(tracing);
  if (cap === undefined) throw new Bug(`${tracing.piece.id} has no cap`);
  return cap;
};

/**
 * The point of a cap about which its halves are altered: its top; on an under sleeve, whose cap is hollow, its lowest
 * point. As a place in the cap's run.
 */
const pivotOf = (tracing: Tracing, run: Run): number => {
  const hollow = tracing.piece.part === 'under sleeve';
  const heights = pointsOf(tracing, run).map((p) => (hollow ? -p.y : p.y));
  return heights.reduce((best, h, k) => (h > (heights[best] as number) ? k : best), 0);
};

/** The halves of a cap, the one at its start first; a sleeve on the fold has one. */
export const capHalves = (tracing: Tracing): readonly CapHalf[] => {
  const cap = capOf(tracing);
  const run = edgeRun(tracing, cap);
  const pivot = pivotOf(tracing, run);
  const middle = at(tracing, run[pivot] as number);
  return (['start', 'end'] as const).flatMap((end) => {
    const beside = edgeBeside(tracing, cap, end === 'start' ? 'before' : 'after');
    if (isCentre(beside.role)) return [];
    const half = end === 'start' ? [...run.slice(0, pivot + 1)].reverse() : run.slice(pivot);
    if (half.length < 2) return [];
    const sign = at(tracing, half.at(-1) as number).x >= middle.x ? 1 : -1;
    return [{ end, seam: beside.id, run: half, sign } as const];
  });
};

/** Length of a half of a cap, mm. */
export const halfLength = (tracing: Tracing, half: CapHalf): number =>
  along(pointsOf(tracing, half.run)).at(-1) as number;

/** A seam of the sleeve from its lower end upwards. */
export const upSeam = (tracing: Tracing, seam: string): Run => {
  const run = edgeRun(tracing, seam);
  const [first, last] = [run[0], run.at(-1)] as [number, number];
  return at(tracing, first).y <= at(tracing, last).y ? run : [...run].reverse();
};

export interface SleeveHeights {
  readonly biceps: number;
  readonly elbow: number | undefined;
  readonly wrist: number;
}

/** Heights of the levels of a sleeve: where none is marked, of its underarm and its lower edge. */
export const sleeveHeights = (tracing: Tracing): SleeveHeights => {
  const corners = (capEdge(tracing) === undefined ? [] : capHalves(tracing)).map(
    (h) => at(tracing, h.run.at(-1) as number).y,
  );
  const lower = edgeWithRole(tracing.piece, 'wrist').flatMap((e) => pointsOf(tracing, edgeRun(tracing, e.id)));
  const all = tracing.seam.map((p) => p.at.y);
  return {
    biceps: tracing.levels.get('biceps') ?? (corners.length > 0 ? Math.min(...corners) : Math.max(...all)),
    elbow: tracing.levels.get('elbow'),
    wrist: tracing.levels.get('wrist') ?? Math.min(...(lower.length > 0 ? lower.map((p) => p.y) : all)),
  };
};

/** A notch nearer to the top of the cap than this part of a half is the shoulder's. */
const SHOULDER = 0.25;

/** Whether a notch so far from the corner of a half of that length answers the shoulder seam. */
export const isShoulderNotch = (fromCorner: number, half: number): boolean =>
  Math.abs(fromCorner - half) <= half * SHOULDER;

/** How far from the corner each notch of a half stands, mm, nearest first; the shoulder notch left out. */
export const notchesOnHalf = (tracing: Tracing, half: CapHalf): readonly { count: number; fromCorner: number }[] => {
  const cap = capOf(tracing);
  const length = sewnLength(tracing, cap);
  const own = halfLength(tracing, half);
  return notchesAlong(tracing, cap)
    .map((n) => ({ count: n.notch.count, fromCorner: half.end === 'start' ? n.along : length - n.along }))
    .filter((n) => n.fromCorner < own && !isShoulderNotch(n.fromCorner, own))
    .sort((a, b) => a.fromCorner - b.fromCorner);
};

/** Lengths of seams that differ by less than this tell nothing, mm. */
const ALIKE = 1;

/**
 * The seam at the back of a sleeve: below the double notch of the cap; where notches do not tell, the seam with the
 * elbow dart; else the longer one, which is eased over the elbow.
 */
export const backSeam = (tracing: Tracing): string | undefined => {
  const halves = capHalves(tracing);
  const [a, b] = halves;
  if (!a || !b) return undefined;
  const counts = halves.map((h) => notchesOnHalf(tracing, h).reduce((sum, n) => sum + n.count, 0));
  const [one, other] = counts as [number, number];
  if (one !== other) return one > other ? a.seam : b.seam;
  const darted = halves.find((h) => tracing.piece.darts.some((d) => d.edge === h.seam));
  if (darted) return darted.seam;
  const longer = sewnLength(tracing, a.seam) - sewnLength(tracing, b.seam);
  return Math.abs(longer) <= ALIKE ? undefined : longer > 0 ? a.seam : b.seam;
};
