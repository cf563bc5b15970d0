import type { Point } from '../geometry/point.ts';
import { line, type Segment } from '../geometry/segment.ts';
import { IDENTITY, transformSegment } from '../geometry/transform.ts';
import type { LookName } from './looks.ts';

/*
 * A drawing for people, before it is SVG or PDF. Millimetres as they are to be printed, y down, the upper left corner
 * at the origin; so a piece at a fifth of its size has its coordinates divided by five already.
 */

export interface Figure {
  readonly width: number;
  readonly height: number;
  readonly marks: readonly Mark[];
  /** What it is, for those who hear the page read. */
  readonly title: string;
  /** What is to be seen on it, in a sentence or two. */
  readonly describes: string;
}

/** Drawn in their order, later ones over earlier ones. */
export type Mark = LineMark | AreaMark | WordMark;

export interface LineMark {
  readonly kind: 'line';
  readonly look: LookName;
  readonly segments: readonly Segment[];
  readonly closed: boolean;
  /** What the line stands for, to be found again by whoever measures the picture. */
  readonly of?: LineOf;
}

export interface LineOf {
  readonly piece: string;
  readonly edge: string;
  readonly when: 'before' | 'after';
  /** For those who point at it: 'side: 27 in → 27⅛ in'. */
  readonly says: string;
}

/** What lies inside an odd number of the rings. */
export interface AreaMark {
  readonly kind: 'area';
  readonly look: LookName;
  readonly rings: readonly (readonly Segment[])[];
}

export interface WordMark {
  readonly kind: 'words';
  readonly look: LookName;
  /** On the base line. */
  readonly at: Point;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly words: string;
}

/** The marks moved by (x, y). */
export const moved = (marks: readonly Mark[], x: number, y: number): Mark[] => {
  const m = { ...IDENTITY, e: x, f: y };
  const along = (segments: readonly Segment[]): Segment[] => segments.flatMap((s) => transformSegment(m, s));
  return marks.map((mark): Mark => {
    if (mark.kind === 'line') return { ...mark, segments: along(mark.segments) };
    if (mark.kind === 'area') return { ...mark, rings: mark.rings.map(along) };
    return { ...mark, at: { x: mark.at.x + x, y: mark.at.y + y } };
  });
};

/** A straight line from (x1, y1) to (x2, y2). */
export const stroke = (look: LookName, x1: number, y1: number, x2: number, y2: number): LineMark => ({
  kind: 'line',
  look,
  segments: [line({ x: x1, y: y1 }, { x: x2, y: y2 })],
  closed: false,
});
