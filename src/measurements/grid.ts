import type { Finding } from '../finding.ts';
import type { Table, TableOptions, TableRow } from './table.ts';
import { unitCalled } from './units.ts';

/** A row of cells as it stands in a sheet or in a text with separators. */
export interface GridRow {
  /** As a spreadsheet counts, from 1. */
  readonly row: number;
  /** 1-based line of a text file. */
  readonly line?: number;
  readonly cells: readonly string[];
}

/** Headings are looked for in so many rows from the top. */
const LOOKED_AT = 60;

/**
 * The table in a grid of cells. The headings are the first row in which at least two cells are columns that are known, or
 * the fullest with one such cell; what stands above them is a title and passed over, which is told. A row of units right
 * below the headings (`in`, `cm`) belongs to them. Empty rows are left out.
 */
export const tableOf = (rows: readonly GridRow[], options: TableOptions): Table => {
  const filled = rows.map((r) => ({ ...r, cells: trimEnd(r.cells) })).filter((r) => r.cells.length > 0);
  const at = headingIndex(filled, options.knows);
  const top = filled[at];
  if (top === undefined) return { headings: [], headingRow: 1, rows: [], findings: [], grid: true };
  const below = filled[at + 1];
  const units = below !== undefined && isUnits(below.cells) ? below.cells : [];
  const headings = top.cells.map((heading, i) => withUnit(heading.trim(), units[i] ?? ''));
  const findings: Finding[] = at === 0 ? [] : [titlePassedOver(filled.slice(0, at), top.row, options.fileName)];
  const data = filled.slice(at + (units.length > 0 ? 2 : 1)).map(({ row, line, cells }): TableRow => {
    if (cells.length > headings.length) findings.push(tooLong(options.fileName, row, line, cells, headings));
    const width = Math.max(headings.length, cells.length);
    return { row, line, cells: Array.from({ length: width }, (_, i) => cells[i] ?? '') };
  });
  return { headings, headingRow: top.row, rows: data, findings, grid: true };
};

/** How many cells of a row are columns that are known. */
export const knownIn = (cells: readonly string[], knows: TableOptions['knows']): number =>
  cells.filter((cell) => cell.trim() !== '' && knows(cell.trim())).length;

const headingIndex = (rows: readonly GridRow[], knows: TableOptions['knows']): number => {
  const looked = rows.slice(0, LOOKED_AT).map(({ cells }) => ({ known: knownIn(cells, knows), full: cells.length }));
  const sure = looked.findIndex(({ known }) => known >= 2);
  if (sure >= 0) return sure;
  const fullest = Math.max(0, ...looked.filter(({ known }) => known > 0).map(({ full }) => full));
  return Math.max(
    0,
    looked.findIndex(({ known, full }) => known > 0 && full === fullest),
  );
};

const isUnits = (cells: readonly string[]): boolean =>
  cells.every((cell) => cell.trim() === '' || unitCalled(cell.replace(/^\s*[([]|[)\]]\s*$/g, '')) !== undefined);

const withUnit = (heading: string, unit: string): string =>
  unit.trim() === '' || heading === '' || /[)\]]$/.test(heading)
    ? heading
    : `${heading} (${unit.replace(/[()[\]]/g, '').trim()})`;

const trimEnd = (cells: readonly string[]): readonly string[] =>
  cells.slice(0, cells.findLastIndex((cell) => cell.trim() !== '') + 1);

/** The column's letters and the row: 0 and 7 are `A7`. */
export const cellAddress = (column: number, row: number): string => {
  let letters = '';
  for (let n = column + 1; n > 0; n = Math.floor((n - 1) / 26))
    letters = String.fromCharCode(65 + ((n - 1) % 26)) + letters;
  return `${letters}${row}`;
};

const titlePassedOver = (rows: readonly GridRow[], headingRow: number, file: string): Finding => {
  const text = rows.map(({ cells }) => cells.filter((c) => c.trim() !== '').join(' ')).join(' / ');
  return {
    code: 'measure-title-rows',
    level: 'note',
    where: { file, row: headingRow, excerpt: text.length > 80 ? `${text.slice(0, 79)}…` : text },
    message: `The headings were found in row ${headingRow}; what stands above them was taken for a title.`,
    try: 'If fittings stand above it, move the headings to the top.',
  };
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
