import { type ConvexSum, convexDifference } from './convex.ts';
import { boundsOfSums, DEEP, FREE, type Grid } from './grid.ts';
import { border, nodeDepths } from './node-depths.ts';
import type { Ring } from './ring.ts';

/**
 * How deep one shape stands in another, for every offset between them, looked up in a time that does not depend on
 * their corners. The forbidden offsets (the no-fit polygon) are the union of the convex differences of the convex parts.
 * A grid lies over them. A cell that no difference meets is free; one that a single difference covers is deep, and the
 * depth there is read between distances known at its four nodes; every other cell keeps the half planes that cross it,
 * so that inside and outside are told exactly right up to the border, without ever uniting polygons.
 */
export interface PairTable {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
  /** Cells to the millimetre. */
  readonly scale: number;
  readonly columns: number;
  /** Per cell: FREE, DEEP, or where its half planes start in `near`. */
  readonly cells: Int32Array;
  /** Per node, columns + 1 in a row: distance inward from the border, mm; negative outside. */
  readonly nodes: Float32Array;
  /** Per cell: how many differences, then for each how many half planes and these (nx, ny, c). */
  readonly near: Float64Array;
}

/** Memory that a table takes, bytes: its arrays, and about as much as an object, its name and three headers take. */
export const bytesOf = ({ cells, nodes, near }: PairTable): number =>
  cells.byteLength + nodes.byteLength + near.byteLength + OVERHEAD;
const OVERHEAD = 600;

/** Least depth reported for an offset that is forbidden, mm: anything above TOUCH. */
const LEAST = 1e-4;
/** Pieces may enter one another by this much, mm: what rounding needs. */
const TOUCH = 1e-6;

/** Depth in mm at the offset (x, y), 0 where the shapes are apart or touch. */
export const depthAt = (table: PairTable, x: number, y: number): number => {
  if (x <= table.minX || x >= table.maxX || y <= table.minY || y >= table.maxY) return 0;
  const u = (x - table.minX) * table.scale;
  const v = (y - table.minY) * table.scale;
  const i = Math.floor(u);
  const j = Math.floor(v);
  const cell = table.cells[j * table.columns + i] as number;
  if (cell === FREE) return 0;
  if (cell !== DEEP) return depthNear(table.near, cell, x, y);
  const nodes = table.nodes;
  const k = j * (table.columns + 1) + i;
  const below = (nodes[k] as number) * (i + 1 - u) + (nodes[k + 1] as number) * (u - i);
  const m = k + table.columns + 1;
  const above = (nodes[m] as number) * (i + 1 - u) + (nodes[m + 1] as number) * (u - i);
  const depth = below * (j + 1 - v) + above * (v - j);
  return Math.max(depth, LEAST);
};

const depthNear = (near: Float64Array, start: number, x: number, y: number): number => {
  let deepest = 0;
  let at = start;
  for (let left = near[at++] as number; left > 0; left--) {
    const end = at + 1 + 3 * (near[at] as number);
    let depth = Infinity;
    for (let p = at + 1; p < end; p += 3) {
      const d = (near[p + 2] as number) - (near[p] as number) * x - (near[p + 1] as number) * y;
      if (d < depth) depth = d;
      if (d <= deepest) break;
    }
    at = end;
    if (depth > deepest) deepest = depth;
  }
  return deepest > TOUCH ? deepest : 0;
};

/**
 * The half plane that sets the depth at a forbidden offset near the border, written to `into` as nx, ny, c (the offset
 * becomes free where nx·x + ny·y reaches c); false where the offset is free or deep.
 */
export const planeAt = (table: PairTable, x: number, y: number, into: Float64Array): boolean => {
  if (x <= table.minX || x >= table.maxX || y <= table.minY || y >= table.maxY) return false;
  const i = Math.floor((x - table.minX) * table.scale);
  const j = Math.floor((y - table.minY) * table.scale);
  const near = table.near;
  let at = table.cells[j * table.columns + i] as number;
  if (at === FREE || at === DEEP) return false;
  let deepest = TOUCH;
  for (let left = near[at++] as number; left > 0; left--) {
    const end = at + 1 + 3 * (near[at] as number);
    let depth = Infinity;
    let nearest = at;
    for (let p = at + 1; p < end; p += 3) {
      const d = (near[p + 2] as number) - (near[p] as number) * x - (near[p + 1] as number) * y;
      if (d >= depth) continue;
      depth = d;
      nearest = p;
    }
    at = end;
    if (depth <= deepest) continue;
    deepest = depth;
    into.set(near.subarray(nearest, nearest + 3));
  }
  return deepest > TOUCH;
};

