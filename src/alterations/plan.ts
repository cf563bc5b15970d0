import type { Finding } from '../finding.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Alteration } from './alteration.ts';
import { arithmetic } from './arithmetic.ts';
import type { Asked, Change } from './asked.ts';
import { changesAsked } from './changes.ts';
import type { Needs, Plan, PlannedStep, PlanOptions } from './contract.ts';
import { directChanges, optionsOf, withBesides } from './direct.ts';
import { chooseAlterations } from './driving.ts';
import { heldAgainstLimits } from './held.ts';
import { alterationCalled, alterations } from './index.ts';
import { NOTHING } from './shares.ts';
import { targetsOf } from './targets.ts';

/**
 * Which alterations a wearer needs, how much of each, and how it is shared.
 *
 * Needed change = wearer's measurement − the measurement the pattern was drafted for; amounts given directly are added.
 * Steps come in the order of doing: lengths, widths, shape. Anything of error level refuses the fitting.
 */
export const planFitting = (pattern: Pattern, needs: Needs, options: PlanOptions): Plan => {
  const { changes, findings } = changesAsked(pattern, needs);
  return planChanges(pattern, needs, options, changes, findings);
};

/** The same for changes that are known: what the measurements ask, or what is left of that beside other alterations. */
export const planChanges = (
  pattern: Pattern,
  needs: Needs,
  options: PlanOptions,
  changes: readonly Change[],
  told: readonly Finding[],
): Plan => {
  const chosen = chooseAlterations(changes, pattern, options);
  const known = chosen.asked.filter((a) => alterationCalled(a.alteration));
  const direct = directChanges(needs);
  const asked = withBesides(known, direct.asked, options).filter((a) => Math.abs(a.amount) > NOTHING);
  const findings: Finding[] = [...told, ...direct.findings, ...unknownChoices(options)];
  const steps: PlannedStep[] = [];
  for (const alteration of alterations) {
    for (const request of asked.filter((a) => a.alteration === alteration.card.name)) {
      const step = planStep(pattern, alteration, request, options);
      steps.push(step.step);
      findings.push(...step.findings);
    }
  }
  if (steps.length === 0 && findings.every((f) => f.level !== 'error')) findings.push(nothingNeeded(needs));
  findings.push(...doubtFindings(pattern, steps));
  return {
    fitting: needs.fitting,
    steps,
    findings: findings.map((f) => ({ ...f, where: { fitting: needs.fitting, ...f.where } })),
    targets: targetsOf(pattern, needs, changes, {
      asked: known,
      decided: chosen.decided.filter((m) => isServed(m, chosen.asked, known)),
    }),
  };
};

/** Whether an alteration of the catalogue answers to a measurement, or none is needed. */
const isServed = (measurement: string, asked: readonly Asked[], known: readonly Asked[]): boolean => {
  const own = asked.filter((a) => a.change?.measurement === measurement);
  return own.length === 0 || own.some((a) => known.includes(a));
};

const planStep = (
  pattern: Pattern,
  alteration: Alteration,
  asked: Asked,
  options: PlanOptions,
): { step: PlannedStep; findings: readonly Finding[] } => {
  const { card } = alteration;
  const chosen = optionsOf(asked, options);
  const divide = (amount: number) =>
    alteration.divide({ pattern, amount, options: chosen, beyondLimits: options.beyondLimits, show: options.show });
  const division = divide(asked.amount);
  const held = heldAgainstLimits(asked, division, divide, options.show);
  return {
    step: {
      alteration: card.name,
      amount: asked.amount,
      ...(asked.besides ? { besides: asked.besides.amount } : {}),
      origin: asked.origin,
      shares: division.shares,
      options: chosen,
      explanation: [arithmetic(asked, options.show), division.explanation, ...held.told]
        .filter((s) => s !== '')
        .join('; '),
    },
    findings: held.findings,
  };
};

const nothingNeeded = (needs: Needs): Finding => ({
  code: 'plan-nothing',
  level: 'note',
  where: { fitting: needs.fitting },
  message: 'The wearer measures what the pattern was drafted for: nothing is altered.',
  try: 'Check the measurements if that is a surprise.',
});

/** Choices that name an alteration or option that is not there. */
const unknownChoices = (options: PlanOptions): Finding[] =>
  Object.entries(options.choices).flatMap(([name, chosen]) => {
    const card = alterationCalled(name)?.card;
    return Object.entries(chosen).flatMap(([option, value]): Finding[] => {
      const known = card?.options.find((o) => o.name === option);
      const fits = known && (!Array.isArray(known.values) || known.values.includes(value));
      if (fits) return [];
      const offers = known && Array.isArray(known.values) ? known.values : (card?.options.map((o) => o.name) ?? []);
      return [
        {
          code: 'plan-unknown-option',
          level: 'error',
          where: { alteration: name },
          message: `${name} has no choice ${option}=${value}.`,
          try: offers.length > 0 ? `It has: ${offers.join(', ')}.` : 'retrue catalogue lists what can be chosen.',
        },
      ];
    });
  });

/** What a doubt says, as a sentence of its own. */
const sentence = (said: string): string =>
  `${said.charAt(0).toUpperCase()}${said.slice(1)}${/[.!?]$/.test(said) ? '' : '.'}`;

/** A doubt on an edge that a step needs refuses the fitting. */
const doubtFindings = (pattern: Pattern, steps: readonly PlannedStep[]): Finding[] =>
  pattern.doubts
    .filter((d) =>
      steps.some((s) =>
        s.shares.some(
          (share) =>
            share.piece === d.piece && (d.edge === undefined || share.edge === d.edge || share.edge === undefined),
        ),
      ),
    )
    .map((d) => ({
      code: 'plan-doubt',
      level: 'error',
      where: { piece: d.piece, ...(d.edge === undefined ? {} : { edge: d.edge }) },
      message: `${sentence(d.message)} The alteration needs it, so it was not done.`,
      try: `Add to the pattern sheet: ${d.sheetLine}`,
    }));
