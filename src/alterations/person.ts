import { type Finding, hasErrors } from '../finding.ts';
import { measuredAll, withHipLevels } from '../paper/garment.ts';
import { withMeasuredPlaces } from '../paper/measured-places.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { alterOnPaper, hipDepth, type OnPaper, tapePattern } from './alter.ts';
import { withAsides } from './asides.ts';
import type { Change } from './asked.ts';
import { changesAsked } from './changes.ts';
import type { Altered, AlterOptions, Needs, Plan, PlanOptions } from './contract.ts';
import { chooseAlterations } from './driving.ts';
import { meanOff, withEffects } from './effects.ts';
import { planChanges } from './plan.ts';
import { solveTogether, type Trial } from './solving.ts';
import { measuresOf, missedTargets, notMeasured } from './targets.ts';
import { wearingEase } from './wearing-ease.ts';

/** Measures that are off by less are met, mm; amounts are not solved for less. */
const MET = 0.05;

/** A plan, and the pattern altered by it. */
export interface Fitted {
  readonly plan: Plan;
  /** Absent when the plan is refused. */
  readonly altered?: Altered;
}

/**
 * From a person to a plan: which alterations the measurements call for, all together. Every amount is first what its own
 * measurement needs. Then the pieces are altered on paper and measured again; where one alteration has changed what
 * another is there for, the amounts are solved together until every measurement is met.
 */
export const fitToPerson = (drafted: Pattern, needs: Needs, options: PlanOptions, asked: AlterOptions): Fitted => {
  const alter = { ...asked, show: options.show };
  const pattern = withMeasuredPlaces(withHipLevels(drafted, hipDepth(drafted)));
  const { changes, findings } = changesAsked(pattern, needs);
  const planAt = (amounts: readonly number[]): Plan =>
    planChanges(pattern, needs, options, withAmounts(changes, amounts), findings);
  const noRoom: Finding[] = [];
  const attempt = (amounts: readonly number[]): Trial<Worked> | undefined => {
    const worked = workOut(pattern, planAt(amounts), alter);
    if ('onPaper' in worked) return { off: changes.map((c) => offIn(worked.plan, c)), made: worked };
    noRoom.push(...worked.errors);
    return undefined;
  };
  const needed = changes.map((c) => c.amount);
  const solved = solveTogether(needed, attempt, MET);
  if (!solved) return asFarAsItGoes(pattern, planAt(needed), alter);
  const { plan: tried, onPaper } = solved.trial.made;
  const settled = withAmounts(changes, solved.amounts);
  const explained = withEffects(settled, chooseAlterations(settled, pattern, options), tried, onPaper);
  const plan = { ...planChanges(pattern, needs, options, explained, findings), targets: tried.targets ?? [] };
  const told = judged(pattern, plan, needs, options, noRoom);
  if (hasErrors(told.findings)) return { plan: told };
  return { plan: told, altered: tapePattern(recordedFor(told, onPaper), alter) };
};

/** What was done is recorded of the steps as they are explained in the end; they are the same steps in the same order. */
const recordedFor = ({ steps }: Plan, onPaper: OnPaper): OnPaper => ({
  ...onPaper,
  steps: onPaper.steps.map((record, i) => ({ ...record, step: steps[i] ?? record.step })),
});

interface Worked {
  /** With its measurements taken on the paper. */
  readonly plan: Plan;
  readonly onPaper: OnPaper;
}

/** A plan done on paper; or why it cannot be. Past a limit it still can, to see what comes of it. */
const workOut = (
  pattern: Pattern,
  plan: Plan,
  alter: AlterOptions,
): Worked | { readonly errors: readonly Finding[] } => {
  const refused = plan.findings.filter((f) => f.level === 'error' && f.code !== 'plan-past-limit');
  if (refused.length > 0) return { errors: refused };
  const onPaper = alterOnPaper(pattern, plan, alter);
  const errors = onPaper.findings.filter((f) => f.level === 'error');
  if (errors.length > 0) return { errors };
  const measured = measuredAll(onPaper.garment);
  const targets = withAsides(plan.targets ?? [], plan.steps, onPaper.stages).map((t) => ({
    ...t,
    after: measuresOf(measured, t.measurement),
  }));
  return { plan: { ...plan, targets }, onPaper };
};

/** What nothing was asked for, and others hardly touch, is left alone. */
const withAmounts = (changes: readonly Change[], amounts: readonly number[]): readonly Change[] =>
  changes.map((c, i) => {
    const amount = amounts[i] as number;
    return { ...c, amount: Math.abs(c.needed) < MET && Math.abs(amount - c.needed) < MET ? c.needed : amount };
  });

/** How far a measurement is off on the shell, mm; nothing where it is not taken or others decide it. */
const offIn = ({ targets }: Plan, { measurement }: Change): number => {
  const target = targets?.find((t) => t.measurement === measurement);
  return target?.decides && target.after ? meanOff(target, target.after) : 0;
};

/**
 * The plan with what its measures come to said of it: what is missed, what would be too close to the body. Where the
 * paper had no room for the amounts that would have met them, that is the reason.
 */
const judged = (pattern: Pattern, plan: Plan, needs: Needs, options: PlanOptions, noRoom: readonly Finding[]): Plan => {
  const targets = plan.targets ?? [];
  const missed = missedTargets(targets, options);
  const inTheWay = missed.some((f) => f.code === 'plan-target-missed') ? noRoom.slice(-1) : [];
  const told = [
    ...notMeasured(pattern, plan),
    ...(inTheWay.length > 0 && !options.beyondLimits ? inTheWay : missed),
    ...wearingEase(pattern, targets, needs, options),
  ].map((f): Finding => ({ ...f, where: { fitting: needs.fitting, ...f.where } }));
  return { ...plan, findings: [...plan.findings, ...told] };
};

/** What cannot be done within limits or on the paper is told as it was found. */
const asFarAsItGoes = (pattern: Pattern, plan: Plan, alter: AlterOptions): Fitted =>
  hasErrors(plan.findings) ? { plan } : { plan, altered: tapePattern(alterOnPaper(pattern, plan, alter), alter) };
