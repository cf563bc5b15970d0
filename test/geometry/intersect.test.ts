import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { selfCrossings } from '../../src/geometry/crossings.ts';
import { crossingsWithLine, intersections, linesMeet } from '../../src/geometry/intersect.ts';
import { pathOf, polyline } from '../../src/geometry/path.ts';
import { cross, distance, type Point, subtract, turn } from '../../src/geometry/point.ts';
import { arcAbout, cubic, line, pointAt, type Segment } from '../../src/geometry/segment.ts';
import { rotation, transformSegment } from '../../src/geometry/transform.ts';
import { angle, anySegment, number, outline, place } from './arbitrary.ts';

/** Crossings of both chains of chords, by the sign of four triangles: a count that shares nothing with the tested code. */
const chordCrossings = (a: Segment, b: Segment, n: number): number => {
  const points = (s: Segment): Point[] => Array.from({ length: n + 1 }, (_, i) => pointAt(s, i / n));
  const [p, q] = [points(a), points(b)];
  let count = 0;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const [p0, p1, q0, q1] = [p[i], p[i + 1], q[j], q[j + 1]] as [Point, Point, Point, Point];
      const side = (u: Point, v: Point, w: Point): boolean => cross(subtract(v, u), subtract(w, u)) > 0;
      if (side(p0, p1, q0) !== side(p0, p1, q1) && side(q0, q1, p0) !== side(q0, q1, p1)) count++;
    }
  }
  return count;
};

describe('two segments', () => {
  it('meet where both are, as often as their chords cross', () => {
    let agreed = 0;
    let runs = 0;
    fc.assert(
      fc.property(anySegment, anySegment, (a, b) => {
        const found = intersections(a, b);
        for (const m of found) {
          expect(distance(pointAt(a, m.ta), m.point)).toBeLessThan(1e-6);
          expect(distance(pointAt(b, m.tb), m.point)).toBeLessThan(1e-6);
        }
        runs++;
        const chords = chordCrossings(a, b, 160);
        if (chords === found.length) agreed++;
        // Chords miss shallow crossings and loops; what they do see must be found.
        expect(found.length).toBeGreaterThanOrEqual(chords - 1);
      }),
      { numRuns: 120 },
    );
    expect(agreed / runs).toBeGreaterThan(0.97);
  });

  it('meet in the same places taken the other way round, and turned', () => {
    fc.assert(
      fc.property(anySegment, anySegment, angle, (a, b, by) => {
        const found = intersections(a, b);
        const other = intersections(b, a);
        expect(other).toHaveLength(found.length);
        for (const m of found) expect(Math.min(...other.map((o) => distance(o.point, m.point)))).toBeLessThan(1e-5);
        const spin = rotation(by);
        const turned = intersections(transformSegment(spin, a)[0] as Segment, transformSegment(spin, b)[0] as Segment);
        expect(turned).toHaveLength(found.length);
      }),
      { numRuns: 150 },
    );
  });

  it('meet in a shared end, once', () => {
    fc.assert(
      fc.property(anySegment, place, (a, p) => {
        fc.pre(distance(a.to, p) > 1 && distance(a.from, a.to) > 1);
        const found = intersections(a, line(a.to, p));
        expect(found.filter((m) => distance(m.point, a.to) < 1e-6)).toHaveLength(1);
      }),
      { numRuns: 100 },
    );
  });

  it('that lie on each other give the ends of the stretch they share', () => {
    const found = intersections(line({ x: 0, y: 0 }, { x: 10, y: 0 }), line({ x: 4, y: 0 }, { x: 20, y: 0 }));
    expect(found.map((m) => m.point.x)).toEqual([4, 10]);
    const c = cubic({ x: 0, y: 0 }, { x: 30, y: 40 }, { x: 60, y: -40 }, { x: 90, y: 10 });
    expect(intersections(c, c).length).toBeGreaterThanOrEqual(2);
  });

  it('touch: a line and a circle, two circles', () => {
    const circle = arcAbout({ x: 0, y: 0 }, 10, 0.3, 2 * Math.PI);
    expect(intersections(line({ x: -20, y: 10 }, { x: 20, y: 10 }), circle)).toHaveLength(1);
    expect(intersections(arcAbout({ x: 25, y: 0 }, 15, 1, 2 * Math.PI), circle)).toHaveLength(1);
  });
});

