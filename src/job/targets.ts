import type { LengthShown, Plan } from '../alterations/contract.ts';
import type { Finding } from '../finding.ts';
import { formatChange } from '../measurements/units.ts';
import type { LevelName } from '../pattern/piece.ts';
import type { Measures } from './measures.ts';

/** Which girth an alteration is there to change. */
const CHANGES: Readonly<Record<string, LevelName>> = { waist: 'waist', hip: 'hip' };

/** What a girth may be off, mm, all round: less than the width of a drawn line. */
const WITHIN = 0.5;

/** Girths that did not come out, on the written file, as the plan says they must. */
export const missedGirths = (plan: Plan, before: Measures, after: Measures, show: LengthShown): Finding[] => {
  const needed = new Map<LevelName, number>();
  for (const step of plan.steps) {
    const level = CHANGES[step.alteration];
    if (level) needed.set(level, (needed.get(level) ?? 0) + step.amount);
  }
  return [...needed].flatMap(([level, amount]) =>
    after.girths
      .filter((g) => g.level === level)
      .flatMap((is): Finding[] => {
        const was = before.girths.find((g) => g.level === level && g.cloth === is.cloth);
        const change = is.girth - (was?.girth ?? is.girth);
        if (!was || Math.abs(change - amount) <= WITHIN) return [];
        return [missed(level, amount, change, show)];
      }),
  );
};

const missed = (level: LevelName, needed: number, change: number, show: LengthShown): Finding => ({
  code: 'job-girth-missed',
  level: 'error',
  where: { alteration: level },
  message: `The ${level} was to change by ${formatChange(needed, show)}, and came out ${formatChange(change, show)}.`,
  try: 'Ask for fewer alterations at once, and do the others by hand; please report the pattern and the fitting.',
});
