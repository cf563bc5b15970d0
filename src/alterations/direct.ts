import type { Finding } from '../finding.ts';
import type { Asked } from './asked.ts';
import type { Needs, PlanOptions } from './contract.ts';
import { alterationCalled } from './index.ts';

/* Amounts asked for directly, beside what the measurements call for. */

/** Options that go with the name under which an amount was asked for: 'hollow chest (mm)'. */
const optionsOfName = (alteration: string, column: string): Readonly<Record<string, string>> => {
  const asked = column.replace(/\(.*$/, '').trim().toLowerCase();
  return alterationCalled(alteration)?.card.synonyms.find((s) => s.name === asked)?.options ?? {};
};

export const directChanges = (needs: Needs): { asked: Asked[]; findings: Finding[] } => {
  const entries = Object.entries(needs.direct);
  return {
    asked: entries
      .filter(([name]) => alterationCalled(name))
      .map(([name, d]) => ({
        alteration: name,
        amount: d.amount,
        origin: { kind: 'direct', column: d.column },
        options: optionsOfName(name, d.column),
      })),
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

/**
 * An alteration that is called for by a measurement and asked for directly too is done once, by the sum of both: limits
 * hold for what one place takes in all. Where the two are done in different ways each is a step of its own.
 */
export const withBesides = (measured: readonly Asked[], direct: readonly Asked[], options: PlanOptions): Asked[] => {
  const alike = (a: Asked, b: Asked): boolean => {
    const [one, other] = [a, b].map((x) => JSON.stringify(optionsOf(x, options)));
    return a.alteration === b.alteration && one === other;
  };
  const joins = (d: Asked): Asked | undefined => {
    const same = measured.filter((m) => alike(m, d) && m.part !== 0);
    return same.length === 1 ? same[0] : undefined;
  };
  return [
    ...measured.map((m) => direct.filter((d) => joins(d) === m).reduce(joined, m)),
    ...direct.filter((d) => joins(d) === undefined),
  ];
};

const joined = (measured: Asked, { amount, origin }: Asked): Asked => ({
  ...measured,
  amount: measured.amount + amount,
  besides: { column: origin.kind === 'direct' ? origin.column : '', amount },
  ...(measured.net === undefined ? {} : { net: measured.net + amount }),
});

/** Options of an alteration as they are chosen for one request, defaults filled in. */
export const optionsOf = (asked: Asked, options: PlanOptions): Readonly<Record<string, string>> => ({
  ...Object.fromEntries(alterationCalled(asked.alteration)?.card.options.map((o) => [o.name, o.default]) ?? []),
  ...asked.options,
  ...options.choices[asked.alteration],
});
