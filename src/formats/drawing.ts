import type { Finding } from '../finding.ts';
import type { Path } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';

/**
 * What a file says, normalised: millimetres, y up, radians anticlockwise.
 *
 * Cannot occur in a Drawing: units, transforms or block references still to be applied, NaN or infinite numbers,
 * relative commands, segments of zero length, curves other than line, circular arc and cubic, encoded text
 * (escapes, entities, codepages are resolved), paths without segments.
 *
 * A polyline keeps its vertices: each of its stretches is one segment. Every drawable keeps, by its `id`,
 * a handle to its place in the source, which only the format that read it can resolve.
 */
export interface Drawing {
  readonly format: FormatName;
  readonly fileName: string;
  readonly units: DrawingUnits;
  readonly containers: readonly Container[];
  readonly drawables: readonly Drawable[];
  /** The format's own document (tags, spans, bytes). Opaque to everyone else. */
  readonly document: unknown;
}

export type FormatName = 'dxf' | 'svg';

/** What one unit of the file is, and who says so. `unstated` is read as millimetres and told as an error-level finding. */
export interface DrawingUnits {
  readonly millimetresPerUnit: number;
  readonly statedBy: 'option' | 'file' | 'text' | 'unstated';
  /** e.g. 'mm', 'in', 'px'. */
  readonly name: string;
}

/** A block, a group, or the drawing itself. Exactly one has no parent: the root, id 'root'. */
export interface Container {
  readonly id: string;
  readonly kind: 'root' | 'block' | 'group';
  /** Block name, group id. Empty for the root. */
  readonly name: string;
  /** Title, description, label attribute, joined; as a person would read it. */
  readonly label: string;
  readonly parent?: string;
  /** Two containers with the same definition are placements of one shape (block inserted twice, `use`). */
  readonly definition: string;
}

export type Drawable = PathDrawable | TextDrawable | PointDrawable;

export interface DrawableBase {
  /** Unique in the drawing, the same each time the same bytes are read. */
  readonly id: string;
  /** DXF layer, or name of the nearest SVG group that acts as a layer; '' when none. */
  readonly layer: string;
  /** id of the container it lies in. */
  readonly container: string;
  /** As the file calls it: LWPOLYLINE, path, rect. */
  readonly entity: string;
  /** Two drawables with the same definition share one source entity; changing one changes the other. */
  readonly definition: string;
  /** 1-based line in the source, for findings. */
  readonly line: number;
  /** What the element says of itself: id, class, title, desc, ATTRIB tag. May help to recognise it. */
  readonly labels: readonly string[];
  readonly style: LineStyle;
}

export interface LineStyle {
  /** Millimetres; 0 when not stated. */
  readonly width: number;
  readonly dashed: boolean;
  readonly filled: boolean;
  readonly arrowStart: boolean;
  readonly arrowEnd: boolean;
}

export interface PathDrawable extends DrawableBase {
  readonly kind: 'path';
  readonly path: Path;
}

export interface TextDrawable extends DrawableBase {
  readonly kind: 'text';
  readonly text: string;
  readonly at: Point;
  /** Direction of reading, radians. */
  readonly angle: number;
  /** Letter height, mm. */
  readonly height: number;
  /** True when it reads mirrored. */
  readonly mirrored: boolean;
}

export interface PointDrawable extends DrawableBase {
  readonly kind: 'point';
  readonly at: Point;
  /** Stated direction (DXF code 50), radians. */
  readonly angle?: number;
}

/** What is to change, by drawable id. What is not named stays byte for byte. */
export interface DrawingChanges {
  readonly paths: ReadonlyMap<string, PathChange>;
  readonly texts: ReadonlyMap<string, PlaceChange>;
  readonly points: ReadonlyMap<string, PlaceChange>;
  readonly additions: readonly Addition[];
  /** Drawables that are taken out: what no longer holds, like "place on fold" on a piece that was unfolded. */
  readonly removals?: ReadonlySet<string>;
}

/**
 * `segments[i]` stands in place of `path.segments[i]`, in the drawable's own direction: the very same object when it
 * did not move, one or several new ones when it did, none when it vanished (its neighbours then meet).
 */
export interface PathChange {
  readonly segments: readonly (readonly Segment[])[];
}

export interface PlaceChange {
  readonly at: Point;
  /** New angle; absent: as it was. */
  readonly angle?: number;
}

/** Something new, drawn in the layer, container and style of the drawable `like`. */
export type Addition =
  | { readonly kind: 'path'; readonly like: string; readonly path: Path }
  | { readonly kind: 'point'; readonly like: string; readonly at: Point }
  | {
      readonly kind: 'text';
      readonly like: string;
      readonly text: string;
      readonly at: Point;
      readonly angle: number;
      readonly height: number;
    };

export interface ReadOptions {
  readonly fileName: string;
  /** Millimetres per unit, overriding what the file says; told when it contradicts. */
  readonly units?: { readonly millimetresPerUnit: number; readonly name: string };
}

export interface ReadResult {
  /** Absent when nothing could be read; then there is an error-level finding. */
  readonly drawing?: Drawing;
  readonly findings: readonly Finding[];
}

export interface WriteResult {
  readonly bytes: Uint8Array;
  readonly findings: readonly Finding[];
  /** For each changed path: vertices or knots added to (or, negative, taken from) its source entity. */
  readonly addedVertices: ReadonlyMap<string, number>;
}

/** One file format: the only path from bytes to Drawing and back. */
export interface Format {
  readonly name: FormatName;
  readonly extensions: readonly string[];
  /** Whether the bytes look like this format. */
  sniff(bytes: Uint8Array): boolean;
  read(bytes: Uint8Array, options: ReadOptions): ReadResult;
  /** The source with only what moved spliced in. With no changes: the very bytes that were read. */
  patch(drawing: Drawing, changes: DrawingChanges): WriteResult;
  /** A whole new file of this format, from a drawing of any format. */
  write(drawing: Drawing): WriteResult;
}
