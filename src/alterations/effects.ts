import { type Garment, measuredAll } from '../paper/garment.ts';
import type { OnPaper } from './alter.ts';
import type { Change, Chosen, Effects } from './asked.ts';
import type { Plan, PlannedStep, Target } from './contract.ts';
import { isShell, measuresOf, offTarget } from './targets.ts';

/* What every step of a plan gave to a measurement: taken again on the paper between the steps. */

/** What follows when all steps are done. */
const FOLLOWING = 'the sleeve that follows the armhole';

/** Changes whose amount is another than what is needed, with what the alterations gave each. */
export const withEffects = (
  changes: readonly Change[],
  chosen: Chosen,
  plan: Plan,
  onPaper: OnPaper,
): readonly Change[] =>
  changes.map((change) => {
    const target = plan.targets?.find((t) => t.measurement === change.measurement);
    if (!target?.decides) return change;
    const told = target.asides ? { ...change, asides: target.asides } : change;
    if (change.amount === change.needed) return told;
    const called = new Set(chosen.asked.filter((a) => a.change === change).map((a) => a.alteration));
    return { ...told, effects: effectsOn(target, called, plan.steps, onPaper) };
  });

const effectsOn = (
  target: Target,
  called: ReadonlySet<string>,
  steps: readonly PlannedStep[],
  { stages, garment }: OnPaper,
): Effects => {
  const { measurement } = target;
  const at = [...stages, garment].map((stage) => meanOff(target, takenOn(stage, measurement)));
  const aside = new Set(target.asides?.map((a) => a.by));
  const others = new Map<string, number>();
  let own = 0;
  at.slice(1).forEach((mm, i) => {
    const given = mm - (at[i] as number);
    const step = steps[i];
    const by = step?.alteration ?? FOLLOWING;
    if (step && step.origin.kind !== 'direct' && step.origin.measurement === measurement) own += given * ownPart(step);
    // What else is asked of the alteration comes on top of what the measurement needs, or is told with it.
    else if (!called.has(by) && !(step?.origin.kind === 'direct' && aside.has(by)))
      others.set(by, (others.get(by) ?? 0) + given);
  });
  return { own, others: [...others].map(([by, mm]) => ({ by, mm })) };
};

/** How much of a step is what the measurement needs: the rest was asked for besides. */
const ownPart = ({ amount, besides }: PlannedStep): number =>
  besides === undefined || amount === 0 ? 1 : (amount - besides) / amount;

const takenOn = (stage: Garment, measurement: string): Target['before'] => measuresOf(measuredAll(stage), measurement);

/** How far a measurement is off on the shell, mm: the mean of the places that show it, 0 where none does. */
export const meanOff = (target: Target, after: Target['before']): number => {
  const all = offTarget(target, after);
  const shell = all.filter((o) => isShell(o.of));
  const counted = shell.length > 0 ? shell : all;
  return counted.length === 0 ? 0 : counted.reduce((sum, o) => sum + o.off, 0) / counted.length;
};
