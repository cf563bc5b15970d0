import type { Finding } from '../finding.ts';
import { type Pattern, pieceCalled } from '../pattern/pattern.ts';
import type { Taken } from '../pattern/taking/index.ts';

/**
 * Why a measurement cannot be held against what the pattern measures: its pieces are drawn with a cutting line alone, and
 * seam and hem allowances of unknown width would be taken for part of the garment. A change is the same on either line.
 */
export const onUnknownAllowance = (pattern: Pattern, measurement: string, { takings }: Taken): Finding | undefined => {
  const piece = takings
    .flatMap((t) => t.counted)
    .map((c) => pieceCalled(pattern, c.piece))
    .find((p) => p?.allowanceUnknown);
  if (!piece) return undefined;
  return {
    code: 'plan-allowance-unknown',
    level: 'error',
    where: { cell: measurement, piece: piece.id },
    message: `The ${measurement} cannot be told from the pattern: ${piece.name || piece.id} has a cutting line alone, and nothing says how much seam and hem allowance is in it.`,
    try: `State the widths for each piece in the pattern sheet, as “allowance: { hem: 40 mm, other: 15 mm }”; or say what the pattern was drafted for: --drafted '${measurement}=…'; or ask for the change itself in place of the measurement (“length at the hem”; retrue catalogue lists them all).`,
  };
};
