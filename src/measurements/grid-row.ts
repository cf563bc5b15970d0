import type { TableOptions } from './table.ts';

/** A row of cells as it stands in a sheet or in a text with separators. */
export interface GridRow {
  /** As a spreadsheet counts, from 1. */
  readonly row: number;
  /** 1-based line of a text file. */
  readonly line?: number;
  readonly cells: readonly string[];
}

/** How many cells of a row are columns that are known. */
export const knownIn = (cells: readonly string[], knows: TableOptions['knows']): number =>
  cells.filter((cell) => cell.trim() !== '' && knows(cell.replace(/\s+/g, ' ').trim())).length;
