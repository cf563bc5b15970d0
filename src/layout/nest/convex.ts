import { leftTurn, type Ring } from './ring.ts';

/**
 * Convex rings that fill a simple ring without overlap: ears are cut off one by one, then triangles are joined again
 * across every diagonal that the two corners at its ends do not need (Hertel and Mehlhorn 1983: at most four times
 * the least number of parts).
 */
export const convexParts = (ring: Ring): Ring[] => {
  const parts = triangles(ring);
  joinParts(ring, parts);
  return parts.map((part) => Float64Array.from(part.flatMap((i) => [x(ring, i), y(ring, i)])));
};

const x = (ring: Ring, i: number): number => ring[2 * i] as number;
const y = (ring: Ring, i: number): number => ring[2 * i + 1] as number;
const turnAt = (ring: Ring, a: number, b: number, c: number): number =>
  leftTurn(x(ring, a), y(ring, a), x(ring, b), y(ring, b), x(ring, c), y(ring, c));

const triangles = (ring: Ring): number[][] => {
  const rest = Array.from({ length: ring.length / 2 }, (_, i) => i);
  const found: number[][] = [];
  while (rest.length > 3) {
    let best = -1;
    let bestWorth = -Infinity;
    for (let k = 0; k < rest.length; k++) {
      const worth = earWorth(ring, rest, k);
      if (worth > bestWorth) {
        bestWorth = worth;
        best = k;
      }
    }
    if (best < 0) best = flattest(ring, rest);
    const n = rest.length;
    const ear = [rest[(best + n - 1) % n] as number, rest[best] as number, rest[(best + 1) % n] as number];
    if (turnAt(ring, ear[0] as number, ear[1] as number, ear[2] as number) > 0) found.push(ear);
    rest.splice(best, 1);
  }
  if (rest.length === 3 && turnAt(ring, rest[0] as number, rest[1] as number, rest[2] as number) > 0) found.push(rest);
  return found;
};

/** How well shaped the ear at k is (area over its longest side squared); −∞ when it is none. */
const earWorth = (ring: Ring, rest: readonly number[], k: number): number => {
  const n = rest.length;
  const a = rest[(k + n - 1) % n] as number;
  const b = rest[k] as number;
  const c = rest[(k + 1) % n] as number;
  const twice = turnAt(ring, a, b, c);
  if (twice <= 0) return -Infinity;
  for (const p of rest) {
    if (p === a || p === b || p === c) continue;
    if (turnAt(ring, a, b, p) >= 0 && turnAt(ring, b, c, p) >= 0 && turnAt(ring, c, a, p) >= 0) return -Infinity;
  }
  const side = (i: number, j: number): number => (x(ring, i) - x(ring, j)) ** 2 + (y(ring, i) - y(ring, j)) ** 2;
  return twice / Math.max(side(a, b), side(b, c), side(c, a));
};

/** Where no ear is left by rounding alone, the corner nearest to a straight line goes. */
const flattest = (ring: Ring, rest: readonly number[]): number => {
  const n = rest.length;
  let best = 0;
  let least = Infinity;
  for (let k = 0; k < n; k++) {
    const off = Math.abs(turnAt(ring, rest[(k + n - 1) % n] as number, rest[k] as number, rest[(k + 1) % n] as number));
    if (off < least) {
      least = off;
      best = k;
    }
  }
  return best;
};

const joinParts = (ring: Ring, parts: number[][]): void => {
  for (let i = 0; i < parts.length; i++) {
    for (let j = i + 1; j < parts.length; ) {
      const joined = join(ring, parts[i] as number[], parts[j] as number[]);
      if (joined) {
        parts[i] = joined;
        parts.splice(j, 1);
        j = i + 1;
      } else j++;
    }
  }
};

/** The two parts as one when they share an edge and stay convex. */
const join = (ring: Ring, p: readonly number[], q: readonly number[]): number[] | undefined => {
  for (let i = 0; i < p.length; i++) {
    const a = p[i] as number;
    const b = p[(i + 1) % p.length] as number;
    const k = q.findIndex((v, m) => v === b && q[(m + 1) % q.length] === a);
    if (k < 0) continue;
    const fromP = [...p.slice(i + 1), ...p.slice(0, i + 1)];
    const fromQ = [...q.slice(k + 1), ...q.slice(0, k + 1)];
    const whole = [...fromP, ...fromQ.slice(1, -1)];
    const n = whole.length;
    const convex = whole.every(
      (v, m) => turnAt(ring, whole[(m + n - 1) % n] as number, v, whole[(m + 1) % n] as number) >= 0,
    );
    return convex ? whole : undefined;
  }
  return undefined;
};

