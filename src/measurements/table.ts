import { CsvError, type Info, parse } from 'csv-parse/sync';
import { isAlias, isMap, isScalar, isSeq, LineCounter, type Node, parseDocument } from 'yaml';
import type { Finding } from '../finding.ts';
import { decodeText } from './text.ts';
import { plainWords } from './words.ts';

/** A table as it stands in the file: nothing understood yet but rows and columns. */
export interface Table {
  readonly headings: readonly string[];
  readonly rows: readonly TableRow[];
  readonly findings: readonly Finding[];
}

export interface TableRow {
  /** As a spreadsheet counts, headings being row 1; in JSON and YAML the number of the entry, from 1. */
  readonly row: number;
  /** 1-based line in the file. */
  readonly line: number;
  /** One for each heading; '' where there is nothing. */
  readonly cells: readonly string[];
}

export interface TableOptions {
  readonly fileName: string;
  /** The column that names each row: 'fitting', 'size'. In JSON and YAML the rows may also be keyed by it. */
  readonly nameColumn: string;
}

/**
 * Reads a table: CSV (comma, semicolon or tab, with or without byte order mark), JSON or YAML (a list of rows, or rows
 * keyed by name). The kind follows from the file name, else from the text. Rows without any value are left out.
 */
export const readTable = (input: Uint8Array | string, options: TableOptions): Table => {
  const decoded = typeof input === 'string' ? { text: input, findings: [] } : decodeText(input, options.fileName);
  const text = decoded.text.replace(/^\uFEFF/, '');
  const table = kindOf(options.fileName, text) === 'csv' ? readCsv(text, options) : readEntries(text, options);
  const findings = [...decoded.findings, ...table.findings];
  if (table.rows.length === 0 && table.findings.length === 0) {
    findings.push({
      code: 'measure-table-empty',
      level: 'error',
      where: { file: options.fileName },
      message: 'The table has no rows.',
      try: `Write one row for each ${options.nameColumn}, below a row of headings such as '${options.nameColumn}' and 'waist girth (in)'.`,
    });
  }
  return { ...table, findings };
};

