import { type Path, polyline } from '../geometry/path.ts';
import { add, left, type Point, scale } from '../geometry/point.ts';
import type { NotchMark, NotchShape, NotchStyle } from './sheet.ts';

/** The shape that a machine of this style gives to the mark. */
export const notchShape = (mark: NotchMark, style: NotchStyle): NotchShape | 'points' => {
  if (style.shape === 'points') return 'points';
  if (style.shape !== 'as drawn') return style.shape;
  return mark.shape === 'unstated' ? 'slit' : mark.shape;
};

/**
 * The strokes that draw a notch in the machine's style, mm; none for 'points', which is the place `mark.at` itself.
 * A shape that opens the line (v, castle, u) runs from one side of the mouth to the other and leaves the mouth open;
 * along the line the mouth runs against `left(inward)`, which is the way round of an anticlockwise outline.
 */
export const notchStrokes = (mark: NotchMark, style: NotchStyle): readonly Path[] => {
  const depth = style.depth ?? mark.depth;
  const half = (style.width ?? mark.width) / 2;
  const at = (along: number, into: number): Point =>
    add(mark.at, add(scale(left(mark.inward), -along), scale(mark.inward, into)));
  switch (notchShape(mark, style)) {
    case 'points':
      return [];
    case 'slit':
      return [polyline([at(0, 0), at(0, depth)])];
    case 't':
      return [polyline([at(0, 0), at(0, depth)]), polyline([at(-half, depth), at(half, depth)])];
    case 'v':
      return [polyline([at(-half, 0), at(0, depth), at(half, 0)])];
    case 'check':
      return [polyline([at(-half, 0), at(-half, depth), at(half, 0)])];
    case 'castle':
      return [polyline([at(-half, 0), at(-half, depth), at(half, depth), at(half, 0)])];
    case 'u':
      return [polyline([at(-half, 0), at(-half, depth - half), ...arcPoints(at, half, depth), at(half, 0)])];
  }
};

/** The round bottom of a U, as chords 15 degrees apart. */
const arcPoints = (at: (along: number, into: number) => Point, half: number, depth: number): Point[] => {
  const points: Point[] = [];
  for (let i = 1; i <= 12; i++) {
    const angle = Math.PI - (i * Math.PI) / 12;
    points.push(at(half * Math.cos(angle), depth - half + half * Math.sin(angle)));
  }
  return points;
};
