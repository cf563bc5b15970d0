import { lengthenAt } from './lengthen.ts';
import { evenSeams } from './sleeve-even.ts';
import { type SleeveHeights, sleeveHeights } from './sleeve-lines.ts';
import { wristKept } from './sleeve-widths.ts';
import type { Tracing } from './tracing.ts';

/* Length of a sleeve, above and below the elbow by itself. */

/** Part of a sleeve that is lengthened by itself: between two fixed levels. */
export type SleevePart = 'above the elbow' | 'below the elbow';

interface Stretch {
  readonly top: number;
  readonly bottom: number;
}

const stretchOf = ({ biceps, elbow, wrist }: SleeveHeights, part: SleevePart): Stretch | undefined => {
  if (part === 'above the elbow') return { top: biceps, bottom: elbow ?? wrist };
  return elbow === undefined ? undefined : { top: elbow, bottom: wrist };
};

/** Heights of the printed adjustment lines where the verbs have brought them. */
const printedLines = (tracing: Tracing): number[] =>
  tracing.piece.adjustmentLines.map(({ lines, height }) => {
    const pricks = lines.flatMap((id) => tracing.lines.get(id) ?? []);
    return height + pricks.reduce((sum, p) => sum + p.at.y - p.was.y, 0) / Math.max(1, pricks.length);
  });

/** Whether an adjustment line is printed on a part of a sleeve. */
export const hasLine = (tracing: Tracing, part: SleevePart): boolean => printedLine(tracing, part) !== undefined;

const printedLine = (tracing: Tracing, part: SleevePart): number | undefined => {
  const stretch = stretchOf(sleeveHeights(tracing), part);
  if (!stretch) return undefined;
  const middle = (stretch.top + stretch.bottom) / 2;
  return printedLines(tracing)
    .filter((y) => y < stretch.top && y > stretch.bottom)
    .sort((a, b) => Math.abs(a - middle) - Math.abs(b - middle))[0];
};

/** Height at which a part of a sleeve is lengthened: of its adjustment line, else midway between its two levels. */
export const lineOf = (tracing: Tracing, part: SleevePart): number | undefined => {
  const stretch = stretchOf(sleeveHeights(tracing), part);
  return stretch && (printedLine(tracing, part) ?? (stretch.top + stretch.bottom) / 2);
};

/**
 * Parts the sleeve at the adjustment line of a part of it and spreads it (folds a tuck), square to the grain; all below
 * moves, the widths at the levels above and below are kept.
 */
export const lengthenSleeve = (tracing: Tracing, part: SleevePart, by: number): Tracing => {
  const stretch = stretchOf(sleeveHeights(tracing), part);
  const line = lineOf(tracing, part);
  if (by === 0 || !stretch || line === undefined) return tracing;
  return wristKept(tracing, evenSeams(tracing, lengthenAt(tracing, line, by, stretch)));
};
