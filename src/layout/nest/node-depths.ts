import type { ConvexSum } from './convex.ts';
import { boundsOfSums, DEEP, type Grid } from './grid.ts';

/** The border of the union as separate pieces (x0, y0, x1, y1): what of every edge no other convex sum covers. */
export const border = (grid: Grid, sums: readonly ConvexSum[], outward: number): Float64Array => {
  const boxes = sums.map((s) => boundsOfSums([s]));
  const found: number[] = [];
  sums.forEach(({ planes, corners }, k) => {
    const n = corners.length / 2;
    for (let e = 0; e < n; e++) {
      const from = (e + n - 1) % n;
      // Tested a hair outward, so that edges two sums share from both sides vanish and doubled outer ones stay.
      const ox = outward * (planes[3 * e] as number);
      const oy = outward * (planes[3 * e + 1] as number);
      const x0 = (corners[2 * from] as number) + ox;
      const y0 = (corners[2 * from + 1] as number) + oy;
      const x1 = (corners[2 * e] as number) + ox;
      const y1 = (corners[2 * e + 1] as number) + oy;
      if (runsDeep(grid, x0, y0, x1, y1)) continue;
      const covered: [number, number][] = [];
      for (let m = 0; m < sums.length; m++) {
        if (m === k || !boxesMeet(boxes[m] as readonly number[], x0, y0, x1, y1)) continue;
        const span = spanInside((sums[m] as ConvexSum).planes, x0, y0, x1, y1);
        if (span) covered.push(span);
        if (span && span[0] <= 0 && span[1] >= 1) break;
      }
      for (const [s, t] of uncovered(covered)) {
        found.push(x0 + s * (x1 - x0), y0 + s * (y1 - y0), x0 + t * (x1 - x0), y0 + t * (y1 - y0));
      }
    }
  });
  return Float64Array.from(found);
};

/** Whether places of the line no further apart than a cell all lie in deep cells. */
const runsDeep = (grid: Grid, x0: number, y0: number, x1: number, y1: number): boolean => {
  const steps = Math.ceil(Math.max(Math.abs(x1 - x0), Math.abs(y1 - y0)) * grid.scale) + 1;
  for (let k = 0; k <= steps; k++) {
    const i = Math.floor((x0 + ((x1 - x0) * k) / steps - grid.minX) * grid.scale);
    const j = Math.floor((y0 + ((y1 - y0) * k) / steps - grid.minY) * grid.scale);
    if (i < 0 || j < 0 || i >= grid.columns || j >= grid.rows || grid.cells[j * grid.columns + i] !== DEEP)
      return false;
  }
  return true;
};

const boxesMeet = (box: readonly number[], x0: number, y0: number, x1: number, y1: number): boolean =>
  Math.max(x0, x1) >= (box[0] as number) &&
  Math.min(x0, x1) <= (box[2] as number) &&
  Math.max(y0, y1) >= (box[1] as number) &&
  Math.min(y0, y1) <= (box[3] as number);

/** Part of the line, as parameters from 0 to 1, on the inner side of all half planes (Cyrus and Beck 1978). */
const spanInside = (
  planes: Float64Array,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
): [number, number] | undefined => {
  let s = 0;
  let t = 1;
  for (let p = 0; p < planes.length; p += 3) {
    const nx = planes[p] as number;
    const ny = planes[p + 1] as number;
    const c = planes[p + 2] as number;
    const d0 = c - nx * x0 - ny * y0;
    const d1 = c - nx * x1 - ny * y1;
    if (d0 < 0 && d1 < 0) return undefined;
    if (d0 < 0) s = Math.max(s, d0 / (d0 - d1));
    else if (d1 < 0) t = Math.min(t, d0 / (d0 - d1));
    if (s >= t) return undefined;
  }
  return [s, t];
};

const uncovered = (covered: [number, number][]): [number, number][] => {
  covered.sort((p, q) => p[0] - q[0]);
  const open: [number, number][] = [];
  let reached = 0;
  for (const [s, t] of covered) {
    if (s > reached) open.push([reached, s]);
    reached = Math.max(reached, t);
  }
  if (reached < 1) open.push([reached, 1]);
  return open;
};

