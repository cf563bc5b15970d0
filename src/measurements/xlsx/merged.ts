import type { Finding } from '../../finding.ts';
import { cellAddress } from '../grid.ts';
import type { Table, TableOptions, TableRow } from '../table.ts';

/** Cells that a sheet shows as one. Rows from 1, columns from 0, both ends within. */
export interface MergedCells {
  readonly ref: string;
  readonly rows: readonly [number, number];
  readonly columns: readonly [number, number];
}

/**
 * What merged cells in the rows of a table mean. One that is all of a row is a title. One over several rows stands for each of them, and every row that gets a
 * value so is told of it. One over several columns cannot be in all of them, nor can one name be of several rows, nor a
 * value be believed that another hides: these are errors.
 */
export const withMerged = (table: Table, merged: readonly MergedCells[], options: TableOptions): Table => {
  const findings: Finding[] = [];
  const filled = new Map<number, TableRow>(table.rows.map((row) => [row.row, row]));
  const inOrder = merged
    .filter(({ rows: [first] }) => first > table.headingRow)
    .toSorted((a, b) => a.rows[0] - b.rows[0] || a.columns[0] - b.columns[0]);
  for (const cells of inOrder) {
    const title = titleRow(cells, table, options);
    if (title !== undefined) {
      filled.delete(title.row);
      findings.push(passedOver(title, options.fileName));
      continue;
    }
    for (const told of mergedDoubts(cells, table, options)) {
      findings.push(told.finding);
      if (told.fills !== undefined) filled.set(told.fills.row, withCell(filled, told.fills));
    }
  }
  if (findings.length === 0) return table;
  return {
    ...table,
    rows: [...filled.values()],
    findings: [...table.findings, ...findings],
  };
};

/** A row of one wide cell and nothing else, such as `Sopranos` above their rows. */
const titleRow = ({ rows, columns }: MergedCells, table: Table, options: TableOptions): TableRow | undefined => {
  const named = table.headings.findIndex((heading) => heading.toLowerCase() === options.nameColumn);
  const isWide = columns[1] > columns[0] && rows[0] === rows[1] && columns[0] <= named && named <= columns[1];
  const row = table.rows.find((r) => r.row === rows[0]);
  return isWide && row?.cells.filter((cell) => cell !== '').length === 1 ? row : undefined;
};

const passedOver = ({ row, cells }: TableRow, file: string): Finding => ({
  code: 'measure-title-rows',
  level: 'note',
  where: { file, excerpt: cells.find((cell) => cell !== '') },
  message: `Row ${row} is one wide cell: it was taken for a title and passed over.`,
  try: 'If it is a fitting, undo the merging.',
});

interface Told {
  readonly finding: Finding;
  readonly fills?: { readonly row: number; readonly column: number; readonly value: string };
}

const withCell = (
  rows: ReadonlyMap<number, TableRow>,
  { row, column, value }: NonNullable<Told['fills']>,
): TableRow => {
  const old = rows.get(row) ?? { row, cells: [] };
  return { ...old, cells: old.cells.map((cell, i) => (i === column ? value : cell)) };
};

const mergedDoubts = (cells: MergedCells, table: Table, options: TableOptions): readonly Told[] => {
  const { ref, rows, columns } = cells;
  const [column] = columns;
  const heading = table.headings[column] ?? '';
  const own = table.rows.filter(({ row }) => row >= rows[0] && row <= rows[1]);
  const value = own.find(({ row }) => row === rows[0])?.cells[column] ?? '';
  const at = (row: number) => ({
    file: options.fileName,
    row,
    address: cellAddress(column, row),
    cell: heading,
    excerpt: value,
  });
  const hides = own.some(({ row, cells: texts }) =>
    texts.slice(column, columns[1] + 1).some((text, i) => text !== '' && text !== value && (i > 0 || row !== rows[0])),
  );
  if (hides) return own.map(({ row }) => ({ finding: hidesOthers(ref, heading, value, at(row)) }));
  if (value === '') return [];
  const over = table.headings.slice(column, columns[1] + 1).filter((h) => h !== '');
  if (over.length > 1) return own.map(({ row }) => ({ finding: overColumns(ref, over, value, at(row)) }));
  const others = own.filter(({ row }) => row !== rows[0]);
  if (heading.toLowerCase() === options.nameColumn) {
    return others.length === 0 ? [] : [{ finding: oneName(ref, value, at(rows[0])) }];
  }
  const level = options.isText?.(heading) ? 'note' : 'warning';
  return others.map(({ row }) => ({
    finding: overRows(cells, heading, value, level, at(row)),
    fills: { row, column, value },
  }));
};

const code = 'measure-cell-merged';
type Where = Finding['where'];

const overRows = (
  { ref, rows }: MergedCells,
  heading: string,
  value: string,
  level: Finding['level'],
  where: Where,
): Finding => ({
  code,
  level,
  where,
  message: `${heading}: ${ref} is one cell over rows ${rows[0]} to ${rows[1]}. Its value '${value}' was taken for each of them.`,
  try: 'If it is not meant for all of them, undo the merging and write each its own value.',
});

const overColumns = (ref: string, headings: readonly string[], value: string, where: Where): Finding => ({
  code,
  level: 'error',
  where,
  message: `${ref} is one cell over the columns ${headings.map((h) => `'${h}'`).join(', ')}: '${value}' cannot be in all of them.`,
  try: 'Undo the merging, and write the value under the heading that is meant.',
});

const oneName = (ref: string, value: string, where: Where): Finding => ({
  code,
  level: 'error',
  where,
  message: `${ref} is one cell, and '${value}' would be the name of several rows.`,
  try: 'Undo the merging, and give each row a name of its own; what belongs to one fitting goes into one row.',
});

const hidesOthers = (ref: string, heading: string, value: string, where: Where): Finding => ({
  code,
  level: 'error',
  where,
  message: `${heading}: the merged cell ${ref} shows '${value}', and hides another value.`,
  try: 'Undo the merging, and keep the values that are right.',
});
