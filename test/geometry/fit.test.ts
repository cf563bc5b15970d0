import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitBiarcs, fitCubics, fitCurve } from '../../src/geometry/fit.ts';
import { distance, dot, type Point } from '../../src/geometry/point.ts';
import {
  arcAbout,
  type CubicSegment,
  cubic,
  lengthOf,
  line,
  nearestOn,
  pointAt,
  type Segment,
  splitAt,
  tangentAt,
} from '../../src/geometry/segment.ts';
import { calmCubic, number, sineBetween, wildCubic } from './arbitrary.ts';

const samples = (s: Segment, count: number): Point[] =>
  Array.from({ length: count + 1 }, (_, i) => pointAt(s, i / count));
const off = (segments: readonly Segment[], p: Point): number =>
  Math.min(...segments.map((s) => nearestOn(s, p).distance));
const expectSmooth = (segments: readonly Segment[], by: number): void =>
  segments.slice(1).forEach((s, i) => {
    const before = segments[i] as Segment;
    expect(s.from).toEqual(before.to);
    expect(Math.abs(sineBetween(tangentAt(before, 1), tangentAt(s, 0)))).toBeLessThan(by);
    expect(dot(tangentAt(before, 1), tangentAt(s, 0))).toBeGreaterThan(0);
  });

describe('cubics through points', () => {
  it('stay within tolerance of every point, through the ends, in one direction at the joints', () => {
    fc.assert(
      fc.property(calmCubic, calmCubic, fc.constantFrom(0.01, 0.1, 1), (a, b, tolerance) => {
        // A wavy line, no cubic: a calm curve followed at uneven speed, and a fifth of another added point by point.
        const points = samples(a, 60).map((p, i) => {
          const q = pointAt(b, (i / 60) ** 1.5);
          return { x: p.x + 0.2 * (q.x - b.from.x), y: p.y + 0.2 * (q.y - b.from.y) };
        });
        const fitted = fitCubics(points, { tolerance });
        for (const p of points) expect(off(fitted, p)).toBeLessThanOrEqual(tolerance + 1e-9);
        expect(fitted[0]?.from).toEqual(points[0]);
        expect(fitted[fitted.length - 1]?.to).toEqual(points[60]);
        expectSmooth(fitted, 1e-6);
        expect(fitted.length).toBeLessThanOrEqual(tolerance < 0.1 ? 9 : 4);
      }),
      { numRuns: 60 },
    );
  });

  it('of one calm cubic are one cubic, or at a close tolerance now and then two', () => {
    fc.assert(
      fc.property(calmCubic, fc.constantFrom(0.01, 0.1), (s, tolerance) => {
        const [startTangent, endTangent] = [tangentAt(s, 0), tangentAt(s, 1)];
        const fitted = fitCubics(samples(s, 40), { tolerance, startTangent, endTangent });
        expect(fitted.length).toBeLessThanOrEqual(tolerance < 0.1 ? 2 : 1);
      }),
      { numRuns: 60 },
    );
  });

  it('leave and arrive as told, and take two points for a straight line', () => {
    const points = [
      { x: 0, y: 0 },
      { x: 50, y: 10 },
      { x: 100, y: 0 },
    ];
    const fitted = fitCubics(points, { tolerance: 0.5, startTangent: { x: 0, y: 2 }, endTangent: { x: 0, y: -3 } });
    expect(distance(tangentAt(fitted[0] as CubicSegment, 0), { x: 0, y: 1 })).toBeLessThan(1e-9);
    expect(distance(tangentAt(fitted[fitted.length - 1] as CubicSegment, 1), { x: 0, y: -1 })).toBeLessThan(1e-9);
    const [straight] = fitCubics(
      [
        { x: 0, y: 0 },
        { x: 0, y: 0 },
        { x: 6, y: 8 },
      ],
      { tolerance: 0.1 },
    );
    expect(lengthOf(straight as Segment)).toBeCloseTo(10, 9);
    expect(() =>
      fitCubics(
        [
          { x: 1, y: 1 },
          { x: 1, y: 1 },
        ],
        { tolerance: 1 },
      ),
    ).toThrow('fewer than two');
  });

  it('follow a circle with no more pieces than the tolerance asks for', () => {
    // A quarter circle by one cubic is off by 2.73e-4 of the radius at best (Goldapp, CAGD 8, 1991).
    const quarter = samples(arcAbout({ x: 0, y: 0 }, 100, 0, Math.PI / 2), 80);
    expect(fitCubics(quarter, { tolerance: 0.03 })).toHaveLength(1);
    expect(fitCubics(quarter, { tolerance: 0.002 }).length).toBeLessThanOrEqual(2);
  });
});

