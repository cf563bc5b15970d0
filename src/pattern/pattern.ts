import type { Judged } from './evidence.ts';
import type { Cloth, Piece } from './piece.ts';

/** The pieces of one pattern file and how they go together. */
export interface Pattern {
  readonly fileName: string;
  /** Style name, as the file states it. */
  readonly style: string;
  /** Size the file says it is drafted for ('' when it does not say). */
  readonly size: string;
  readonly pieces: readonly Piece[];
  readonly mates: readonly Mates[];
  /** Edges sewn along a part of another: `one` a pocket's, `other` the seam it is set into. Their lengths are not compared. */
  readonly within?: readonly Mates[];
  /** Body measurements the pattern was drafted for, mm, by canonical measurement name; from the pattern sheet. */
  readonly draftedFor: Readonly<Record<string, number>>;
  /** Drawables on no piece; they are never moved. */
  readonly loose: readonly string[];
  /** Placement shadows: drawable id → the id it repeats (same definition). They follow and are not altered themselves. */
  readonly repeats: ReadonlyMap<string, string>;
  /** Roles that two readings share with equal weight. */
  readonly doubts: readonly Doubt[];
  readonly views: readonly View[];
}

/** Two edges, or rows of edges, that are sewn together. */
export interface Mates extends Judged {
  readonly id: string;
  readonly one: readonly SewnEdge[];
  readonly other: readonly SewnEdge[];
}

export interface SewnEdge {
  readonly piece: string;
  readonly edge: string;
  /** How often this edge occurs along the seam on one layer of cloth: 2 for the waist edge of a half piece. */
  readonly times: number;
}

export interface Doubt {
  readonly piece: string;
  /** Edge id, level name, or what else is in doubt. */
  readonly about: string;
  /** Edge the doubt touches, if any. */
  readonly edge?: string;
  readonly code: string;
  readonly message: string;
  /** The line to add to the pattern sheet. */
  readonly sheetLine: string;
}

export interface View {
  readonly name: string;
  /** Piece ids or names. */
  readonly needs: readonly string[];
}

export const pieceCalled = (pattern: Pattern, id: string): Piece | undefined => pattern.pieces.find((p) => p.id === id);

/** Cloth layers in which the pattern has pieces. */
export const cloths = (pattern: Pattern): readonly Cloth[] => [...new Set(pattern.pieces.map((p) => p.cut.cloth))];
