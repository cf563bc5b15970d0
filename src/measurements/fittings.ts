import type { Finding, Where } from '../finding.ts';
import { type ComparedRow, compareRows } from './across-rows.ts';
import { type Checked, covers, readChecked, type Stands } from './checked.ts';
import {
  type Column,
  isTextHeading,
  knowsHeading,
  type RowValues,
  readColumns,
  readRow,
  unreadCells,
} from './columns.ts';
import { type AlterationColumn, unitWorkedIn } from './names.ts';
import { NOTES } from './notes.ts';
import { checkBody } from './plausible.ts';
import { readTable } from './read-table.ts';
import { summaryRows } from './summary-rows.ts';
import type { Table, TableRow } from './table.ts';
import { nearestTerm } from './terms.ts';
import type { LengthUnit } from './units.ts';
import { plainWords } from './words.ts';

/** One wearer's order. */
export interface Fitting {
  readonly name: string;
  readonly wearer: string;
  /** Body measurements, mm, by canonical name. */
  readonly measurements: Readonly<Record<string, number>>;
  /** Signed amounts asked for directly, mm, by catalogue name; `column` as the user headed it. */
  readonly direct: Readonly<Record<string, { readonly amount: number; readonly column: string }>>;
  /** Ease asked for in place of the design's, mm, by canonical measurement name. */
  readonly ease: Readonly<Record<string, number>>;
  /** The unit the wearer's row is mostly written in; the table's where the row has no lengths. */
  readonly show: LengthUnit;
  readonly note: string;
  /** Pattern file the fitting is for, when the table says so. */
  readonly pattern?: string;
  readonly size?: string;
  /** Row as a spreadsheet counts; in JSON and YAML the number of the entry. */
  readonly row: number;
  /** What the row says was checked and stands. */
  readonly stands: Stands;
  /** Something in the row could not be read: the fitting must not be altered. The findings say what. */
  readonly refused: boolean;
}

export interface FittingsOptions {
  readonly fileName: string;
  readonly alterationColumns: readonly AlterationColumn[];
  /** Sheet of a workbook; without it the first that has the headings. */
  readonly sheet?: string | undefined;
}

const textColumns: Readonly<Record<string, string>> = {
  fitting: 'fitting',
  fittings: 'fitting',
  pattern: 'pattern',
  size: 'size',
  wearer: 'wearer',
  checked: 'checked',
  ...NOTES,
};

/**
 * Reads a table of fittings: XLSX, CSV, JSON or YAML (see `readTable`). The column `fitting` names each order; `pattern`,
 * `size`, `wearer` and `note` are passed on, `checked` says that odd values stand (see `readChecked`); all others are body measurements, ease asked for at one (`hip girth ease`), or
 * alterations with signed amounts, with their unit in brackets behind the heading or behind each number.
 *
 * What is wrong in a row is an error-level finding with row, column and text, and refuses that fitting alone.
 */
export const readFittings = async (
  input: Uint8Array | string,
  options: FittingsOptions,
): Promise<{ readonly fittings: readonly Fitting[]; readonly findings: readonly Finding[] }> => {
  const knows = knowsHeading({ ...options, textColumns });
  const isText = isTextHeading({ textColumns });
  const table = await readTable(input, { ...options, nameColumn: 'fitting', knows, isText });
  const { columns, findings: headingFindings } = readColumns(table, { ...options, textColumns });
  if (table.rows.length === 0) return { fittings: [], findings: [...table.findings, ...headingFindings] };
  if (!columns.some((column) => column.kind === 'text' && column.name === 'fitting')) {
    const missing = nameColumnMissing(table, options.fileName);
    return { fittings: [], findings: [...table.findings, ...headingFindings, missing] };
  }
  const rowsInError = new Set(table.findings.filter((f) => f.level === 'error').map((f) => f.where.row));
  const read = table.rows.map((row) =>
    readFitting(row, columns, rowsInError.has(row.row), options.fileName, table.grid),
  );
  const tableUnit = unitWorkedIn(read.flatMap(({ values }) => values.units)) ?? 'mm';
  const twice = namedTwice(read.map(({ fitting }) => fitting));
  const nameOfRow = new Map(read.map(({ fitting }) => [fitting.row, fitting.name]));
  const all = compareRows(read.filter((r) => !twice.includes(r.fitting)).map(comparedRow));
  // What is one mistake of a whole column goes before what it makes of each row.
  const isOfColumn = (f: Finding): boolean => f.code === 'measure-column-unit';
  const [ofColumns, compared] = [all.filter(isOfColumn), all.filter((f) => !isOfColumn(f))];
  const findings = [
    ...table.findings.map((f) => ({ ...f, where: { ...f.where, fitting: nameOfRow.get(f.where.row ?? 0) } })),
    ...headingFindings,
    ...ofColumns,
    ...read.flatMap((r) => r.findings),
    ...summaryRows(
      read.map(({ fitting }) => fitting),
      options.fileName,
    ),
    ...twice.map((f) => nameTwice(f, options.fileName)),
    // What a row shows by itself is not told again.
    ...compared.filter((f) => !read.some((r) => r.findings.some((own) => isSameOf(own, f)))),
  ];
  const fittings = read.map(({ fitting, values }) => ({
    ...fitting,
    show: unitWorkedIn(values.units) ?? tableUnit,
    refused: fitting.refused || twice.includes(fitting),
  }));
  return { fittings, findings };
};

