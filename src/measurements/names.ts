import type { Finding, Where } from '../finding.ts';
import { dateInCell } from './cell-dates.ts';
import { spoiltFormula } from './cell-faults.ts';
import { type MeasurementName, measurementCalled, nearestTerm } from './terms.ts';
import { isProblem, type LengthProblem, type LengthUnit, parseLength } from './units.ts';
import { plainWords } from './words.ts';

/** A name under which an alteration can be asked for; `sign` −1 where it names the opposite (`hip smaller`). */
export interface AlterationColumn {
  readonly name: string;
  /** Name in the catalogue. */
  readonly canonical: string;
  readonly sign: 1 | -1;
}

/** What a column or a name in a list stands for. */
export type Meaning =
  | { readonly kind: 'measurement'; readonly name: MeasurementName }
  | { readonly kind: 'ease'; readonly name: MeasurementName }
  | { readonly kind: 'direct'; readonly canonical: string; readonly sign: 1 | -1 };

/** What values are kept under: the measurement, or the alteration's name in the catalogue. */
export const keyOf = (meaning: Meaning): string => (meaning.kind === 'direct' ? meaning.canonical : meaning.name);

/** `bust girth ease`: ease asked for on top of a measurement. */
const easeWord = / ease$/;

/** Words behind an alteration's name that say a change is meant, where the bare name is a body measurement. */
const changeWord = / (?:change|alteration|by)$/;

/**
 * What a name stands for. A name that is both a body measurement and an alteration (`hip`) is the measurement;
 * `hip change` is the alteration, and `hip ease` the ease asked for there. Undefined when it is none of these.
 */
export const meaningOf = (text: string, columns: readonly AlterationColumn[]): Meaning | undefined => {
  const measurement = measurementCalled(text);
  if (measurement !== undefined) return { kind: 'measurement', name: measurement };
  const plain = plainWords(text);
  // Ease is asked for where amounts can be: not in the measurements of a body or a size.
  const eased = columns.length > 0 && easeWord.test(plain) ? measurementCalled(plain.replace(easeWord, '')) : undefined;
  if (eased !== undefined) return { kind: 'ease', name: eased };
  const called = (words: string) => columns.find((c) => plainWords(c.name) === words);
  const column = called(plain) ?? (changeWord.test(plain) ? called(plain.replace(changeWord, '')) : undefined);
  return column && { kind: 'direct', canonical: column.canonical, sign: column.sign };
};

/** Finding for a name that means nothing here, with the nearest known one. */
export const unknownName = (
  text: string,
  what: 'column' | 'name',
  columns: readonly AlterationColumn[],
  others: readonly string[],
  where: Where,
): Finding => {
  const near = nearestTerm(text, [...others, ...columns.map((c) => c.name)]);
  return {
    code: 'measure-column-unknown',
    level: 'error',
    where,
    message: `The ${what} '${text}' is neither a body measurement nor an alteration known here.`,
    try:
      near === undefined
        ? `Use a measurement such as 'waist girth' or 'hip girth', or an alteration that \`retrue catalogue\` lists.`
        : `Did you mean '${near}'? Correct the ${what}, or take it out.`,
  };
};

/** A value read for a known name: a body measurement, or a signed amount by which a pattern is to change, mm. */
export interface ReadValue {
  readonly mm: number;
  readonly unit: LengthUnit;
  readonly unitWritten: boolean;
}

/**
 * Reads the value that stands under a name. Body measurements must be greater than zero and carry no sign.
 * The finding (when it is not a value) tells what to write in its place.
 */
export const readValue = (
  text: string,
  name: string,
  meaning: Meaning,
  unit: LengthUnit | undefined,
  where: Where,
): ReadValue | Finding => {
  const spoilt = spoiltFormula(text, name, where) ?? dateInCell(text, name, meaning, unit, where);
  if (spoilt !== undefined) return spoilt;
  const read = parseLength(text, unit);
  if (isProblem(read)) return problemFinding(read, name, where);
  if (meaning.kind === 'direct') return { ...read, mm: read.mm === 0 ? 0 : read.mm * meaning.sign };
  if (meaning.kind === 'ease') return read;
  if (read.signed || read.mm <= 0) {
    return {
      code: 'measure-value-not-positive',
      level: 'error',
      where,
      message: `${name} is a body measurement, and '${text}' is not: it is ${read.signed ? 'signed' : 'zero'}.`,
      try: `Write the wearer's own measurement. If a change of the pattern is meant, head it as an alteration, like 'waist change' (see retrue catalogue).`,
    };
  }
  return read;
};

export const isFinding = (value: ReadValue | Finding): value is Finding => 'code' in value;

const problemCodes = {
  empty: 'measure-value-unreadable',
  'no unit': 'measure-unit-missing',
  ambiguous: 'measure-value-ambiguous',
  unreadable: 'measure-value-unreadable',
} as const satisfies Record<LengthProblem['problem'], string>;

const problemFinding = (problem: LengthProblem, name: string, where: Where): Finding => ({
  code: problemCodes[problem.problem],
  level: 'error',
  where,
  message: `${name}: ${problem.message}`,
  try:
    problem.problem === 'no unit' && where.cell !== undefined
      ? `${problem.try} Or put the unit in the heading: '${name} (in)'.`
      : problem.try,
});

/** The unit most of the values were written in; the first of them when two are equally common. */
export const unitWorkedIn = (units: Iterable<LengthUnit>): LengthUnit | undefined => {
  const counts = new Map<LengthUnit, number>();
  for (const unit of units) counts.set(unit, (counts.get(unit) ?? 0) + 1);
  return [...counts].reduce<[LengthUnit, number] | undefined>(
    (best, entry) => (best === undefined || entry[1] > best[1] ? entry : best),
    undefined,
  )?.[0];
};
