import type { Column, Fact, Row, Section, Verdict } from './content.ts';

/**
 * A page that lists many things, one row to each. The rows are made while the page is written, so that a list of ten
 * thousand takes no more memory than one of ten; what is counted up on the way comes after them.
 */
export interface ListContent {
  readonly kicker: string;
  readonly heading: string;
  readonly title: string;
  readonly facts: readonly Fact[];
  readonly verdict: Verdict;
  readonly lead: readonly string[];
  readonly list: { readonly id: string; readonly heading: string; readonly caption: string };
  readonly columns: readonly Column[];
  readonly rows: AsyncIterable<Row>;
  /** Asked for when all rows are written. */
  readonly after: () => readonly Section[];
  readonly foot: readonly string[];
}
