import type { Finding } from '../finding.ts';
import { isTextHeading, knowsHeading, readColumns, readRow, unreadCells } from './columns.ts';
import { NOTES } from './notes.ts';
import { checkBody } from './plausible.ts';
import { readTable } from './read-table.ts';
import { sizeKey } from './size-name.ts';
import { nearestWord } from './words.ts';

/** A size chart: the body measurements a pattern is drafted for, a row to a size. */
export interface SizeChart {
  readonly fileName: string;
  readonly sizes: readonly SizeRow[];
  readonly findings: readonly Finding[];
}

export interface SizeRow {
  readonly size: string;
  /** mm, by canonical name. */
  readonly measurements: Readonly<Record<string, number>>;
  readonly row: number;
}

const meanings = { textColumns: { size: 'size', sizes: 'size', ...NOTES }, alterationColumns: [] };

/**
 * Reads a size chart: a table like that of the fittings with a column `size` in place of `fitting`, and body
 * measurements only. A size with a value that cannot be read is left out, with the finding that says why.
 */
export const readChart = async (
  input: Uint8Array | string,
  options: { readonly fileName: string; readonly sheet?: string | undefined },
): Promise<SizeChart> => {
  const { fileName } = options;
  const [knows, isText] = [knowsHeading(meanings), isTextHeading(meanings)];
  const table = await readTable(input, { ...options, nameColumn: 'size', knows, isText });
  const { columns, findings: headingFindings } = readColumns(table, { fileName, ...meanings });
  const findings = [...table.findings, ...headingFindings];
  if (table.rows.length > 0 && !columns.some((column) => column.kind === 'text' && column.name === 'size')) {
    findings.push({
      code: 'measure-column-missing',
      level: 'error',
      where: { file: fileName, row: table.headingRow, excerpt: table.headings.join(' | ') },
      message: `There is no column 'size' to say which row is which size.`,
      try: `Add a column headed 'size'.`,
    });
    return { fileName, sizes: [], findings };
  }
  const rowsInError = new Set(table.findings.filter((f) => f.level === 'error').map((f) => f.where.row));
  const sizes: SizeRow[] = [];
  const seen = new Set<string>();
  for (const row of table.rows) {
    const where = { file: fileName, row: row.row, line: row.line };
    const values = readRow(row, columns, where, table.grid);
    const size = values.texts.size ?? '';
    const inRow = [...values.findings, ...checkBody({ ...values, where: (m) => values.places[m] ?? where })];
    if (size === '') inRow.push({ ...nameless, where: { ...where, cell: 'size' } });
    else if (seen.has(sizeKey(size))) inRow.push(sizeTwice(size, { ...where, cell: 'size', excerpt: size }));
    seen.add(sizeKey(size));
    findings.push(...inRow);
    const bad =
      rowsInError.has(row.row) || unreadCells(row, columns).length > 0 || inRow.some((f) => f.level === 'error');
    if (!bad) sizes.push({ size, measurements: values.measurements, row: row.row });
  }
  return { fileName, sizes, findings };
};

const nameless = {
  code: 'measure-name-missing',
  level: 'error',
  message: 'A row of the size chart has values but no size.',
  try: `Write the size in the column 'size'.`,
} as const;

const sizeTwice = (size: string, where: Finding['where']): Finding => ({
  code: 'measure-name-twice',
  level: 'error',
  where,
  message: `Size ${size} stands in two rows; the first is kept.`,
  try: 'Take out the row that is not wanted.',
});

/** The row of a size, or the finding that says which sizes there are. */
export const sizeCalled = (chart: SizeChart, size: string): SizeRow | Finding => {
  const found = chart.sizes.find((row) => sizeKey(row.size) === sizeKey(size));
  if (found !== undefined) return found;
  const sizes = chart.sizes.map((row) => row.size);
  const near = nearestWord(size, sizes);
  return {
    code: 'measure-size-unknown',
    level: 'error',
    where: { file: chart.fileName },
    message:
      size === ''
        ? `The pattern does not say what size it is, and none was named. The chart has ${sizes.join(', ') || 'none'}.`
        : `The size chart has no size '${size}'. It has ${sizes.join(', ') || 'none'}.`,
    try: near === undefined ? 'Name one of these sizes with --size.' : `Did you mean --size ${near}?`,
  };
};
