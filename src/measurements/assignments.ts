import type { Finding, Where } from '../finding.ts';
import { unusualFraction } from './cell-dates.ts';
import {
  type AlterationColumn,
  isFinding,
  keyOf,
  type Meaning,
  meaningOf,
  readValue,
  unitWorkedIn,
  unknownName,
} from './names.ts';
import { checkBody } from './plausible.ts';
import type { LengthUnit } from './units.ts';

/** What a list such as `waist girth=27in, hip girth=37in, full abdomen=10mm` says. */
export interface Assignments {
  /** Body measurements, mm, by canonical name. */
  readonly measurements: Readonly<Record<string, number>>;
  /** Signed amounts, mm, by catalogue name. */
  readonly direct: Readonly<Record<string, { readonly amount: number; readonly column: string }>>;
  /** Ease asked for, mm, by canonical measurement name. */
  readonly ease: Readonly<Record<string, number>>;
  /** The unit the user works in; 'mm' when the list is empty. */
  readonly show: LengthUnit;
  readonly findings: readonly Finding[];
}

export interface AssignmentOptions {
  /** What the list is, for findings: '--wearer', 'drafted for'. */
  readonly source: string;
  /** Names under which alterations may be asked for; empty where only measurements make sense. */
  readonly alterationColumns?: readonly AlterationColumn[];
}

/** A name with its value. */
export interface Entry {
  readonly name: string;
  readonly value: string;
}

/**
 * Reads a list of `name=value`, separated by commas or semicolons. A decimal comma inside a value is understood
 * (`waist girth=70,5 cm, hip girth=96 cm`), since a comma only separates where a new name with its = follows.
 */
export const parseAssignments = (text: string, options: AssignmentOptions): Assignments => {
  const parts = partsOf(text).map((part) => splitEntry(part) ?? unreadablePart(part, whereIn(options, part)));
  const entries = parts.flatMap((part) => ('code' in part ? [] : [part]));
  const unreadable = parts.flatMap((part) => ('code' in part ? [part] : []));
  const read = readEntries(entries, { ...options, whole: text.trim() });
  return { ...read, findings: [...unreadable, ...read.findings] };
};

const whereIn = ({ source }: AssignmentOptions, excerpt: string): Where => ({ file: source, excerpt });

/** The same of names and values that are apart already: whatever a value holds, it is one value. */
export const readEntries = (
  entries: readonly Entry[],
  options: AssignmentOptions & { readonly whole?: string },
): Assignments => {
  const columns = options.alterationColumns ?? [];
  const measurements: Record<string, number> = {};
  const writtenIn: Record<string, LengthUnit> = {};
  const direct: Record<string, { amount: number; column: string }> = {};
  const ease: Record<string, number> = {};
  const findings: Finding[] = [];
  const units: LengthUnit[] = [];

  for (const entry of entries) {
    const where = whereIn(options, entryText(entry));
    const meaning = meaningOf(entry.name, columns);
    if (meaning === undefined) {
      findings.push(unknownName(entry.name, 'name', columns, [], where));
      continue;
    }
    const value = readValue(entry.value, entry.name, meaning, undefined, where);
    if (isFinding(value)) {
      findings.push(value);
      continue;
    }
    findings.push(...unusualFraction(entry.value, entry.name, where));
    const key = keyOf(meaning);
    if (key in { measurement: measurements, ease, direct }[meaning.kind]) {
      findings.push(givenTwice(entry.name, meaning, where));
      continue;
    }
    units.push(value.unit);
    if (meaning.kind === 'measurement') {
      measurements[key] = value.mm;
      writtenIn[key] = value.unit;
    } else if (meaning.kind === 'ease') {
      ease[key] = value.mm;
    } else {
      direct[key] = { amount: value.mm, column: entry.name };
    }
  }
  const whole = whereIn(options, options.whole ?? entries.map(entryText).join(', '));
  findings.push(...checkBody({ measurements, writtenIn, where: () => whole }));
  return { measurements, direct, ease, show: unitWorkedIn(units) ?? 'mm', findings };
};

const entryText = ({ name, value }: Entry): string => `${name}=${value}`;

/** Parts between separators that are followed by a new `name=`. */
export const partsOf = (text: string): readonly string[] =>
  text
    .split(/[,;\n](?=[^,;=\n]*=)/)
    .map((part) => part.replace(/^[\s,;]+|[\s,;]+$/g, ''))
    .filter((part) => part !== '');

/** Name and value of a part; undefined when it is not both. */
export const splitEntry = (part: string): Entry | undefined => {
  const equals = part.indexOf('=');
  const [name, value] = [part.slice(0, equals).trim(), part.slice(equals + 1).trim()];
  return equals < 1 || name === '' || value === '' ? undefined : { name, value };
};

export const unreadablePart = (part: string, where: Where): Finding => ({
  code: 'measure-list-unreadable',
  level: 'error',
  where,
  message: `'${part}' is not a name with its value.`,
  try: `Write name=value with a unit, separated by commas: 'waist girth=27in, hip girth=37in'.`,
});

const givenTwice = (name: string, meaning: Meaning, where: Where): Finding => ({
  code: 'measure-given-twice',
  level: 'error',
  where,
  message: `${keyOf(meaning)}${meaning.kind === 'ease' ? ' ease' : ''} is given twice, the second time as '${name}'.`,
  try: 'Keep the one that is right and take the other out.',
});
