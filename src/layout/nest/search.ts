import { construct } from './construct.ts';
import {
  type Layout,
  noRange,
  put,
  rangeOf,
  restore,
  type Snapshot,
  setLength,
  snapshot,
  usedLength,
} from './layout.ts';
import type { Random } from './random.ts';
import { type Budget, separate } from './separate.ts';
import type { Lie } from './shapes.ts';

/** Share of the iterations that goes into bold moves; the rest presses the best layout together. */
const EXPLORING = 0.85;

const EXPLORE = { sampling: { near: 25, anywhere: 50, improved: 3 }, patience: 100, tries: 2 } as const;
const COMPRESS = { sampling: { near: 25, anywhere: 25, improved: 3 }, patience: 100, tries: 2 } as const;

/** Ratios by which the strip is shortened. */
const EXPLORE_STEP = { first: 0.01, last: 0.001 } as const;
const COMPRESS_STEP = { first: 0.0005, last: 0.00001 } as const;
/** An attempt that takes more than this share of the iterations was hard: the next step is half as long. */
const HARD = 0.01;
/** Most that one attempt may take of the iterations. */
const ATTEMPT = 0.1;

/** Told after every piece that has its first place, and after every attempt: how many have one, and the length, mm. */
export type OnSearch = (placed: number, length: number) => void;

/** The shortest layout found. */
export const search = (layout: Layout, random: Random, budget: Budget, onSearch: OnSearch): Snapshot => {
  construct(layout, random, (placed) => onSearch(placed, usedLength(layout)));
  const first = snapshot(layout);
  if (layout.count < 2) return first;
  const tell = (length: number): void => onSearch(layout.count, length);
  return compress(layout, random, budget, explore(layout, random, budget, first, tell), tell);
};

const shorter = (layout: Layout, { length }: Snapshot, step: number): number =>
  Math.max(layout.least, length * (1 - step));

interface Tried {
  readonly at: Snapshot;
  readonly loss: number;
}

/**
 * Shortens the strip and separates. Where that fails, an earlier failure is taken up, the better the likelier, two
 * large pieces change places and it is tried again. The step is halved after every hard or failed attempt.
 */
const explore = (
  layout: Layout,
  random: Random,
  budget: Budget,
  from: Snapshot,
  onTried: (length: number) => void,
): Snapshot => {
  const until = budget.of * EXPLORING;
  let best = from;
  let step: number = EXPLORE_STEP.first;
  let failures: Tried[] = [];
  setLength(layout, shorter(layout, best, step));
  while (budget.used < until && best.length > layout.least) {
    const before = budget.used;
    // A try costs something even when nothing overlaps, so that the search ends.
    budget.used++;
    const loss = separate(layout, random, budget, { ...EXPLORE, until: Math.min(until, before + budget.of * ATTEMPT) });
    if (loss === 0) best = snapshot(layout);
    onTried(best.length);
    if (loss === 0) {
      failures = [];
      if (budget.used - before > budget.of * HARD) step = Math.max(EXPLORE_STEP.last, step / 2);
      setLength(layout, shorter(layout, best, step));
      continue;
    }
    failures.push({ at: snapshot(layout), loss });
    failures.sort((p, q) => p.loss - q.loss);
    step = Math.max(EXPLORE_STEP.last, step / 2);
    const chosen = Math.min(failures.length - 1, Math.floor(Math.abs(random.normal()) * 0.25 * failures.length));
    restore(layout, (failures[chosen] as Tried).at);
    setLength(layout, shorter(layout, best, step));
    swapLarge(layout, random);
  }
  return best;
};

/** Two pieces of different items among the larger half (by area) change places. */
const swapLarge = (layout: Layout, random: Random): void => {
  const order = Array.from({ length: layout.count }, (_, i) => i);
  order.sort((p, q) => (layout.areas[q] as number) - (layout.areas[p] as number) || p - q);
  const large = order.slice(0, Math.max(2, Math.ceil(order.length / 2)));
  const i = large[random.below(large.length)] as number;
  const others = large.filter((j) => layout.itemOf[j] !== layout.itemOf[i]);
  const j = others[random.below(others.length)];
  if (j === undefined) return;
  const places = [i, j].map((k) => middleOf(layout, k));
  move(layout, i, places[1] as { x: number; y: number });
  move(layout, j, places[0] as { x: number; y: number });
};

const middleOf = (layout: Layout, i: number): { x: number; y: number } => {
  const own = layout.shapes.lies[layout.lie[i] as number] as Lie;
  return {
    x: (layout.x[i] as number) + (own.minX + own.maxX) / 2,
    y: (layout.y[i] as number) + (own.minY + own.maxY) / 2,
  };
};

const range = noRange();

const move = (layout: Layout, i: number, middle: { readonly x: number; readonly y: number }): void => {
  const lie = layout.lie[i] as number;
  const own = layout.shapes.lies[lie] as Lie;
  rangeOf(layout, lie, range);
  const { x0, x1, y0, y1 } = range;
  const x = Math.max(x0, Math.min(x1, middle.x - (own.minX + own.maxX) / 2));
  const y = Math.max(y0, Math.min(y1, middle.y - (own.minY + own.maxY) / 2));
  put(layout, i, lie, x, y);
};

/** From the best layout, ever smaller steps: everything right of a place drawn at random moves left, then separates. */
const compress = (
  layout: Layout,
  random: Random,
  budget: Budget,
  from: Snapshot,
  onTried: (length: number) => void,
): Snapshot => {
  let best = from;
  const start = budget.used;
  while (budget.used < budget.of && best.length > layout.least) {
    const spent = (budget.used - start) / (budget.of - start);
    const step = COMPRESS_STEP.first * (COMPRESS_STEP.last / COMPRESS_STEP.first) ** spent;
    restore(layout, best);
    setLength(layout, shorter(layout, best, step), random.next() * best.length);
    // A try costs something even when nothing overlaps, so that the search ends.
    budget.used++;
    if (separate(layout, random, budget, { ...COMPRESS, until: budget.of }) === 0) best = snapshot(layout);
    onTried(best.length);
  }
  return best;
};
