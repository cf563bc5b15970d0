import { NoRoom } from './no-room.ts';

const NOT_FOUND =
  'the seams and darts here cannot take so much: however far the paper is moved, the amount does not come out';

/**
 * Root of a smooth, nearly straight function by the secant method.
 * @throws NoRoom when it does not settle: the amount bends the paper out of all shape
 */
export const solve = (f: (x: number) => number, first: number, second: number, within: number): number => {
  let a = first;
  let fa = f(a);
  if (Math.abs(fa) <= within) return a;
  let b = second;
  for (let round = 0; round < 30; round++) {
    const fb = f(b);
    if (Math.abs(fb) <= within) return b;
    if (fb === fa) break;
    const next = b - (fb * (b - a)) / (fb - fa);
    a = b;
    fa = fb;
    b = next;
  }
  throw new NoRoom(NOT_FOUND);
};

/**
 * What is made at the place where nothing of it is off: `off` tells by how much what is made comes out too large.
 * @throws NoRoom as solve does
 */
export const solveFor = <T>(
  make: (x: number) => T,
  off: (made: T) => number,
  first: number,
  second: number,
  within: number,
): T => {
  const made = lastKept(make);
  return made(solve((x) => off(made(x)), first, second, within));
};

/**
 * Root where it is known to lie between two places: the bracket is narrowed by the regula falsi (Illinois), so
 * that no other root is found.
 * @throws NoRoom when f has one sign at both places
 */
export const solveBetween = (f: (x: number) => number, from: number, to: number, within: number): number => {
  let [a, b] = [from, to];
  let [fa, fb] = [f(a), f(b)];
  if (Math.abs(fa) <= within) return a;
  if (Math.abs(fb) <= within) return b;
  if (fa * fb > 0) throw new NoRoom(NOT_FOUND);
  for (let round = 0; round < 60; round++) {
    const x = b - (fb * (b - a)) / (fb - fa);
    const fx = f(x);
    if (Math.abs(fx) <= within) return x;
    if (fx * fb < 0) [a, fa] = [b, fb];
    else fa /= 2;
    [b, fb] = [x, fx];
  }
  throw new NoRoom(NOT_FOUND);
};

/** Where a root is known to lie about, and how steep the function is there. */
export interface About {
  readonly root: number;
  readonly slope: number;
}

/**
 * The same where it is known about where the root lies: a few steps of the secant method from there; where these leave the
 * two places or do not settle, the bracket.
 * @throws NoRoom as solveBetween does
 */
export const solveAbout = (
  f: (x: number) => number,
  about: About,
  from: number,
  to: number,
  within: number,
): number => {
  const [low, high] = [Math.min(from, to), Math.max(from, to)];
  let a = about.root;
  let fa = f(a);
  if (Math.abs(fa) <= within) return a;
  let b = a - fa / about.slope;
  for (let round = 0; round < 6 && b >= low && b <= high && b !== a; round++) {
    const fb = f(b);
    if (Math.abs(fb) <= within) return b;
    [a, fa, b] = [b, fb, b - (fb * (b - a)) / (fb - fa)];
  }
  return solveBetween(f, from, to, within);
};

/** A function that remembers what it gave last: the last place that is tried is the one that is taken. */
export const lastKept = <T>(f: (x: number) => T): ((x: number) => T) => {
  let last: { readonly x: number; readonly made: T } | undefined;
  return (x) => {
    if (last?.x !== x) last = { x, made: f(x) };
    return last.made;
  };
};
