import type { Path } from '../../geometry/path.ts';
import type { Point } from '../../geometry/point.ts';
import type { NotchShape } from '../sheet.ts';

/** A pattern as the apparel layout can say it. Millimetres, y up, pieces in any position. */
export interface ApparelPattern {
  /** Style name; may be empty. */
  readonly style: string;
  readonly size: string;
  readonly pieces: readonly ApparelPiece[];
}

export interface ApparelPiece {
  readonly name: string;
  /** What it is of a garment: 'skirt front'. */
  readonly category: string;
  readonly material: string;
  /** How many times the paper is cut out. */
  readonly quantity: number;
  readonly mirroredPair: boolean;
  /** Closed: what is cut. */
  readonly boundary: Path;
  /** Closed: what is sewn; absent when the boundary is all there is. */
  readonly sewLine?: Path;
  /** Whether the boundary is the seam line, with no allowance on it. */
  readonly withoutAllowance: boolean;
  /** The fold edge of a half piece. */
  readonly mirrorLine?: readonly [Point, Point];
  /** From the bottom to the top of the piece. */
  readonly grain?: readonly [Point, Point];
  readonly internals: readonly ApparelLine[];
  readonly notches: readonly ApparelNotch[];
  readonly drills: readonly Point[];
  readonly texts: readonly ApparelText[];
}

export interface ApparelLine {
  readonly path: Path;
  /** Cut out of the piece. */
  readonly cutout: boolean;
}

export interface ApparelNotch {
  /** On the boundary. */
  readonly at: Point;
  /** Unit vector into the piece. */
  readonly inward: Point;
  readonly shape: NotchShape;
}

export interface ApparelText {
  readonly text: string;
  readonly at: Point;
  readonly angle: number;
  readonly height: number;
}

export interface ApparelOptions {
  /** METRIC is the millimetre, ENGLISH the inch. */
  readonly units?: 'mm' | 'in';
  /** Greatest distance of chords from their curve, mm; 0.1 by default. */
  readonly tolerance?: number;
}
