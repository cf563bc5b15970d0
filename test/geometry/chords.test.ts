import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ChordOptions, type ChordPoint, chords } from '../../src/geometry/chords.ts';
import { nearestOnPath, type Path, pathOf, polyline } from '../../src/geometry/path.ts';
import { distance, type Point } from '../../src/geometry/point.ts';
import { arcFromBulge, cubic, line, pointAt, type Segment } from '../../src/geometry/segment.ts';

const coordinate = fc.double({ min: -400, max: 400, noNaN: true });
const place = fc.record({ x: coordinate, y: coordinate });

/** Chains of lines, arcs and cubics, none shorter than 1 mm. */
const paths: fc.Arbitrary<Path> = fc
  .tuple(
    place,
    fc.array(fc.tuple(fc.constantFrom('line', 'arc', 'cubic'), place, place, place), { minLength: 1, maxLength: 6 }),
    fc.boolean(),
  )
  .map(([start, steps, closed]) => {
    const segments: Segment[] = [];
    const add = (kind: string, a: Point, b: Point, to: Point): void => {
      const from = segments.at(-1)?.to ?? start;
      if (distance(from, to) < 1) return;
      if (kind === 'arc') segments.push(arcFromBulge(from, to, 0.1 + Math.abs(a.x) / 800));
      else segments.push(kind === 'line' ? line(from, to) : cubic(from, a, b, to));
    };
    for (const [kind, a, b, to] of steps) add(kind, a, b, to);
    if (closed) add('line', start, start, start);
    return pathOf(segments);
  })
  .filter((p) => p.segments.length > 0);

const options: fc.Arbitrary<ChordOptions> = fc.record({
  tolerance: fc.constantFrom(0.02, 0.1, 0.25),
  least: fc.constantFrom(0, 0.2, 0.5),
});

const asPath = (points: readonly ChordPoint[], closed: boolean): Path =>
  polyline(
    points.map((p) => p.at),
    closed,
  );

describe('chords', () => {
  it('stay within the tolerance of the line', () => {
    fc.assert(
      fc.property(paths, options, (path, o) => {
        const drawn = asPath(chords(path, o), path.closed);
        for (const s of path.segments) {
          for (let i = 0; i <= 20; i++) {
            const p = pointAt(s, i / 20);
            expect(nearestOnPath(drawn, p)?.distance).toBeLessThanOrEqual(o.tolerance + 1e-6);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it('start, end and close as the line does', () => {
    fc.assert(
      fc.property(paths, options, (path, o) => {
        const points = chords(path, o);
        expect(points[0]?.at).toEqual(path.segments[0]?.from);
        if (!path.closed) expect(points.at(-1)?.at).toEqual(path.segments.at(-1)?.to);
        else expect(points.at(-1)?.at).not.toEqual(points[0]?.at);
      }),
      { numRuns: 60 },
    );
  });

  it('have no vertices nearer than the least step on a smooth line', () => {
    const dense = Array.from({ length: 2000 }, (_, i) => ({ x: i * 0.05, y: 40 * Math.sin(i / 400) }));
    const points = chords(polyline(dense), { tolerance: 0.1, least: 0.2 });
    expect(points.length).toBeLessThan(dense.length / 2);
    for (let i = 1; i < points.length - 1; i++) {
      expect(distance((points[i - 1] as ChordPoint).at, (points[i] as ChordPoint).at)).toBeGreaterThanOrEqual(
        0.2 - 1e-9,
      );
    }
  });

  it('keep corners, however near', () => {
    const step = polyline([
      { x: 0, y: 0 },
      { x: 10, y: 0 },
      { x: 10, y: 0.1 },
      { x: 20, y: 0.1 },
    ]);
    expect(chords(step, { tolerance: 0.1, least: 0.5 }).map((p) => p.kind)).toEqual([
      'corner',
      'corner',
      'corner',
      'corner',
    ]);
  });

  it('have a vertex where one is asked for', () => {
    const arc = pathOf([arcFromBulge({ x: 0, y: 0 }, { x: 300, y: 0 }, 0.2)]);
    const at = pointAt(arc.segments[0] as Segment, 0.3137);
    const kept = chords(arc, { tolerance: 0.1, least: 0.2, keep: [at] }).filter((p) => p.kind === 'kept');
    expect(kept).toHaveLength(1);
    expect(distance((kept[0] as ChordPoint).at, at)).toBeLessThan(1e-6);
  });

  it('leave out what is asked for off the line', () => {
    const straight = polyline([
      { x: 0, y: 0 },
      { x: 100, y: 0 },
    ]);
    expect(chords(straight, { tolerance: 0.1, least: 0.2, keep: [{ x: 50, y: 3 }] })).toHaveLength(2);
  });
});
