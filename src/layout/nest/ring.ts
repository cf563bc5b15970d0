import type { Point } from '../../geometry/point.ts';

/** A ring of points, anticlockwise, as flat coordinates x0, y0, x1, y1, … */
export type Ring = Float64Array;

export const ringArea = (ring: Ring): number => {
  let sum = 0;
  for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
    sum += (ring[j] as number) * (ring[i + 1] as number) - (ring[i] as number) * (ring[j + 1] as number);
  }
  return sum / 2;
};

/** Twice the area of the triangle a b c; positive when it turns left. */
export const leftTurn = (ax: number, ay: number, bx: number, by: number, cx: number, cy: number): number =>
  (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);

export const pointsOf = (ring: Ring): Point[] => {
  const points: Point[] = [];
  for (let i = 0; i < ring.length; i += 2) points.push({ x: ring[i] as number, y: ring[i + 1] as number });
  return points;
};

/** Anticlockwise, without repeated points and points on the straight line between their neighbours. */
export const ringOf = (outline: readonly Point[]): Ring => {
  const size = outline.reduce((m, p) => Math.max(m, Math.abs(p.x), Math.abs(p.y)), 0);
  let points = outline.filter((p) => Number.isFinite(p.x) && Number.isFinite(p.y));
  for (let changed = true; changed && points.length > 2; ) {
    const kept = points.filter((p, i) => {
      const a = points[(i + points.length - 1) % points.length] as Point;
      const b = points[(i + 1) % points.length] as Point;
      const base = Math.hypot(b.x - a.x, b.y - a.y);
      const off = Math.abs(leftTurn(a.x, a.y, p.x, p.y, b.x, b.y));
      const straight = (p.x - a.x) * (b.x - p.x) + (p.y - a.y) * (b.y - p.y) >= 0;
      const repeats = Math.hypot(p.x - a.x, p.y - a.y) <= size * 1e-12;
      // Of neighbours that are both in line only every second goes at a time, so that a flat curve is not lost.
      return !(repeats || (straight && off <= base * size * 1e-12)) || (i % 2 === 1 && !repeats);
    });
    changed = kept.length < points.length;
    points = kept;
  }
  const ring = Float64Array.from(points.flatMap((p) => [p.x, p.y]));
  return ringArea(ring) < 0 ? Float64Array.from([...points].reverse().flatMap((p) => [p.x, p.y])) : ring;
};

/** Mirrored (x → −x), still anticlockwise. */
export const mirroredRing = (ring: Ring): Ring => {
  const result = new Float64Array(ring.length);
  for (let i = 0; i < ring.length; i += 2) {
    result[ring.length - 2 - i] = -(ring[i] as number);
    result[ring.length - 1 - i] = ring[i + 1] as number;
  }
  return result;
};

export const turnedRing = (ring: Ring, cos: number, sin: number): Ring => {
  const result = new Float64Array(ring.length);
  for (let i = 0; i < ring.length; i += 2) {
    const x = ring[i] as number;
    const y = ring[i + 1] as number;
    result[i] = cos * x - sin * y;
    result[i + 1] = sin * x + cos * y;
  }
  return result;
};

export const movedRing = (ring: Ring, dx: number, dy: number): Ring => ring.map((v, i) => v + (i % 2 === 0 ? dx : dy));

/** minX, minY, maxX, maxY. */
export const ringBounds = (ring: Ring): readonly [number, number, number, number] => {
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  for (let i = 0; i < ring.length; i += 2) {
    minX = Math.min(minX, ring[i] as number);
    maxX = Math.max(maxX, ring[i] as number);
    minY = Math.min(minY, ring[i + 1] as number);
    maxY = Math.max(maxY, ring[i + 1] as number);
  }
  return [minX, minY, maxX, maxY];
};

/** Convex hull, anticlockwise (Andrew's monotone chain, 1979). */
export const hullOf = (ring: Ring): Ring => {
  const sorted = pointsOf(ring).sort((p, q) => p.x - q.x || p.y - q.y);
  const half = (points: readonly Point[]): Point[] => {
    const chain: Point[] = [];
    for (const p of points) {
      while (chain.length > 1) {
        const a = chain[chain.length - 2] as Point;
        const b = chain[chain.length - 1] as Point;
        if (leftTurn(a.x, a.y, b.x, b.y, p.x, p.y) > 0) break;
        chain.pop();
      }
      chain.push(p);
    }
    return chain.slice(0, -1);
  };
  return Float64Array.from([...half(sorted), ...half(sorted.reverse())].flatMap((p) => [p.x, p.y]));
};
