import type { LengthShown, Plan } from '../alterations/contract.ts';
import { measuresOf, missedTargets } from '../alterations/targets.ts';
import type { Finding } from '../finding.ts';
import { formatChange, formatLength } from '../measurements/units.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { LevelName } from '../pattern/piece.ts';
import type { Measures } from './measures.ts';

/** Which girth an alteration is there to change. */
const CHANGES: Readonly<Record<string, LevelName>> = { waist: 'waist', hip: 'hip' };

/** What a girth may be off, mm, all round: less than the width of a drawn line. */
const WITHIN = 0.5;

/** Girths that did not come out, on the written file, as the plan says they must. */
export const missedGirths = (plan: Plan, before: Measures, after: Measures, show: LengthShown): Finding[] => {
  const needed = new Map<LevelName, number>();
  const measured = new Set(plan.targets?.map((t) => t.measurement));
  for (const step of plan.steps) {
    const level = CHANGES[step.alteration];
    // What was measured on the wearer is a target of its own: other alterations may give part of it.
    if (level && !measured.has(`${level} girth`)) needed.set(level, (needed.get(level) ?? 0) + step.amount);
  }
  return [...needed].flatMap(([level, amount]) =>
    after.girths
      .filter((g) => g.level === level)
      .flatMap((is): Finding[] => {
        const was = before.girths.find((g) => g.level === level && g.tier === is.tier && g.cloth === is.cloth);
        const change = is.girth - (was?.girth ?? is.girth);
        if (!was || Math.abs(change - amount) <= WITHIN) return [];
        return [missed(level, amount, change, show)];
      }),
  );
};

/** The plan with its measurements taken on the written pieces. */
export const measuredOn = (plan: Plan, written: Pattern): Plan => ({
  ...plan,
  targets: plan.targets?.map((t) => ({ ...t, after: measuresOf(written, t.measurement) })) ?? [],
});

/** Measurements that are not met on the written file, where the plan does not tell it already. */
export const missedMeasures = (plan: Plan, beyondLimits: boolean, show: LengthShown): Finding[] => {
  const told = new Set(plan.findings.filter((f) => f.code === 'plan-target-missed').map((f) => f.where.cell));
  const targets = (plan.targets ?? []).filter((t) => t.decides && !told.has(t.measurement));
  return missedTargets(targets, { beyondLimits, show }).map((f) => ({
    ...f,
    code: 'job-measure-missed',
    message: `${f.message} So it was measured on the file that was written.`,
  }));
};

const missed = (level: LevelName, needed: number, change: number, show: LengthShown): Finding => ({
  code: 'job-girth-missed',
  level: 'error',
  where: { alteration: level },
  message: `The ${level} was to change by ${formatChange(needed, show)}, and came out ${formatChange(change, show)}.`,
  try: 'Ask for fewer alterations at once, and do the others by hand; please report the pattern and the fitting.',
});

/** A garment is not made smaller than the body by more than this part: below it pieces are missing. */
const LEAST = 0.9;
/** Nor, at the waist, larger by more than this: above it sizes lie together or halves are counted twice. */
const MOST = 1.6;

/** Girths that a garment cannot be far inside of. */
const ROUND = new Set(['bust girth', 'waist girth', 'hip girth', 'upper-arm girth', 'thigh girth']);

/**
 * Girths of the pattern that cannot belong to the body it was drafted for: the change would be shared over too few or
 * too many seams. A refusal, or a warning for one who says so (a gathered waist).
 */
export const strangeGirths = (plan: Plan, pattern: Pattern, beyondLimits: boolean, show: LengthShown): Finding[] =>
  (plan.targets ?? []).flatMap(({ measurement, before }) => {
    const body = pattern.draftedFor[measurement];
    if (body === undefined || !ROUND.has(measurement)) return [];
    return before.flatMap(({ mm }): Finding[] => {
      const part = mm / body;
      if (part >= LEAST && (measurement !== 'waist girth' || part <= MOST)) return [];
      return [strange(measurement, mm, body, beyondLimits, show)];
    });
  });

const strange = (
  measurement: string,
  girth: number,
  body: number,
  beyondLimits: boolean,
  show: LengthShown,
): Finding => ({
  code: 'job-girth-strange',
  level: beyondLimits ? 'warning' : 'error',
  where: { cell: measurement },
  message: `The pieces measure ${formatLength(girth, show)} at the ${measurement}, and the pattern is said to be drafted for ${formatLength(body, show)}.`,
  try:
    girth < body
      ? 'Is a piece missing, or cut more often than its cut count says? Give the counts in the pattern sheet.'
      : 'Do several sizes lie in the file, or are halves counted twice? Leave the others out in the pattern sheet; for a gathered waist ask with --beyond-limits.',
});
