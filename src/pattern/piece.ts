import type { Point } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';
import type { Judged } from './evidence.ts';

/**
 * One piece of paper: outlines, and all that is drawn on it. Millimetres, y up, in the drawing's own position:
 * a piece may lie at any angle and mirrored; `upright` says which way is up.
 */
export interface Piece {
  /** Unique in the pattern; short and readable: 'skirt-front'. */
  readonly id: string;
  /** As printed on the piece. */
  readonly name: string;
  readonly part: PartName;
  readonly partJudged: Judged;
  readonly upright: Upright;
  /** On the fold: the piece is half of what is cut. The fold is then an edge of role 'fold'. */
  readonly half: boolean;
  readonly cut: CutOrder;
  /** Anticlockwise. The line that is sewn; alterations work on it. */
  readonly seamLine: Outline;
  readonly seamLineFrom: 'drawn' | 'derived' | 'only outline';
  /** The only outline is known to be the cutting line, and not how wide its allowance is: measures have that in them. */
  readonly allowanceUnknown?: true;
  /** Anticlockwise. Absent when the piece has no allowance. */
  readonly cuttingLine?: Outline;
  /** Cover the seam line without gap or overlap, anticlockwise. */
  readonly edges: readonly Edge[];
  readonly levels: readonly Level[];
  readonly darts: readonly Dart[];
  readonly notches: readonly Notch[];
  /** Every other line on the paper: grain, adjustment, hip line, dart legs, pocket marks. */
  readonly lines: readonly InnerLine[];
  readonly points: readonly PaperPoint[];
  readonly texts: readonly PaperText[];
  /** Named points that lie on no line: the bust point. */
  readonly landmarks: readonly Landmark[];
  /** Bases `lines` by purpose. */
  readonly grainline?: GrainMark;
  /** One entry per printed adjustment line (a double line is one entry). */
  readonly adjustmentLines: readonly AdjustmentMark[];
}

/** What a piece is of a garment. Grows with the catalogue. */
export type PartName =
  | 'skirt front'
  | 'skirt back'
  | 'skirt side'
  | 'skirt gore'
  | 'skirt'
  | 'waistband'
  | 'front facing'
  | 'back facing'
  | 'facing'
  | 'yoke'
  | 'pocket'
  | 'lining'
  | 'bodice front'
  | 'bodice back'
  | 'bodice side front'
  | 'bodice side back'
  | 'sleeve'
  | 'upper sleeve'
  | 'under sleeve'
  | 'trouser front'
  | 'trouser back'
  | 'dress front'
  | 'dress back'
  | 'dress side front'
  | 'dress side back'
  | 'collar'
  | 'cuff'
  | 'unknown';

/** The piece's own frame: heights are measured along `up` (unit vector, towards the waist) from `origin`. */
export interface Upright extends Judged {
  readonly origin: Point;
  readonly up: Point;
}

export interface CutOrder extends Judged {
  /** How many times the paper is cut out. 1 on the fold gives one whole piece. */
  readonly count: number;
  /** Cut as mirrored pairs (the usual way for count 2 of a piece that is not on the fold). */
  readonly mirrored: boolean;
  readonly cloth: Cloth;
}
export type Cloth = 'shell' | 'lining' | 'facing' | 'interlining';

/** Closed. Spans run anticlockwise, end to end. */
export interface Outline {
  readonly spans: readonly Span[];
}

/**
 * What has become of one segment of the source. As read: `segments` holds that one segment (turned round when
 * `reversed`). Altered: none, one or several, still in the direction of the line they belong to.
 */
export interface Span {
  /** Absent for a stretch that no entity draws (a closed gap, a derived seam line). */
  readonly source?: SpanSource;
  readonly segments: readonly Segment[];
}
export interface SpanSource {
  readonly drawable: string;
  readonly index: number;
  readonly reversed: boolean;
}

/** A stretch of seam line between two corners. Covers spans `first` to `last` inclusive, going round past the end when last < first. */
export interface Edge extends Judged {
  /** Unique in the piece: 'waist', 'side', 'side-2'. */
  readonly id: string;
  readonly role: EdgeRole;
  readonly first: number;
  readonly last: number;
  /** Distance from seam line to cutting line, measured along the edge; 0 when there is no cutting line. */
  readonly allowance: number;
  /** Spans `first..last` of the cutting line that run beside this edge; absent without a cutting line. */
  readonly cuttingFirst?: number;
  readonly cuttingLast?: number;
}

/**
 * `centre` is a seam or opening at the garment's centre; `fold` is the centre on the fold; `end` is the short end of a
 * band. `panel seam` divides a front or back from shoulder or armhole to the waist. `cap` is the crown of a sleeve from
 * underarm to underarm, `sleeve seam` each of the seams from there to the wrist (both of a two-piece sleeve). On
 * trousers `side` is the outer seam, `inseam` the inner, and `crotch` runs from the waist at the centre to the crotch
 * point. `wrist` is the lower edge of a sleeve, `free` one that is sewn to nothing: the inner edge of a facing. `yoke seam` is
 * the edge of a yoke that is sewn to the piece below it.
 */
