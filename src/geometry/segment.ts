import type { Point } from './point.ts';

/** A stretch of line. Segments are never of zero length, never NaN. */
export type Segment = LineSegment | ArcSegment | CubicSegment;

export interface LineSegment {
  readonly kind: 'line';
  readonly from: Point;
  readonly to: Point;
}

/** Circular arc. `sweep` is the signed angle in radians from `from` to `to` about `centre`, anticlockwise positive, 0 < |sweep| ≤ 2π. */
export interface ArcSegment {
  readonly kind: 'arc';
  readonly from: Point;
  readonly to: Point;
  readonly centre: Point;
  readonly sweep: number;
}

/** Cubic Bézier. */
export interface CubicSegment {
  readonly kind: 'cubic';
  readonly from: Point;
  readonly control1: Point;
  readonly control2: Point;
  readonly to: Point;
}
