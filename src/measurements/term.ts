/** What a body measurement is called, and what the program knows of it. */
export interface Term {
  readonly kind: 'girth' | 'length' | 'width';
  /**
   * Number of the term in ISO 8559-1:2017, where one is known. From a secondary source, not checked in the standard.
   */
  readonly iso?: string;
  /** Where it is taken, in one line for help and for the pattern sheet. */
  readonly taken: string;
  /** Other names, English first. Those of other languages are from memory. */
  readonly synonyms: readonly string[];
  /**
   * What adults measure, mm: outside it the value is asked about, not refused. Common practice with no source, set
   * wide; the narrow sides serve to tell inches from centimetres.
   */
  readonly range: readonly [least: number, most: number];
}
