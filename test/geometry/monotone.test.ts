import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Knot, monotoneCubic } from '../../src/geometry/monotone.ts';
import { number } from './arbitrary.ts';

const knots: fc.Arbitrary<Knot[]> = fc
  .array(fc.record({ step: number(1, 200), value: number(-50, 50) }), { minLength: 2, maxLength: 8 })
  .map((list) => {
    let at = -300;
    return list.map(({ step, value }) => {
      at += step;
      return { at, value };
    });
  });

describe('a monotone cubic', () => {
  it('passes through its knots, stays between them and turns nowhere else', () => {
    fc.assert(
      fc.property(knots, fc.constantFrom('flat' as const, 'free' as const), (list, ends) => {
        const f = monotoneCubic(list, ends);
        for (const k of list) expect(f.value(k.at)).toBeCloseTo(k.value, 9);
        for (let i = 1; i < list.length; i++) {
          const a = list[i - 1] as Knot;
          const b = list[i] as Knot;
          const rising = Math.sign(b.value - a.value);
          let last = a.value;
          for (let j = 1; j <= 40; j++) {
            const v = f.value(a.at + ((b.at - a.at) * j) / 40);
            expect((v - last) * rising).toBeGreaterThan(-1e-9);
            last = v;
          }
        }
      }),
      { numRuns: 200 },
    );
  });

  it('has the slope of its values, continuous over the knots', () => {
    fc.assert(
      fc.property(knots, number(0.01, 0.99), (list, k) => {
        const f = monotoneCubic(list, 'flat');
        const first = list[0] as Knot;
        const last = list[list.length - 1] as Knot;
        const x = first.at + k * (last.at - first.at);
        const h = 1e-5;
        expect(f.slope(x)).toBeCloseTo((f.value(x + h) - f.value(x - h)) / (2 * h), 2);
        for (const knot of list) expect(f.slope(knot.at - 1e-9)).toBeCloseTo(f.slope(knot.at + 1e-9), 5);
      }),
      { numRuns: 200 },
    );
  });

  it('goes on constant outside, level where it is asked to', () => {
    const f = monotoneCubic(
      [
        { at: 0, value: 10 },
        { at: 200, value: 4 },
      ],
      { startSlope: 0 },
    );
    expect(f.value(-5)).toBe(10);
    expect(f.value(900)).toBe(4);
    expect(f.slope(0)).toBeCloseTo(0, 12);
    expect(f.slope(200)).toBeCloseTo(-0.03, 12);
    expect(f.slope(201)).toBe(0);
    expect(monotoneCubic([{ at: 3, value: 7 }]).value(100)).toBe(7);
    expect(() => monotoneCubic([])).toThrow('at least one');
    expect(() =>
      monotoneCubic([
        { at: 1, value: 2 },
        { at: 1, value: 3 },
      ]),
    ).toThrow('one place');
  });

  it('is one value for knots of one value, and twice as much for doubled ones', () => {
    fc.assert(
      fc.property(knots, number(-300, 900), (list, x) => {
        const level = monotoneCubic(list.map((k) => ({ at: k.at, value: 5 })));
        expect(level.value(x)).toBe(5);
        const twice = monotoneCubic(list.map((k) => ({ at: k.at, value: 2 * k.value })));
        expect(twice.value(x)).toBeCloseTo(2 * monotoneCubic(list).value(x), 8);
      }),
    );
  });

  it('follows the published RPN 14 example without overshoot', () => {
    // Fritsch & Carlson (1980), table 1, "RPN 14" (values from memory): nine points, flat, then a steep rise and level.
    const xs = [7.99, 8.09, 8.19, 8.7, 9.2, 10, 12, 15, 20];
    const ys = [0, 2.76429e-5, 4.37498e-2, 0.169183, 0.469428, 0.94374, 0.998636, 0.999919, 0.999994];
    const f = monotoneCubic(xs.map((at, i) => ({ at, value: ys[i] as number })));
    let last = -1;
    for (let x = 7.99; x <= 20; x += 0.005) {
      const v = f.value(x);
      expect(v).toBeGreaterThanOrEqual(last - 1e-12);
      expect(v).toBeLessThanOrEqual(0.999994 + 1e-12);
      last = v;
    }
  });
});
