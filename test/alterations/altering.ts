import { alterPattern } from '../../src/alterations/alter.ts';
import type { Altered, Plan } from '../../src/alterations/contract.ts';
import { planFitting } from '../../src/alterations/plan.ts';
import { checkPattern } from '../../src/checks/index.ts';
import { edgeLength } from '../../src/pattern/edges.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { takeMeasurement } from '../../src/pattern/taking/index.ts';

/* One alteration asked for directly and done, and what came of it. */

export interface Done extends Altered {
  readonly plan: Plan;
}

export const alteredBy = (
  pattern: Pattern,
  direct: Readonly<Record<string, number>>,
  choices: Readonly<Record<string, Readonly<Record<string, string>>>> = {},
): Done => {
  const asked = Object.fromEntries(Object.entries(direct).map(([name, amount]) => [name, { amount, column: name }]));
  const plan = planFitting(
    pattern,
    { fitting: 'Marcellina', measurements: {}, direct: asked },
    { beyondLimits: true, choices, show: 'mm' },
  );
  return { plan, ...alterPattern(pattern, plan, { true: false, fullGrainline: false }) };
};

export const pieceIn = (pattern: Pattern, id: string): Piece => {
  const piece = pattern.pieces.find((p) => p.id === id);
  if (!piece) throw new Error(`no piece ${id}`);
  return piece;
};

/** How much longer each edge of each altered piece is, sewn, mm: 'front shoulder' → 12.7. */
export const edgeChanges = (before: Pattern, after: Pattern): Map<string, number> =>
  new Map(
    before.pieces.flatMap((piece) =>
      piece.edges.map((edge) => {
        const now = pieceIn(after, piece.id);
        const twin = now.edges.find((e) => e.id === edge.id);
        return [`${piece.id} ${edge.id}`, (twin ? edgeLength(now, twin) : Number.NaN) - edgeLength(piece, edge)];
      }),
    ),
  );

/** How much each place of the garment gained of a measurement, mm. */
export const measureChanges = (before: Pattern, after: Pattern, measurement: string): number[] => {
  const is = takeMeasurement(after, measurement).takings;
  return takeMeasurement(before, measurement).takings.map((t, i) => (is[i]?.mm ?? Number.NaN) - t.mm);
};

/** Codes of what is found wrong after an alteration. */
export const faultsOf = (before: Pattern, after: Pattern): string[] =>
  checkPattern(before, after).map((f) => `${f.code} ${f.where.piece ?? ''} ${f.where.edge ?? ''}`.trim());