const isSameOf = (a: Finding, b: Finding): boolean => a.code === b.code && a.where.row === b.where.row;

interface ReadRow {
  readonly fitting: Omit<Fitting, 'show'>;
  readonly values: RowValues;
  readonly checked: Checked;
  readonly findings: readonly Finding[];
}

const comparedRow = ({ fitting, values, checked }: ReadRow): ComparedRow => ({
  ...values,
  fitting: fitting.name,
  wearer: fitting.wearer,
  row: fitting.row,
  stands: checked.stands,
});

const readFitting = (
  row: TableRow,
  columns: readonly Column[],
  inError: boolean,
  file: string,
  grid: boolean,
): ReadRow => {
  const nameAt = columns.findIndex((column) => column.kind === 'text' && column.name === 'fitting');
  const stated = row.cells[nameAt]?.trim() ?? '';
  const name = stated === '' ? `row ${row.row}` : stated;
  const where: Where = { file, row: row.row, line: row.line, fitting: name };
  const values = readRow(row, columns, where, grid);
  const unread = unreadCells(row, columns);
  const checked = readChecked(values.texts.checked ?? '', { ...where, cell: 'checked' });
  const findings = [
    ...values.findings,
    ...(stated === '' ? [nameMissing(where)] : []),
    ...checked.findings,
    ...checkBody({ ...values, checked: (m) => covers(checked.stands, m), where: (m) => values.places[m] ?? where }),
    ...largeAmounts(values, checked),
  ];
  const asked = Object.keys(values.measurements).length + Object.keys(values.direct).length;
  if (asked === 0 && findings.length === 0 && unread.length === 0 && !inError) findings.push(nothingAsked(where));
  const { texts } = values;
  return {
    fitting: {
      name,
      wearer: texts.wearer ?? '',
      measurements: values.measurements,
      direct: values.direct,
      ease: values.ease,
      note: texts.note ?? '',
      ...(texts.pattern === undefined ? {} : { pattern: texts.pattern }),
      ...(texts.size === undefined ? {} : { size: texts.size }),
      row: row.row,
      stands: checked.stands,
      refused: inError || unread.length > 0 || findings.some((f) => f.level === 'error'),
    },
    values,
    checked,
    findings,
  };
};

/** No seam takes so much: it is rather a measurement of the body. mm */
const LIKE_A_BODY = 200;

const largeAmounts = ({ direct, places }: RowValues, { stands }: Checked): Finding[] =>
  Object.entries(direct)
    .filter(([, { amount }]) => Math.abs(amount) >= LIKE_A_BODY)
    .map(([name, { column }]) => ({
      code: 'measure-amount-like-a-body',
      level: covers(stands, name) ? 'note' : 'warning',
      where: places[`${name} direct`] ?? {},
      message: `'${places[`${name} direct`]?.excerpt}' in '${column}' is a change of the pattern, and as large as a measurement of the body.`,
      try: 'If it is what the wearer measures, head the column with the measurement: hip girth, not hip change.',
    }));

/** Every fitting whose name (for the same pattern) an earlier or later row has too: none of them is certain. */
const namedTwice = <T extends Pick<Fitting, 'name' | 'pattern'>>(fittings: readonly T[]): readonly T[] => {
  const keyOf = (f: T) => `${f.name.toLowerCase()}\n${f.pattern ?? ''}`;
  const counts = new Map<string, number>();
  for (const fitting of fittings) counts.set(keyOf(fitting), (counts.get(keyOf(fitting)) ?? 0) + 1);
  return fittings.filter((fitting) => (counts.get(keyOf(fitting)) ?? 0) > 1);
};

const nameTwice = (fitting: Pick<Fitting, 'name' | 'row'>, file: string): Finding => ({
  code: 'measure-name-twice',
  level: 'error',
  where: { file, row: fitting.row, cell: 'fitting', excerpt: fitting.name, fitting: fitting.name },
  message: `'${fitting.name}' stands in more than one row, so it is not certain which of them is meant.`,
  try: 'Give each fitting a name of its own, or take out the row that is not wanted.',
});

const nameMissing = (where: Where): Finding => ({
  code: 'measure-name-missing',
  level: 'error',
  where: { ...where, cell: 'fitting' },
  message: `Row ${where.row} has values but no name in the column 'fitting'.`,
  try: `Write the wearer's name or the order's number there.`,
});

const nothingAsked = (where: Where): Finding => ({
  code: 'measure-nothing-asked',
  level: 'warning',
  where,
  message: `'${where.fitting}' has neither measurements nor amounts: nothing will be altered for it.`,
  try: 'Fill in the measurements that differ from the pattern, or take the row out.',
});

/** Headings under which a row's name may stand. */
const CALLED = /\b(?:name|order|customer|client|wearer|performer|singer|role|who)\b/;

const nameColumnMissing = (table: Table, file: string): Finding => {
  const near = table.headings.find((heading) => nearestTerm(heading, ['fitting']) === 'fitting');
  const instead = near ?? table.headings.find((heading) => CALLED.test(plainWords(heading)));
  return {
    code: 'measure-column-missing',
    level: 'error',
    where: { file, row: table.headingRow, excerpt: table.headings.join(' | ') },
    message: `There is no column 'fitting' to say which row is whose.`,
    try:
      instead === undefined
        ? `Add a column headed 'fitting' with the wearer's name or the order's number.`
        : `Head the column '${instead}' with 'fitting'.`,
  };
};
