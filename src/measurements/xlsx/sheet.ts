import type { GridRow } from '../grid-row.ts';
import { Unreadable } from './archive.ts';
import { unescaped, walkMarkup } from './markup.ts';
import type { MergedCells } from './merged.ts';
import type { Shared, SheetPart } from './workbook.ts';

export interface SheetGrid {
  readonly rows: readonly GridRow[];
  /** Rows with values that the spreadsheet does not show. */
  readonly hiddenRows: readonly number[];
  /** Columns from 0 that the spreadsheet does not show, whether there is anything in them or not; first and last. */
  readonly hiddenColumns: readonly (readonly [number, number])[];
  readonly merged: readonly MergedCells[];
}

/** A cell as it is being read. */
interface OpenCell {
  readonly column: number;
  readonly type: string;
  readonly style: number;
  value?: string;
  formula?: string;
  inline?: string;
}

/**
 * The cells of a sheet as texts. A number keeps its value, with the unit that its format shows; a cell that is a date is
 * written as `2026-05-27`; a formula counts by the value it had when the file was saved, and without one is written out
 * (`=B2/2.54`); errors stand as `#REF!`. What cannot be a length is told of where the value is read.
 */
export const readSheet = ({ content, path }: SheetPart, shared: Shared): SheetGrid => {
  const rows: GridRow[] = [];
  const hiddenRows: number[] = [];
  const hiddenColumns: (readonly [number, number])[] = [];
  const merged: MergedCells[] = [];
  let [row, hidden, text] = [0, false, ''];
  let cells: string[] = [];
  let cell: OpenCell | undefined;
  let inReading = false;
  walkMarkup(content, path, {
    open: (name, attributes) => {
      text = '';
      if (name === 'row') {
        row = Number(attributes.r ?? row + 1);
        hidden = isTrue(attributes.hidden);
        cells = [];
      } else if (name === 'c') {
        const column = columnOf(attributes.r) ?? cells.length;
        cell = { column, type: attributes.t ?? 'n', style: Number(attributes.s ?? -1) };
      } else if (name === 'rPh') inReading = true;
      else if (name === 'col' && isTrue(attributes.hidden)) {
        hiddenColumns.push([Number(attributes.min) - 1, Number(attributes.max) - 1]);
      } else if (name === 'mergeCell') merged.push(...mergedCells(attributes.ref ?? ''));
    },
    text: (piece) => {
      text += piece;
    },
    close: (name) => {
      if (name === 'rPh') inReading = false;
      if (cell !== undefined) {
        if (name === 'v') cell.value = text;
        if (name === 'f') cell.formula = text;
        if (name === 't' && !inReading) cell.inline = (cell.inline ?? '') + text;
        if (name === 'c') {
          const shown = cellText(cell, shared);
          if (shown !== '') cells[cell.column] = shown;
          cell = undefined;
        }
      }
      text = '';
      if (name !== 'row' || cells.length === 0) return;
      rows.push({ row, cells: Array.from(cells, (c) => c ?? '') });
      if (hidden) hiddenRows.push(row);
    },
  });
  return { rows, hiddenRows, hiddenColumns, merged };
};

const isTrue = (text: string | undefined): boolean => /^(?:1|true)$/.test(text ?? '');

/** 0-based column of an address such as `B7`. */
const columnOf = (address: string | undefined): number | undefined => {
  const letters = /^[A-Z]{1,3}(?=\d)/i.exec(address ?? '')?.[0].toUpperCase();
  return letters === undefined ? undefined : [...letters].reduce((n, l) => n * 26 + l.charCodeAt(0) - 64, 0) - 1;
};

/** `B2:B3`; nothing where it is no such range. */
const mergedCells = (ref: string): readonly MergedCells[] => {
  const [from = '', to = ''] = ref.split(':');
  const [first, last] = [columnOf(from), columnOf(to)];
  const [top, bottom] = [from, to].map((address) => Number(/\d+$/.exec(address)?.[0]));
  if (first === undefined || last === undefined || !top || !bottom) return [];
  return [{ ref, rows: [top, bottom], columns: [first, last] }];
};

const cellText = (cell: OpenCell, shared: Shared): string => {
  const { type, value, inline } = cell;
  if (cell.formula !== undefined && (value === undefined || (value === '' && type !== 'str')))
    return `=${cell.formula}`;
  if (type === 'inlineStr') return unescaped(inline ?? '');
  if (value === undefined) return '';
  if (type === 's') return sharedText(shared.strings[Number(value)]);
  if (type === 'b') return value === '1' ? 'TRUE' : 'FALSE';
  if (type === 'd') return value.slice(0, 10);
  if (type !== 'n') return unescaped(value);
  return numberText(value, cell.style, shared);
};

const sharedText = (text: string | undefined): string => {
  if (text === undefined) throw new Unreadable('a cell refers to a text that is not there: the workbook is damaged.');
  return text;
};

const numberText = (value: string, style: number, { formats, from1904 }: Shared): string => {
  const number = Number(value);
  if (value.trim() === '' || !Number.isFinite(number)) return value;
  const format = formats[style];
  if (format?.isDate) return dateText(number, from1904);
  // Spreadsheets reckon with 15 digits; what is past them is rounding.
  const shown = plainNumber(Number(number.toPrecision(15)));
  return format?.unit === undefined ? shown : `${shown} ${format.unit}`;
};

/** Without an exponent, which no length needs. */
const plainNumber = (n: number): string => (/e/i.test(String(n)) ? n.toFixed(9).replace(/\.?0+$/, '') : String(n));

const DAY = 86_400_000;
/** Days; no date that was typed into a table of fittings lies before, no measurement in millimetres past it. */
const EARLY = 2500;

/** Days since 1899-12-30, as 1900 is taken for a leap year; or since 1904-01-01 (ECMA-376 part 1, 18.17.4.1). */
const dateText = (days: number, from1904: boolean): string => {
  const time = new Date(Math.round(days * DAY)).toISOString();
  if (days >= 0 && days < 1) return `${time.slice(11, 16)} = ${plainNumber(days)}`;
  const start = from1904 ? Date.UTC(1904, 0, 1) : Date.UTC(1899, 11, days < 61 ? 31 : 30);
  const date = new Date(start + Math.round(days * DAY));
  if (Number.isNaN(date.getTime())) return String(days);
  // A date so early is a measurement in a cell that is formatted as a date: 27.5 is noon of 27 January 1900.
  const early = days < EARLY ? ` = ${plainNumber(days)}` : '';
  return `${date.toISOString().slice(0, 10)}${early}`;
};
