import { readCsv } from './csv.ts';
import { readEntries } from './entries.ts';
import { type Table, type TableOptions, unreadable } from './table.ts';
import { decodeText } from './text.ts';

/**
 * Reads a table: an XLSX workbook, CSV (comma, semicolon or tab, with or without byte order mark), JSON or YAML (a list
 * of rows, or rows keyed by name). The kind follows from the bytes, the file name, else from the text. Rows without any
 * value are left out. What reads workbooks is loaded when one comes.
 */
export const readTable = async (input: Uint8Array | string, options: TableOptions): Promise<Table> => {
  const table = await readKind(input, options);
  if (table.rows.length > 0 || table.findings.some((f) => f.level === 'error')) return table;
  return { ...table, findings: [...table.findings, noRows(options, table.headings.length > 0)] };
};

const readKind = async (input: Uint8Array | string, options: TableOptions): Promise<Table> => {
  if (typeof input === 'string') return readText(input, options);
  if (startsWith(input, ZIP)) return (await import('./xlsx/index.ts')).readXlsx(input, options);
  if (startsWith(input, COMPOUND)) return unreadable(options.fileName, OLD_WORKBOOK, ...NOWHERE, SAVE_AS);
  if (/\.xls[xmb]?$/i.test(options.fileName) && input.length > 0) {
    return unreadable(options.fileName, 'it is named like a workbook and is none.', ...NOWHERE, SAVE_AS);
  }
  const decoded = decodeText(input, options.fileName);
  if (isNoText(decoded.text)) return unreadable(options.fileName, NO_TEXT, ...NOWHERE, NAME_IT);
  const table = readText(decoded.text, options);
  return { ...table, findings: [...decoded.findings, ...table.findings] };
};

const NOWHERE = [undefined, undefined, undefined] as const;
const SAVE_AS = 'Open it in a spreadsheet, and save it as XLSX without a password, or as CSV.';
const OLD_WORKBOOK = 'it is a workbook of the old kind (XLS), or one that a password protects.';

const NAME_IT = 'Name the table itself. If this is it, take it again from where it came, or from a copy.';
const NO_TEXT = 'it is no text. Pictures, programs and packed files look so, and files that were damaged on the way.';

/** Texts have hardly any controls but tabs and line ends, and never zeros; of other bytes about one in nine is one. */
const MOST_CONTROLS = 0.05;
const A_FEW = 8;
const isNoText = (text: string): boolean => {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is counted
  const controls = text.match(/[\u0000-\u0008\u000e-\u001f]/g)?.length ?? 0;
  return text.includes('\0') || (controls > A_FEW && controls > text.length * MOST_CONTROLS);
};

const ZIP = [0x50, 0x4b, 0x03, 0x04];
/** Old workbooks and encrypted ones both lie in a compound file (MS-CFB, header signature). */
const COMPOUND = [0xd0, 0xcf, 0x11, 0xe0];
const startsWith = (bytes: Uint8Array, start: readonly number[]): boolean => start.every((b, i) => bytes[i] === b);

const readText = (whole: string, options: TableOptions): Table => {
  const text = whole.replace(/^\uFEFF/, '');
  return kindOf(options.fileName, text) === 'csv' ? readCsv(text, options) : readEntries(text, options);
};

const kindOf = (fileName: string, text: string): 'csv' | 'entries' => {
  if (/\.(?:json|ya?ml)$/i.test(fileName)) return 'entries';
  if (/\.(?:csv|tsv|txt|tab)$/i.test(fileName)) return 'csv';
  return /^\s*(?:[[{]|---|- )/.test(text) ? 'entries' : 'csv';
};

const noRows = ({ fileName, nameColumn }: TableOptions, headed: boolean): Table['findings'][number] => ({
  code: 'measure-table-empty',
  level: 'error',
  where: { file: fileName },
  message: headed ? 'The table has headings and no rows below them.' : 'The table has no rows.',
  try: headed
    ? `Fill in a row for each ${nameColumn}, below the headings.`
    : `Write one row for each ${nameColumn}, below a row of headings such as '${nameColumn}' and 'waist girth (in)'.`,
});
