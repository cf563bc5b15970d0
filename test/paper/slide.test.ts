import { expect, it } from 'vitest';
import { placesAlong } from '../../src/paper/slide.ts';

it.each([4, 12, 25, 30])(
  'a place %d mm along a line is not put off by points on one place, as a joint on a mouth',
  (s) => {
    const row = [0, 10, 10, 20, 20, 20, 30].map((x) => ({ x, y: 0 }));
    expect(placesAlong(row, [s])[0]?.x).toBeCloseTo(s, 9);
  },
);
