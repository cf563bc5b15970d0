import type { Pattern } from '../pattern/pattern.ts';
import type { Cloth, LevelName } from '../pattern/piece.ts';
import { type Round, rounds, type Tier, timesRound } from '../pattern/round.ts';
import { widthAt } from '../pattern/taking/across.ts';

/** How far round the garment is at a level, on one layer of cloth. */
export interface LevelGirth {
  readonly level: LevelName;
  readonly tier: Tier;
  readonly cloth: Cloth;
  /** mm */
  readonly girth: number;
  /** The pieces it was added up from: width of one paper and how often it occurs. */
  readonly counted: readonly { readonly piece: string; readonly width: number; readonly times: number }[];
}

/**
 * Girths at each level the pieces have: the waist along the seam line with darts closed, the hem along the hem line,
 * every other level straight across between the seam lines.
 */
export const measureGirths = (pattern: Pattern): readonly LevelGirth[] =>
  rounds(pattern).flatMap((round) => {
    const { pieces } = round;
    const levels = [...new Set<LevelName>(['waist', ...pieces.flatMap((p) => p.levels.map((l) => l.name)), 'hem'])];
    return levels.flatMap((level) => girthAt(level, round));
  });

const girthAt = (level: LevelName, { tier, cloth, pieces }: Round): LevelGirth[] => {
  const widths = pieces.map((piece) => ({ piece: piece.id, width: widthAt(piece, level), times: timesRound(piece) }));
  const known = widths.flatMap((w) => (w.width === undefined ? [] : [{ ...w, width: w.width }]));
  // A girth with a piece missing from it would be a wrong number.
  if (known.length === 0 || known.length < widths.length) return [];
  return [{ level, tier, cloth, girth: known.reduce((sum, w) => sum + w.width * w.times, 0), counted: known }];
};
