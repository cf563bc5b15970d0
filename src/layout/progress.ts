/** How far a layout is. It is told now and then, and changes nothing. */
export type LayoutProgress = LayingProgress | ReckoningProgress;

export interface LayingProgress {
  /** Sheets are counted on rough layouts, before the pieces are laid out for good. */
  readonly doing: 'counting sheets' | 'laying out';
  /** All that are to be laid, and those in the lots that are done. */
  readonly pieces: number;
  readonly laid: number;
  /** Counted from 1. */
  readonly lot: number;
  readonly lots: number;
  /** Pieces of this lot, and those that have a first place. Only then iterations begin. */
  readonly inLot: number;
  readonly placed: number;
  readonly iterations: number;
  readonly of: number;
  /** Of the strip so far, mm. */
  readonly length: number;
}

/** The cloth that each fitting needs alone. */
export interface ReckoningProgress {
  readonly doing: 'reckoning cloth';
  readonly fittings: number;
  readonly reckoned: number;
}