describe('a fitted smooth curve', () => {
  it('is within the tolerance and says how near it came', () => {
    fc.assert(
      fc.property(number(20, 200), number(0.5, 3), fc.constantFrom(0.1, 0.001), (r, turns, tolerance) => {
        // An involute: its curvature changes all the time.
        const point = (t: number): Point => ({
          x: r * (Math.cos(t) + t * Math.sin(t)),
          y: r * (Math.sin(t) - t * Math.cos(t)),
        });
        const { segments, deviation } = fitCurve(
          { point, tangent: (t) => ({ x: Math.cos(t), y: Math.sin(t) }) },
          0.2,
          0.2 + turns,
          tolerance,
        );
        expect(deviation).toBeLessThanOrEqual(tolerance);
        for (let i = 0; i <= 100; i++)
          expect(off(segments, point(0.2 + (turns * i) / 100))).toBeLessThan(tolerance * 1.2);
        expectSmooth(segments, 1e-9);
      }),
      { numRuns: 25 },
    );
  });
});

describe('biarcs', () => {
  it('stay within tolerance of a seam curve, in one direction at every joint', () => {
    fc.assert(
      fc.property(calmCubic, fc.constantFrom(0.005, 0.02, 0.1), (s, tolerance) => {
        const { segments, deviation } = fitBiarcs([s], tolerance);
        expect(deviation).toBeLessThanOrEqual(tolerance);
        for (const p of samples(s, 333)) expect(off(segments, p)).toBeLessThanOrEqual(tolerance * 1.01);
        // And the other way: no part of an arc leaves the curve.
        for (const a of segments)
          for (const p of samples(a, 9)) expect(nearestOn(s, p).distance).toBeLessThan(tolerance * 1.05);
        expect(segments[0]?.from).toEqual(s.from);
        expect(segments[segments.length - 1]?.to).toEqual(s.to);
        expectSmooth(segments, 1e-5);
      }),
      { numRuns: 60 },
    );
  });

  it('need no more than eight pieces for a gentle curve at 0.02 mm', () => {
    // A hip curve's size: 200 mm long, bent by up to half a right angle.
    const s = cubic({ x: 0, y: 0 }, { x: 5, y: 70 }, { x: 20, y: 140 }, { x: 22, y: 210 });
    const { segments, deviation } = fitBiarcs([s], 0.02, 8);
    expect(segments.length).toBeLessThanOrEqual(8);
    expect(deviation).toBeLessThanOrEqual(0.02);
  });

  it('keep to the number of pieces allowed and own up to what it costs', () => {
    fc.assert(
      fc.property(wildCubic, fc.constantFrom(2, 4, 8), (s, most) => {
        fc.pre(lengthOf(s) < 1500);
        const { segments, deviation } = fitBiarcs([s], 0.001, most);
        if (segments.length <= most) expect(deviation).toBeGreaterThan(0);
        for (const p of samples(s, 50)) expect(off(segments, p)).toBeLessThan(deviation * 1.3 + 0.01);
      }),
      { numRuns: 20 },
    );
    const tight = fitBiarcs(
      [cubic({ x: 0, y: 0 }, { x: 0, y: 200 }, { x: 200, y: -100 }, { x: 200, y: 150 })],
      1e-4,
      4,
    );
    expect(tight.segments.length).toBeLessThanOrEqual(4);
    expect(tight.deviation).toBeGreaterThan(1e-4);
  });

  it('leave lines and arcs as they are and keep corners', () => {
    const a = line({ x: 0, y: 0 }, { x: 50, y: 0 });
    const b = arcAbout({ x: 50, y: 20 }, 20, -Math.PI / 2, 1);
    const c = cubic(b.to, { x: b.to.x, y: b.to.y + 10 }, { x: 90, y: 60 }, { x: 90, y: 90 });
    const { segments } = fitBiarcs([a, b, c], 0.02);
    expect(segments[0]).toBe(a);
    expect(segments[1]).toBe(b);
    expect(distance(tangentAt(segments[2] as Segment, 0), tangentAt(c, 0))).toBeLessThan(1e-6);
  });

  it('of a curve cut in two are as few as of the whole', () => {
    fc.assert(
      fc.property(calmCubic, number(0.2, 0.8), (s, t) => {
        const halves = splitAt(s, t) as CubicSegment[];
        expect(fitBiarcs(halves, 0.02).segments.length).toBeLessThanOrEqual(fitBiarcs([s], 0.02).segments.length + 2);
      }),
      { numRuns: 30 },
    );
  });

  it('of points of a circle are that circle, of points in a row a line', () => {
    const points = samples(arcAbout({ x: 3, y: 4 }, 80, 0.2, 1.5), 40);
    const { segments } = fitBiarcs(points, 0.01);
    expect(segments.length).toBeLessThanOrEqual(3);
    expect(
      fitBiarcs(
        [
          { x: 0, y: 0 },
          { x: 3, y: 0 },
          { x: 9, y: 0 },
        ],
        0.01,
      ).segments,
    ).toEqual([line({ x: 0, y: 0 }, { x: 9, y: 0 })]);
  });
});
