import type { Finding } from '../finding.ts';
import type { GridRow } from './grid-row.ts';
import { headingsIn } from './headings.ts';
import type { Table, TableOptions, TableRow } from './table.ts';

/** The table in a grid of cells (see `headingsIn`). Empty rows are left out. */
export const tableOf = (rows: readonly GridRow[], options: TableOptions): Table => {
  const filled = rows.map((r) => ({ ...r, cells: trimEnd(r.cells) })).filter((r) => r.cells.length > 0);
  const found = headingsIn(filled, options);
  if (found === undefined) return { headings: [], headingRow: 1, rows: [], findings: [], grid: true };
  const { headings, row: headingRow } = found;
  const findings: Finding[] = [...found.findings];
  const data = filled.slice(found.dataFrom).map(({ row, line, cells }): TableRow => {
    if (cells.length > headings.length) findings.push(tooLong(options.fileName, row, line, cells, headings));
    const width = Math.max(headings.length, cells.length);
    return { row, line, cells: Array.from({ length: width }, (_, i) => cells[i] ?? '') };
  });
  return { headings, headingRow, rows: data, findings, grid: true };
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
