import type { Finding } from '../finding.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { takeMeasurement } from '../pattern/taking/index.ts';
import type { Change, Chosen } from './asked.ts';
import type { LengthShown, Needs, Plan, PlanOptions, Target } from './contract.ts';
import { signed } from './shares.ts';

/** What every measurement that says something about the pattern has to come to on it. */
export const targetsOf = (
  pattern: Pattern,
  needs: Needs,
  changes: readonly Change[],
  chosen: Chosen,
): readonly Target[] =>
  changes.map((change): Target => {
    const { measurement, needed } = change;
    return {
      measurement,
      wearer: needs.measurements[measurement] ?? 0,
      needed: needed + directlyAsked(needs, change, chosen),
      decides: chosen.decided.includes(measurement),
      before: measuresOf(pattern, measurement),
    };
  });

/** What is asked for directly of the alteration that the measurement calls for is added to it. */
const directlyAsked = (needs: Needs, change: Change, chosen: Chosen): number => {
  const own = new Map(chosen.asked.filter((a) => a.change === change).map((a) => [a.alteration, a.part ?? 1]));
  return [...own].reduce((sum, [name, part]) => sum + (part === 0 ? 0 : (needs.direct[name]?.amount ?? 0) / part), 0);
};

export const measuresOf = (pattern: Pattern, measurement: string): Target['before'] =>
  takeMeasurement(pattern, measurement).takings.map(({ of, mm }) => ({ of, mm }));

/** How far each part of the garment that shows a measurement is off it, mm: positive when it came out too large. */
export const offTarget = (target: Target, after: Target['before']): readonly { of: string; off: number }[] =>
  target.before.flatMap((was) => {
    const is = after.find((a) => a.of === was.of);
    return is ? [{ of: was.of, off: is.mm - was.mm - neededAt(target, was.of) }] : [];
  });

/** Change needed at one place, mm: what was asked for there directly comes on top. */
const neededAt = ({ needed, asides = [] }: Target, of: string): number =>
  asides.filter((a) => a.of === of).reduce((sum, a) => sum + a.mm, needed);

/** Whether a place that shows a measurement is of the shell: 'skirt', and not 'skirt, lining'. */
export const isShell = (of: string): boolean => !of.includes(', ');

/** What a measure may be off in the end, mm. */
export const WITHIN = 1;

/** Measurements that are not met, and why. */
export const missedTargets = (
  targets: readonly Target[],
  { beyondLimits, show }: Pick<PlanOptions, 'beyondLimits' | 'show'>,
): Finding[] =>
  targets.flatMap((target) => {
    const off = offTarget(target, target.after ?? target.before);
    const missed = off.filter((o) => Math.abs(o.off) > WITHIN);
    const [worst] = missed.toSorted((a, b) => Math.abs(b.off) - Math.abs(a.off));
    if (!worst) return [];
    const alike = off.every((o) => Math.abs(o.off - worst.off) <= WITHIN);
    return [target.decides ? notMet(target, worst, alike, beyondLimits, show) : disagrees(target, worst, show)];
  });

/** Measurements that the plan provides for and the pieces cannot show: nothing says whether they come out. */
export const notMeasured = (pattern: Pattern, plan: Plan): Finding[] =>
  (plan.targets ?? [])
    .filter((t) => t.decides && t.before.length === 0)
    .flatMap(({ measurement }) =>
      takeMeasurement(pattern, measurement)
        .lacks.slice(0, 1)
        .map(
          (lack): Finding => ({
            code: 'plan-not-measured',
            level: 'warning',
            where: { cell: measurement, piece: lack.piece },
            message: `${lack.name} has ${lack.what}: the ${measurement} was changed and could not be measured again.`,
            try: lack.remedy,
          }),
        ),
    );

const cameOut = (target: Target, { of, off }: { of: string; off: number }, show: LengthShown): string =>
  `The ${target.measurement} was to change by ${signed(neededAt(target, of), show)}, and comes out ${signed(neededAt(target, of) + off, show)} (${of})`;

const notMet = (
  target: Target,
  worst: { of: string; off: number },
  alike: boolean,
  beyondLimits: boolean,
  show: LengthShown,
): Finding => ({
  code: 'plan-target-missed',
  level: beyondLimits ? 'warning' : 'error',
  where: { cell: target.measurement },
  message: `${cameOut(target, worst, show)}: ${whyNotMet(target, worst, alike)}.`,
  try: 'Ask for fewer alterations at once, or take what is left at a fitting; --beyond-limits writes it as it comes out.',
});

const whyNotMet = (target: Target, { of, off }: { of: string; off: number }, alike: boolean): string => {
  if (!alike) return 'the parts of the garment that show it do not change alike';
  return Math.abs(neededAt(target, of) + off) <= WITHIN
    ? 'nothing that is altered moves it'
    : 'the alterations asked for work against each other';
};

const disagrees = (target: Target, worst: { of: string; off: number }, show: LengthShown): Finding => ({
  code: 'plan-measurements-disagree',
  level: 'warning',
  where: { cell: target.measurement },
  message: `${cameOut(target, worst, show)}: the other measurements decide it.`,
  try: 'Measure again: they do not fit together. Or take out the one that matters least.',
});
