import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { solveTogether } from '../../src/alterations/solving.ts';

/* Amounts that each move their own measure, and a part of others'. */

const WITHIN = 0.05;

describe('solveTogether', () => {
  it('tries once where nothing interacts', () => {
    let tries = 0;
    const solved = solveTogether(
      [20, -5],
      (x) => ({ off: [(x[0] as number) - 20, (x[1] as number) + 5], made: ++tries }),
      WITHIN,
    );
    expect(solved).toMatchObject({ amounts: [20, -5], trial: { made: 1 } });
  });

  it('finds amounts where each gives others a part of what they need', () => {
    const parts = fc.array(fc.double({ min: -0.3, max: 0.3, noNaN: true }), { minLength: 16, maxLength: 16 });
    const needs = fc.array(fc.double({ min: -50, max: 50, noNaN: true }), { minLength: 4, maxLength: 4 });
    fc.assert(
      fc.property(parts, needs, fc.double({ min: 0, max: 0.001, noNaN: true }), (part, needed, bend) => {
        let tries = 0;
        const off = (x: readonly number[]): number[] =>
          x.map(
            (own, i) =>
              own +
              x.reduce((s, other, j) => (i === j ? s : s + (part[4 * i + j] as number) * other), 0) +
              bend * own * own -
              (needed[i] as number),
          );
        const solved = solveTogether(needed, (x) => ({ off: off(x), made: ++tries }), WITHIN);
        for (const d of solved?.trial.off ?? [Number.NaN]) expect(Math.abs(d)).toBeLessThanOrEqual(WITHIN);
        expect(tries).toBeLessThanOrEqual(9);
      }),
      { numRuns: 200 },
    );
  });

  it('gives the best it found where they work against each other', () => {
    const solved = solveTogether(
      [10, 10],
      ([a = 0, b = 0]) => ({ off: [a + b - 10, a + b - 14], made: a + b }),
      WITHIN,
    );
    expect(Math.max(...(solved?.trial.off ?? []).map(Math.abs))).toBeLessThan(10);
  });

  it('leaves an amount that moves nothing as it was, and solves the others', () => {
    const solved = solveTogether(
      [10, 10, 5],
      ([a = 0, b = 0]) => ({ off: [a + 0.3 * b - 10, b - 0.2 * a - 10, 5], made: 0 }),
      WITHIN,
    );
    expect(solved?.amounts[2]).toBe(5);
    for (const d of solved?.trial.off.slice(0, 2) ?? [9]) expect(Math.abs(d)).toBeLessThanOrEqual(WITHIN);
  });

  it('goes part of the way where the whole of it has no room', () => {
    const room = 12;
    const solved = solveTogether([10], ([a = 0]) => (a > room ? undefined : { off: [0.5 * a - 5.9], made: a }), WITHIN);
    expect(solved?.trial.made).toBeGreaterThan(11);
  });

  it('gives nothing where not even the first amounts can be tried', () => {
    expect(solveTogether([1], () => undefined, WITHIN)).toBeUndefined();
  });
});
