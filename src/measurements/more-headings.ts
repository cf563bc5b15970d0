import type { Finding } from '../finding.ts';
import { type GridRow, knownIn } from './grid-row.ts';
import type { TableOptions, TableRow } from './table.ts';
import { plainWords } from './words.ts';

/* Rows of headings among the rows of a table: its own once more, or those of another table below it. */

/** The same headings once more between the rows, as at the top of a page or of a list that was added. */
export const isRepeated = (
  cells: readonly string[],
  headings: readonly string[],
  knows: TableOptions['knows'],
): boolean =>
  knownIn(cells, knows) > 1 &&
  cells.every((cell, i) => cell.trim() === '' || plainWords(headings[i] ?? '').startsWith(plainWords(cell)));

/** Headings of another table below the first: what stands below them is not what the first headings say. */
export const isOfAnother = (cells: readonly string[], headings: readonly string[], options: TableOptions): boolean =>
  cells.some((cell) => plainWords(cell) === options.nameColumn) &&
  knownIn(cells, options.knows) > 1 &&
  !cells.some((cell) => /\d/.test(cell)) &&
  !isRepeated(cells, headings, options.knows);

/** Rows below other headings, with their names alone, so that each is refused and told. */
export const underOthers = (
  second: GridRow,
  rows: readonly GridRow[],
  headings: readonly string[],
  options: TableOptions,
): readonly { readonly row: TableRow; readonly finding: Finding }[] => {
  const isName = (heading: string) => plainWords(heading) === options.nameColumn;
  const nameAt = second.cells.findIndex(isName);
  return rows.map(({ row, line, cells }) => ({
    row: { row, line, cells: headings.map((heading) => (isName(heading) ? (cells[nameAt] ?? '') : '')) },
    finding: {
      code: 'measure-table-second',
      level: 'error',
      where: { file: options.fileName, row, line, excerpt: cells.filter((cell) => cell !== '').join(' | ') },
      message: `Row ${row} stands under other headings, those of row ${second.row}: another table begins there, and was not read.`,
      try: 'Put that table on a sheet or into a file of its own, or bring both under the same headings.',
    },
  }));
};

export const headingsAgain = (rows: readonly GridRow[], file: string): Finding => ({
  code: 'measure-title-rows',
  level: 'note',
  where: { file },
  message: `The headings stand again in row ${rows.map(({ row }) => row).join(', ')}, which was passed over.`,
  try: 'Nothing need be done.',
});