/** @param cells about how many cells the grid has */
export const pairTable = (a: readonly Ring[], b: readonly Ring[], gap: number, cells: number): PairTable => {
  const sums = a.flatMap((p) => b.map((q) => convexDifference(p, q, gap)));
  const [minX, minY, maxX, maxY] = boundsOfSums(sums);
  const scale = Math.sqrt(cells / ((maxX - minX) * (maxY - minY)));
  const columns = Math.floor((maxX - minX) * scale) + 1;
  const rows = Math.floor((maxY - minY) * scale) + 1;
  const grid: Grid = { minX, minY, scale, columns, rows, cells: new Int32Array(columns * rows) };
  const partial: number[][] = Array.from({ length: columns * rows }, () => []);
  sums.forEach((sum, k) => {
    cover(grid, sum, k, partial);
  });
  const near = nearPlanes(grid, sums, partial);
  const nodes = nodeDepths(grid, border(grid, sums, Math.max(maxX - minX, maxY - minY) * 1e-7));
  return { minX, minY, maxX, maxY, scale, columns, cells: grid.cells, nodes, near };
};

/** Marks the cells that the convex sum covers as deep and notes it at those that it only meets. */
const cover = (grid: Grid, sum: ConvexSum, index: number, partial: number[][]): void => {
  const [minX, minY, maxX, maxY] = boundsOfSums([sum]);
  const { scale, columns, rows, cells } = grid;
  const firstRow = Math.max(0, Math.floor((minY - grid.minY) * scale));
  const lastRow = Math.min(rows - 1, Math.floor((maxY - grid.minY) * scale));
  const firstColumn = Math.max(0, Math.floor((minX - grid.minX) * scale));
  const lastColumn = Math.min(columns - 1, Math.floor((maxX - grid.minX) * scale));
  const half = 0.5 / scale;
  for (let j = firstRow; j <= lastRow; j++) {
    const y = grid.minY + (j + 0.5) / scale;
    for (let i = firstColumn; i <= lastColumn; i++) {
      const cell = j * columns + i;
      if (cells[cell] === DEEP) continue;
      const state = stateOf(sum.planes, grid.minX + (i + 0.5) / scale, y, half);
      if (state === DEEP) cells[cell] = DEEP;
      else if (state !== FREE) (partial[cell] as number[]).push(index);
    }
  }
};

/** FREE, DEEP or −1 for the square cell about (x, y). */
const stateOf = (planes: Float64Array, x: number, y: number, half: number): number => {
  let deep = true;
  for (let p = 0; p < planes.length; p += 3) {
    const nx = planes[p] as number;
    const ny = planes[p + 1] as number;
    const d = (planes[p + 2] as number) - nx * x - ny * y;
    const reach = half * (Math.abs(nx) + Math.abs(ny));
    if (d < -reach) return FREE;
    if (d < reach + 2 * TOUCH) deep = false;
  }
  return deep ? DEEP : -1;
};

const nearPlanes = (grid: Grid, sums: readonly ConvexSum[], partial: readonly number[][]): Float64Array => {
  // Offsets 0 and 1 stand for FREE and DEEP.
  const near: number[] = [0, 0];
  const half = 0.5 / grid.scale;
  partial.forEach((meeting, cell) => {
    if (grid.cells[cell] === DEEP || meeting.length === 0) return;
    const x = grid.minX + ((cell % grid.columns) + 0.5) / grid.scale;
    const y = grid.minY + (Math.floor(cell / grid.columns) + 0.5) / grid.scale;
    grid.cells[cell] = near.length;
    near.push(meeting.length);
    for (const k of meeting) {
      const { planes } = sums[k] as ConvexSum;
      const count = near.push(0) - 1;
      for (let p = 0; p < planes.length; p += 3) {
        const nx = planes[p] as number;
        const ny = planes[p + 1] as number;
        const c = planes[p + 2] as number;
        if (c - nx * x - ny * y >= half * (Math.abs(nx) + Math.abs(ny)) + 2 * TOUCH) continue;
        near.push(nx, ny, c);
        (near[count] as number)++;
      }
    }
  });
  return Float64Array.from(near);
};