const kindOf = (fileName: string, text: string): 'csv' | 'entries' => {
  if (/\.(?:json|ya?ml)$/i.test(fileName)) return 'entries';
  if (/\.(?:csv|tsv|txt|tab)$/i.test(fileName)) return 'csv';
  return /^\s*(?:[[{]|---|- )/.test(text) ? 'entries' : 'csv';
};

const unreadable = (fileName: string, message: string, line?: number, column?: number, excerpt?: string): Table => ({
  headings: [],
  rows: [],
  findings: [
    {
      code: 'measure-table-unreadable',
      level: 'error',
      where: { file: fileName, line, column, excerpt },
      message: `The table cannot be read: ${message}`,
      try: 'Correct the place named, or save the table again as CSV from a spreadsheet.',
    },
  ],
});

// ---- CSV ----

const readCsv = (whole: string, options: TableOptions): Table => {
  const stated = /^sep=(.)\r?\n/i.exec(whole);
  const text = stated === null ? whole : whole.slice(stated[0].length);
  const linesBefore = stated === null ? 0 : 1;
  let records: readonly { readonly record: string[]; readonly info: Info }[];
  try {
    records = parse(text, {
      delimiter: stated?.[1] ?? delimiterOf(text),
      relax_quotes: true,
      relax_column_count: true,
      trim: true,
      info: true,
    }) as unknown as typeof records;
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return unreadable(options.fileName, csvMessage(error), Number(error.lines ?? 0) + linesBefore);
  }
  const headings = trimEnd(records[0]?.record ?? []);
  const findings: Finding[] = [];
  const rows: TableRow[] = [];
  let lineBefore = records[0]?.info.lines ?? 1;
  for (const [index, { record, info }] of records.entries()) {
    if (index === 0) continue;
    const row = index + 1 + linesBefore;
    const line = lineBefore + 1 + linesBefore;
    lineBefore = info.lines;
    const cells = trimEnd(record);
    if (cells.length === 0) continue;
    if (cells.length > headings.length && trimEnd(cells.slice(headings.length)).length > 0) {
      findings.push(tooLong(options.fileName, row, line, cells, headings));
    }
    const width = Math.max(headings.length, cells.length);
    rows.push({ row, line, cells: Array.from({ length: width }, (_, i) => cells[i] ?? '') });
  }
  return { headings, rows, findings };
};

/** The separator that occurs most in the row of headings, outside quotes. */
const delimiterOf = (text: string): string => {
  const first = (text.split(/\r?\n/).find((line) => line.trim() !== '') ?? '').replace(/"[^"]*"/g, '');
  const count = (mark: string) => first.split(mark).length;
  return [';', '\t'].reduce((best, mark) => (count(mark) > count(best) ? mark : best), ',');
};

const csvMessage = (error: CsvError): string =>
  error.code === 'CSV_QUOTE_NOT_CLOSED' ? 'a quotation mark is opened and not closed.' : error.message;

const trimEnd = (cells: readonly string[]): readonly string[] =>
  cells.slice(0, cells.findLastIndex((cell) => cell.trim() !== '') + 1);

const tooLong = (
  file: string,
  row: number,
  line: number,
  cells: readonly string[],
  headings: readonly string[],
): Finding => ({
  code: 'measure-row-length',
  level: 'error',
  where: { file, row, line, excerpt: cells.join(' | ') },
  message: `Row ${row} has ${cells.length} cells, but there are ${headings.length} headings.`,
  try: 'A value with a comma in it (70,5 cm) needs quotation marks around it, or semicolons between the columns.',
});

// ---- JSON and YAML ----

/** Both are read as YAML, of which JSON is a part, so that numbers keep the digits they were written with. */
const readEntries = (text: string, options: TableOptions): Table => {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, uniqueKeys: true, prettyErrors: false });
  const [error] = document.errors;
  if (error !== undefined) {
    const { line, col } = lines.linePos(error.pos[0]);
    return unreadable(options.fileName, `${error.message}.`, line, col, text.split(/\r?\n/)[line - 1]?.trim());
  }
  const resolve = (node: unknown): unknown => (isAlias(node) ? node.resolve(document) : node);
  const headings: string[] = [];
  const columns = new Map<string, number>();
  const findings: Finding[] = [];
  const columnOf = (heading: string): number => {
    const known = columns.get(heading);
    if (known !== undefined) return known;
    columns.set(heading, headings.length);
    return headings.push(heading) - 1;
  };
  const rows: TableRow[] = [];
  for (const [index, entry] of entriesOf(resolve(document.contents), resolve).entries()) {
    const row = index + 1;
    const line = lines.linePos((entry.node as Node | null)?.range?.[0] ?? 0).line;
    const node = resolve(entry.node);
    const cells: string[] = [];
    if (entry.key !== undefined) cells[columnOf(options.nameColumn)] = entry.key;
    const wrong = isMap(node)
      ? node.items.filter((item) => {
          const value = resolve(item.value);
          if (value !== null && !isScalar(value)) return true;
          cells[columnOf(scalarText(item.key))] = scalarText(value);
          return false;
        })
      : [node];
    if (wrong.length > 0) findings.push(wrongShape(options, row, line));
    rows.push({ row, line, cells });
  }
  const filled = rows
    .map((row) => ({ ...row, cells: headings.map((_, i) => row.cells[i] ?? '') }))
    .filter((row) => row.cells.some((cell) => cell !== ''));
  return { headings, rows: filled, findings };
};

interface Entry {
  /** The name a row is keyed by, when the rows are not a list. */
  readonly key?: string;
  readonly node: unknown;
}

/** A list of rows; rows keyed by name; or either of them as the only value of a heading such as `fittings:`. */
const entriesOf = (top: unknown, resolve: (node: unknown) => unknown): readonly Entry[] => {
  if (isSeq(top)) return top.items.map((node) => ({ node }));
  if (!isMap(top)) return [];
  const [only] = top.items;
  if (top.items.length === 1 && only !== undefined && /^(?:fittings|sizes)$/.test(plainWords(scalarText(only.key)))) {
    return entriesOf(resolve(only.value), resolve);
  }
  return top.items.map((item) => ({ key: scalarText(item.key), node: item.value }));
};

/** A scalar as it was written: 70.50 stays 70.50. */
const scalarText = (node: unknown): string => {
  if (!isScalar(node) || node.value === null) return '';
  return typeof node.value === 'string' ? node.value.trim() : (node.source ?? String(node.value));
};

const wrongShape = (options: TableOptions, row: number, line: number): Finding => ({
  code: 'measure-row-shape',
  level: 'error',
  where: { file: options.fileName, row, line },
  message: `Entry ${row} is not a plain list of names and values.`,
  try: `Write each entry as names with one value each: { "${options.nameColumn}": "…", "waist girth": "27 in" }.`,
});
