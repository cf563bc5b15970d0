import type { Finding } from '../finding.ts';

/** A table as it stands in the file: nothing understood yet but rows and columns. */
export interface Table {
  readonly headings: readonly string[];
  /** Row of the headings, counted as the rows are. */
  readonly headingRow: number;
  readonly rows: readonly TableRow[];
  readonly findings: readonly Finding[];
  /** Whether rows and columns are those of a sheet, so that a cell has an address such as B7. */
  readonly grid: boolean;
}

export interface TableRow {
  /** As a spreadsheet counts; in JSON and YAML the number of the entry, from 1. */
  readonly row: number;
  /** 1-based line of a text file. */
  readonly line?: number | undefined;
  /** One for each heading; '' where there is nothing. */
  readonly cells: readonly string[];
}

export interface TableOptions {
  readonly fileName: string;
  /** The column that names each row: 'fitting', 'size'. In JSON and YAML the rows may also be keyed by it. */
  readonly nameColumn: string;
  /** Whether a text is the heading of a column that means something here: by them the row of headings is found. */
  readonly knows: (heading: string) => boolean;
  /** Whether a heading is of a column of texts, such as `note`: in all others stand lengths. */
  readonly isText?: (heading: string) => boolean;
  /** What stands between the columns of a text file. */
  readonly separator?: string | undefined;
  /** Sheet of a workbook, by name; without it the first that has the headings. */
  readonly sheet?: string | undefined;
}

/** No table, and the finding that says why. */
export const unreadable = (
  fileName: string,
  message: string,
  line?: number,
  column?: number,
  excerpt?: string,
  remedy = 'Correct the place named, or save the table again as CSV or XLSX from a spreadsheet.',
): Table => ({
  headings: [],
  headingRow: 1,
  rows: [],
  grid: false,
  findings: [
    {
      code: 'measure-table-unreadable',
      level: 'error',
      where: { file: fileName, line, column, excerpt },
      message: `The table cannot be read: ${message}`,
      try: remedy,
    },
  ],
});