/** Half planes nx·x + ny·y ≤ c, as flat triples, and the corners they meet in: corner k lies between k and k + 1. */
export interface ConvexSum {
  readonly planes: Float64Array;
  readonly corners: Float64Array;
}

/** Directions closer than this together, radians, take no extra half plane when a sum is grown by a gap. */
const WIDEST_CORNER = Math.PI / 6;

/**
 * Where b may not stand beside a, both convex: the set of all p − q with p in a and q in b (Minkowski sum of a and −b,
 * edges merged by direction), grown by `gap`. Round corners are circumscribed by half planes at most 30° apart.
 */
export const convexDifference = (a: Ring, b: Ring, gap: number): ConvexSum => {
  const edges = [...edgesOf(a, 1), ...edgesOf(b, -1)].sort((p, q) => p.angle - q.angle);
  const merged: { nx: number; ny: number; angle: number }[] = [];
  for (const e of edges) {
    const last = merged[merged.length - 1];
    if (last && e.angle - last.angle < 1e-9) continue;
    const gone = last && gap > 0 ? e.angle - last.angle : 0;
    const extra = Math.ceil(gone / WIDEST_CORNER) - 1;
    for (let k = 1; k <= extra; k++) merged.push(direction((last?.angle ?? 0) + (gone * k) / (extra + 1)));
    merged.push(e);
  }
  const first = merged[0];
  const last = merged[merged.length - 1];
  if (gap > 0 && first && last) {
    const gone = first.angle + 2 * Math.PI - last.angle;
    const extra = Math.ceil(gone / WIDEST_CORNER) - 1;
    for (let k = 1; k <= extra; k++) merged.push(direction(last.angle + (gone * k) / (extra + 1)));
  }
  return sumOf(a, b, gap, merged);
};

const direction = (angle: number): { nx: number; ny: number; angle: number } => ({
  nx: Math.cos(angle),
  ny: Math.sin(angle),
  angle,
});

/** Outward normals of the edges; of the ring turned by half a turn for sign −1. */
const edgesOf = (ring: Ring, sign: number): { nx: number; ny: number; angle: number }[] => {
  const found: { nx: number; ny: number; angle: number }[] = [];
  for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
    const ex = sign * ((ring[i] as number) - (ring[j] as number));
    const ey = sign * ((ring[i + 1] as number) - (ring[j + 1] as number));
    const n = Math.hypot(ex, ey);
    if (n > 0) found.push({ nx: ey / n, ny: -ex / n, angle: Math.atan2(-ex, ey) });
  }
  return found;
};

const sumOf = (
  a: Ring,
  b: Ring,
  gap: number,
  normals: readonly { readonly nx: number; readonly ny: number }[],
): ConvexSum => {
  const n = normals.length;
  const planes = new Float64Array(3 * n);
  const corners = new Float64Array(2 * n);
  normals.forEach(({ nx, ny }, k) => {
    planes[3 * k] = nx;
    planes[3 * k + 1] = ny;
    planes[3 * k + 2] = farthest(a, nx, ny).reach + farthest(b, -nx, -ny).reach + gap;
  });
  for (let k = 0; k < n; k++) {
    const p = normals[k] as { nx: number; ny: number };
    const q = normals[(k + 1) % n] as { nx: number; ny: number };
    // The corner is farthest in the direction between its two edges.
    const u = farthest(a, p.nx + q.nx, p.ny + q.ny);
    const v = farthest(b, -p.nx - q.nx, -p.ny - q.ny);
    const out = gap / (1 + p.nx * q.nx + p.ny * q.ny);
    corners[2 * k] = u.x - v.x + out * (p.nx + q.nx);
    corners[2 * k + 1] = u.y - v.y + out * (p.ny + q.ny);
  }
  return { planes, corners };
};

const farthest = (ring: Ring, nx: number, ny: number): { x: number; y: number; reach: number } => {
  let best = 0;
  let reach = -Infinity;
  for (let i = 0; i < ring.length; i += 2) {
    const d = nx * (ring[i] as number) + ny * (ring[i + 1] as number);
    if (d > reach) {
      reach = d;
      best = i;
    }
  }
  return { x: ring[best] as number, y: ring[best + 1] as number, reach };
};
