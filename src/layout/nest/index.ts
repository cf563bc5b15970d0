import type { NestItem, Nesting, NestOptions, NestStrip } from './item.ts';
import { searchAll } from './parallel.ts';

export * from './item.ts';
export { nestOnce } from './nest.ts';
export { outlineNames } from './shapes.ts';
export { type Overlap, outside, overlaps } from './verify.ts';

/**
 * Lays the copies of all items on a strip of the given height, as short as the search finds it. The same items,
 * strip, seed, effort and searches give the same layout, on any machine and however long it takes.
 */
export const nest = (items: readonly NestItem[], strip: NestStrip, options: NestOptions = {}): Nesting => {
  const { seed = 1, searches = 1 } = options;
  const seeds = Array.from({ length: Math.max(1, searches) }, (_, k) => seed + k);
  const all = searchAll(items, strip, options, seeds);
  const best = all.reduce((a, b) => (b.length < a.length ? b : a));
  return { ...best, iterations: all.reduce((sum, n) => sum + n.iterations, 0) };
};
