import type { Finding, Where } from '../finding.ts';
import { unusualFraction } from './cell-dates.ts';
import { spoiltFormula } from './cell-faults.ts';
import { cellAddress } from './grid.ts';
import { partedHeading } from './heading.ts';
import { type AlterationColumn, isFinding, keyOf, type Meaning, meaningOf, readValue, unknownName } from './names.ts';
import type { Table, TableRow } from './table.ts';
import { isInMetres, type LengthUnit, unitCalled } from './units.ts';
import { plainWords } from './words.ts';

/** What a column of a table holds: text to pass on, or lengths. */
export type Column =
  | { readonly kind: 'text'; readonly heading: string; readonly name: string }
  | { readonly kind: 'lengths'; readonly heading: string; readonly meaning: Meaning; readonly unit?: LengthUnit }
  | { readonly kind: 'unreadable'; readonly heading: string };

export interface ColumnOptions {
  readonly fileName: string;
  /** Text columns by the words they may be headed with, and the name they go under. */
  readonly textColumns: Readonly<Record<string, string>>;
  readonly alterationColumns: readonly AlterationColumn[];
}

/** Columns of a table by its headings, with a finding for each heading that means nothing. */
export const readColumns = (table: Table, options: ColumnOptions): { columns: Column[]; findings: Finding[] } => {
  const findings: Finding[] = [];
  const columns = table.headings.map((heading, index): Column => {
    const column = readHeading(heading, index, table, options);
    if (!('code' in column)) return column;
    findings.push(column);
    return { kind: 'unreadable', heading };
  });
  return { columns, findings };
};

const readHeading = (heading: string, index: number, table: Table, options: ColumnOptions): Column | Finding => {
  const where: Where = {
    file: options.fileName,
    row: table.headingRow,
    ...(table.grid ? { address: cellAddress(index, table.headingRow) } : {}),
    cell: heading,
  };
  if (heading === '') {
    const used = table.rows.some((row) => !isBlank(row.cells[index] ?? ''));
    return used ? unnamed(index, where) : { kind: 'text', heading, name: '' };
  }
  const plain = plainWords(heading);
  const name = Object.hasOwn(options.textColumns, plain) ? options.textColumns[plain] : undefined;
  if (name !== undefined) return { kind: 'text', heading, name };
  const whole = meaningOf(heading, options.alterationColumns);
  if (whole !== undefined) return { kind: 'lengths', heading, meaning: whole };
  const { name: bare, unit: stated } = partedHeading(heading);
  const meaning = meaningOf(bare, options.alterationColumns);
  if (bare === heading || meaning === undefined) {
    const names = [...new Set(Object.values(options.textColumns))];
    return unknownName(bare, 'column', options.alterationColumns, names, where);
  }
  const unit = unitCalled(stated);
  return unit === undefined ? unitUnknown(stated, bare, where) : { kind: 'lengths', heading, meaning, unit };
};

const unnamed = (index: number, where: Where): Finding => ({
  code: 'measure-column-unnamed',
  level: 'error',
  where,
  message: `Column ${index + 1} has values but no heading.`,
  try: `Write above it what it holds, such as 'waist girth (in)', or clear the column.`,
});

const unitUnknown = (unit: string, name: string, where: Where): Finding => ({
  code: 'measure-unit-unknown',
  level: 'error',
  where,
  message: `'${unit}' in the heading is not a unit of length known here.`,
  try: `Write '${name} (in)', '${name} (cm)' or '${name} (mm)'.`,
});

/** Whether a heading is of a column of texts. */
export const isTextHeading =
  ({ textColumns }: Pick<ColumnOptions, 'textColumns'>) =>
  (heading: string): boolean =>
    Object.hasOwn(textColumns, plainWords(heading));

/** Whether a heading is one of the columns that mean something; its unit need not be right. */
export const knowsHeading =
  (options: Omit<ColumnOptions, 'fileName'>) =>
  (heading: string): boolean => {
    const { name: bare } = partedHeading(heading);
    return (
      isTextHeading(options)(heading) ||
      [heading, bare].some((text) => meaningOf(text, options.alterationColumns) !== undefined)
    );
  };

