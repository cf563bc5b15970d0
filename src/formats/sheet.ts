import type { Finding } from '../finding.ts';
import type { Path } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';

/**
 * What a machine is to draw or cut, before any format: pieces laid out, true scale.
 *
 * Millimetres, y up, the origin at the lower left corner of each frame. Along a roll is x: a frame of a roll is as
 * wide as the length used and as high as the roll is wide.
 */
export interface Sheet {
  /** The pattern's name; goes into the file's metadata. */
  readonly title: string;
  /** At least one. Each is one page, one plot or one file, as the format has it. In the order in which they are used. */
  readonly frames: readonly Frame[];
}

/** One stretch of roll or one sheet of paper. No path leaves it; a text may, and a writer clips it at the edge. */
export interface Frame {
  /** Unique in the sheet, short, fit for a file name: '1', '2', 'A1', 'cover'. */
  readonly name: string;
  /** As a person would say it: 'Roll, part 1 of 3', 'Row A, sheet 2'. */
  readonly title: string;
  /** Greater than 0. */
  readonly width: number;
  /** Greater than 0. */
  readonly height: number;
  /** The part that is left when the overlap is trimmed off. Absent when nothing is trimmed. */
  readonly trim?: FrameBox;
  /** In the order of drawing. A writer that sorts by pen or layer keeps this order within each. */
  readonly marks: readonly SheetMark[];
}

export interface FrameBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/**
 * What a line is for. `cut` is what the blade follows (inner cutouts too); `seam` is sewn; `crease` folds; `guide` is
 * everything that belongs to the paper and not to the garment: test squares, rulers, registration marks, frame edges.
 */
export type Purpose = 'grain' | 'internal' | 'seam' | 'crease' | 'text' | 'guide' | 'drill' | 'notch' | 'cut';

/** Every purpose in the order in which a machine works: what is drawn first, then marked, then cut. */
export const PURPOSES: readonly Purpose[] = [
  'guide',
  'text',
  'grain',
  'internal',
  'seam',
  'crease',
  'drill',
  'notch',
  'cut',
];

export type SheetMark = PathMark | TextMark | NotchMark | DrillMark;

interface MarkBase {
  /** The piece it belongs to, as labelled on the sheet: 'skirt front 2 of 2'. Absent for guides. */
  readonly piece?: string;
}

/** A line to follow from its first point to its last. */
export interface PathMark extends MarkBase {
  readonly kind: 'path';
  readonly purpose: Exclude<Purpose, 'text' | 'drill'>;
  /** Closed (`path.closed`) when it is an outline. The tool comes down where the path starts. */
  readonly path: Path;
  /** A contour inside a piece, to be cut before the outline about it. */
  readonly inner: boolean;
}

/** One line of lettering. */
export interface TextMark extends MarkBase {
  readonly kind: 'text';
  readonly purpose: 'text' | 'guide';
  /** Any Unicode, never empty, no line breaks. */
  readonly text: string;
  /** On the base line: where the text starts, or its middle, as `anchor` says. */
  readonly at: Point;
  readonly anchor: 'start' | 'middle';
  /** Direction of reading, radians. */
  readonly angle: number;
  /** Height of a capital letter, mm. */
  readonly height: number;
  /** Room along the base line, mm: a writer narrows letters that would take more. Absent: as wide as they come. */
  readonly room?: number;
}

/** A notch, to be drawn in the machine's own style (see notch-shapes.ts). A double notch is two marks. */
export interface NotchMark extends MarkBase {
  readonly kind: 'notch';
  readonly purpose: 'notch';
  /** On the line that is notched. */
  readonly at: Point;
  /** Unit vector from that line into the piece, square to the line. */
  readonly inward: Point;
  /** Which line it is on. Only a notch on the line that is cut may be cut. */
  readonly on: 'cut' | 'seam';
  /** As the pattern draws it; 'unstated' when it is only a stroke or a point there. */
  readonly shape: NotchShape | 'unstated';
  /** Into the piece, mm. */
  readonly depth: number;
  /** Along the line, mm. */
  readonly width: number;
}

export type NotchShape = 'slit' | 'v' | 't' | 'castle' | 'check' | 'u';

/** A hole to be drilled or marked. */
export interface DrillMark extends MarkBase {
  readonly kind: 'drill';
  readonly purpose: 'drill';
  readonly at: Point;
  /** Diameter, mm. */
  readonly diameter: number;
}

