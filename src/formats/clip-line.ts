import type { Point } from '../geometry/point.ts';

/** A line of chords cut off at the rim of a frame that starts at the origin: the parts that lie in it. */
export const clippedLine = (
  points: readonly Point[],
  frame: { readonly width: number; readonly height: number },
): Point[][] => {
  const parts: Point[][] = [];
  let goesOn = false;
  for (let i = 1; i < points.length; i++) {
    const part = clipped(points[i - 1] as Point, points[i] as Point, frame.width, frame.height);
    if (part && goesOn && !part.entered) parts[parts.length - 1]?.push(part.to);
    else if (part) parts.push([part.from, part.to]);
    goesOn = part !== undefined && !part.left;
  }
  return parts;
};

/** The part of one chord in the frame (Liang and Barsky 1984). */
const clipped = (a: Point, b: Point, width: number, height: number) => {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  let [from, to] = [0, 1];
  const sides = [
    [-dx, a.x],
    [dx, width - a.x],
    [-dy, a.y],
    [dy, height - a.y],
  ] as const;
  for (const [p, q] of sides) {
    if (p === 0 && q < 0) return undefined;
    if (p < 0) from = Math.max(from, q / p);
    if (p > 0) to = Math.min(to, q / p);
  }
  if (from > to) return undefined;
  const at = (t: number): Point => ({ x: a.x + t * dx, y: a.y + t * dy });
  return { from: from === 0 ? a : at(from), to: to === 1 ? b : at(to), entered: from > 0, left: to < 1 };
};
