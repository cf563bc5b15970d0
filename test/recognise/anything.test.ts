import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Container, Drawable, Drawing } from '../../src/formats/drawing.ts';
import { polyline } from '../../src/geometry/path.ts';
import type { Point } from '../../src/geometry/point.ts';
import { recognise } from '../../src/recognise/index.ts';
import { unaccounted } from './reading.ts';

/* Whatever a file holds, reading it ends, does not throw, and loses no line. */

const style = { width: 0, dashed: false, filled: false, arrowStart: false, arrowEnd: false };
const containers: readonly Container[] = [
  { id: 'root', kind: 'root', name: '', label: '', definition: 'root' },
  { id: 'a', kind: 'block', name: 'FRONT', label: '', parent: 'root', definition: 'a' },
  { id: 'b', kind: 'group', name: 'g12', label: 'Skirt back', parent: 'root', definition: 'b' },
  { id: 'c', kind: 'group', name: 'seam', label: '', parent: 'b', definition: 'c' },
  { id: 'd', kind: 'block', name: 'FRONT', label: '', parent: 'root', definition: 'a' },
];

/** Points on a coarse grid, so that ends often meet and lines often lie on one another. */
const place: fc.Arbitrary<Point> = fc
  .record({ x: fc.integer({ min: 0, max: 12 }), y: fc.integer({ min: 0, max: 12 }) })
  .map(({ x, y }) => ({ x: x * 50, y: y * 50 }));

const withoutRepeats = (points: readonly Point[]): Point[] =>
  points.filter((p, i) => i === 0 || p.x !== points[i - 1]?.x || p.y !== points[i - 1]?.y);

const drawable = fc
  .record({
    kind: fc.constantFrom('open' as const, 'closed' as const, 'text' as const, 'point' as const),
    layer: fc.constantFrom('0', '1', '4', '6', '7', '8', '14', 'Darts', 'grain', 'Nahtlinie', 'cut'),
    container: fc.constantFrom(...containers.map((c) => c.id)),
    points: fc.array(place, { minLength: 2, maxLength: 9 }),
    words: fc.constantFrom(
      'Skirt front',
      'cut 2',
      'place on fold',
      'hip line',
      'grain',
      'Saum',
      'わ',
      'waistband',
      '',
      'seam allowance 99 in',
      'lengthen or',
    ),
    angle: fc.double({ min: -4, max: 4, noNaN: true }),
  })
  .map((d): ((i: number) => Drawable) => (i) => {
    const base = {
      id: `d${i}`,
      layer: d.layer,
      container: d.container,
      entity: d.kind,
      definition: `d${i}`,
      line: i + 1,
      labels: [],
      style,
    };
    const points = withoutRepeats(d.points);
    const at = d.points[0] as Point;
    if (d.kind === 'text' || points.length < 2)
      return { ...base, kind: 'text', text: d.words, at, angle: d.angle, height: 6, mirrored: false };
    if (d.kind === 'point') return { ...base, kind: 'point', at, angle: d.angle };
    const first = points[0] as Point;
    const last = points[points.length - 1] as Point;
    const closes = d.kind === 'closed' && points.length > 2 && (first.x !== last.x || first.y !== last.y);
    return { ...base, kind: 'path', path: polyline(points, closes) };
  });

const drawing: fc.Arbitrary<Drawing> = fc.array(drawable, { maxLength: 30 }).map((makers) => ({
  format: 'dxf',
  fileName: 'anything.dxf',
  units: { millimetresPerUnit: 1, statedBy: 'file', name: 'mm' },
  containers,
  drawables: makers.map((make, i) => make(i)),
  document: undefined,
}));

describe('any drawing', () => {
  it('is read without a throw, and nothing of it is lost', { timeout: 30_000 }, () => {
    fc.assert(
      fc.property(drawing, (d) => {
        const { pattern } = recognise(d);
        expect(unaccounted(d, pattern)).toEqual([]);
        for (const p of pattern.pieces) {
          const covered = p.edges.reduce(
            (sum, e) => sum + ((e.last - e.first + p.seamLine.spans.length) % p.seamLine.spans.length) + 1,
            0,
          );
          expect(covered).toBe(p.seamLine.spans.length);
        }
      }),
      { numRuns: Number(process.env.RUNS ?? 150), seed: Number(process.env.SEED ?? 1) },
    );
  });

  it('is read in good time when one line is placed thousands of times', { timeout: 20_000 }, () => {
    const d = fc.sample(drawing, { numRuns: 1, seed: 5 })[0] as Drawing;
    const path = polyline([
      { x: 0, y: 0 },
      { x: 300, y: 400 },
    ]);
    const base = {
      kind: 'path',
      layer: '0',
      container: 'c',
      entity: 'LINE',
      definition: 'one',
      labels: [],
      style,
      path,
    } as const;
    const drawables = Array.from({ length: 4000 }, (_, i): Drawable => ({ ...base, id: `l${i}`, line: i + 1 }));
    expect(recognise({ ...d, drawables }).pattern.pieces).toEqual([]);
  });

  it('is read the same each time', () => {
    const [d] = fc.sample(drawing, { numRuns: 1, seed: 5 });
    expect(JSON.stringify(recognise(d as Drawing))).toBe(JSON.stringify(recognise(d as Drawing)));
  });
});
