import { CsvError, type Info, parse } from 'csv-parse/sync';
import { tableOf } from './grid.ts';
import { type GridRow, knownIn } from './grid-row.ts';
import { type Table, type TableOptions, unreadable } from './table.ts';

/** Reads text with separators: comma, semicolon or tab, found from the headings, or stated as `sep=;` in the first line. */
export const readCsv = (whole: string, options: TableOptions): Table => {
  const stated = /^sep=(.)\r?\n/i.exec(whole);
  const text = stated === null ? whole : whole.slice(stated[0].length);
  const linesBefore = stated === null ? 0 : 1;
  const separator = stated?.[1] ?? delimiterOf(text, options.knows);
  let records: readonly { readonly record: string[]; readonly info: Info }[];
  try {
    records = parse(text, {
      delimiter: separator,
      relax_quotes: true,
      relax_column_count: true,
      trim: true,
      info: true,
    }) as unknown as typeof records;
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return unreadable(options.fileName, csvMessage(error), Number(error.lines ?? 0) + linesBefore);
  }
  let before = linesBefore;
  const rows = records.map(({ record, info }, index): GridRow => {
    const line = before + 1;
    before = info.lines + linesBefore;
    return { row: index + 1 + linesBefore, line, cells: record };
  });
  return tableOf(rows, { ...options, separator });
};

const MARKS = [',', ';', '\t'] as const;

/** The separator that shows most known columns in one line; where none does, the one that occurs most in the first. */
const delimiterOf = (text: string, knows: TableOptions['knows']): string => {
  const lines = text
    .split(/\r?\n/, 60)
    .filter((line) => line.trim() !== '')
    .map((line) => line.slice(0, 10_000));
  const unquoted = (cell: string) => cell.trim().replace(/^"|"$/g, '');
  const shows = (mark: string) => Math.max(0, ...lines.map((line) => knownIn(line.split(mark).map(unquoted), knows)));
  const known = MARKS.map((mark) => ({ mark, count: shows(mark) }));
  const most = Math.max(...known.map(({ count }) => count));
  if (most > 1) return known.find(({ count }) => count === most)?.mark ?? ',';
  const first = (lines[0] ?? '').replace(/"[^"]*"/g, '');
  const count = (mark: string) => first.split(mark).length;
  return MARKS.reduce<string>((best, mark) => (count(mark) > count(best) ? mark : best), ',');
};

const csvMessage = (error: CsvError): string =>
  error.code === 'CSV_QUOTE_NOT_CLOSED' ? 'a quotation mark is opened and not closed.' : error.message;
