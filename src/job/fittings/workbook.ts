import type { LengthUnit } from '../../measurements/units.ts';
import { wrapped } from '../words.ts';
import type { NewColumn } from './columns.ts';
import { noteHead, noteRow, notesFor } from './notes.ts';

/** Rows that are ready to be filled in. */
const READY_ROWS = 60;

/** So that a spreadsheet takes 1/2 for a half and not for a day. */
const FORMATS: Readonly<Record<LengthUnit, string>> = { in: '# ??/??', cm: '0.0', mm: '0' };

/** An empty table of fittings as an XLSX workbook: the table, its headings staying in sight, and a sheet of notes. */
export const workbookOf = async (columns: readonly NewColumn[], unit: LengthUnit): Promise<Uint8Array> => {
  const { default: writeWorkbook } = await import('write-excel-file/node');
  const { toBuffer } = writeWorkbook([tableSheet(columns), notesSheet(columns, unit)]);
  return new Uint8Array(await toBuffer());
};

/** Of a line of text, points. */
const LINE = 15;

const top = { wrap: true, alignVertical: 'top' } as const;
const head = { ...top, fontWeight: 'bold', backgroundColor: '#e8e8e8', bottomBorderStyle: 'thin' } as const;

const tableSheet = (columns: readonly NewColumn[]) => {
  const widths = columns.map(({ heading, measure }) => (measure ? Math.max(11, longestWord(heading) + 3) : 18));
  const ready = columns.map(({ measure }) =>
    measure ? { type: Number, format: FORMATS[measure.unit] } : { type: String, format: '@' },
  );
  const height = LINE * Math.max(...columns.map(({ heading }, i) => linesOf(heading, widths[i] ?? 0)));
  return {
    sheet: 'fittings',
    data: [
      columns.map(({ heading }) => ({ value: heading, ...head, height })),
      ...Array.from({ length: READY_ROWS }, () => ready),
    ],
    columns: widths.map((width) => ({ width })),
    orientation: 'landscape' as const,
    stickyRowsCount: 1,
    stickyColumnsCount: 1,
  };
};

const NOTE_WIDTHS = [28, 30, 62, 26, 18] as const;

const notesSheet = (columns: readonly NewColumn[], unit: LengthUnit) => {
  const whole = NOTE_WIDTHS.reduce((sum, width) => sum + width, 0);
  const notes = notesFor(unit).map((value) => [
    { value, ...top, columnSpan: NOTE_WIDTHS.length, height: LINE * linesOf(value, whole) },
    ...NOTE_WIDTHS.slice(1).map(() => null),
  ]);
  const rows = columns.map(noteRow).map((row) => {
    const height = LINE * Math.max(...row.map((text, i) => linesOf(text, NOTE_WIDTHS[i] ?? 0)));
    return row.map((value) => ({ value, ...top, height }));
  });
  return {
    sheet: 'how to measure',
    data: [...notes, [], noteHead.map((value) => ({ value, ...head })), ...rows],
    columns: NOTE_WIDTHS.map((width) => ({ width })),
    orientation: 'landscape' as const,
  };
};

/** How many lines a text takes in a column so many characters wide; letters differ in width, so with room to spare. */
const linesOf = (text: string, width: number): number => wrapped(text, Math.floor(width * 0.9)).length;

const longestWord = (text: string): number => Math.max(...text.split(' ').map((word) => word.length));
