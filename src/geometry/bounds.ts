import type { Point } from './point.ts';

/** Upright box round something, mm. The empty box has min = +Infinity, max = −Infinity. */
export interface Bounds {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

export const EMPTY_BOUNDS: Bounds = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };

export const isEmptyBounds = (b: Bounds): boolean => b.minX > b.maxX || b.minY > b.maxY;

export const include = (b: Bounds, p: Point): Bounds => ({
  minX: Math.min(b.minX, p.x),
  minY: Math.min(b.minY, p.y),
  maxX: Math.max(b.maxX, p.x),
  maxY: Math.max(b.maxY, p.y),
});

export const boundsOfPoints = (points: readonly Point[]): Bounds => {
  let { minX, minY, maxX, maxY } = EMPTY_BOUNDS;
  for (const { x, y } of points) {
    minX = Math.min(minX, x);
    minY = Math.min(minY, y);
    maxX = Math.max(maxX, x);
    maxY = Math.max(maxY, y);
  }
  return { minX, minY, maxX, maxY };
};

export const unionBounds = (a: Bounds, b: Bounds): Bounds => ({
  minX: Math.min(a.minX, b.minX),
  minY: Math.min(a.minY, b.minY),
  maxX: Math.max(a.maxX, b.maxX),
  maxY: Math.max(a.maxY, b.maxY),
});

/** 0 for the empty box. */
export const widthOf = (b: Bounds): number => Math.max(0, b.maxX - b.minX);
export const heightOfBounds = (b: Bounds): number => Math.max(0, b.maxY - b.minY);
export const diagonalOf = (b: Bounds): number => Math.hypot(widthOf(b), heightOfBounds(b));
export const centreOf = (b: Bounds): Point => ({ x: (b.minX + b.maxX) / 2, y: (b.minY + b.maxY) / 2 });

export const grown = (b: Bounds, by: number): Bounds => ({
  minX: b.minX - by,
  minY: b.minY - by,
  maxX: b.maxX + by,
  maxY: b.maxY + by,
});

/** Whether p lies in the box or on its rim. */
export const containsPoint = (b: Bounds, p: Point): boolean =>
  p.x >= b.minX && p.x <= b.maxX && p.y >= b.minY && p.y <= b.maxY;

export const containsBounds = (outer: Bounds, inner: Bounds): boolean =>
  inner.minX >= outer.minX && inner.maxX <= outer.maxX && inner.minY >= outer.minY && inner.maxY <= outer.maxY;

/** Whether the boxes share a point; touching rims do. */
export const overlap = (a: Bounds, b: Bounds): boolean =>
  a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;

/** Least distance from p to the box; 0 inside. */
export const distanceToBounds = (b: Bounds, p: Point): number => {
  const dx = Math.max(b.minX - p.x, 0, p.x - b.maxX);
  const dy = Math.max(b.minY - p.y, 0, p.y - b.maxY);
  return Math.sqrt(dx * dx + dy * dy);
};
