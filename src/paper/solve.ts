import { NoRoom } from './no-room.ts';

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
  throw new NoRoom('no place was found at which the amount comes out');
};
