import type { Point } from '../geometry/point.ts';
import { scale, subtract } from '../geometry/point.ts';
import type { Edge, Level } from '../pattern/piece.ts';
import { arrival, at, edgeBeside, edgeRun, pointsOf, type Run, sewnRuns } from './runs.ts';
import { prickedAtLevels } from './slash.ts';
import type { Tracing } from './tracing.ts';

/* Finding one's way about an armhole and the shoulder above it. */

/** An edge with an end that is looked at first. */
interface Seam {
  readonly edge: string;
  /** Which end, in seam direction, that is. */
  readonly from: 'start' | 'end';
  /** What meets it there, and at its other end. */
  readonly before: Edge;
  readonly beyond: Edge;
  /** +1 when it lies towards +x of the body of the piece, −1 when towards −x. */
  readonly outward: 1 | -1;
}

/** From its top, at a shoulder or a panel seam, to its foot, at a side or panel seam. */
export interface Armhole extends Seam {}
/** From its root, at the neck or a panel seam, to its tip, at an armhole or a panel seam. */
export interface Shoulder extends Seam {}

const seamFrom = (tracing: Tracing, edge: string, from: 'start' | 'end', outward: 1 | -1): Seam => {
  const [before, after] = [edgeBeside(tracing, edge, 'before'), edgeBeside(tracing, edge, 'after')];
  return from === 'start'
    ? { edge, from, before, beyond: after, outward }
    : { edge, from, before: after, beyond: before, outward };
};

/** The armholes of a piece: one on a half piece or a panel, two on a whole one. */
export const armholesOf = (tracing: Tracing): Armhole[] =>
  tracing.piece.edges
    .filter((e) => e.role === 'armhole')
    .map((e) => {
      const points = pointsOf(tracing, edgeRun(tracing, e.id));
      const climbs = (points.at(-1) as Point).y >= (points[0] as Point).y;
      return seamFrom(tracing, e.id, climbs ? 'end' : 'start', climbs ? 1 : -1);
    });

/** The shoulders of a piece. */
export const shouldersOf = (tracing: Tracing): Shoulder[] =>
  tracing.piece.edges
    .filter((e) => e.role === 'shoulder')
    .map((e) => {
      const [a, b] = [edgeBeside(tracing, e.id, 'before').role, edgeBeside(tracing, e.id, 'after').role];
      const fromStart = a === 'neck' || b === 'armhole' || (b !== 'neck' && a !== 'armhole');
      // Anticlockwise a shoulder runs towards −x: from tip to root where the armhole lies towards +x.
      return seamFrom(tracing, e.id, fromStart ? 'start' : 'end', fromStart ? -1 : 1);
    });

/** The shoulder that an armhole begins at, if one does. */
export const shoulderOver = (tracing: Tracing, armhole: Armhole): Shoulder | undefined =>
  shouldersOf(tracing).find((s) => s.edge === armhole.before.id);

/** A shoulder with the armhole that it ends at. */
export interface ShoulderAndArmhole {
  readonly shoulder: Shoulder;
  readonly armhole: Armhole;
}

export const shoulderedArmholes = (tracing: Tracing): ShoulderAndArmhole[] =>
  armholesOf(tracing).flatMap((armhole) => {
    const shoulder = shoulderOver(tracing, armhole);
    return shoulder ? [{ shoulder, armhole }] : [];
  });

/** The whole edge from the end that is looked at first, darts with it. */
export const runAlong = (tracing: Tracing, seam: Seam): Run => {
  const run = edgeRun(tracing, seam.edge);
  return seam.from === 'start' ? run : [...run].reverse();
};

/** First and last sewn stretch of an edge, each in the direction from the end that is looked at first. */
export const firstStretch = (tracing: Tracing, seam: Seam): Run => stretch(tracing, seam, 'first');
export const lastStretch = (tracing: Tracing, seam: Seam): Run => stretch(tracing, seam, 'last');

const stretch = (tracing: Tracing, { edge, from }: Seam, which: 'first' | 'last'): Run => {
  const runs = sewnRuns(tracing, edge);
  const run = ((which === 'first') === (from === 'start') ? runs[0] : runs.at(-1)) ?? [];
  return from === 'start' ? run : [...run].reverse();
};

/** The stretch of the seam that meets this one at its first end, or at its last, running into it. */
export const stretchInto = (tracing: Tracing, seam: Seam, end: 'first' | 'last'): Run => {
  const beside = end === 'first' ? seam.before : seam.beyond;
  const runs = sewnRuns(tracing, beside.id);
  // Where this edge starts its neighbour ends.
  const endsHere = (end === 'first') === (seam.from === 'start');
  return (endsHere ? runs.at(-1) : [...(runs[0] ?? [])].reverse()) ?? [];
};

/** From the root of a shoulder to its tip. */
export const shoulderVector = (tracing: Tracing, shoulder: Shoulder): Point => {
  const run = runAlong(tracing, shoulder);
  return subtract(at(tracing, run.at(-1) as number), at(tracing, run[0] as number));
};

/** Where widths of back and chest are taken: the level marked, else the armhole notch, else halfway up the armhole. */
export const widthLevel = (tracing: Tracing, armhole: Armhole): number => {
  const marked = tracing.levels.get('chest') ?? tracing.levels.get('blade');
  if (marked !== undefined) return marked;
  const ends = pointsOf(tracing, runAlong(tracing, armhole));
  const notch = tracing.piece.notches.find((n) => n.edge === armhole.edge);
  const prick = notch && tracing.seam.findLast((p) => p.span === notch.at.span && p.t <= notch.at.t);
  return prick?.at.y ?? ((ends[0] as Point).y + (ends.at(-1) as Point).y) / 2;
};

/** A level that was only taken says so by its confidence. */
const isMarked = ({ line, confidence }: Level): boolean => line !== undefined || confidence > 0.5;

/** Whether a level or a notch marks where widths are taken; else it is halfway up. */
export const hasWidthLevel = (tracing: Tracing, armhole: Armhole): boolean =>
  tracing.piece.levels.some((l) => (l.name === 'chest' || l.name === 'blade') && isMarked(l)) ||
  tracing.piece.notches.some((n) => n.edge === armhole.edge);

/** With a prick on each armhole where widths are taken, so that what lies above and below are told apart there. */
export const prickedAcross = (tracing: Tracing): Tracing =>
  prickedAtLevels(
    tracing,
    armholesOf(tracing).map((a) => widthLevel(tracing, a)),
  );

/** The armhole above and below the level of widths, from the top down; nothing below when it ends above that level. */
export const partsOfArmhole = (tracing: Tracing, armhole: Armhole): { readonly upper: Run; readonly lower: Run } => {
  const run = runAlong(tracing, armhole);
  const level = widthLevel(tracing, armhole);
  const k = run.findIndex((i) => at(tracing, i).y <= level + 0.02);
  if (k <= 0 || k >= run.length - 2) return { upper: run, lower: [] };
  return { upper: run.slice(0, k + 1), lower: run.slice(k) };
};

/** Direction in which a run leaves its first prick. */
export const departure = (points: readonly Point[]): Point =>
  scale(arrival([points[1] as Point, points[0] as Point]), -1);
