import type { Point } from '../geometry/point.ts';
import type { Evidence, Judged } from '../pattern/evidence.ts';
import type { EdgeRole } from '../pattern/piece.ts';

/** The edges of one piece with their roles, and how it stands. */
export interface RoleReading {
  /** One entry for each stretch of the shape. */
  readonly roles: readonly (Judged & { readonly role: EdgeRole })[];
  readonly up: Point;
  /** Where heights are measured from: a place of a stretch, or midway between several. */
  readonly origin: readonly StretchPlace[];
  readonly upright: Judged;
  readonly half: boolean;
  /** A second reading that is about as likely, in words, with the line of the pattern sheet that settles it. */
  readonly doubts: readonly RoleDoubt[];
}

/** A place on a stretch that it keeps when the outline is moved in by an allowance. */
export interface StretchPlace {
  readonly stretch: number;
  readonly at: 'start' | 'middle' | 'end';
}

export interface RoleDoubt {
  readonly code: string;
  readonly about: string;
  readonly stretch?: number;
  readonly message: string;
  /** Key and value to set for the piece in the pattern sheet. */
  readonly set: string;
  /** Instead, where stating one edge settles it: the role that was read for `stretch`. */
  readonly role?: EdgeRole;
}

/** What a piece's texts say that bears on its roles. */
export interface Stated {
  readonly onFold?: boolean;
  readonly count?: number;
  readonly pair?: boolean;
}

export const unknownRole = { role: 'unknown' as const, evidence: [] as Evidence[], confidence: 0 };