describe('an endless line', () => {
  it('crosses a closed outline an even number of times, in order along it', () => {
    fc.assert(
      fc.property(outline, angle, number(-60, 60), (path, way, off) => {
        const direction = turn({ x: 1, y: 0 }, way);
        const through = turn({ x: 0, y: off }, way);
        const found = crossingsWithLine(path, through, direction);
        fc.pre(!path.segments.some((s) => Math.abs(cross(direction, subtract(s.from, through))) < 1e-3));
        expect(found.length % 2).toBe(0);
        expect(found.length).toBeGreaterThan(0);
        const along = found.map((f) => (f.point.x - through.x) * direction.x + (f.point.y - through.y) * direction.y);
        expect([...along].sort((a, b) => a - b)).toEqual(along);
        for (const f of found) {
          expect(Math.abs(cross(direction, subtract(f.point, through)))).toBeLessThan(1e-6);
          expect(distance(pointAt(path.segments[f.index] as Segment, f.t), f.point)).toBeLessThan(1e-9);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('counts a corner once and a straight stretch on it by its ends', () => {
    const square = polyline(
      [
        { x: 0, y: 0 },
        { x: 10, y: 0 },
        { x: 10, y: 10 },
        { x: 0, y: 10 },
      ],
      true,
    );
    expect(crossingsWithLine(square, { x: 5, y: 5 }, { x: 1, y: 1 }).map((f) => f.point)).toEqual([
      { x: 0, y: 0 },
      { x: 10, y: 10 },
    ]);
    expect(crossingsWithLine(square, { x: -3, y: 0 }, { x: 2, y: 0 }).map((f) => f.point.x)).toEqual([0, 10]);
    expect(crossingsWithLine(square, { x: 0, y: 11 }, { x: 1, y: 0 })).toEqual([]);
  });

  it('meets another unless they are parallel', () => {
    expect(linesMeet({ x: 0, y: 0 }, { x: 1, y: 0 }, { x: 5, y: 5 }, { x: 0, y: 3 })).toEqual({ x: 5, y: 0 });
    expect(linesMeet({ x: 0, y: 0 }, { x: 1, y: 1 }, { x: 5, y: 0 }, { x: -2, y: -2 })).toBeUndefined();
  });
});

describe('a path', () => {
  it('that goes round once does not cross itself', () => {
    fc.assert(
      fc.property(outline, (path) => {
        expect(selfCrossings(path)).toEqual([]);
      }),
      { numRuns: 100 },
    );
  });

  it('crosses itself in the middle of an eight and of a looping cubic', () => {
    const eight = polyline(
      [
        { x: 0, y: 0 },
        { x: 10, y: 10 },
        { x: 10, y: 0 },
        { x: 0, y: 10 },
      ],
      true,
    );
    expect(selfCrossings(eight)).toEqual([{ x: 5, y: 5 }]);
    const loop = cubic({ x: 0, y: 0 }, { x: 200, y: 100 }, { x: -100, y: 100 }, { x: 100, y: 0 });
    const [at, ...more] = selfCrossings(pathOf([loop]));
    expect(more).toEqual([]);
    expect(at?.x).toBeCloseTo(50, 6);
    // Two neighbours that share a joint and cross once more.
    const back = line({ x: 100, y: 0 }, { x: 100, y: -1 });
    const curve = cubic({ x: 0, y: 0 }, { x: 30, y: 60 }, { x: 60, y: -60 }, { x: 100, y: 0 });
    expect(selfCrossings(pathOf([curve, line({ x: 100, y: 0 }, { x: 10, y: 0 })]))).toHaveLength(1);
    expect(selfCrossings(pathOf([curve, back]))).toHaveLength(0);
  });

  it('of 2,000 segments is searched in less than a second', () => {
    const n = 2000;
    const points = Array.from({ length: n }, (_, i) => {
      const a = (2 * Math.PI * i) / n;
      const r = 300 + 20 * Math.sin(9 * a);
      return { x: r * Math.cos(a), y: r * Math.sin(a) };
    });
    const started = performance.now();
    expect(selfCrossings(polyline(points, true))).toEqual([]);
    expect(performance.now() - started).toBeLessThan(1000);
  });
});
