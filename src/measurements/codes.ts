import type { CodeMeaning } from '../finding.ts';

/** Findings about measurements, fittings tables and size charts. */
export const measureCodes: Record<string, CodeMeaning> = {
  'measure-table-unreadable': { level: 'error', means: 'The table cannot be read as XLSX, CSV, JSON or YAML.' },
  'measure-table-empty': { level: 'error', means: 'The table has no rows.' },
  'measure-title-rows': { level: 'note', means: 'Rows were taken for a title and passed over.' },
  'measure-headings-in-two-rows': { level: 'note', means: 'Headings that stand in two rows were read together.' },
  'measure-cell-merged': {
    level: 'warning',
    means: 'A merged cell of a workbook stands for several rows, or for several columns.',
  },
  'measure-table-second': { level: 'error', means: 'A second table with other headings stands below the first.' },
  'measure-table-turned': {
    level: 'error',
    means: 'The measurements of a table stand below each other, not side by side.',
  },
  'measure-row-summary': { level: 'warning', means: 'The last row of a table seems to sum up the others.' },
  'measure-columns-hidden': { level: 'warning', means: 'Columns that the sheet hides were read as the others.' },
  'measure-rows-hidden': { level: 'warning', means: 'Rows that the sheet hides were read as the others.' },
  'measure-sheet-chosen': { level: 'note', means: 'A workbook has several sheets with a table; one was read.' },
  'measure-sheet-unknown': { level: 'error', means: 'The workbook has no sheet of the name given.' },
  'measure-cell-date': {
    level: 'error',
    means: 'A spreadsheet has turned a measurement into a date, or can only have.',
  },
  'measure-cell-error': { level: 'error', means: 'A cell holds an error of the spreadsheet, such as #REF!.' },
  'measure-formula-without-value': { level: 'error', means: 'A cell holds a formula that was never reckoned.' },
  'measure-encoding-assumed': {
    level: 'warning',
    means: 'The text is not UTF-8; it was read as Western European (Windows-1252).',
  },
  'measure-row-length': { level: 'error', means: 'A row has more cells than the table has columns.' },
  'measure-row-shape': { level: 'error', means: 'An entry of the table is not a list of names and values.' },
  'measure-column-missing': { level: 'error', means: 'The column that names each row is missing.' },
  'measure-column-unknown': {
    level: 'error',
    means: 'A column or name is neither a measurement nor an alteration known here.',
  },
  'measure-column-unnamed': { level: 'error', means: 'A column with values has no heading.' },
  'measure-unit-unknown': { level: 'error', means: 'The unit in the brackets of a heading is not known.' },
  'measure-unit-missing': { level: 'error', means: 'A number has no unit, neither with it nor in its heading.' },
  'measure-unit-differs': {
    level: 'warning',
    means: 'A cell names another unit than its heading; the one in the cell was taken.',
  },
  'measure-value-ambiguous': { level: 'error', means: 'A number can be read in two ways, such as 1,234.' },
  'measure-value-unreadable': { level: 'error', means: 'A text is not a length.' },
  'measure-fraction-unusual': {
    level: 'warning',
    means: 'A fraction is of a kind that is on no tape, such as 27 5/27.',
  },
  'measure-value-not-positive': { level: 'error', means: 'A body measurement is zero, negative or has a sign.' },
  'measure-given-twice': { level: 'error', means: 'The same measurement or alteration is given twice.' },
  'measure-name-missing': { level: 'error', means: 'A row with values has no name.' },
  'measure-name-twice': { level: 'error', means: 'Two rows have the same name.' },
  'measure-nothing-asked': { level: 'warning', means: 'A fitting has neither measurements nor amounts.' },
  'measure-list-unreadable': { level: 'error', means: 'A part of the list is not of the form name=value.' },
  'measure-unit-mixed-up': {
    level: 'error',
    means: 'A measurement is so far off that it must be meant in another unit.',
  },
  'measure-decimal-slip': { level: 'error', means: 'A measurement has its decimal mark in the wrong place.' },
  'measure-digits-turned': {
    level: 'error',
    means: 'A measurement is so far off that its digits must have been turned about.',
  },
  'measure-far-from-others': {
    level: 'warning',
    means: 'A girth is far from what goes with the others of the same body.',
  },
  'measure-out-of-proportion': { level: 'warning', means: 'A measurement hardly goes with another of the same body.' },
  'measure-sum-differs': { level: 'warning', means: 'A whole length is not what its parts come to.' },
  'measure-childs-figure': { level: 'note', means: "The measurements were understood as a child's." },
  'measure-person-twice': { level: 'warning', means: 'One person is measured differently in two rows.' },
  'measure-exchanged': { level: 'warning', means: 'Two measurements look as if each stood in the cell of the other.' },
  'measure-columns-exchanged': {
    level: 'warning',
    means: 'In most rows two measurements look as if they stood in the column of each other.',
  },
  'measure-row-unit': {
    level: 'warning',
    means: 'A whole row seems to be in another unit than its headings say; an error where no adult measures so.',
  },
  'measure-column-unit': {
    level: 'warning',
    means: 'A whole column seems to be in another unit than its heading says.',
  },
  'measure-amount-like-a-body': {
    level: 'warning',
    means: 'An amount asked for directly is as large as a measurement of the body.',
  },
  'measure-checked-unclear': { level: 'warning', means: "What stands in the column 'checked' is not understood." },
  'measure-impossible': { level: 'error', means: 'A measurement is far past what any body measures.' },
  'measure-out-of-range': { level: 'warning', means: 'A measurement is outside what adults measure.' },
  'measure-waist-over-hip': { level: 'warning', means: 'The waist is larger than the hip: the two may be swapped.' },
  'measure-levels-disagree': {
    level: 'warning',
    means: 'Two measurements contradict each other, such as a neck base smaller than the neck.',
  },
  'measure-size-unknown': { level: 'error', means: 'The size chart has no such size.' },
};
