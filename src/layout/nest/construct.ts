import { lookAround, lossAt } from './around.ts';
import { type Layout, noRange, put, rangeOf, usedLength } from './layout.ts';
import type { Random } from './random.ts';
import type { Lie } from './shapes.ts';

const TRIES = 400;
const range = noRange();

/** A first layout without overlap: large pieces first, each as far left as sampled places and sliding bring it. */
export const construct = (layout: Layout, random: Random, onPlaced: (count: number) => void): void => {
  const order = Array.from({ length: layout.count }, (_, i) => i);
  const worth = order.map((i) => {
    const own = layout.shapes.lies[layout.lie[i] as number] as Lie;
    return (layout.areas[i] as number) * Math.hypot(own.maxX - own.minX, own.maxY - own.minY);
  });
  order.sort((p, q) => (worth[q] as number) - (worth[p] as number) || p - q);
  order.forEach((i, before) => {
    layDown(layout, i, random);
    onPlaced(before + 1);
  });
  layout.length = usedLength(layout);
};

const layDown = (layout: Layout, i: number, random: Random): void => {
  lookAround(layout, i);
  const used = usedLength(layout);
  const lies = layout.shapes.liesOf[layout.itemOf[i] as number] as Int32Array;
  // At the end there is always room.
  const first = lies[0] as number;
  const best = { lie: first, x: used + layout.gap - (layout.shapes.lies[first] as Lie).minX, y: 0, end: Infinity };
  layout.length = Infinity;
  rangeOf(layout, first, range);
  best.y = range.y0;
  best.end = best.x + (layout.shapes.lies[first] as Lie).maxX;
  for (let k = 0; k < TRIES; k++) {
    const lie = lies[random.below(lies.length)] as number;
    const own = layout.shapes.lies[lie] as Lie;
    layout.length = used + layout.gap + own.maxX - own.minX;
    rangeOf(layout, lie, range);
    const { x0, x1, y0, y1 } = range;
    const x = x0 + random.next() * (x1 - x0);
    const y = y0 + random.next() * (y1 - y0);
    if (x + own.maxX > best.end + 0.25 * (own.maxX - own.minX) || lossAt(layout, lie, x, y, 0) > 0) continue;
    const slid = slide(layout, lie, x, y, x0, y0);
    if (slid.x + own.maxX < best.end) Object.assign(best, slid, { lie, end: slid.x + own.maxX });
  }
  put(layout, i, best.lie, best.x, best.y);
};

/** Left and down by halving steps as far as there is room. */
const slide = (
  layout: Layout,
  lie: number,
  fromX: number,
  fromY: number,
  leastX: number,
  leastY: number,
): { x: number; y: number } => {
  const own = layout.shapes.lies[lie] as Lie;
  let x = fromX;
  let y = fromY;
  const size = Math.min(own.maxX - own.minX, own.maxY - own.minY);
  for (let step = size / 2; step > size / 1000; ) {
    const left = Math.max(leastX, x - step);
    const low = Math.max(leastY, y - step);
    if (left < x && lossAt(layout, lie, left, y, 0) === 0) x = left;
    else if (low < y && lossAt(layout, lie, x, low, 0) === 0) y = low;
    else step /= 2;
  }
  return { x, y };
};
