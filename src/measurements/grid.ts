import type { Finding } from '../finding.ts';
import { type GridRow, knownIn } from './grid-row.ts';
import { headingsIn } from './headings.ts';
import type { Table, TableOptions, TableRow } from './table.ts';
import { plainWords } from './words.ts';

/** The table in a grid of cells (see `headingsIn`). Empty rows are left out. */
export const tableOf = (rows: readonly GridRow[], options: TableOptions): Table => {
  const filled = rows.map((r) => ({ ...r, cells: trimEnd(r.cells) })).filter((r) => r.cells.length > 0);
  const found = headingsIn(filled, options);
  if (found === undefined) return { headings: [], headingRow: 1, rows: [], findings: [], grid: true };
  const { headings, row: headingRow } = found;
  const turned = turnedTable(filled, headings, options);
  if (turned !== undefined) return { headings: [], headingRow, rows: [], findings: [turned], grid: true };
  const all = filled.slice(found.dataFrom);
  const second = all.find((row) => isOfAnother(row.cells, headings, options));
  const below = second === undefined ? all : all.slice(0, all.indexOf(second));
  const again = below.filter(({ cells }) => isRepeated(cells, headings, options.knows));
  const findings: Finding[] = [...found.findings];
  if (again.length > 0) findings.push(headingsAgain(again, options.fileName));
  if (second !== undefined) findings.push(secondTable(second, all.slice(all.indexOf(second) + 1), options.fileName));
  const data = below
    .filter((row) => !again.includes(row))
    .map(({ row, line, cells }): TableRow => {
      if (cells.length > headings.length) findings.push(tooLong(options.fileName, row, line, cells, headings));
      const width = Math.max(headings.length, cells.length);
      return { row, line, cells: Array.from({ length: width }, (_, i) => cells[i] ?? '') };
    });
  return { headings, headingRow, rows: data, findings, grid: true };
};

/** The same headings once more between the rows, as at the top of a page or of a list that was added. */
const isRepeated = (cells: readonly string[], headings: readonly string[], knows: TableOptions['knows']): boolean =>
  knownIn(cells, knows) > 1 &&
  cells.every((cell, i) => cell.trim() === '' || plainWords(headings[i] ?? '').startsWith(plainWords(cell)));

/** Headings of another table below the first: what stands below them is not what the first headings say. */
const isOfAnother = (cells: readonly string[], headings: readonly string[], options: TableOptions): boolean =>
  cells.some((cell) => plainWords(cell) === options.nameColumn) &&
  knownIn(cells, options.knows) > 1 &&
  !cells.some((cell) => /\d/.test(cell)) &&
  !isRepeated(cells, headings, options.knows);

const secondTable = ({ row, line, cells }: GridRow, rows: readonly GridRow[], file: string): Finding => ({
  code: 'measure-table-second',
  level: 'error',
  where: { file, row, line, excerpt: cells.filter((cell) => cell !== '').join(' | ') },
  message: `Another table with headings of its own begins in row ${row}${rows.length === 0 ? '.' : `: rows ${rows[0]?.row} to ${rows.at(-1)?.row} were not read.`}`,
  try: 'Put it on a sheet or into a file of its own, or bring both under the same headings.',
});

const headingsAgain = (rows: readonly GridRow[], file: string): Finding => ({
  code: 'measure-title-rows',
  level: 'note',
  where: { file },
  message: `The headings stand again in row ${rows.map(({ row }) => row).join(', ')}, which was passed over.`,
  try: 'Nothing need be done.',
});

/** A table whose measurements stand one below the other, with a column to a wearer; undefined for all others. */
const turnedTable = (
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

const trimEnd = (cells: readonly string[]): readonly string[] =>
  cells.slice(0, cells.findLastIndex((cell) => cell.trim() !== '') + 1);

/** The column's letters and the row: 0 and 7 are `A7`. */
export const cellAddress = (column: number, row: number): string => {
  let letters = '';
  for (let n = column + 1; n > 0; n = Math.floor((n - 1) / 26))
    letters = String.fromCharCode(65 + ((n - 1) % 26)) + letters;
  return `${letters}${row}`;
};

const tooLong = (
  file: string,
  row: number,
  line: number | undefined,
  cells: readonly string[],
  headings: readonly string[],
): Finding => ({
  code: 'measure-row-length',
  level: 'error',
  where: { file, row, line, excerpt: cells.join(' | ') },
  message: `Row ${row} has ${cells.length} cells, but there are ${headings.length} headings.`,
  try: 'A value with a comma in it (70,5 cm) needs quotation marks around it, or semicolons between the columns.',
});
