import { type Around, noneAround } from './around.ts';
import type { NestItem, NestStrip } from './item.ts';
import { depthAt } from './pair-table.ts';
import { type Lie, type Shapes, shapesOf } from './shapes.ts';

/** Every piece of a strip somewhere on it, overlapping or not, and what the search has learnt. Lengths in mm, no margins. */
export interface Layout {
  readonly shapes: Shapes;
  readonly count: number;
  readonly height: number;
  /** Least distance between pieces. */
  readonly gap: number;
  /** The item of every piece, and which of its copies it is. */
  readonly itemOf: Int32Array;
  readonly copyOf: Int32Array;
  readonly areas: Float64Array;
  /** Fourth root of each area: the product of two is the mean side of the pair, by which its depth counts. */
  readonly sides: Float64Array;
  /** No layout is shorter: the widest piece, in its narrowest pose, must fit. */
  readonly least: number;
  length: number;
  readonly lie: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** minX, minY, maxX, maxY of each piece; minX = Infinity where it has not been laid yet. */
  readonly boxes: Float64Array;
  readonly around: Around;
  /** What the overlap of a pair counts, count × count, the same both ways. */
  readonly weights: Float64Array;
  /** Overlap of each pair as it lies, not weighted. */
  readonly losses: Float64Array;
}

/** Positions alone, to come back to. */
export interface Snapshot {
  readonly length: number;
  readonly lie: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
}

export const layoutOf = (items: readonly NestItem[], strip: NestStrip): Layout => {
  const itemOf = Int32Array.from(items.flatMap((item, i) => new Array<number>(item.copies).fill(i)));
  const copyOf = Int32Array.from(items.flatMap((item) => Array.from({ length: item.copies }, (_, k) => k)));
  const n = itemOf.length;
  const shapes = shapesOf(items, strip);
  const { low = 0, high = 0 } = strip.margins ?? {};
  return {
    shapes,
    count: n,
    height: strip.height - low - high,
    gap: strip.gap,
    itemOf,
    copyOf,
    areas: Float64Array.from(itemOf, (i) => shapes.areas[i] as number),
    sides: Float64Array.from(itemOf, (i) => Math.sqrt(Math.sqrt(shapes.areas[i] as number))),
    least: leastLength(shapes, itemOf),
    length: 0,
    lie: Int32Array.from(itemOf, (i) => (shapes.liesOf[i] as Int32Array)[0] as number),
    x: new Float64Array(n),
    y: new Float64Array(n),
    boxes: new Float64Array(4 * n).fill(Infinity),
    around: noneAround(n),
    weights: new Float64Array(n * n).fill(1),
    losses: new Float64Array(n * n),
  };
};

const widthOf = (lie: Lie): number => lie.maxX - lie.minX;

const leastLength = ({ lies, liesOf }: Shapes, itemOf: Int32Array): number =>
  [...new Set(itemOf)].reduce((most, item) => {
    const widths = Array.from(liesOf[item] as Int32Array, (lie) => widthOf(lies[lie] as Lie));
    return Math.max(most, Math.min(...widths));
  }, 0);

/** Overlap of two pieces as they lie: depth × mean side, mm², so that large pieces find their places first. */
const pairLoss = (layout: Layout, i: number, j: number): number => {
  const { shapes } = layout;
  const p = layout.lie[i] as number;
  const q = layout.lie[j] as number;
  const at = p * shapes.lies.length + q;
  const table = shapes.tables[at] ?? shapes.table(p, q);
  const dx = (layout.x[j] as number) - (layout.x[i] as number);
  const dy = (layout.y[j] as number) - (layout.y[i] as number);
  const c = shapes.cos[at] as number;
  const s = shapes.sin[at] as number;
  return depthAt(table, c * dx + s * dy, c * dy - s * dx) * (layout.sides[i] as number) * (layout.sides[j] as number);
};

