import type { Point } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';

/*
 * Sheets for people to read: words and lines at their places, laid out already. Millimetres, y down, the upper left
 * corner of the sheet at the origin. (A plot for a machine is a Sheet.)
 */

export interface PrintPage {
  readonly width: number;
  readonly height: number;
  readonly marks: readonly PrintMark[];
}

export type PrintMark = PrintText | PrintPath;

export interface PrintText {
  readonly kind: 'text';
  /** On the base line. */
  readonly at: Point;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly words: string;
  /** Of the type, mm. */
  readonly size: number;
  readonly bold: boolean;
  readonly colour: string;
  /** Rim of white round the letters, mm. */
  readonly halo?: number;
}

/** Lines, or, with `fill`, what lies inside an odd number of the rings. */
export interface PrintPath {
  readonly kind: 'path';
  readonly rings: readonly (readonly Segment[])[];
  readonly closed: boolean;
  readonly stroke?: { readonly colour: string; readonly width: number; readonly dash?: readonly number[] };
  readonly fill?: string;
}

export interface PrintDocument {
  readonly title: string;
  readonly pages: readonly PrintPage[];
  /** ISO 8601; none when left out. */
  readonly date?: string | undefined;
}

/** Width of words as they will be set, mm. */
export type Measure = (words: string, size: number, bold: boolean) => number;

/** Type that is ready to be measured and set. */
export interface Printer {
  readonly measure: Measure;
  /** Letters that no font has; a box stands for each. */
  readonly missing: readonly string[];
  readonly write: (document: PrintDocument) => Promise<Uint8Array>;
}

/** @param texts all that will be set, or at least every letter of it */
export type OpenPrinter = (texts: Iterable<string>) => Promise<Printer>;
