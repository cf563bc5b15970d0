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
 * The same where the root is known to lie between two places: the bracket is narrowed by the regula falsi (Illinois), so
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
