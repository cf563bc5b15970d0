import type { Point } from '../geometry/point.ts';
import { edgeWithRole } from '../pattern/edges.ts';
import type { EdgeRole } from '../pattern/piece.ts';
import { edgeBeside, edgeRun, pointsOf, type Run } from './runs.ts';
import { adjustmentLinesNow } from './skirt-lengths.ts';
import type { Tracing } from './tracing.ts';

/* Where things lie on a trouser piece: its seams, its levels, its adjustment lines. */

export interface LegHeights {
  readonly hip: number;
  readonly crotch: number;
  readonly knee: number;
  readonly hem: number;
}

/** The knee lies this far above the middle between crotch and hem where no line marks it, mm (the rule of the drafted trousers). */
const KNEE_ABOVE_MIDDLE = 50;

/** A prick this near a level stands on it, mm. */
export const NEAR = 0.02;

/** The one edge of a role that a trouser piece has; undefined where it has none. */
export const seamCalled = (tracing: Tracing, role: EdgeRole): string | undefined =>
  edgeWithRole(tracing.piece, role)[0]?.id;

/** Which end of the crotch seam is the crotch point, in seam direction; undefined where no inseam begins there. */
export const crotchPointEnd = (tracing: Tracing): 'start' | 'end' | undefined => {
  const crotch = seamCalled(tracing, 'crotch');
  if (crotch === undefined) return undefined;
  if (edgeBeside(tracing, crotch, 'after').role === 'inseam') return 'end';
  return edgeBeside(tracing, crotch, 'before').role === 'inseam' ? 'start' : undefined;
};

/** Heights of the levels of a leg; undefined for a piece without crotch seam and inseam. */
export const legHeights = (tracing: Tracing): LegHeights | undefined => {
  const inseam = seamCalled(tracing, 'inseam');
  if (inseam === undefined || crotchPointEnd(tracing) === undefined) return undefined;
  const heights = pointsOf(tracing, edgeRun(tracing, inseam)).map((p) => p.y);
  const hem = Math.min(...heights);
  const crotch = tracing.levels.get('crotch') ?? Math.max(...heights);
  const knee = tracing.levels.get('knee') ?? (crotch + hem) / 2 + KNEE_ABOVE_MIDDLE;
  return { hip: tracing.levels.get('hip') ?? crotch, crotch, knee, hem };
};

/** Part of trousers that is lengthened by itself: between two fixed levels. */
export type LegPart = 'between hip and crotch' | 'above the knee' | 'below the knee';

export interface Stretch {
  readonly top: number;
  readonly bottom: number;
}

export const stretchOf = (tracing: Tracing, part: LegPart): Stretch | undefined => {
  const at = legHeights(tracing);
  if (!at) return undefined;
  if (part === 'between hip and crotch') return { top: at.hip, bottom: at.crotch };
  return part === 'above the knee' ? { top: at.crotch, bottom: at.knee } : { top: at.knee, bottom: at.hem };
};

/** Height of the adjustment line that is printed on a part of the leg; of several the one nearest its middle. */
export const printedLine = (tracing: Tracing, part: LegPart): number | undefined => {
  const stretch = stretchOf(tracing, part);
  if (!stretch) return undefined;
  const middle = (stretch.top + stretch.bottom) / 2;
  return adjustmentLinesNow(tracing)
    .filter((y) => y < stretch.top && y > stretch.bottom)
    .sort((a, b) => Math.abs(a - middle) - Math.abs(b - middle))[0];
};

/** Height at which a part of the leg is lengthened: of its adjustment line, else midway between its two levels. */
export const lineOf = (tracing: Tracing, part: LegPart): number | undefined => {
  const stretch = stretchOf(tracing, part);
  return stretch && (printedLine(tracing, part) ?? (stretch.top + stretch.bottom) / 2);
};

/** The stretch of an edge at one of its ends, as far as a height; the end last. */
export const endBelow = (
  tracing: Tracing,
  edgeId: string,
  end: 'start' | 'end',
  within: (y: number) => boolean,
): Run => {
  const whole = edgeRun(tracing, edgeId);
  const run = end === 'end' ? whole : [...whole].reverse();
  const points = pointsOf(tracing, run);
  const out = points.findLastIndex((p) => !within(p.y));
  return run.slice(Math.min(out + 1, run.length - 2));
};

/** x of a seam at a height; past its ends that of the nearest. */
export const seamAt = (tracing: Tracing, edgeId: string, height: number): number => {
  const row: readonly Point[] = pointsOf(tracing, edgeRun(tracing, edgeId));
  const k = row.findIndex((p, i) => i > 0 && ((row[i - 1] as Point).y - height) * (p.y - height) <= 0);
  if (k < 0) return row.reduce((best, p) => (Math.abs(p.y - height) < Math.abs(best.y - height) ? p : best)).x;
  const [a, b] = [row[k - 1] as Point, row[k] as Point];
  return a.y === b.y ? a.x : a.x + ((b.x - a.x) * (height - a.y)) / (b.y - a.y);
};

/** From inseam to side at a height, mm. */
export const legWidth = (tracing: Tracing, height: number): number => {
  const [inseam, side] = [seamCalled(tracing, 'inseam'), seamCalled(tracing, 'side')];
  if (inseam === undefined || side === undefined) return 0;
  return Math.abs(seamAt(tracing, side, height) - seamAt(tracing, inseam, height));
};
