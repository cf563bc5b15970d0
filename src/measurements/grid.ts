import type { Finding } from '../finding.ts';
import type { GridRow } from './grid-row.ts';
import { headingsIn } from './headings.ts';
import { headingsAgain, isOfAnother, isRepeated, underOthers } from './more-headings.ts';
import type { Table, TableOptions, TableRow } from './table.ts';
import { turnedTable } from './turned-table.ts';

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
  const data = below
    .filter((row) => !again.includes(row))
    .map(({ row, line, cells }): TableRow => {
      if (cells.length > headings.length)
        findings.push(tooLong(options.fileName, row, line, cells, headings, options.separator));
      const width = Math.max(headings.length, cells.length);
      return { row, line, cells: Array.from({ length: width }, (_, i) => cells[i] ?? '') };
    });
  const apart = second === undefined ? [] : underOthers(second, all.slice(all.indexOf(second) + 1), headings, options);
  return {
    headings,
    headingRow,
    rows: [...data, ...apart.map(({ row }) => row)],
    findings: [...findings, ...apart.map(({ finding }) => finding)],
    grid: true,
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
  separator: string | undefined,
): Finding => ({
  code: 'measure-row-length',
  level: 'error',
  where: { file, row, line, excerpt: cells.join(' | ') },
  message: `Row ${row} has ${cells.length} cells, but there are ${headings.length} headings.`,
  try:
    separator === ','
      ? 'A value with a comma in it (70,5 cm) needs quotation marks around it, or semicolons between the columns.'
      : `Take out what is too many, or head its column.${separator === ';' ? ' A text with a semicolon in it needs quotation marks around it.' : ''}`,
});
