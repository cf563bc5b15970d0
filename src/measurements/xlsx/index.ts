import type { Finding } from '../../finding.ts';
import { tableOf } from '../grid.ts';
import { knownIn } from '../grid-row.ts';
import { type Table, type TableOptions, unreadable } from '../table.ts';
import { nearestWord, plainWords } from '../words.ts';
import { Unreadable } from './archive.ts';
import { withMerged } from './merged.ts';
import { readSheet } from './sheet.ts';
import { openWorkbook, type Shared, type SheetPart } from './workbook.ts';

const REMEDY = 'Open it in a spreadsheet, and save it again as XLSX, or as CSV.';

/**
 * Reads the table on one sheet of an XLSX workbook: the sheet that is named, else the first one shown on which the
 * headings are found. Hidden sheets are passed over unless they are named; which sheet was read is told where there are
 * several.
 */
export const readXlsx = (bytes: Uint8Array, options: TableOptions): Table => {
  try {
    const { sheets, shared } = openWorkbook(bytes);
    return options.sheet === undefined
      ? firstTable(sheets, shared, options)
      : named(options.sheet, sheets, shared, options);
  } catch (error) {
    if (!(error instanceof Unreadable)) throw error;
    return unreadable(options.fileName, error.message, undefined, undefined, undefined, REMEDY);
  }
};

const named = (name: string, sheets: readonly SheetPart[], shared: Shared, options: TableOptions): Table => {
  const sheet = sheets.find((s) => s.name === name) ?? sheets.find((s) => plainWords(s.name) === plainWords(name));
  if (sheet !== undefined) return tableOn(sheet, shared, options);
  const names = sheets.map((s) => s.name);
  const near = nearestWord(name, names);
  const empty = unreadable(options.fileName, '');
  return { ...empty, findings: [sheetUnknown(options.fileName, name, names, near)] };
};

const firstTable = (sheets: readonly SheetPart[], shared: Shared, options: TableOptions): Table => {
  const visible = sheets.filter((s) => !s.hidden);
  const read = visible.map((sheet) => ({ sheet, table: tableOn(sheet, shared, options) }));
  type Read = (typeof read)[number];
  const isTurned = ({ table }: Read) => table.findings.some(({ code }) => code === 'measure-table-turned');
  const isHeaded = ({ table }: Read) =>
    table.headings.some((h) => plainWords(h) === options.nameColumn) && knownIn(table.headings, options.knows) > 1;
  const chosen =
    read.find((r) => isHeaded(r) && r.table.rows.length > 0) ?? read.find(isHeaded) ?? read.find(isTurned) ?? read[0];
  if (chosen === undefined) return unreadable(options.fileName, 'the workbook shows no sheet.', ...NOWHERE, REMEDY);
  const others = read.filter((r) => r !== chosen && isHeaded(r) && r.table.rows.length > 0);
  const { table } = chosen;
  if (others.length === 0) return table;
  const told = sheetChosen(
    options.fileName,
    chosen.sheet.name,
    others.map((o) => o.sheet.name),
  );
  return { ...table, findings: [told, ...table.findings] };
};

const NOWHERE = [undefined, undefined, undefined] as const;

const tableOn = (sheet: SheetPart, shared: Shared, options: TableOptions): Table => {
  const grid = readSheet(sheet, shared);
  const table = withMerged(tableOf(grid.rows, options), grid.merged, options);
  const rows = grid.hiddenRows.filter((row) => row > table.headingRow);
  const isHidden = (column: number) => grid.hiddenColumns.some(([first, last]) => column >= first && column <= last);
  const columns = table.headings.filter(
    (_, i) => isHidden(i) && table.rows.some(({ cells }) => (cells[i] ?? '').trim() !== ''),
  );
  const findings = [
    ...(rows.length > 0 ? [rowsHidden(options.fileName, rows)] : []),
    ...(columns.length > 0 ? [columnsHidden(options.fileName, columns)] : []),
  ];
  return findings.length === 0 ? table : { ...table, findings: [...table.findings, ...findings] };
};

const sheetUnknown = (file: string, name: string, names: readonly string[], near: string | undefined): Finding => ({
  code: 'measure-sheet-unknown',
  level: 'error',
  where: { file },
  message: `The workbook has no sheet '${name}'. It has ${names.map((n) => `'${n}'`).join(', ') || 'none'}.`,
  try: near === undefined ? 'Name one of them.' : `Did you mean '${near}'?`,
});

const sheetChosen = (file: string, name: string, others: readonly string[]): Finding => ({
  code: 'measure-sheet-chosen',
  level: 'note',
  where: { file },
  message: `The sheet '${name}' was read. Not read: ${others.map((o) => `'${o}'`).join(', ')}.`,
  try: `To read another, name it behind the file: '${file.replace(/#.*$/, '')}#${others[0]}'.`,
});

const rowsHidden = (file: string, rows: readonly number[]): Finding => ({
  code: 'measure-rows-hidden',
  level: 'warning',
  where: { file },
  message: `${rows.length === 1 ? 'A row is' : `${rows.length} rows are`} hidden in the sheet and read all the same: row ${rows.slice(0, 8).join(', ')}${rows.length > 8 ? ' …' : ''}.`,
  try: 'Show them to check them, or delete those that are not wanted.',
});

const columnsHidden = (file: string, headings: readonly string[]): Finding => ({
  code: 'measure-columns-hidden',
  level: 'warning',
  where: { file },
  message: `${headings.length === 1 ? 'A column is' : `${headings.length} columns are`} hidden in the sheet and read all the same: ${headings.map((h) => `'${h}'`).join(', ')}.`,
  try: 'Show them to check them, or delete those that are not wanted.',
});
