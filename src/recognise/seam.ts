import type { Finding } from '../finding.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Beside } from './allowances.ts';
import type { Context } from './context.ts';
import type { DartFound } from './darts.ts';
import { seamInside } from './derived.ts';
import type { EdgePlan } from './edges.ts';
import { idsFor } from './edges.ts';
import type { NotchFound } from './notches.ts';
import type { ReadPiece } from './piece-reading.ts';
import { markings } from './read-piece.ts';
import type { Shape } from './shape.ts';

/** The seam line as it will be worked on, with what stands on it. */
export interface Seam {
  readonly shape: Shape;
  readonly from: Piece['seamLineFrom'];
  readonly cutting?: Shape['trace'];
  readonly beside?: readonly (Beside | undefined)[];
  readonly darts: readonly DartFound[];
  readonly notches: readonly NotchFound[];
}

/** The seam line: as drawn, or inside the cutting line by the stated allowances, or the only outline there is. */
export const seamOf = (read: ReadPiece, plans: readonly EdgePlan[], context: Context): Seam => {
  const { outlines, shape, darts, notches } = read;
  const base = { shape, darts, notches };
  if (outlines.is === 'seam line') {
    const beside = read.beside;
    return {
      ...base,
      from: 'drawn',
      ...(outlines.cutting ? { cutting: outlines.cutting } : {}),
      ...(beside ? { beside } : {}),
    };
  }
  const allowances = statedAllowances(read, plans, context);
  if (!allowances) {
    tellNoSeamLine(read, context);
    return { ...base, from: 'only outline' };
  }
  const derived = seamInside(shape, allowances);
  if (!derived) {
    context.tell(seamFailed(read, context));
    return { ...base, from: 'only outline' };
  }
  const drills = read.drills.map((d) => d.at);
  const onSeam = markings(
    derived.shape,
    { cutting: shape.trace },
    read.others,
    read.drawn,
    drills,
    read.labels,
    read.grain,
    context,
  );
  return {
    shape: derived.shape,
    from: 'derived',
    cutting: shape.trace,
    beside: derived.beside,
    darts: onSeam.darts,
    notches: onSeam.notches,
  };
};

/** Allowance of each stretch, by the sheet or the texts; undefined when neither states any. None on a fold. */
const statedAllowances = (read: ReadPiece, plans: readonly EdgePlan[], context: Context): number[] | undefined => {
  const own = read.sheet?.allowances ?? {};
  const general = read.sheet?.allowance ?? context.sheet?.allowance ?? read.allowance?.seam;
  if (general === undefined && Object.keys(own).length === 0) return undefined;
  const ids = idsFor(plans);
  return read.shape.stretches.map((_, i) => {
    const plan = plans.find((p) => p.stretches.includes(i));
    const role = plan?.role ?? 'unknown';
    const id = (plan && ids.get(plan)) ?? role;
    const stated = own[id] ?? own[role];
    if (stated !== undefined) return stated;
    if (role === 'fold') return 0;
    return role === 'hem' ? (read.allowance?.hem ?? general ?? 0) : (general ?? 0);
  });
};

const tellNoSeamLine = (read: ReadPiece, context: Context): void => {
  context.tell({
    code: 'recognise-no-seam-line',
    level: 'warning',
    where: { file: context.drawing.fileName, piece: read.id },
    message:
      read.outlines.is === 'cutting line'
        ? `${read.id} has a cutting line alone, and no allowance is stated: the alterations work on that line.`
        : `${read.id} has one outline, and nothing says whether it is the cutting line or the seam line: it is taken for the seam line.`,
    try: 'In the pattern sheet write “outline is: seam line”, or “outline is: cutting line” and “allowance: 15 mm” (the width it has).',
  });
};

const seamFailed = (read: ReadPiece, context: Context): Finding => ({
  code: 'recognise-seam-line-failed',
  level: 'error',
  where: { file: context.drawing.fileName, piece: read.id },
  message: `Inside the cutting line of ${read.id} no seam line fits at the stated allowances.`,
  try: 'Correct the allowances of this piece in the pattern sheet, or draw its seam line.',
});
