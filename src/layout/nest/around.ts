import type { Layout } from './layout.ts';
import { depthAt, planeAt } from './pair-table.ts';
import type { Lie } from './shapes.ts';

/**
 * All pieces but one, side by side in memory and by their left ends, so that a place for that one is judged against
 * only those that may reach it. Good until a piece is moved.
 */
export interface Around {
  count: number;
  /** The pieces by their left ends, kept from one time to the next: little changes. */
  readonly order: Int32Array;
  /** Least right end from which on nothing earlier reaches: the greatest right end up to here. */
  readonly reach: Float64Array;
  /** minX, minY, maxX, maxY, x, y, and what a millimetre of depth counts, of each. */
  readonly values: Float64Array;
  readonly lies: Int32Array;
}

const WIDTH = 7;

export const noneAround = (count: number): Around => ({
  count: 0,
  order: Int32Array.from({ length: count }, (_, i) => i),
  reach: new Float64Array(count),
  values: new Float64Array(WIDTH * count),
  lies: new Int32Array(count),
});

/** Makes `layout.around` ready for piece i. */
export const lookAround = (layout: Layout, i: number): void => {
  const { around, boxes, weights, sides, count } = layout;
  const own = sides[i] as number;
  const { order, reach, values, lies } = around;
  sortByLeft(order, boxes);
  let k = 0;
  let farthest = -Infinity;
  for (let m = 0; m < count; m++) {
    const j = order[m] as number;
    const b = 4 * j;
    if (j === i) continue;
    if (boxes[b] === Infinity) break;
    farthest = Math.max(farthest, boxes[b + 2] as number);
    reach[k] = farthest;
    lies[k] = layout.lie[j] as number;
    const v = WIDTH * k;
    values[v] = boxes[b] as number;
    values[v + 1] = boxes[b + 1] as number;
    values[v + 2] = boxes[b + 2] as number;
    values[v + 3] = boxes[b + 3] as number;
    values[v + 4] = layout.x[j] as number;
    values[v + 5] = layout.y[j] as number;
    values[v + 6] = (weights[i * count + j] as number) * own * (sides[j] as number);
    k++;
  }
  around.count = k;
};

/** Insertion sort, for what is nearly in order. */
const sortByLeft = (order: Int32Array, boxes: Float64Array): void => {
  for (let m = 1; m < order.length; m++) {
    const j = order[m] as number;
    const left = boxes[4 * j] as number;
    let k = m - 1;
    for (; k >= 0 && (boxes[4 * (order[k] as number)] as number) > left; k--) order[k + 1] = order[k] as number;
    order[k + 1] = j;
  }
};

/** How many of the first stand left of `right`. */
const countLeftOf = ({ values, count }: Around, right: number): number => {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((values[WIDTH * middle] as number) < right) low = middle + 1;
    else high = middle;
  }
  return low;
};

/**
 * Weighted overlap of the piece looked around for if it lay so; from `limit` on it may be less than the whole.
 */
export const lossAt = (layout: Layout, lie: number, x: number, y: number, limit: number): number => {
  const { shapes, gap, around } = layout;
  const { tables, cos, sin, lies } = shapes;
  const { reach, values, lies: lieOf } = around;
  const own = lies[lie] as Lie;
  const left = x + own.minX - gap;
  const low = y + own.minY - gap;
  const high = y + own.maxY + gap;
  const row = lie * lies.length;
  let loss = 0;
  for (let k = countLeftOf(around, x + own.maxX + gap) - 1; k >= 0 && (reach[k] as number) > left; k--) {
    const v = WIDTH * k;
    if ((values[v + 2] as number) <= left) continue;
    if ((values[v + 1] as number) >= high || (values[v + 3] as number) <= low) continue;
    const at = row + (lieOf[k] as number);
    const table = tables[at] ?? shapes.table(lie, lieOf[k] as number);
    const dx = (values[v + 4] as number) - x;
    const dy = (values[v + 5] as number) - y;
    const c = cos[at] as number;
    const s = sin[at] as number;
    const depth = depthAt(table, c * dx + s * dy, c * dy - s * dx);
    if (depth > 0) {
      loss += depth * (values[v + 6] as number);
      if (loss >= limit) return loss;
    }
  }
  return loss;
};

/** A line that the middle of a piece must not pass: nx·x + ny·y ≤ c. */
export interface Contact {
  readonly nx: number;
  readonly ny: number;
  readonly c: number;
}

const plane = new Float64Array(3);

/** The lines the piece looked around for, if it lay so, would have passed by a little: one for each that it overlaps. */
export const contactsAt = (layout: Layout, lie: number, x: number, y: number): Contact[] => {
  const { shapes, gap, around } = layout;
  const { values, lies: lieOf } = around;
  const own = shapes.lies[lie] as Lie;
  const found: Contact[] = [];
  const left = x + own.minX - gap;
  for (let k = countLeftOf(around, x + own.maxX + gap) - 1; k >= 0 && (around.reach[k] as number) > left; k--) {
    const v = WIDTH * k;
    const at = lie * shapes.lies.length + (lieOf[k] as number);
    const table = shapes.tables[at] ?? shapes.table(lie, lieOf[k] as number);
    const xk = values[v + 4] as number;
    const yk = values[v + 5] as number;
    const c = shapes.cos[at] as number;
    const s = shapes.sin[at] as number;
    if (!planeAt(table, c * (xk - x) + s * (yk - y), c * (yk - y) - s * (xk - x), plane)) continue;
    const nx = c * (plane[0] as number) - s * (plane[1] as number);
    const ny = s * (plane[0] as number) + c * (plane[1] as number);
    found.push({ nx, ny, c: nx * xk + ny * yk - (plane[2] as number) });
  }
  return found;
};
