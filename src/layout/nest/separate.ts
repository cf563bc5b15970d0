import { type Layout, lossOf, restore, type Snapshot, snapshot, totalLoss } from './layout.ts';
import { replace, type Sampling } from './place.ts';
import type { Random } from './random.ts';

/** Iterations used and to be used, counted in pieces taken up. */
export interface Budget {
  used: number;
  readonly of: number;
}

export interface SeparateOptions {
  readonly sampling: Sampling;
  /** Rounds without improvement after which a try is given up, and how many such tries. */
  readonly patience: number;
  readonly tries: number;
  readonly until: number;
}

/** A pair's weight grows by the first to the second ratio in a round, the more it overlaps; a clear pair's fades. */
const GROWTH = [1.2, 2] as const;
const FADING = 0.95;
/** A try that lowers the overlap by less than this ratio counts as failed. */
const WORTHWHILE = 0.98;

/**
 * Moves overlapping pieces one after another until none overlaps: a guided local search (Voudouris and Tsang 1999;
 * for this problem Egeblad, Nielsen and Odgaard 2007), in which a pair that goes on overlapping weighs ever more, so
 * that no deadlock lasts. Afterwards the layout is the one with the least overlap met; returns that overlap.
 */
export const separate = (layout: Layout, random: Random, budget: Budget, options: SeparateOptions): number => {
  layout.weights.fill(1);
  let best: Snapshot = snapshot(layout);
  let least = totalLoss(layout);
  for (let failed = 0; least > 0 && failed < options.tries && budget.used < options.until; ) {
    const before = least;
    for (let idle = 0; idle < options.patience && least > 0 && budget.used < options.until; idle++) {
      moveAll(layout, random, budget, options);
      const loss = totalLoss(layout);
      if (loss < least) {
        if (loss < least * WORTHWHILE || loss === 0) idle = 0;
        least = loss;
        best = snapshot(layout);
      }
      reweigh(layout);
    }
    failed = least < before * WORTHWHILE ? 0 : failed + 1;
    if (least > 0) restore(layout, best);
  }
  restore(layout, best);
  return least;
};

const moveAll = (layout: Layout, random: Random, budget: Budget, options: SeparateOptions): void => {
  const order: number[] = [];
  for (let i = 0; i < layout.count; i++) if (lossOf(layout, i, false) > 0) order.push(i);
  shuffle(order, random);
  for (const i of order) {
    if (lossOf(layout, i, false) === 0) continue;
    replace(layout, i, random, options.sampling);
    budget.used++;
    if (budget.used >= options.until) return;
  }
};

const shuffle = (order: number[], random: Random): void => {
  for (let k = order.length - 1; k > 0; k--) {
    const m = random.below(k + 1);
    [order[k], order[m]] = [order[m] as number, order[k] as number];
  }
};

const reweigh = (layout: Layout): void => {
  const { losses, weights } = layout;
  let most = 0;
  for (let k = 0; k < losses.length; k++) if ((losses[k] as number) > most) most = losses[k] as number;
  if (most === 0) return;
  for (let k = 0; k < losses.length; k++) {
    const loss = losses[k] as number;
    const weight = weights[k] as number;
    if (loss > 0) weights[k] = weight * (GROWTH[0] + (GROWTH[1] - GROWTH[0]) * (loss / most));
    else if (weight > 1) weights[k] = Math.max(1, weight * FADING);
  }
};
