import type { Point } from '../geometry/point.ts';
import type { Beside } from './allowances.ts';
import type { Claims } from './claims.ts';
import type { DartFound } from './darts.ts';
import type { Grain } from './grain.ts';
import type { Label } from './labels.ts';
import type { NotchFound } from './notches.ts';
import type { Outlines } from './outlines.ts';
import type { PartReading } from './parts.ts';
import type { DrawnPiece } from './pieces.ts';
import type { RoleDoubt, RoleReading } from './roles.ts';
import type { Shape } from './shape.ts';
import type { SheetPiece } from './sheet/types.ts';
import type { StatedAllowance, StatedCut } from './stating.ts';
import type { Stroke } from './strokes.ts';

/** A piece as far as it is told by its own drawing. */
export interface ReadPiece {
  readonly drawn: DrawnPiece;
  readonly id: string;
  readonly name: string;
  readonly sheet?: SheetPiece;
  readonly part: PartReading;
  /** A second answer to what it is that is about as likely. */
  readonly doubt?: RoleDoubt;
  /** How much more its shape is that of a front than of a back, where shape alone tells. */
  readonly lean?: number;
  readonly outlines: Outlines;
  readonly shape: Shape;
  readonly beside?: readonly (Beside | undefined)[];
  readonly strokes: readonly Stroke[];
  readonly labels: readonly Label[];
  readonly drills: readonly { readonly id: string; readonly at: Point }[];
  readonly grain?: Grain;
  readonly rivalGrain?: Grain;
  readonly darts: readonly DartFound[];
  readonly notches: readonly NotchFound[];
  readonly claims: Claims;
  /** Lines of fold marks. */
  readonly foldMarks: ReadonlySet<Stroke>;
  /** Lines that are neither grain nor fold marks; `free` are those that are no darts, notches or drill holes either. */
  readonly others: readonly Stroke[];
  readonly free: readonly Stroke[];
  readonly cut: StatedCut;
  readonly allowance?: StatedAllowance;
  readonly roles: RoleReading;
}

/** What the words on a piece say, before its lines are looked at. */
export interface Named {
  readonly drawn: DrawnPiece;
  readonly name: string;
  readonly part: PartReading;
  readonly labels: readonly Label[];
}

/** A piece whose lines are sorted, before its part and roles are known. */
export type Sorted = Omit<ReadPiece, 'roles' | 'part' | 'doubt' | 'lean'>;
