/* Amounts that work on each other's measures, solved together. */

export interface Trial<T> {
  /** How far each measure is off. */
  readonly off: readonly number[];
  /** What was made in trying it. */
  readonly made: T;
}

interface Tried<T> {
  readonly amounts: readonly number[];
  readonly trial: Trial<T>;
}

type Attempt<T> = (amounts: readonly number[]) => Trial<T> | undefined;

/** Rounds until it settles: interactions that run one way take one for each, those that run both ways a few more. */
const ROUNDS = 8;
/** A measure that follows its amount by less than this part does not follow it at all. */
const FOLLOWS = 0.2;

/**
 * Finds amounts at which nothing is off by more than `within`, beginning with what would be right if every amount moved
 * its own measure alone; what each trial shows of the others is learnt from it (C. G. Broyden's method, 1965). Amounts
 * that do not move their measure are left as they were at first. Where it does not settle, the best trial is given back;
 * undefined when not even the first could be made.
 */
export const solveTogether = <T>(
  first: readonly number[],
  attempt: Attempt<T>,
  within: number,
): Tried<T> | undefined => {
  const start = attempt(first);
  if (!start) return undefined;
  let best = { amounts: first, trial: start };
  let now = best;
  let free = first.map(() => true);
  let inverse = identity(first.length);
  for (let round = 0; round < ROUNDS && most(masked(now.trial.off, free)) > within; round++) {
    const wanted = times(inverse, masked(now.trial.off, free)).map((d, i) => (free[i] ? -d : 0));
    const next = stepFrom(now, wanted, attempt);
    if (!next) break;
    const step = minus(next.amounts, now.amounts);
    const change = minus(next.trial.off, now.trial.off);
    const deaf = round > 0 ? [] : deafTo(now, step, change, attempt, within);
    if (deaf.length > 0) {
      // What was tried on their account has only disturbed the others.
      free = free.map((f, i) => f && !deaf.includes(i));
      continue;
    }
    inverse = learnt(inverse, step, masked(change, free));
    now = next;
    if (most(masked(now.trial.off, free)) < most(masked(best.trial.off, free))) best = now;
  }
  return best;
};

/** The step wanted; where the paper has no room for it, a half or a quarter of it. */
const stepFrom = <T>(now: Tried<T>, wanted: readonly number[], attempt: Attempt<T>): Tried<T> | undefined => {
  for (const part of [1, 1 / 2, 1 / 4]) {
    const amounts = now.amounts.map((a, i) => a + part * (wanted[i] as number));
    const trial = attempt(amounts);
    if (trial) return { amounts, trial };
  }
  return undefined;
};

/**
 * Measures that do not follow their amounts. One that seems not to may have been moved back by the others: it is tried
 * by itself.
 */
const deafTo = <T>(
  now: Tried<T>,
  step: readonly number[],
  change: readonly number[],
  attempt: Attempt<T>,
  within: number,
): number[] =>
  step.flatMap((s, i) => {
    const follows = (by: number): boolean => Math.abs(by) >= FOLLOWS * Math.abs(s);
    if (Math.abs(s) <= within || follows(change[i] as number)) return [];
    const alone = attempt(now.amounts.map((a, k) => (k === i ? a + s : a)));
    return alone && follows((alone.off[i] as number) - (now.trial.off[i] as number)) ? [] : [i];
  });

type Matrix = readonly (readonly number[])[];

const identity = (n: number): Matrix =>
  Array.from({ length: n }, (_, i) => Array.from({ length: n }, (__, j) => (i === j ? 1 : 0)));
const masked = (v: readonly number[], free: readonly boolean[]): number[] => v.map((x, i) => (free[i] ? x : 0));
const most = (off: readonly number[]): number => off.reduce((m, d) => Math.max(m, Math.abs(d)), 0);
const times = (m: Matrix, v: readonly number[]): number[] => m.map((row) => dot(row, v));
const dot = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, x, i) => sum + x * (b[i] as number), 0);
const minus = (a: readonly number[], b: readonly number[]): number[] => a.map((x, i) => x - (b[i] as number));

/** The inverse, corrected so that it explains the last step: H + (s − H y) sᵀH ÷ (sᵀ H y). */
const learnt = (inverse: Matrix, step: readonly number[], change: readonly number[]): Matrix => {
  const explained = times(inverse, change);
  const scale = dot(step, explained);
  if (Math.abs(scale) < 1e-12) return inverse;
  const missed = minus(step, explained);
  const row = inverse.map((_, j) => inverse.reduce((sum, r, i) => sum + (step[i] as number) * (r[j] as number), 0));
  return inverse.map((r, i) => r.map((h, j) => h + ((missed[i] as number) * (row[j] as number)) / scale));
};
