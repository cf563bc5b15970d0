import type { Finding } from '../finding.ts';
import { type GridRow, knownIn } from './grid-row.ts';
import type { TableOptions } from './table.ts';
import { plainWords } from './words.ts';

/** A table whose measurements stand one below the other, with a column to a wearer; undefined for all others. */
export const turnedTable = (
  rows: readonly GridRow[],
  headings: readonly string[],
  options: TableOptions,
): Finding | undefined => {
  const inColumn = [0, 1].map((column) => {
    const cells = rows.map((r) => (r.cells[column] ?? '').trim()).filter((cell) => cell !== '');
    const known = cells.filter((cell) => options.knows(cell) && plainWords(cell) !== options.nameColumn);
    return { all: cells.length, known };
  });
  const across = knownIn(headings, options.knows);
  const found = inColumn.find(({ all, known }) => known.length > Math.max(1, across) && known.length * 2 > all);
  if (found === undefined) return undefined;
  return {
    code: 'measure-table-turned',
    level: 'error',
    where: { file: options.fileName, excerpt: found.known.join(' | ').slice(0, 80) },
    message: `The measurements stand one below the other (${found.known.slice(0, 3).join(', ')} …), and the table is read row by row, each a ${options.nameColumn}.`,
    try: `Turn it: copy it in a spreadsheet, and paste it transposed. The first row is then '${options.nameColumn}' and the measurements, and each row below it one ${options.nameColumn}.`,
  };
};
