import type { Cloth, LevelName, Piece } from '../piece.ts';

/** A body measurement as it is found on the pieces: garment measure, the design's ease in it. */
export interface Taking {
  /** Where, as there may be several: 'skirt', 'bodice, lining', 'front'. */
  readonly of: string;
  readonly mm: number;
  /** What it was added up from. */
  readonly counted: readonly Counted[];
}

export interface Counted {
  readonly piece: string;
  /** In words: 'straight across at the bust level'. */
  readonly what: string;
  readonly mm: number;
  /** How often it counts: 2 for a half piece that goes round the body. */
  readonly times: number;
}

/** What a piece would have to show for the measurement to be taken on it. */
export interface Lack {
  readonly piece: string;
  readonly name: string;
  /** 'no bust level' */
  readonly what: string;
  /** What to add, as a sentence. */
  readonly remedy: string;
}

/** No takings and nothing lacking: the garment does not show this measurement at all. */
export interface Taken {
  readonly takings: readonly Taking[];
  readonly lacks: readonly Lack[];
}

export const NOTHING_TAKEN: Taken = { takings: [], lacks: [] };

export const together = (taken: readonly Taken[]): Taken => ({
  takings: taken.flatMap((t) => t.takings),
  lacks: taken.flatMap((t) => t.lacks),
});

/** One taking, added up; or what it lacks, when any of its pieces lacks something. */
export const addedUp = (of: string, parts: readonly (Counted | Lack)[]): Taken => {
  const lacks = parts.filter((p): p is Lack => 'remedy' in p);
  const counted = parts.filter((p): p is Counted => 'mm' in p);
  if (lacks.length > 0) return { takings: [], lacks };
  if (counted.length === 0) return NOTHING_TAKEN;
  return { takings: [{ of, mm: counted.reduce((sum, c) => sum + c.mm * c.times, 0), counted }], lacks };
};

export const counted = (piece: Piece, what: string, mm: number, times = 1): Counted => ({
  piece: piece.id,
  what,
  mm,
  times,
});

/** 'skirt', 'skirt, lining' */
export const layerCalled = (what: string, cloth: Cloth): string => (cloth === 'shell' ? what : `${what}, ${cloth}`);

export const lacksLevel = (piece: Piece, level: LevelName): Lack =>
  lacking(
    piece,
    `no ${level} level`,
    `Draw the ${level} line, or give it under “levels” of ${piece.id} in the pattern sheet.`,
  );

export const lacking = (piece: Piece, what: string, remedy: string): Lack => ({
  piece: piece.id,
  name: piece.name || piece.id,
  what,
  remedy,
});
