import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type EdgeAllowance, offsetOutline, offsetSegment } from '../../src/geometry/offset.ts';
import {
  encloses,
  flatten,
  type Path,
  pathLength,
  pathOf,
  polyline,
  selfCrossings,
  signedArea,
} from '../../src/geometry/path.ts';
import { distance, type Point } from '../../src/geometry/point.ts';
import {
  arcAbout,
  boundsOf,
  cubic,
  curvatureAt,
  line,
  nearestOn,
  pointAt,
  reversed,
  type Segment,
  tangentAt,
} from '../../src/geometry/segment.ts';
import { rotation, transformPath } from '../../src/geometry/transform.ts';
import { angle, anyArc, anyLine, calmCubic, number, outline } from './arbitrary.ts';

const all = (path: Path, allowance: number): EdgeAllowance[] => [
  { segments: path.segments.map((_, i) => i), allowance },
];
const expectClosed = (path: Path): void => {
  for (const [i, s] of path.segments.entries()) {
    expect(s.to).toEqual((path.segments[(i + 1) % path.segments.length] as Segment).from);
  }
};
const rectangle = (w: number, h: number): Path =>
  polyline(
    [
      { x: 0, y: 0 },
      { x: w, y: 0 },
      { x: w, y: h },
      { x: 0, y: h },
    ],
    true,
  );

describe('the parallel of a segment', () => {
  it('passes square to the right of every place that does not bend too sharply, within 0.01 mm', () => {
    fc.assert(
      fc.property(fc.oneof(anyLine, anyArc, calmCubic), number(-30, 30), number(0, 1), (s, d, t) => {
        fc.pre(1 + curvatureAt(s, t) * d > 0.02 && Math.abs(d) > 0.1);
        const way = tangentAt(s, t);
        const p = pointAt(s, t);
        const right = { x: p.x + way.y * d, y: p.y - way.x * d };
        expect(Math.min(...offsetSegment(s, d).map((o) => nearestOn(o, right).distance))).toBeLessThan(0.01);
      }),
      { numRuns: 200 },
    );
  });

  it('comes no nearer than its distance where nothing is left out, and no further off', () => {
    fc.assert(
      fc.property(calmCubic, number(-4, 4), number(0.02, 0.98), (s, d, t) => {
        const parallel = offsetSegment(s, d);
        fc.pre(parallel.length > 0 && Math.abs(d) > 0.1);
        for (const o of parallel) expect(nearestOn(s, pointAt(o, t)).distance).toBeLessThan(Math.abs(d) + 0.01);
      }),
      { numRuns: 100 },
    );
  });

  it('of the turned segment on the other side is the same line', () => {
    fc.assert(
      fc.property(calmCubic, number(1, 12), (s, d) => {
        const [one, other] = [offsetSegment(s, d), offsetSegment(reversed(s), -d)];
        for (const o of one)
          expect(Math.min(...other.map((q) => nearestOn(q, pointAt(o, 0.37)).distance))).toBeLessThan(0.02);
      }),
      { numRuns: 60 },
    );
  });

  it('of an arc is an arc, and none inside its centre', () => {
    const s = arcAbout({ x: 0, y: 0 }, 10, 0, 1);
    expect(offsetSegment(s, 5).map((o) => [o.kind, boundsOf(o).maxX])).toEqual([['arc', 15]]);
    expect(offsetSegment(s, -11)).toEqual([]);
    expect(offsetSegment(s, 0)).toEqual([s]);
  });

  it('leaves out where a curve bends more sharply than the distance', () => {
    const bend = cubic({ x: 0, y: 0 }, { x: 60, y: 0 }, { x: 60, y: 10 }, { x: 0, y: 10 });
    expect(offsetSegment(bend, -20).length).toBe(2);
    expect(offsetSegment(bend, 20).length).toBeGreaterThanOrEqual(1);
  });
});