export type EdgeRole =
  | 'waist'
  | 'side'
  | 'hem'
  | 'centre'
  | 'fold'
  | 'gore seam'
  | 'panel seam'
  | 'neck'
  | 'shoulder'
  | 'armhole'
  | 'cap'
  | 'sleeve seam'
  | 'wrist'
  | 'crotch'
  | 'inseam'
  | 'free'
  | 'yoke seam'
  | 'band seam'
  | 'band top'
  | 'end'
  | 'unknown';

/**
 * `chest` runs across the front, `blade` across the back, at the height of the armhole notches; `underarm` through the
 * lowest point of the armhole; `biceps` is the same on a sleeve; `crotch` runs through the crotch point.
 */
export type LevelName =
  | 'chest'
  | 'blade'
  | 'underarm'
  | 'bust'
  | 'waist'
  | 'top hip'
  | 'hip'
  | 'crotch'
  | 'knee'
  | 'hem'
  | 'biceps'
  | 'elbow'
  | 'wrist';

/** A line across the piece square to the upright. */
export interface Level extends Judged {
  readonly name: LevelName;
  /** Along `upright.up` from `upright.origin`, mm. */
  readonly height: number;
  /** The inner line that draws it. */
  readonly line?: string;
}

/** A place on an outline: in span `span`, at parameter t (0 to 1) of its only segment as read. */
export interface OutlinePlace {
  readonly span: number;
  readonly t: number;
}

export interface Dart extends Judged {
  readonly id: string;
  /** The edge whose mouth it opens. Absent for a dart that lies inside (fisheye). */
  readonly edge?: string;
  /**
   * How it is drawn. 'outline': its legs are spans `first..last` of the seam line (they belong to the edge's
   * range, and are left out when the edge is measured). 'lines': inner lines run from the tip to the seam edge,
   * which goes on straight across the mouth.
   */
  readonly drawn:
    | { readonly as: 'outline'; readonly first: number; readonly last: number }
    | { readonly as: 'lines'; readonly lines: readonly string[] };
  /** Mouth points in the direction of the seam line (anticlockwise), and the tip. */
  readonly mouth: readonly [Point, Point];
  readonly tip: Point;
  /**
   * The lower tip of a dart that lies inside, from above the waist to below it. `tip` is then the upper one, and the
   * mouths are the two places where the dart is widest, so that the way from the first to the second has `tip` on its
   * left, as with a dart in an edge.
   */
  readonly otherTip?: Point;
}

export interface Notch extends Judged {
  readonly id: string;
  readonly edge: string;
  /** On the seam line. */
  readonly at: OutlinePlace;
  /** Inner lines and points (ids) that draw it. Empty when it is cut into the cutting line. */
  readonly marks: readonly string[];
  /** Single 1, double 2, triple 3. */
  readonly count: number;
}

export interface InnerLine extends Judged {
  /** The drawable's id. */
  readonly id: string;
  readonly kind: InnerLineKind;
  readonly closed: boolean;
  readonly spans: readonly Span[];
}
export type InnerLineKind =
  | 'grain'
  | 'adjustment'
  | 'level'
  | 'centre'
  | 'fold mark'
  | 'dart'
  | 'notch'
  | 'drill'
  | 'cutout'
  | 'tuck'
  | 'internal';

export interface PaperPoint extends Judged {
  /** The drawable's id. */
  readonly id: string;
  readonly kind: 'notch' | 'drill' | 'turn' | 'curve' | 'landmark' | 'point';
  readonly at: Point;
  readonly angle?: number;
}

/** The nape is never marked: it is taken where the neck edge is drafted to meet the centre back. */
export type LandmarkName = 'bust point' | 'nape';

export interface Landmark extends Judged {
  readonly name: LandmarkName;
  readonly at: Point;
  /** Points and inner lines (ids) that draw it: a circle with a cross, a drill hole. */
  readonly marks: readonly string[];
}

export interface PaperText {
  /** The drawable's id. */
  readonly id: string;
  readonly text: string;
  readonly at: Point;
  readonly angle: number;
  readonly height: number;
}

export interface GrainMark extends Judged {
  /** Inner lines that draw it (shaft first, then arrow heads). */
  readonly lines: readonly string[];
  /** Ends of the shaft. */
  readonly from: Point;
  readonly to: Point;
}

export interface AdjustmentMark extends Judged {
  readonly lines: readonly string[];
  /** Height of its middle in the piece's upright. */
  readonly height: number;
}