/** What one row says, by column kind; every bad cell is a finding. */
export interface RowValues {
  readonly texts: Readonly<Record<string, string>>;
  readonly measurements: Readonly<Record<string, number>>;
  readonly direct: Readonly<Record<string, { readonly amount: number; readonly column: string }>>;
  /** Ease asked for, mm, by canonical measurement name. */
  readonly ease: Readonly<Record<string, number>>;
  /** Unit each measurement was written in, and those of all lengths in order. */
  readonly writtenIn: Readonly<Record<string, LengthUnit>>;
  readonly units: readonly LengthUnit[];
  /** Where each measurement and each amount stands. */
  readonly places: Readonly<Record<string, Where>>;
  readonly findings: readonly Finding[];
}

/** A cell that says nothing: empty, or a dash as people put into a table. */
const isBlank = (cell: string): boolean => /^[\s\-–—]*$/.test(cell);

/** Text columns whose words are somebody's own: they are passed on whatever they hold. */
const freeText: ReadonlySet<string> = new Set(['note', 'wearer']);

/** Reads one row. `where` says in which file and for which fitting, for findings. */
export const readRow = (row: TableRow, columns: readonly Column[], where: Where, grid = false): RowValues => {
  const texts: Record<string, string> = {};
  const measurements: Record<string, number> = {};
  const direct: Record<string, { amount: number; column: string }> = {};
  const ease: Record<string, number> = {};
  const writtenIn: Record<string, LengthUnit> = {};
  const places: Record<string, Where> = {};
  const units: LengthUnit[] = [];
  const findings: Finding[] = [];
  for (const [index, cell] of row.cells.entries()) {
    const column = columns[index];
    if (column === undefined || isBlank(cell)) continue;
    const { heading } = column;
    const address = grid ? { address: cellAddress(index, row.row) } : {};
    const at: Where = { ...where, row: row.row, line: row.line, ...address, cell: heading, excerpt: cell };
    if (column.kind === 'text') {
      texts[column.name] = cell;
      const spoilt = freeText.has(column.name) ? undefined : spoiltFormula(cell, heading, at);
      if (spoilt !== undefined) findings.push(spoilt);
    }
    if (column.kind !== 'lengths') continue;
    const { meaning, unit } = column;
    const value = readValue(cell, heading, meaning, unit, at);
    if (isFinding(value)) {
      findings.push(value);
      continue;
    }
    findings.push(...unusualFraction(cell, heading, at));
    if (unit !== undefined && value.unitWritten && isOtherUnit(cell, value.unit, column))
      findings.push(unitDiffers(cell, column, at));
    const key = keyOf(meaning);
    if (key in { measurement: measurements, ease, direct }[meaning.kind]) {
      findings.push(givenTwice(meaning.kind === 'ease' ? `${key} ease` : key, heading, at));
      continue;
    }
    units.push(value.unit);
    places[meaning.kind === 'measurement' ? key : `${key} ${meaning.kind}`] = at;
    if (meaning.kind === 'measurement') {
      measurements[key] = value.mm;
      writtenIn[key] = value.unit;
    } else if (meaning.kind === 'ease') {
      ease[key] = value.mm;
    } else {
      direct[key] = { amount: value.mm, column: heading };
    }
  }
  return { texts, measurements, direct, ease, writtenIn, units, places, findings };
};

/** Metres under centimetres are another unit too. */
const isOtherUnit = (cell: string, unit: LengthUnit, column: Column & { kind: 'lengths' }): boolean =>
  unit !== column.unit || (isInMetres(cell) && !isInMetres(column.heading.replace(/[)\]]\s*$/, '')));

const unitDiffers = (cell: string, column: Column & { kind: 'lengths' }, where: Where): Finding => ({
  code: 'measure-unit-differs',
  level: 'warning',
  where,
  message: `'${cell}' names another unit than its heading '${column.heading}'. The unit in the cell was taken.`,
  try: 'Check that the value is meant as written.',
});

const givenTwice = (name: string, heading: string, where: Where): Finding => ({
  code: 'measure-given-twice',
  level: 'error',
  where,
  message: `${name} is given a second time in the column '${heading}'.`,
  try: 'Keep the column that is right and clear the other.',
});

/** Columns that could not be read but in which this row has something: the row cannot be done as asked. */
export const unreadCells = (row: TableRow, columns: readonly Column[]): readonly Column[] =>
  columns.filter((column, i) => column.kind === 'unreadable' && !isBlank(row.cells[i] ?? ''));
