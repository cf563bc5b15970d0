import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type PathMark, PURPOSES, type SheetMark } from '../../src/formats/sheet.ts';
import { pathLength, polyline, signedArea } from '../../src/geometry/path.ts';
import { distance } from '../../src/geometry/point.ts';
import { ordered, travel } from '../../src/layout/order.ts';
import { outline, place } from '../geometry/arbitrary.ts';

const open = fc
  .tuple(place, place, fc.constantFrom<PathMark['purpose']>('grain', 'seam', 'internal', 'cut'))
  .filter(([a, b]) => distance(a, b) > 1)
  .map(([a, b, purpose]): SheetMark => ({ kind: 'path', purpose, path: polyline([a, b]), inner: false }));
const closed = fc
  .tuple(outline, fc.boolean())
  .map(([path, inner]): SheetMark => ({ kind: 'path', purpose: 'cut', path, inner }));
const hole = place.map((at): SheetMark => ({ kind: 'drill', purpose: 'drill', at, diameter: 3 }));
const marks = fc.array(fc.oneof(open, closed, hole), { maxLength: 40 });

/** What is drawn, whichever way round and wherever it starts. */
const drawn = (m: SheetMark): string =>
  m.kind === 'path'
    ? `${m.purpose} ${m.inner} ${pathLength(m.path).toFixed(6)} ${Math.abs(signedArea(m.path)).toFixed(4)}`
    : `${m.purpose} ${m.at.x} ${m.at.y}`;

describe('the order of drawing', () => {
  it('draws everything once, purpose after purpose, holes before outlines, with less travel', () => {
    fc.assert(
      fc.property(marks, (given) => {
        const result = ordered(given);
        expect(result.map(drawn).sort()).toEqual(given.map(drawn).sort());
        const ranks = result.map((m) => 2 * PURPOSES.indexOf(m.purpose) + (m.kind === 'path' && m.inner ? 0 : 1));
        expect(ranks).toEqual(ranks.toSorted((a, b) => a - b));
        const plain = PURPOSES.flatMap((p) =>
          [true, false].flatMap((inner) =>
            given.filter((m) => m.purpose === p && (m.kind === 'path' && m.inner) === inner),
          ),
        );
        // The search promises no shortest tour: a few marks drawn in a lucky order may be as good.
        if (given.length > 20) expect(travel(result)).toBeLessThan(1.1 * travel(plain));
        expect(ordered(given)).toEqual(result);
      }),
      { numRuns: 60 },
    );
  });

  it('brings random strokes near a tour that is known to be short', () => {
    // Strokes on a 10 × 10 grid, shuffled: up and down the columns travels 10 mm to each next one.
    const grid = Array.from({ length: 100 }, (_, i): SheetMark => {
      const k = (i * 37) % 100;
      return { kind: 'drill', purpose: 'drill', at: { x: (k % 10) * 10, y: Math.floor(k / 10) * 10 }, diameter: 3 };
    });
    expect(travel(grid)).toBeGreaterThan(3000);
    expect(travel(ordered(grid))).toBeLessThan(1.25 * 990);
  });

  it('starts a dragged knife at the sharpest corner, a beam in the middle of the longest straight', () => {
    const triangle = polyline(
      [
        { x: 0, y: 0 },
        { x: 300, y: 0 },
        { x: 20, y: 80 },
      ],
      true,
    );
    const mark: SheetMark = { kind: 'path', purpose: 'cut', path: triangle, inner: false };
    const [knife] = ordered([mark], { overcut: 1, start: 'corner' });
    const [beam] = ordered([mark], { overcut: 0, start: 'straight' });
    if (knife?.kind !== 'path' || beam?.kind !== 'path') throw new Error('still paths');
    expect(knife.path.segments[0]?.from).toEqual({ x: 300, y: 0 });
    expect(beam.path.segments[0]?.from).toEqual({ x: 150, y: 0 });
    for (const m of [knife, beam]) {
      expect(m.path.closed).toBe(true);
      expect(pathLength(m.path)).toBeCloseTo(pathLength(triangle), 9);
    }
  });
});