/** Lays piece i down and measures its overlaps. */
export const put = (layout: Layout, i: number, lie: number, x: number, y: number): void => {
  const own = layout.shapes.lies[lie] as Lie;
  layout.lie[i] = lie;
  layout.x[i] = x;
  layout.y[i] = y;
  layout.boxes[4 * i] = x + own.minX;
  layout.boxes[4 * i + 1] = y + own.minY;
  layout.boxes[4 * i + 2] = x + own.maxX;
  layout.boxes[4 * i + 3] = y + own.maxY;
  const n = layout.count;
  for (let j = 0; j < n; j++) {
    if (j === i) continue;
    const loss = layout.boxes[4 * j] === Infinity ? 0 : pairLoss(layout, i, j);
    layout.losses[i * n + j] = loss;
    layout.losses[j * n + i] = loss;
  }
};

/** Overlap of piece i with all others; weighted with `layout.weights` when asked. */
export const lossOf = (layout: Layout, i: number, weighted: boolean): number => {
  let sum = 0;
  for (let k = i * layout.count; k < (i + 1) * layout.count; k++) {
    const loss = layout.losses[k] as number;
    if (loss > 0) sum += weighted ? loss * (layout.weights[k] as number) : loss;
  }
  return sum;
};

export const totalLoss = (layout: Layout): number => {
  let sum = 0;
  for (let i = 0; i < layout.count; i++) sum += lossOf(layout, i, false);
  return sum / 2;
};

/** Whether a piece that lies so is no longer than the strip. */
export const fits = (layout: Layout, lie: number): boolean =>
  widthOf(layout.shapes.lies[lie] as Lie) <= layout.length * (1 + 1e-12);

/** Where the middle of a piece may be, from (x0, y0) to (x1, y1). */
export interface Range {
  x0: number;
  x1: number;
  y0: number;
  y1: number;
}

export const noRange = (): Range => ({ x0: 0, x1: 0, y0: 0, y1: 0 });

/** The range of a piece that lies so, written to `into`: this is asked too often to make a new one. */
export const rangeOf = (layout: Layout, lie: number, into: Range): void => {
  const own = layout.shapes.lies[lie] as Lie;
  into.x0 = -own.minX;
  into.x1 = Math.max(layout.length - own.maxX, -own.minX);
  into.y0 = own.pin === 'high' ? layout.height - own.maxY : -own.minY;
  into.y1 = own.pin === 'low' ? -own.minY : Math.max(layout.height - own.maxY, into.y0);
};

export const snapshot = (layout: Layout): Snapshot => ({
  length: layout.length,
  lie: layout.lie.slice(),
  x: layout.x.slice(),
  y: layout.y.slice(),
});

export const restore = (layout: Layout, from: Snapshot): void => {
  layout.length = from.length;
  layout.boxes.fill(Infinity);
  for (let i = 0; i < layout.count; i++) {
    put(layout, i, from.lie[i] as number, from.x[i] as number, from.y[i] as number);
  }
};

const range = noRange();

/**
 * Makes the strip `length` long. Pieces whose middle lies beyond `from` move left by what is taken off; then those that
 * still stick out are pushed in, in another pose where they must.
 */
export const setLength = (layout: Layout, length: number, from = Infinity): void => {
  const less = layout.length - length;
  layout.length = length;
  for (let i = 0; i < layout.count; i++) {
    const lies = layout.shapes.liesOf[layout.itemOf[i] as number] as Int32Array;
    const now = layout.lie[i] as number;
    const lie = fits(layout, now) ? now : (lies.find((other) => fits(layout, other)) ?? now);
    rangeOf(layout, lie, range);
    const { x0, x1, y0, y1 } = range;
    const x = (layout.x[i] as number) - ((layout.x[i] as number) > from ? less : 0);
    const inX = Math.max(x0, Math.min(x1, x));
    const inY = Math.max(y0, Math.min(y1, layout.y[i] as number));
    if (inX !== layout.x[i] || lie !== now) put(layout, i, lie, inX, inY);
  }
};

/** Right end of the rightmost piece. */
export const usedLength = (layout: Layout): number => {
  let most = 0;
  for (let b = 0; b < layout.boxes.length; b += 4) {
    if (layout.boxes[b] !== Infinity) most = Math.max(most, layout.boxes[b + 2] as number);
  }
  return most;
};
