import type { Finding, Where } from '../finding.ts';
import type { Meaning } from './names.ts';
import { terms } from './terms.ts';
import { isProblem, type LengthUnit, parseLength } from './units.ts';

/*
 * What a spreadsheet takes for a date: 27.5 becomes 27 May where dates are written with points, 1/2 the first of February
 * or the second of January. What was typed is lost; what it may have been is told where it would be a measurement.
 */

/** The first letters of the months in English, German, French, Spanish, Italian, Portuguese and Dutch, by month. */
const MONTHS: readonly (readonly string[])[] = [
  ['jan', 'ene', 'gen'],
  ['feb', 'fév', 'fev'],
  ['mar', 'mär', 'mrt', 'maa'],
  ['apr', 'avr', 'abr'],
  ['may', 'mai', 'mag', 'mei'],
  ['jun', 'juin', 'giu'],
  ['jul', 'juil', 'lug'],
  ['aug', 'aoû', 'aou', 'ago'],
  ['sep', 'set'],
  ['okt', 'oct', 'ott', 'out'],
  ['nov'],
  ['dez', 'dec', 'déc', 'dic'],
];
const MONTH = `(?<word>(?:${MONTHS.flat().join('|')})\\p{L}*)\\.?`;

/** `2026-05-27`, `27.05.2026`, `27/05/26`; `1-Feb`, `27. Mai 2026`; `May-27`; `12:30`. `12-1/2` is a length. */
const WRITTEN = [
  /^(?<first>\d{1,4})([-/.])(?<second>\d{1,2})\2(?<third>\d{1,4})(?: = (?<number>[\d.]+))?$/u,
  new RegExp(`^(?<first>\\d{1,2})[-/. ]{1,2}${MONTH}(?:[-/. ]+\\d{2,4})?$`, 'iu'),
  new RegExp(`^${MONTH}[-/. ]+(?<first>\\d{1,4})$`, 'iu'),
  /^\d{1,2}:\d{2}(?::\d{2})?(?: = (?<number>[\d.]+))?$/u,
];

interface DayAndMonth {
  readonly day: number;
  readonly month: number;
}

/** The days of the year a text may mean, both where day and month cannot be told apart; undefined: it is no date. */
const datesIn = (text: string): { readonly days: readonly DayAndMonth[]; readonly number?: string } | undefined => {
  const groups = WRITTEN.map((form) => form.exec(text)).find((match) => match !== null);
  if (groups === undefined) return undefined;
  const { first, second, third, word, number } = groups.groups ?? {};
  if (number !== undefined) return { days: [], number };
  if (word !== undefined) {
    const month = MONTHS.findIndex((names) => names.some((name) => word.toLowerCase().startsWith(name))) + 1;
    return { days: eitherWay(Number(first), month).filter((d) => d.month === month) };
  }
  if (first === undefined) return { days: [] };
  const yearFirst = first.length > 2;
  return {
    days: yearFirst ? [{ day: Number(third), month: Number(second) }] : eitherWay(Number(first), Number(second)),
  };
};

const eitherWay = (a: number, b: number): readonly DayAndMonth[] =>
  [{ day: a, month: b }, ...(a === b ? [] : [{ day: b, month: a }])].filter(
    ({ day, month }) => day >= 1 && day <= 31 && month >= 1 && month <= 12,
  );

/** Parts of an inch that are on a tape or reckoned with. */
const PARTS = new Set([2, 3, 4, 5, 6, 8, 10, 16, 32, 64, 100]);

/** The finding for a cell that is a date, or can only have been one; undefined for all others. */
export const dateInCell = (
  text: string,
  name: string,
  meaning: Meaning,
  unit: LengthUnit | undefined,
  where: Where,
): Finding | undefined => {
  const cell = text.trim();
  const typed = (days: readonly DayAndMonth[]) => maybeTyped(days, meaning, unit);
  const written = datesIn(cell);
  if (written?.number !== undefined) return formattedAsDate(cell, written.number, name, where);
  if (written !== undefined) {
    const what = `'${cell}' is a date or a time. A spreadsheet makes one of what looks like it, and what was typed is lost`;
    return lost(`${name}: ${what}${typed(written.days)}.`, where);
  }
  const fraction = /^(\d{1,2})\/(\d{1,2})$/.exec(cell);
  const [top, bottom] = [Number(fraction?.[1]), Number(fraction?.[2])];
  const days = fraction === null ? [] : eitherWay(bottom, top);
  if (days.length > 0 && !isFraction(top, bottom, meaning, unit)) {
    const what = `'${cell}' is no length anybody means here. A spreadsheet shows a date so, of what looks like one`;
    const found = lost(`${name}: ${what}${typed(days)}.`, where);
    const whole = `Is the whole number before it missing? ${found.try}`;
    return isOnTape(top, bottom) ? { ...found, try: whole } : found;
  }
  const counted = countedDay(cell);
  if (counted === undefined) return undefined;
  const what = `'${cell}' is how a spreadsheet counts the day ${counted.date}, and what was typed is lost`;
  return lost(`${name}: ${what}${typed([counted])}.`, where);
};