describe('the line beside an outline', () => {
  it('of even distance lies at that distance and closes, outward and inward', () => {
    fc.assert(
      fc.property(outline, fc.constantFrom(-15, -6, 6, 15, 40), (path, d) => {
        const beside = offsetOutline(path, all(path, d));
        expect(beside.closed).toBe(true);
        expectClosed(beside);
        expect(beside.sources).toHaveLength(beside.segments.length);
        expect(selfCrossings(beside)).toEqual([]);
        for (const p of flatten(beside, 0.5)) {
          const least = Math.min(...path.segments.map((s) => nearestOn(s, p).distance));
          expect(least).toBeGreaterThan(Math.abs(d) - 0.03);
          expect(encloses(path, p)).toBe(d < 0);
        }
        for (const [i, s] of beside.segments.entries()) {
          const from = path.segments[beside.sources[i] as number] as Segment;
          const middle = pointAt(s, 0.5);
          const place = nearestOn(from, middle);
          if (place.t > 0.001 && place.t < 0.999) expect(Math.abs(place.distance - Math.abs(d))).toBeLessThan(0.03);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('turns with the outline', () => {
    fc.assert(
      fc.property(outline, angle, (path, by) => {
        const spin = rotation(by, { x: 30, y: -8 });
        const area = signedArea(offsetOutline(path, all(path, 15)));
        expect(signedArea(offsetOutline(transformPath(spin, path), all(path, 15)))).toBeCloseTo(area, 1);
      }),
      { numRuns: 30 },
    );
  });

  it('and back again is the outline', () => {
    const widths = fc.array(number(5, 20), { minLength: 9, maxLength: 9 });
    fc.assert(
      fc.property(outline, widths, fc.boolean(), (curved, given, straight) => {
        // A curve cut short by a neighbour's other allowance cannot grow back as it was: those keep to one.
        const path = straight
          ? polyline(
              curved.segments.map((s) => s.from),
              true,
            )
          : curved;
        const width = (i: number): number => (straight ? given[i] : given[0]) as number;
        const out = offsetOutline(
          path,
          path.segments.map((_, i) => ({ segments: [i], allowance: width(i) })),
        );
        // Nor can a step be undone.
        fc.pre(!straight || out.segments.length === path.segments.length);
        const back = offsetOutline(
          out,
          out.sources.map((source, i) => ({ segments: [i], allowance: -width(source) })),
        );
        expectClosed(back);
        for (const s of path.segments) {
          // In a hollow corner the parallel of a curve is cut short, and what grows back there is straight.
          for (const t of straight ? [0, 0.3, 0.8] : [0.4, 0.5, 0.6]) {
            expect(Math.min(...back.segments.map((b) => nearestOn(b, pointAt(s, t)).distance))).toBeLessThan(0.05);
          }
        }
        expect(Math.abs(signedArea(back) - signedArea(path))).toBeLessThan(0.05 * pathLength(path));
      }),
      { numRuns: 60 },
    );
  });

  it('of a rectangle with an allowance for each side is the larger rectangle, its fold where it was', () => {
    const beside = offsetOutline(rectangle(100, 200), [
      { segments: [0], allowance: 40 },
      { segments: [1], allowance: 15 },
      { segments: [2], allowance: 10 },
    ]);
    expect(beside.segments.map((s) => s.from)).toEqual([
      { x: 0, y: -40 },
      { x: 115, y: -40 },
      { x: 115, y: 210 },
      { x: 0, y: 210 },
    ]);
    expect(beside.sources).toEqual([0, 1, 2, 3]);
  });

  it('squares the first edge off at its corner', () => {
    // A corner of 60°: the first edge runs along x, 10 wide; the second leaves at 120°.
    const tip: Point = { x: 100, y: 0 };
    const top: Point = { x: 50, y: 50 * Math.sqrt(3) };
    const path = polyline([{ x: 0, y: 0 }, tip, top], true);
    const beside = offsetOutline(
      path,
      [
        { segments: [0], allowance: 10 },
        { segments: [1], allowance: 10 },
      ],
      'square',
    );
    // Where the first seam, gone on with, leaves the second's allowance: 10 / sin 60° past the tip.
    const reach = 100 + 10 / Math.sin(Math.PI / 3);
    expect(
      beside.segments.some(
        (s) => distance(s.from, { x: reach, y: -10 }) < 1e-9 && distance(s.to, { x: reach, y: 0 }) < 1e-9,
      ),
    ).toBe(true);
    expectClosed(beside);
  });

  it('steps where the allowance changes along one smooth line', () => {
    const path = polyline(
      [
        { x: 0, y: 0 },
        { x: 50, y: 0 },
        { x: 100, y: 0 },
        { x: 100, y: 80 },
        { x: 0, y: 80 },
      ],
      true,
    );
    const beside = offsetOutline(path, [
      { segments: [0], allowance: 10 },
      { segments: [1], allowance: 25 },
    ]);
    expect(signedArea(beside)).toBeCloseTo(8000 + 500 + 1250, 6);
    expectClosed(beside);
  });

  it('trims a hollow corner drawn in short chords', () => {
    // A crotch-like hollow of radius 8 in chords of 2 mm, 15 mm of allowance outside it.
    const hollow = flatten([arcAbout({ x: 60, y: 60 }, 8, -Math.PI / 2, -Math.PI / 2)], 0.05);
    const path = polyline(
      [{ x: 0, y: 0 }, { x: 200, y: 0 }, { x: 200, y: 52 }, ...hollow, { x: 52, y: 200 }, { x: 0, y: 200 }],
      true,
    );
    const beside = offsetOutline(path, all(path, 15));
    expect(selfCrossings(beside)).toEqual([]);
    for (const p of flatten(beside, 0.1)) {
      expect(Math.min(...path.segments.map((s) => nearestOn(s, p).distance))).toBeGreaterThan(15 - 0.05);
    }
    // Outside a right-angled hollow both edges simply meet: 67 from the axes.
    expect(Math.min(...beside.segments.map((s) => distance(s.from, { x: 67, y: 67 })))).toBeLessThan(0.05);
  });

  it('goes round a circle and a loop of one segment', () => {
    const circle = pathOf([arcAbout({ x: 5, y: 5 }, 20, 0.5, 2 * Math.PI)]);
    expect(signedArea(offsetOutline(circle, all(circle, 10)))).toBeCloseTo(900 * Math.PI, 6);
    const drop = pathOf([cubic({ x: 0, y: 0 }, { x: 100, y: -20 }, { x: 100, y: 120 }, { x: 0, y: 0 })]);
    const beside = offsetOutline(drop, all(drop, 5));
    expectClosed(beside);
    expect(signedArea(beside)).toBeGreaterThan(signedArea(drop) + 5 * pathLength(drop));
  });

  it('is refused for an open line, an unknown segment, and when nothing is left', () => {
    expect(() => offsetOutline(pathOf([line({ x: 0, y: 0 }, { x: 1, y: 0 })]), [])).toThrow('no outside');
    expect(() => offsetOutline(rectangle(1, 1), [{ segments: [7], allowance: 1 }])).toThrow('segment 7');
    const circle = pathOf([arcAbout({ x: 5, y: 5 }, 20, 0.5, 2 * Math.PI)]);
    expect(() => offsetOutline(circle, all(circle, -30))).toThrow('Nothing is left');
  });
});
