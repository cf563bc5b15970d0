import { leastFor } from '../../alterations/wearing-ease.ts';
import type { Finding, Where } from '../../finding.ts';
import { type Entry, partsOf, splitEntry, unreadablePart } from '../../measurements/assignments.ts';
import { type MeasurementName, measurementCalled, measurementNames, nearestTerm } from '../../measurements/terms.ts';
import { isProblem, parseLength } from '../../measurements/units.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { takeMeasurement } from '../../pattern/taking/index.ts';

export interface EaseAsked {
  /** mm, by canonical measurement name. */
  readonly ease: Readonly<Record<string, number>>;
  readonly findings: readonly Finding[];
}

/**
 * Reads what ease is asked for in place of the design's: a list of `name=value` in which a value may be `least`, the
 * least wearing ease of the garment there; or `least` alone, for every place that has one.
 */
export const readEase = (text: string | undefined, pattern: Pattern): EaseAsked => {
  if (text === undefined) return { ease: {}, findings: [] };
  if (text.trim().toLowerCase() === LEAST) return { ease: leastEverywhere(pattern), findings: [] };
  return gathered(
    partsOf(text).map((part) => {
      const entry = splitEntry(part);
      return entry
        ? readEntry(entry, pattern, { file: '--ease', excerpt: part })
        : unreadablePart(part, { file: '--ease', excerpt: part });
    }),
  );
};

/** The same of names and values that are apart already. */
export const readEaseOf = (entries: readonly Entry[], pattern: Pattern): EaseAsked =>
  gathered(entries.map((e) => readEntry(e, pattern, { file: 'ease', excerpt: `${e.name}=${e.value}` })));

type Read = { readonly measurement: MeasurementName; readonly mm: number } | Finding;

const gathered = (read: readonly Read[]): EaseAsked => {
  const ease: Record<string, number> = {};
  const findings: Finding[] = [];
  for (const one of read) {
    if ('code' in one) findings.push(one);
    else ease[one.measurement] = one.mm;
  }
  return { ease, findings };
};

const LEAST = 'least';

const leastOf = (pattern: Pattern, measurement: MeasurementName): number | undefined =>
  takeMeasurement(pattern, measurement).takings.flatMap(({ of }) => leastFor(of, measurement)?.least ?? [])[0];

const leastEverywhere = (pattern: Pattern): Record<string, number> =>
  Object.fromEntries(
    measurementNames.flatMap((m) => {
      const least = leastOf(pattern, m);
      return least === undefined ? [] : [[m, least] as const];
    }),
  );

const readEntry = (entry: Entry, pattern: Pattern, where: Where): Read => {
  const measurement = measurementCalled(entry.name.replace(/ ease$/i, ''));
  if (!measurement) {
    const near = nearestTerm(entry.name);
    return {
      code: 'measure-column-unknown',
      level: 'error',
      where,
      message: `'${entry.name}' is no body measurement known here.`,
      try: near === undefined ? "Write it as in 'bust girth=2in'." : `Did you mean '${near}'?`,
    };
  }
  if (entry.value.toLowerCase() === LEAST) {
    const mm = leastOf(pattern, measurement);
    return mm === undefined ? noLeast(measurement, where) : { measurement, mm };
  }
  const read = parseLength(entry.value, undefined);
  if (!isProblem(read)) return { measurement, mm: read.mm };
  const code = read.problem === 'no unit' ? 'measure-unit-missing' : 'measure-value-unreadable';
  return { code, level: 'error', where, message: `${entry.name}: ${read.message}`, try: read.try };
};

const noLeast = (measurement: string, where: Where): Finding => ({
  code: 'job-ease-no-least',
  level: 'error',
  where,
  message: `No least ease is known at the ${measurement} of this garment.`,
  try: `Write how much: '${measurement}=2in'.`,
});
