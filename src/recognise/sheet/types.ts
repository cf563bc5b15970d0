import type { Point } from '../../geometry/point.ts';
import type { View } from '../../pattern/pattern.ts';
import type { Cloth, EdgeRole, LandmarkName, LevelName, PartName } from '../../pattern/piece.ts';

/**
 * The pattern sheet: what the drawing does not say, stated by the user. Whatever stands here is certain (weight 1) and
 * goes before every reading of the drawing.
 *
 * Lengths are millimetres. Places (`FilePlace`) are in the drawing file's own units and position, as `survey` prints
 * them; `places.ts` turns them into points of the drawing and back.
 */
export interface PatternSheet {
  /** As the user gave it, for findings. */
  readonly fileName: string;
  /** What one unit of the drawing file is, where the file lies or is silent. */
  readonly units?: SheetUnits;
  readonly style?: string;
  readonly size?: string;
  /** Body measurements the pattern was drafted for, mm, by canonical measurement name. Empty when not stated. */
  readonly draftedFor: Readonly<Record<string, number>>;
  /** Allowance of every edge that states none of its own, mm. */
  readonly allowance?: number;
  /** What an outline is that stands alone on its piece. */
  readonly outlineIs?: 'cutting line' | 'seam line';
  readonly pieces: readonly SheetPiece[];
  readonly mates: readonly SheetMates[];
  readonly views: readonly View[];
  /** Words the drawing uses beside its lines, added to the vocabulary. */
  readonly labels: Readonly<Partial<Record<LabelSubject, readonly string[]>>>;
}

export type SheetUnits = 'mm' | 'cm' | 'in';

/** What a label may name. */
export type LabelSubject = (typeof labelSubjects)[number];
export const labelSubjects = [
  'grain',
  'adjustment line',
  'fold',
  'centre',
  'waist',
  'hip',
  'top hip',
  'hem',
  'side',
  'neck',
  'shoulder',
  'armhole',
  'bust line',
  'chest line',
  'back width line',
  'underarm line',
  'bust point',
  'sleeve cap',
  'biceps line',
  'elbow line',
  'wrist',
  'crotch',
  'inseam',
  'knee line',
  'panel seam',
  'dart',
  'notch',
  'cutting line',
  'seam line',
  'cut',
] as const;

export interface SheetPiece {
  /** Piece id, or the name printed on the piece, as written. Compare without regard to case. */
  readonly key: string;
  /** 1-based line of the sheet, for findings. */
  readonly line: number;
  /** A place inside the outline: finds a piece that has no name in the drawing. */
  readonly at?: FilePlace;
  /** A new name for the piece. */
  readonly name?: string;
  readonly part?: PartName;
  /** How many times the paper is cut out. */
  readonly cut?: number;
  readonly onFold?: boolean;
  readonly mirrored?: boolean;
  readonly cloth?: Cloth;
  /** Towards the waist: unit vector in the drawing's frame (x right, y up). */
  readonly up?: Point;
  /** Allowance of the edges not named in `allowances`, mm. */
  readonly allowance?: number;
  /** Allowance by edge id or role, mm. */
  readonly allowances: Readonly<Record<string, number>>;
  /** Edges stated with their corners. Edges not stated are still recognised. */
  readonly edges: readonly SheetEdge[];
  readonly levels: readonly SheetLevel[];
  readonly landmarks: readonly SheetLandmark[];
  /** Ends of the grainline's shaft. */
  readonly grainline?: { readonly from: FilePlace; readonly to: FilePlace };
  /** A place on each adjustment line. */
  readonly adjustmentLines: readonly FilePlace[];
  /** Not a piece to be altered: its lines are left as they are. */
  readonly leaveOut: boolean;
}

/** A stretch of the outline between the two corners nearest `from` and `to`, the shorter way round unless `through` says otherwise. */
export interface SheetEdge {
  readonly role: EdgeRole;
  /** Edge id the user gives it; absent: numbered from the role. */
  readonly id?: string;
  readonly from: FilePlace;
  readonly to: FilePlace;
  /** A place on the edge between its corners, where both ways round are possible. */
  readonly through?: FilePlace;
  readonly line: number;
}

/** A level stated by its distance down from another (mm, along the upright), or by a place it runs through. */
export interface SheetLevel {
  readonly name: LevelName;
  readonly lies:
    | { readonly by: 'distance'; readonly below: LevelName; readonly distance: number }
    | { readonly by: 'place'; readonly at: FilePlace };
  readonly line: number;
}

/** A named point, where the drawing marks none. A whole piece has two bust points. */
export interface SheetLandmark {
  readonly name: LandmarkName;
  readonly at: FilePlace;
}

/** Coordinates in the drawing file's own units and position: y upwards in DXF, downwards from the top in SVG. */
export interface FilePlace {
  readonly x: number;
  readonly y: number;
}

/** Two edges, or rows of edges, stated as sewn together. */
export interface SheetMates {
  /** What the seam is called; absent: numbered. */
  readonly name?: string;
  readonly one: readonly SheetSewn[];
  readonly other: readonly SheetSewn[];
  readonly line: number;
}

export interface SheetSewn {
  /** Piece id or name, as written. */
  readonly piece: string;
  /** Edge id or role. */
  readonly edge: string;
  /** How often along the seam on one layer of cloth. Absent: as the piece is cut (2 for the waist of a half piece). */
  readonly times?: number;
}
