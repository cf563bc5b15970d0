import { isSeamDown } from '../pattern/edges.ts';
import { type Garment, tracingOf } from './garment.ts';
import { lengthenAt } from './lengthen.ts';
import { letDown } from './run-out.ts';
import { edgeBeside } from './runs.ts';
import { seamHeights } from './skirt-seams.ts';
import { marksBetween } from './slash.ts';
import { type Tracing, trace } from './tracing.ts';

/** A seam from waist to hem of the piece, by which its levels are told. */
const seamOf = (tracing: Tracing): string | undefined =>
  tracing.piece.edges.find((e) => isSeamDown(e.role) || e.role === 'centre')?.id;

const heightsOf = (tracing: Tracing) => {
  const seam = seamOf(tracing);
  return seam === undefined ? undefined : seamHeights(tracing, seam);
};

/**
 * Lengthens (shortens) between hip and hem over `lines` level lines: one at the adjustment line, several evenly over
 * the stretch between the hip and the hem, so that a big change does not throw the outer edge out of shape.
 * @param height of the adjustment line in the upright frame
 */
export const lengthenBelowHip = (tracing: Tracing, height: number, by: number, lines: number): Tracing => {
  const heights = heightsOf(tracing);
  if (!heights) return tracing;
  let now = tracing;
  for (let i = 0; i < lines; i++) {
    const { hip, hem } = heightsOf(now) ?? heights;
    const line = lines === 1 ? height : hip - ((hip - hem) * (i + 0.5)) / lines;
    now = lengthenAt(now, line, by / lines, { top: Math.max(hip, line), bottom: Math.min(hem, line) });
  }
  return now;
};

/** Room left under the lowest dart tip for a line that cuts no dart, mm. */
const ROOM = 15;

/**
 * Lengthens (shortens) between waist and hip on a line below the darts where there is room, else midway; the hip
 * level, its notches and marks go along.
 */
export const lengthenAboveHip = (tracing: Tracing, by: number): Tracing => {
  const heights = heightsOf(tracing);
  if (!heights) return tracing;
  const tips = [...tracing.tips.values()].map((t) => t.at.y).filter((y) => y > heights.hip);
  const lowest = tips.length > 0 ? Math.min(...tips) : heights.waist;
  const room = Math.max(ROOM, Math.max(0, -by) + 2);
  const line = lowest - heights.hip > room ? (lowest + heights.hip) / 2 : (heights.waist + heights.hip) / 2;
  return lengthenAt(tracing, line, by, { top: heights.waist, bottom: heights.hip });
};

/** Lets the hem down (takes it up) all round by `by`, parallel to the hem line; the sweep changes with the seams. */
export const letHemDown = (tracing: Tracing, by: number): Tracing =>
  hemsOf(tracing).reduce((t, hem) => withHemLevel(letDown(t, hem, { start: by, end: by }), by), tracing);

/** Lets the hem down at one end of it only. */
export const letHemDownAt = (tracing: Tracing, by: number, place: 'side' | 'centre'): Tracing =>
  hemsOf(tracing).reduce((t, hem) => {
    const ends = hemEnds(t, hem);
    const at = (end: 'start' | 'end'): number => ((ends[end] === 'side') === (place === 'side') ? by : 0);
    return letDown(t, hem, { start: at('start'), end: at('end') });
  }, tracing);

const hemsOf = (tracing: Tracing): string[] => tracing.piece.edges.filter((e) => e.role === 'hem').map((e) => e.id);

/** Which seam lies at each end of a hem. */
const hemEnds = (tracing: Tracing, hemId: string): { start: string; end: string } => {
  const seamAt = (side: 'before' | 'after'): string => {
    return isSeamDown(edgeBeside(tracing, hemId, side).role) ? 'side' : 'centre';
  };
  return { start: seamAt('before'), end: seamAt('after') };
};

const withHemLevel = (tracing: Tracing, by: number): Tracing => {
  const hem = tracing.levels.get('hem');
  return hem === undefined ? tracing : { ...tracing, levels: new Map([...tracing.levels, ['hem', hem - by]]) };
};

/**
 * Height of a piece's adjustment line between hip and hem. A piece without one takes the level of another piece's,
 * measured from the hip (every piece that crosses the level is altered alike); where no piece has one, midway.
 */
export const adjustmentHeight = (garment: Garment, pieceId: string): number => {
  const own = tracingOf(garment, pieceId);
  const line = lineBelowHip(own);
  if (line !== undefined) return line;
  const ours = heightsOf(own);
  for (const tracing of garment.tracings.values()) {
    const other = lineBelowHip(tracing);
    const theirs = heightsOf(tracing);
    if (other !== undefined && theirs && ours) return ours.hip + (other - theirs.hip);
  }
  return ours ? (ours.hip + ours.hem) / 2 : 0;
};

/** The line that lies below the hip; of a piece that ends at the waist, as skirts do, any. */
const lineBelowHip = (tracing: Tracing): number | undefined => {
  const lines = adjustmentLinesNow(tracing);
  const heights = heightsOf(tracing);
  const below = lines.filter((y) => heights && y < heights.hip && y > heights.hem);
  return below[0] ?? (tracing.piece.edges.some((e) => e.role === 'waist') ? lines[0] : undefined);
};

/** Whether a piece has an adjustment line at which it is lengthened between hip and hem. */
export const hasLengthLine = (piece: Tracing['piece']): boolean => lineBelowHip(trace(piece)) !== undefined;

/** Middles of the adjustment lines where the verbs have brought them, the highest first. */
export const adjustmentLinesNow = (tracing: Tracing): number[] =>
  tracing.piece.adjustmentLines
    .map((mark) => {
      const pricks = mark.lines.flatMap((id) => tracing.lines.get(id) ?? []);
      return mark.height + pricks.reduce((sum, p) => sum + p.at.y - p.was.y, 0) / Math.max(1, pricks.length);
    })
    .sort((a, b) => b - a);

/**
 * Marks and texts of a piece that a tuck of `by` (negative) at a height would hide. Points that mark the turns and curves
 * of an outline are none: they go where the outline goes.
 */
export const marksInTuck = (
  garment: Garment,
  piece: string,
  height: number,
  by: number,
): { piece: string; mark: string }[] => {
  if (by >= 0) return [];
  const lips = { upper: height - by / 2, lower: height + by / 2 };
  const tracing = tracingOf(garment, piece);
  const onOutline = new Set(
    tracing.piece.points.filter((p) => p.kind === 'turn' || p.kind === 'curve').map((p) => p.id),
  );
  return marksBetween(tracing, lips)
    .filter((mark) => !onOutline.has(mark))
    .map((mark) => ({ piece, mark }));
};
