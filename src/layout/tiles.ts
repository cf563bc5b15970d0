import type { Margins } from '../formats/sheet.ts';
import type { Bounds } from '../geometry/bounds.ts';
import type { Point } from '../geometry/point.ts';
import type { PaperSize } from './paper-sizes.ts';

/** Band over each sheet's drawing for its name and its neighbours, mm. */
export const HEADER = 8;

export interface TileOptions {
  readonly paper: PaperSize;
  readonly margins: Margins;
  /** What two neighbours both show, mm. */
  readonly overlap: number;
}

/** A plan of `width` × `height` mm laid out over sheets of paper in rows and columns, from its lower left corner. */
export interface Tiling extends TileOptions {
  /** What one sheet shows of the plan, mm. */
  readonly window: { readonly width: number; readonly height: number };
  /** From one sheet to the next, mm: the window less the overlap. */
  readonly step: { readonly x: number; readonly y: number };
  readonly columns: number;
  readonly rows: number;
}

export interface Tile {
  readonly name: string;
  /** From the left, from 0. */
  readonly column: number;
  /** From the lower edge, from 0. */
  readonly row: number;
  /** What it shows of the plan. */
  readonly shows: Bounds;
}

/** What one sheet shows; a side is 0 or less when margins and overlap leave nothing. */
export const windowOf = ({ paper, margins, overlap }: TileOptions): Pick<Tiling, 'window' | 'step'> => {
  const width = paper.width - margins.left - margins.right;
  const height = paper.height - margins.top - margins.bottom - HEADER;
  return { window: { width, height }, step: { x: width - overlap, y: height - overlap } };
};

export const tiling = (width: number, height: number, options: TileOptions): Tiling => {
  const { window, step } = windowOf(options);
  const count = (length: number, by: number): number => Math.max(1, Math.ceil((length - options.overlap) / by - 1e-9));
  return { ...options, window, step, columns: count(width, step.x), rows: count(height, step.y) };
};

/** Height of the plan that a number of rows holds, mm. */
export const heightOfRows = (rows: number, options: TileOptions): number =>
  rows * windowOf(options).step.y + options.overlap;

/** All sheets as they are read: the top row first, each from left to right. */
export const tilesOf = (given: Tiling): Tile[] =>
  Array.from({ length: given.rows * given.columns }, (_, i) => {
    const row = given.rows - 1 - Math.floor(i / given.columns);
    const column = i % given.columns;
    return { name: tileName(given, row, column), row, column, shows: shownBy(given, row, column) };
  });

const shownBy = ({ step, window }: Tiling, row: number, column: number): Bounds => ({
  minX: column * step.x,
  minY: row * step.y,
  maxX: column * step.x + window.width,
  maxY: row * step.y + window.height,
});

/** Rows are lettered from the top (A … Z, AA …), columns numbered from the left. */
export const tileName = ({ rows }: Pick<Tiling, 'rows'>, row: number, column: number): string =>
  `${letters(rows - 1 - row)}${column + 1}`;

const letters = (n: number): string =>
  n < 26 ? String.fromCharCode(65 + n) : `${letters(Math.floor(n / 26) - 1)}${String.fromCharCode(65 + (n % 26))}`;

/** Places in the middle of an overlap, which both neighbours mark: laid on each other they must meet. */
export const registrationPlaces = (
  { step, window, overlap, columns, rows }: Tiling,
  { row, column, shows }: Tile,
): Point[] => {
  const places: Point[] = [];
  const quarters = [0.25, 0.75];
  for (const side of [column, column + 1]) {
    if (side === 0 || side === columns) continue;
    const x = side * step.x + overlap / 2;
    for (const q of quarters) places.push({ x, y: shows.minY + overlap + q * (window.height - 2 * overlap) });
  }
  for (const side of [row, row + 1]) {
    if (side === 0 || side === rows) continue;
    const y = side * step.y + overlap / 2;
    for (const q of quarters) places.push({ x: shows.minX + overlap + q * (window.width - 2 * overlap), y });
  }
  return places;
};