/** A fraction that stands alone and is meant: on a tape, and not far less than what is measured so. */
const isFraction = (top: number, bottom: number, meaning: Meaning, unit: LengthUnit | undefined): boolean => {
  if (!isOnTape(top, bottom)) return false;
  if (meaning.kind !== 'measurement' || unit === undefined) return true;
  const read = parseLength(`${top}/${bottom}`, unit);
  return !isProblem(read) && read.mm >= terms[meaning.name].range[0] / FAR_LESS;
};
const FAR_LESS = 2.5;

const isOnTape = (top: number, bottom: number): boolean => top < bottom && PARTS.has(bottom);

/** A warning where a fraction is of a kind that is on no tape: 27 5/27. */
export const unusualFraction = (text: string, name: string, where: Where): readonly Finding[] => {
  const [, top = '', bottom = ''] = /(\d+) ?[/⁄] ?(\d+)/.exec(text.normalize('NFKC')) ?? [];
  if (bottom === '' || PARTS.has(Number(bottom))) return [];
  return [
    {
      code: 'measure-fraction-unusual',
      level: 'warning',
      where,
      message: `${name}: '${text.trim()}' has a fraction that is on no tape, ${top}/${bottom}; it was taken as written.`,
      try: 'Check it: tapes show halves, quarters, eighths and sixteenths of an inch, and tenths of a centimetre.',
    },
  ];
};

const DAY = 86_400_000;
/** Days from 2000 to 2049 as a spreadsheet counts them from 1899-12-30 (ECMA-376 part 1, 18.17.4.1). */
const COUNTED = [36_526, 54_788] as const;

/** A date of which the format was changed to a number: 46169 is 27 May 2026. No measurement is as large in any unit. */
const countedDay = (cell: string): (DayAndMonth & { readonly date: string }) | undefined => {
  const days = /^\d{5}$/.test(cell) ? Number(cell) : 0;
  if (days < COUNTED[0] || days > COUNTED[1]) return undefined;
  const date = new Date(Date.UTC(1899, 11, 30) + days * DAY);
  return { day: date.getUTCDate(), month: date.getUTCMonth() + 1, date: date.toISOString().slice(0, 10) };
};

/** `: perhaps 27.5`, of 27 May: the numbers that would be such a measurement, in its unit or else in another. */
const maybeTyped = (days: readonly DayAndMonth[], meaning: Meaning, unit: LengthUnit | undefined): string => {
  const numbers = days.flatMap(({ day, month }) => [`${day}.${month}`, `${month}.${day}`]);
  const parts = days.flatMap(({ day, month }) => [`${month}/${day}`, `${day}/${month}`]);
  const fractions = parts.filter((part) => {
    const [top = 0, bottom = 0] = part.split('/').map(Number);
    return isOnTape(top, bottom);
  });
  const all = [...new Set([...fractions, ...numbers])];
  const fitting = (inUnit: LengthUnit) => all.filter((text) => isIn(text, inUnit, meaning));
  const own = unit === undefined ? [] : fitting(unit);
  const others = (['in', 'cm'] as const).flatMap((other) => fitting(other).map((text) => `${text} ${other}`));
  const told = own.length > 0 ? own : others;
  return told.length === 0 ? '' : `: perhaps ${or(told.slice(0, 3))}`;
};

const or = (texts: readonly string[]): string =>
  texts.length < 2 ? (texts[0] ?? '') : `${texts.slice(0, -1).join(', ')} or ${texts.at(-1)}`;

/** No amount is larger that a seam is asked to take. mm */
const LARGEST_AMOUNT = 200;

const isIn = (text: string, unit: LengthUnit, meaning: Meaning): boolean => {
  const read = parseLength(text, unit);
  if (isProblem(read)) return false;
  const [least, most] = meaning.kind === 'measurement' ? terms[meaning.name].range : [0, LARGEST_AMOUNT];
  return read.mm >= least && read.mm <= most;
};

const lost = (message: string, where: Where): Finding => ({
  code: 'measure-cell-date',
  level: 'error',
  where,
  message,
  try: 'Format the column as text or as a number first, then type the value again: 27 1/2 or 27.5.',
});

const formattedAsDate = (cell: string, number: string, name: string, where: Where): Finding => ({
  code: 'measure-cell-date',
  level: 'error',
  where,
  message: `${name}: the cell is formatted as a date or a time and shows ${cell.replace(/ = .*/, '')}. The number in it is ${number}.`,
  try: `If ${number} is meant, format the cell as a number.`,
});
