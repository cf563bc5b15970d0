import type { Figure } from '../picture/figure.ts';

/*
 * What a page for people says, before it is HTML or PDF: both are made from this and nothing else, so that the sheet on
 * the workroom wall says what the screen says. Texts are plain; no markup.
 */

export interface Content {
  /** Small line over the heading: 'Fitting'. */
  readonly kicker: string;
  readonly heading: string;
  /** Of the document, in a window's title and a list of files. */
  readonly title: string;
  readonly facts: readonly Fact[];
  readonly verdict: Verdict;
  /** What became of it, in a sentence or two. */
  readonly lead: readonly string[];
  readonly sections: readonly Section[];
  readonly foot: readonly string[];
  /** Way back to the list of the run, from where the page lies. */
  readonly up?: Link;
}

export interface Fact {
  readonly term: string;
  readonly says: string;
}

export interface Verdict {
  readonly words: string;
  readonly tone: Tone;
}
export type Tone = 'good' | 'bad' | 'plain';

export interface Link {
  /** Relative, every part percent-encoded. */
  readonly href: string;
  readonly words: string;
}

export interface Section {
  /** Unique on the page, of letters and hyphens. */
  readonly id: string;
  readonly heading: string;
  readonly blocks: readonly Block[];
  /** Begins on a sheet of its own when printed, to be handed on by itself. */
  readonly ownSheet?: boolean;
}

export type Block = Words | Points | Notices | Table | Gallery | Under;

export interface Words {
  readonly kind: 'words';
  readonly text: string;
}

export interface Points {
  readonly kind: 'points';
  readonly items: readonly string[];
}

/** Something the reader should know: what is the matter, where, and what to try. */
export interface Notice {
  readonly level: 'error' | 'warning' | 'note';
  readonly where: string;
  readonly message: string;
  readonly try: string;
  /** For whoever looks it up or types it: small, behind the words. */
  readonly code: string;
}
export interface Notices {
  readonly kind: 'notices';
  readonly items: readonly Notice[];
}

/** A heading of the second rank, and what stands under it. */
export interface Under {
  readonly kind: 'under';
  readonly heading: string;
  readonly blocks: readonly Exclude<Block, Under>[];
}

export interface Table {
  readonly kind: 'table';
  readonly caption: string;
  readonly columns: readonly Column[];
  /** The first cell of a row says what the row is about. */
  readonly rows: readonly Row[];
}

export interface Column {
  readonly heading: string;
  /** Numbers stand at the end. */
  readonly align: 'start' | 'end';
  /** How much of the width it wants beside the others. */
  readonly share: number;
}

export type Row = readonly Cell[];

export interface Cell {
  readonly lines: readonly string[];
  readonly strong?: boolean;
  /** How much of a limit is used: 1 is all of it. */
  readonly used?: number;
  /** Boxes to tick, with what each is for. */
  readonly boxes?: readonly string[];
  readonly link?: string;
}

export interface Gallery {
  readonly kind: 'gallery';
  readonly items: readonly GalleryItem[];
}

export interface GalleryItem {
  /** Of the second rank, to go from one to the next. */
  readonly heading?: string;
  readonly figure: Figure;
  readonly caption: string;
  /** What the picture shows, in numbers. */
  readonly table?: Table;
}

export const words = (text: string): Words => ({ kind: 'words', text });
export const cell = (...lines: readonly string[]): Cell => ({ lines });
export const strongCell = (...lines: readonly string[]): Cell => ({ lines, strong: true });
export const start = (heading: string, share = 1): Column => ({ heading, align: 'start', share });
export const end = (heading: string, share = 1): Column => ({ heading, align: 'end', share });
