import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry/point.ts';
import type { Prick } from '../../src/paper/tracing.ts';
import { unlooped } from '../../src/paper/unlooped.ts';

/* Parts of a cutting line that have come past each other, at the mouth of a dart that has become narrow. */

const prick = (was: Point, at: Point, i: number): Prick => ({
  id: i,
  span: 0,
  t: i / 100,
  corner: false,
  home: was,
  was,
  at,
});

/** A line to the right with a mouth from 30 to 60, of which `passed` mm are left over the other way round. */
const line = (passed: number): Prick[] =>
  Array.from({ length: 19 }, (_, i) => {
    const x = i * 5;
    const mouth = Math.min(1, Math.max(0, (x - 30) / 30));
    return prick({ x, y: 0 }, { x: x - (30 + passed) * mouth, y: 0 }, i);
  });

const xs = (row: readonly (Prick | undefined)[]): number[] => row.flatMap((p) => (p ? [p.at.x] : []));

describe('the ends of a narrow mouth', () => {
  it.each([0.4, 3, 7])('meet in the middle where they have passed each other by %d mm', (passed) => {
    const left = xs(unlooped(line(passed)));
    expect(left.every((x, i) => i === 0 || x >= (left[i - 1] as number))).toBe(true);
    // All of the line that is not over the mouth is still there, but for what has been passed.
    expect(left.length).toBeGreaterThanOrEqual(14 - 2 * Math.ceil(passed / 5));
    expect(left[0]).toBe(0);
    expect(left.at(-1)).toBeCloseTo(90 - 30 - passed, 9);
  });

  it.each([-4, -29])('stay where they have not', (passed) => {
    const row = line(passed);
    expect(unlooped(row)).toEqual(row);
  });
});
