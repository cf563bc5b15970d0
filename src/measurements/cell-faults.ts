import type { Finding, Where } from '../finding.ts';

/* What spreadsheets make of cells on their own: dates, errors, formulas that were never reckoned. */

/** `#REF!`, `#DIV/0!`, `#WERT!`, `#NV`, `Err:502`: an error of a formula, in any language. */
const errorText = /^(?:#[\p{Lu}/]+[\p{Lu}\d/]*[!?]?|Err:\d+)$/u;

const formulaText = /^=./s;

/** The first letters of the months in English, German, French, Spanish, Italian, Portuguese and Dutch. */
const MONTHS =
  'jan|ene|gen|feb|fév|fev|mar|mär|mrt|maa|apr|avr|abr|may|mai|mag|mei|jun|juin|giu|jul|juil|lug|aug|aoû|aou|ago|sep|set|okt|oct|ott|out|nov|dez|dec|déc|dic';
const month = `(?:${MONTHS})\\p{L}*\\.?`;

/**
 * `2026-05-27`, `27.05.2026`, `27/05/26`, `1-Feb`, `27. Mai`, `May-27`: what `27.5` or `1/2` becomes when a spreadsheet
 * takes it for a date. `12-1/2` is a length.
 */
const dateText = new RegExp(
  `^(?:\\d{1,4}([-/.])\\d{1,2}\\1\\d{1,4}|\\d{1,2}[-/. ]{1,2}${month}(?:[-/. ]+\\d{2,4})?|${month}[-/. ]+\\d{1,4}|\\d{1,2}:\\d{2}(?::\\d{2})?)$`,
  'iu',
);

/** The finding for a cell that a spreadsheet has spoilt; undefined for all others. `name` is the column's heading. */
export const spoiltCell = (text: string, name: string, where: Where): Finding | undefined => {
  const cell = text.trim();
  if (dateText.test(cell)) return turnedIntoDate(cell, name, where);
  return spoiltFormula(cell, name, where);
};

/** The same where a date may well be meant: only what a formula left. */
export const spoiltFormula = (text: string, name: string, where: Where): Finding | undefined => {
  const cell = text.trim();
  if (errorText.test(cell)) {
    return {
      code: 'measure-cell-error',
      level: 'error',
      where,
      message: `${name}: '${cell}' is an error of the spreadsheet, not a value.`,
      try: 'Mend the formula, or type the value in its place.',
    };
  }
  if (!formulaText.test(cell)) return undefined;
  return {
    code: 'measure-formula-without-value',
    level: 'error',
    where,
    message: `${name}: the cell holds the formula '${cell}' and not what it comes to.`,
    try: 'Open the table in a spreadsheet, let it reckon, and save it again; or type the value in its place.',
  };
};

const turnedIntoDate = (cell: string, name: string, where: Where): Finding => ({
  code: 'measure-cell-date',
  level: 'error',
  where,
  message: `${name}: '${cell}' is a date or a time. A spreadsheet makes one of what looks like it, and what was typed is lost${maybeTyped(cell)}.`,
  try: 'Format the column as text or as a number first, then type the value again: 27 1/2 or 27.5.',
});

/** `2026-05-27` may have been 27.5 or 5/27. */
const maybeTyped = (cell: string): string => {
  const parts = /^(\d{4})-(\d{2})-(\d{2})$/.exec(cell)?.slice(2).map(Number);
  if (parts === undefined) return '';
  const [m = 0, d = 0] = parts;
  return `: perhaps ${d}.${m}, ${d}/${m} or ${m}/${d}`;
};