/** Distance of every node from the border, mm; negative where no cell round the node is deep. */
export const nodeDepths = (grid: Grid, segments: Float64Array): Float32Array => {
  const width = grid.columns + 1;
  const height = grid.rows + 1;
  const nearest = new Int32Array(width * height).fill(-1);
  const best = new Float64Array(width * height).fill(Infinity);
  const offer = (i: number, j: number, segment: number): void => {
    if (i < 0 || j < 0 || i >= width || j >= height || segment < 0) return;
    const node = j * width + i;
    if (nearest[node] === segment) return;
    const d = distanceTo(segments, segment, grid.minX + i / grid.scale, grid.minY + j / grid.scale);
    if (d >= (best[node] as number)) return;
    best[node] = d;
    nearest[node] = segment;
  };
  seed(grid, segments, offer);
  // Nearest segments spread from node to node, down and up again (Danielsson 1980), twice for the corners.
  for (let round = 0; round < 2; round++) {
    for (let j = 0; j < height; j++) {
      for (let i = 0; i < width; i++) {
        for (const [di, dj] of BEHIND) offer(i, j, nearestAt(nearest, width, height, i + di, j + dj));
      }
      for (let i = width - 2; i >= 0; i--) offer(i, j, nearest[j * width + i + 1] as number);
    }
    for (let j = height - 1; j >= 0; j--) {
      for (let i = width - 1; i >= 0; i--) {
        for (const [di, dj] of BEHIND) offer(i, j, nearestAt(nearest, width, height, i - di, j - dj));
      }
      for (let i = 1; i < width; i++) offer(i, j, nearest[j * width + i - 1] as number);
    }
  }
  return Float32Array.from(best, (d, node) => (inside(grid, node) ? Math.sqrt(d) : -Math.sqrt(d)));
};

const BEHIND = [
  [-1, 0],
  [-1, -1],
  [0, -1],
  [1, -1],
] as const;

const nearestAt = (nearest: Int32Array, width: number, height: number, i: number, j: number): number =>
  i < 0 || j < 0 || i >= width || j >= height ? -1 : (nearest[j * width + i] as number);

/** Offers every segment to the nodes beside it. */
const seed = (grid: Grid, segments: Float64Array, offer: (i: number, j: number, segment: number) => void): void => {
  for (let s = 0; s < segments.length; s += 4) {
    const u0 = ((segments[s] as number) - grid.minX) * grid.scale;
    const v0 = ((segments[s + 1] as number) - grid.minY) * grid.scale;
    const u1 = ((segments[s + 2] as number) - grid.minX) * grid.scale;
    const v1 = ((segments[s + 3] as number) - grid.minY) * grid.scale;
    const steps = Math.ceil(2 * Math.max(Math.abs(u1 - u0), Math.abs(v1 - v0))) + 1;
    for (let k = 0; k <= steps; k++) {
      const i = Math.floor(u0 + ((u1 - u0) * k) / steps);
      const j = Math.floor(v0 + ((v1 - v0) * k) / steps);
      for (let m = 0; m < 4; m++) offer(i + (m & 1), j + (m >> 1), s);
    }
  }
};

/** Whether one of the cells round the node is deep: then the node is inside or on the border. */
const inside = (grid: Grid, node: number): boolean => {
  const i = node % (grid.columns + 1);
  const j = Math.floor(node / (grid.columns + 1));
  for (let m = 0; m < 4; m++) {
    const ci = i - (m & 1);
    const cj = j - (m >> 1);
    if (ci < 0 || cj < 0 || ci >= grid.columns || cj >= grid.rows) continue;
    if (grid.cells[cj * grid.columns + ci] === DEEP) return true;
  }
  return false;
};

/** Squared. */
const distanceTo = (segments: Float64Array, s: number, x: number, y: number): number => {
  const ax = segments[s] as number;
  const ay = segments[s + 1] as number;
  const ex = (segments[s + 2] as number) - ax;
  const ey = (segments[s + 3] as number) - ay;
  const n = ex * ex + ey * ey;
  const t = n > 0 ? Math.max(0, Math.min(1, ((x - ax) * ex + (y - ay) * ey) / n)) : 0;
  const dx = x - ax - t * ex;
  const dy = y - ay - t * ey;
  return dx * dx + dy * dy;
};
