import { type Garment, measuredAll } from '../paper/garment.ts';
import type { Aside, PlannedStep, Target } from './contract.ts';
import { isShell, measuresOf, WITHIN } from './targets.ts';

/**
 * Targets with what the steps asked for directly change in single places, on purpose: a full abdomen raises the centre
 * front waist and leaves the back as it is, so a skirt gets longer there than its length says. `stages` are the garment
 * before each step and after the last.
 */
export const withAsides = (
  targets: readonly Target[],
  steps: readonly PlannedStep[],
  stages: readonly Garment[],
): readonly Target[] => {
  const direct = steps.flatMap((step, i) => (step.origin.kind === 'direct' ? [{ step, i }] : []));
  if (direct.length === 0 || !targets.some(isShownApart)) return targets;
  const changes = direct.map(({ step, i }) => ({
    by: step.alteration,
    was: measuredAll(stages[i] as Garment),
    is: measuredAll(stages[i + 1] as Garment),
  }));
  return targets.map((target) => {
    if (!isShownApart(target)) return target;
    const own = new Set(steps.filter((s) => isFor(s, target.measurement)).map((s) => s.alteration));
    const asides = changes
      .filter(({ by }) => !own.has(by))
      .flatMap(({ by, was, is }) =>
        unlike(by, measuresOf(was, target.measurement), measuresOf(is, target.measurement)),
      );
    return asides.length > 0 ? { ...target, asides } : target;
  });
};

/** A length that several pieces of the shell show, each for itself. Girths are taken round all of them. */
const isShownApart = ({ measurement, decides, before }: Target): boolean =>
  decides && before.filter((b) => isShell(b.of)).length > 1 && !measurement.endsWith('girth');

const isFor = ({ origin }: PlannedStep, measurement: string): boolean =>
  origin.kind !== 'direct' && origin.measurement === measurement;

/** What a step gave each place; nothing where it gave all of them the same, which is held against the measurement. */
const unlike = (by: string, was: Target['before'], is: Target['before']): Aside[] => {
  const given = was.flatMap(({ of, mm }): Aside[] => {
    const now = is.find((m) => m.of === of);
    return now ? [{ by, of, mm: now.mm - mm }] : [];
  });
  const all = given.filter((g) => isShell(g.of)).map((g) => g.mm);
  return Math.max(...all) - Math.min(...all) > WITHIN ? given : [];
};
