import { describe, expect, it } from 'vitest';
import { nest, placed } from '../../src/layout/nest/index.ts';
import { nestingSet, SET_NAMES } from '../bench/nesting-sets.ts';
import { outsideAvailable, python } from './python.ts';

/**
 * Layouts of three public garment sets looked at by shapely, a general-purpose geometry library: no two pieces have
 * more than 1e-4 of the smaller in common, all lie in the strip, and the density is what we say.
 */
const CHECK = `
from shapely.geometry import Polygon, box
shapes = [Polygon(o) for o in given['outlines']]
pairs = [(a, b) for i, a in enumerate(shapes) for b in shapes[i + 1:]]
worst = max(a.intersection(b).area / min(a.area, b.area) for a, b in pairs)
strip = box(0, 0, given['length'], given['height'])
outside = max(s.difference(strip).area / s.area for s in shapes)
answer = {
    'worst': worst,
    'outside': outside,
    'density': sum(s.area for s in shapes) / strip.area,
    'count': len(shapes),
    'gap': min(a.distance(b) for a, b in pairs),
}
`;

interface Answer {
  readonly worst: number;
  readonly outside: number;
  readonly density: number;
  readonly count: number;
  readonly gap: number;
}

describe.skipIf(!outsideAvailable(['shapely']))('layouts of public garment sets', () => {
  for (const name of SET_NAMES) {
    const set = nestingSet(name);
    // A gap of about a hundredth of the strip's height, and none.
    for (const gap of [0, set.height / 100]) {
      it(`${name}, gap ${gap}: nothing overlaps, by another library's reckoning`, () => {
        const found = nest(set.items, { height: set.height, gap }, { effort: 2000 });
        const outlines = found.placements.map((p) =>
          (set.items[p.item]?.outline ?? []).map((q) => placed(q, p, p.offset)).map(({ x, y }) => [x, y]),
        );
        const answer = python(CHECK, { outlines, length: found.length, height: set.height }) as Answer;
        expect(answer.count).toBe(set.items.reduce((sum, i) => sum + i.copies, 0));
        expect(answer.worst).toBeLessThan(1e-4);
        expect(answer.outside).toBeLessThan(1e-9);
        expect(answer.density).toBeCloseTo(found.density, 9);
        expect(answer.gap).toBeGreaterThan(gap - 1e-5);
        if (gap === 0) expect(found.density).toBeGreaterThan(set.filled);
      });
    }
  }
});