/** How one purpose is told to a machine. */
export interface Stroke {
  /** Pen or tool number, 1 and up. */
  readonly pen: number;
  /** Layer name, 7-bit letters, digits and hyphens. */
  readonly layer: string;
  readonly line: LineType;
  /** '#rrggbb'. */
  readonly colour: string;
  /** The same colour in the numbered palette of DXF, 1 to 255. */
  readonly colourNumber: number;
  /** Width of the line on paper, mm. */
  readonly width: number;
}

export type LineType = 'solid' | 'dashed' | 'dash-dot' | 'dotted';

export interface Margins {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** What a machine wants: a row of data, with where it is from. */
export interface Machine {
  /** As `--machine` takes it: 'roll-printer-36'. */
  readonly name: string;
  /** As a person would say it. */
  readonly title: string;
  readonly kind: 'printer' | 'pen plotter' | 'knife' | 'laser';
  /** Where the values are from. */
  readonly source: string;
  /** Width of the roll or bed, mm; absent when the user says it. */
  readonly width?: number;
  /** The longest stretch it takes at once, mm; absent when there is no limit. */
  readonly longest?: number;
  /** What it cannot reach at the edges, mm, as one looks at the sheet. */
  readonly margins: Margins;
  /** A purpose that is absent is neither drawn nor cut, and told. */
  readonly strokes: Readonly<Partial<Record<Purpose, Stroke>>>;
  /** Greatest distance between a curve and the chords that stand for it, mm. */
  readonly curveTolerance: number;
  /** Least distance between two points of a curve, mm; corners and notches are kept. 0: no least. */
  readonly leastStep: number;
  readonly notch: NotchStyle;
  /** For a blade that is dragged and for a beam. */
  readonly blade?: Blade;
  readonly hpgl: HpglHabits;
  readonly dxf: DxfHabits;
}

export interface NotchStyle {
  /**
   * 'as drawn': the mark's own shape, a slit where it is unstated. 'points': a bare point on the line.
   * The others: that shape, whatever the pattern draws.
   */
  readonly shape: NotchShape | 'as drawn' | 'points';
  /** mm; absent: the mark's own. */
  readonly depth?: number;
  readonly width?: number;
  /** Taken into the outline that is cut, or as a stroke of its own beside it. */
  readonly joined: boolean;
}

export interface Blade {
  /** How far a closed cut goes on past its start, mm. */
  readonly overcut: number;
  /** Where a closed cut starts: at its sharpest corner, or in the middle of its longest straight stretch. */
  readonly start: 'corner' | 'straight';
}

export interface HpglHabits {
  /** Plot units to the millimetre: 40 by the standard. */
  readonly unitsPerMillimetre: number;
  /** Greatest coordinate, units: 2^30 - 1, or 32767 on old controllers. */
  readonly greatest: number;
  /** Whether ESC %0B goes before, to enter HP-GL/2 from another language. */
  readonly enter: boolean;
  /** Whether PS and PG are understood. */
  readonly frames: boolean;
  /** Letters as strokes, or by the machine's own labels (7-bit only). */
  readonly letters: 'strokes' | 'labels';
}

export interface DxfHabits {
  readonly version: 'R12' | 'R2000';
}

export interface SheetOptions {
  /** Base of the file names, without folder and extension: 'skirt'. */
  readonly name: string;
  /** PDF: pages past 5080 mm through UserUnit, which some readers ignore. */
  readonly userUnit?: boolean;
  /** ISO 8601, from SOURCE_DATE_EPOCH; no date is written without it. */
  readonly date?: string;
}

export interface SheetFile {
  /** 'skirt.pdf', 'skirt-2.plt'. Never a folder. */
  readonly name: string;
  readonly bytes: Uint8Array;
}

export interface SheetFiles {
  readonly files: readonly SheetFile[];
  readonly findings: readonly Finding[];
}

/** One format for machines: the only path from a Sheet to bytes. The same input gives the same bytes. */
export interface SheetWriter {
  /** As `--to` takes it. */
  readonly name: SheetFormatName;
  /** Without the dot. */
  readonly extension: string;
  /** Greatest side of a frame, mm; absent when there is none. The layout splits frames by it. */
  readonly greatestFrame?: number;
  write(sheet: Sheet, machine: Machine, options: SheetOptions): Promise<SheetFiles>;
}

export type SheetFormatName = 'pdf' | 'hpgl' | 'svg' | 'dxf';
