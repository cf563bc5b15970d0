import type { Finding } from '../finding.ts';
import { formatLength } from '../measurements/units.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Alteration } from './alteration.ts';
import { type Asked, notDraftedFor } from './asked.ts';
import type { Needs, Plan, PlannedStep, PlanOptions } from './contract.ts';
import { alterationCalled, alterations } from './index.ts';
import { signed } from './shares.ts';
import { lengthsAsked } from './skirt-length.ts';

/** Changes smaller than this are not worth a cut, mm. */
const NOTHING = 1e-6;

/**
 * Which alterations a wearer needs, how much of each, and how it is shared.
 *
 * Needed change = wearer's measurement − the measurement the pattern was drafted for; amounts given directly are added.
 * Steps come in the order of doing: lengths, widths, shape. Anything of error level refuses the fitting.
 */
export const planFitting = (pattern: Pattern, needs: Needs, options: PlanOptions): Plan => {
  const measured = measuredChanges(pattern, needs, options);
  const direct = directChanges(needs);
  const asked = [...measured.asked, ...direct.asked].filter((a) => Math.abs(a.amount) > NOTHING);
  const findings: Finding[] = [...measured.findings, ...direct.findings, ...unknownChoices(options)];
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
  };
};

const planStep = (
  pattern: Pattern,
  alteration: Alteration,
  asked: Asked,
  options: PlanOptions,
): { step: PlannedStep; findings: readonly Finding[] } => {
  const { card } = alteration;
  const chosen = {
    ...Object.fromEntries(card.options.map((o) => [o.name, o.default])),
    ...asked.options,
    ...options.choices[card.name],
  };
  const division = alteration.divide({
    pattern,
    amount: asked.amount,
    options: chosen,
    beyondLimits: options.beyondLimits,
    show: options.show,
  });
  return {
    step: {
      alteration: card.name,
      amount: asked.amount,
      origin: asked.origin,
      shares: division.shares,
      options: chosen,
      explanation: [arithmetic(asked, options), division.explanation].filter((s) => s !== '').join('; '),
    },
    findings: division.findings,
  };
};

const arithmetic = ({ origin, amount }: Asked, { show }: PlanOptions): string =>
  origin.kind === 'measurement'
    ? `${origin.measurement} ${formatLength(origin.wearer, show)} − ${formatLength(origin.draftedFor, show)} = ${signed(amount, show)}`
    : `asked for: ${origin.column} ${signed(amount, show)}`;

/** Changes that the measurements call for. */
const measuredChanges = (
  pattern: Pattern,
  needs: Needs,
  options: PlanOptions,
): { asked: Asked[]; findings: Finding[] } => {
  const lengths = lengthsAsked(pattern, needs, options);
  const asked: Asked[] = [...lengths.asked];
  const findings: Finding[] = [...lengths.findings];
  for (const [measurement, wearer] of Object.entries(needs.measurements)) {
    if (lengths.used.has(measurement)) continue;
    const alteration = alterations.find((a) => a.card.measurement === measurement);
    const draftedFor = pattern.draftedFor[measurement];
    if (!alteration) findings.push(unused(measurement));
    else if (draftedFor === undefined) findings.push(notDraftedFor(measurement));
    else {
      asked.push({
        alteration: alteration.card.name,
        amount: wearer - draftedFor,
        origin: { kind: 'measurement', measurement, wearer, draftedFor },
      });
    }
  }
  return { asked, findings };
};

const directChanges = (needs: Needs): { asked: Asked[]; findings: Finding[] } => {
  const entries = Object.entries(needs.direct);
  return {
    asked: entries
      .filter(([name]) => alterationCalled(name))
      .map(([name, d]) => ({ alteration: name, amount: d.amount, origin: { kind: 'direct', column: d.column } })),
    findings: entries
      .filter(([name]) => !alterationCalled(name))
      .map(([name, d]) => ({
        code: 'plan-unknown-alteration',
        level: 'error',
        where: { cell: d.column },
        message: `There is no alteration called ${name}.`,
        try: 'retrue catalogue lists them all.',
      })),
  };
};

const unused = (measurement: string): Finding => ({
  code: 'plan-measurement-unused',
  level: 'warning',
  where: { cell: measurement },
  message: `No alteration of this pattern uses the ${measurement}; it was left out.`,
  try: 'retrue catalogue shows which measurement drives which alteration.',
});

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
      message: `${d.message} The alteration needs it, so it was not done.`,
      try: `Add to the pattern sheet: ${d.sheetLine}`,
    }));
