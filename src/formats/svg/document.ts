import type { Path } from '../../geometry/path.ts';
import type { Point } from '../../geometry/point.ts';
import type { Segment } from '../../geometry/segment.ts';
import type { Affine } from '../../geometry/transform.ts';
import type { Element } from './elements.ts';
import type { Surroundings } from './lengths.ts';
import type { Source } from './source.ts';

/** What a drawing remembers of its source: where each drawable stands in it and how its place came about. */
export interface SvgDocument {
  readonly source: Source;
  readonly handles: ReadonlyMap<string, Handle>;
  /** Definition → ids of all drawables that share it, in order of placement. */
  readonly placements: ReadonlyMap<string, readonly string[]>;
  readonly fileName: string;
}

export type Handle = PathHandle | DotHandle | TextHandle;

interface HandleBase {
  readonly element: Element;
  readonly definition: string;
  /** The element's own axes (y down) to the drawing's millimetres (y up). */
  readonly toMm: Affine;
  readonly around: Surroundings;
}

export interface PathHandle extends HandleBase {
  readonly kind: 'path';
  /** Which of the element's outlines (subpaths with segments or dots) this is. */
  readonly part: number;
  /** The outline in the element's own axes. */
  readonly local: readonly Segment[];
  /** For each local segment, how many segments of the path came of it. */
  readonly counts: readonly number[];
  readonly path: Path;
}

export interface DotHandle extends HandleBase {
  readonly kind: 'dot';
  readonly part: number;
}

/** A text or, where one text element has letters in far places, one of these. */
export interface TextHandle extends HandleBase {
  readonly kind: 'text';
  /** Elements whose x and y must be shifted to move it. */
  readonly placed: readonly Element[];
  /** Start of its baseline in the element's own axes. */
  readonly at: Point;
  /** Whether it is all of its element's letters. */
  readonly whole: boolean;
  readonly onPath: boolean;
  /** Whether a `transform` attribute on the element would be obeyed (no style sets one). */
  readonly turnable: boolean;
}
