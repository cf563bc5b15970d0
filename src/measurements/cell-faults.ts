import type { Finding, Where } from '../finding.ts';

/* What formulas leave in cells: errors, and formulas that were never reckoned. */

/** `#REF!`, `#DIV/0!`, `#WERT!`, `#NV`, `Err:502`: an error of a formula, in any language. */
const errorText = /^(?:#[\p{Lu}/]+[\p{Lu}\d/]*[!?]?|Err:\d+)$/u;

const formulaText = /^=./s;

/** What a formula left in a cell: an error, or itself; undefined for all others. `name` is the column's heading. */
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
