import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cross, distance, dot, scale, subtract, turn } from '../../src/geometry/point.ts';
import {
  arc,
  arcFromBulge,
  arcToCubics,
  boundsOf,
  bulgeOf,
  cubic,
  curvatureAt,
  derivativeAt,
  isDegenerate,
  isFiniteSegment,
  lengthBetween,
  lengthOf,
  line,
  nearestOn,
  parameterAtLength,
  part,
  pointAt,
  radiusOf,
  reversed,
  type Segment,
  signedAreaUnder,
  splitAt,
  tangentAt,
  withEnds,
} from '../../src/geometry/segment.ts';
import { rotation, transformSegment } from '../../src/geometry/transform.ts';
import { angle, anyArc, anySegment, number, place, wildCubic } from './arbitrary.ts';

const turned = (s: Segment, by: number): Segment => transformSegment(rotation(by), s)[0] as Segment;
const fraction = number(0.01, 0.99);

describe('any segment', () => {
  it('turned round has the same length and box, opposite area, and its points backwards', () => {
    fc.assert(
      fc.property(anySegment, fraction, (s, t) => {
        const back = reversed(s);
        expect(lengthOf(back)).toBeCloseTo(lengthOf(s), 5);
        expect(signedAreaUnder(back)).toBeCloseTo(-signedAreaUnder(s), 4);
        expect(distance(pointAt(back, 1 - t), pointAt(s, t))).toBeLessThan(1e-9);
        expect(reversed(back)).toEqual(s);
      }),
      { numRuns: 200 },
    );
  });

  it('cut in two gives two parts that lie on it and add up to its length and area', () => {
    fc.assert(
      fc.property(anySegment, fraction, fraction, (s, t, u) => {
        const [a, b] = splitAt(s, t) as [Segment, Segment];
        expect(a.to).toEqual(b.from);
        expect(a.from).toEqual(s.from);
        expect(b.to).toEqual(s.to);
        expect(Math.abs(lengthOf(a) + lengthOf(b) - lengthOf(s))).toBeLessThan(3e-6);
        expect(signedAreaUnder(a) + signedAreaUnder(b)).toBeCloseTo(signedAreaUnder(s), 4);
        expect(distance(pointAt(a, u), pointAt(s, u * t))).toBeLessThan(1e-8);
      }),
      { numRuns: 200 },
    );
  });

  it('keeps its length, and turns its area under with it, at any angle', () => {
    fc.assert(
      fc.property(anySegment, angle, (s, by) => {
        const other = turned(s, by);
        expect(Math.abs(lengthOf(other) - lengthOf(s))).toBeLessThan(2e-6);
        expect(signedAreaUnder(other)).toBeCloseTo(signedAreaUnder(s), 4);
      }),
      { numRuns: 150 },
    );
  });

  it('lies in its box, which touches it on all four sides', () => {
    fc.assert(
      fc.property(anySegment, (s) => {
        const box = boundsOf(s);
        let low = Infinity;
        let high = -Infinity;
        for (let i = 0; i <= 400; i++) {
          const p = pointAt(s, i / 400);
          expect(p.x).toBeGreaterThan(box.minX - 1e-9);
          expect(p.x).toBeLessThan(box.maxX + 1e-9);
          low = Math.min(low, p.y);
          high = Math.max(high, p.y);
        }
        expect(low - box.minY).toBeGreaterThan(-1e-9);
        expect(low - box.minY).toBeLessThan(0.2);
        expect(box.maxY - high).toBeLessThan(0.2);
      }),
      { numRuns: 100 },
    );
  });

  it('has the slope of its points as derivative, a unit tangent along it', () => {
    fc.assert(
      fc.property(anySegment, fraction, (s, t) => {
        const h = 1e-5;
        const slope = scale(subtract(pointAt(s, t + h), pointAt(s, t - h)), 1 / (2 * h));
        expect(distance(slope, derivativeAt(s, t))).toBeLessThan(1e-3);
        const way = tangentAt(s, t);
        expect(Math.hypot(way.x, way.y)).toBeCloseTo(1, 9);
        if (Math.hypot(slope.x, slope.y) > 1) expect(dot(way, slope)).toBeGreaterThan(0);
      }),
      { numRuns: 200 },
    );
  });

  it('is nearest where no sample is nearer', () => {
    fc.assert(
      fc.property(anySegment, place, (s, p) => {
        const found = nearestOn(s, p);
        expect(distance(pointAt(s, found.t), found.point)).toBeLessThan(1e-9);
        expect(distance(found.point, p)).toBeCloseTo(found.distance, 9);
        let least = Infinity;
        for (let i = 0; i <= 500; i++) least = Math.min(least, distance(pointAt(s, i / 500), p));
        expect(found.distance).toBeLessThan(least + 1e-9);
      }),
      { numRuns: 200 },
    );
  });

  it('finds the parameter at which a length is behind', () => {
    fc.assert(
      fc.property(anySegment, fraction, (s, k) => {
        const t = parameterAtLength(s, k * lengthOf(s));
        expect(Math.abs(lengthBetween(s, 0, t) - k * lengthOf(s))).toBeLessThan(3e-6);
      }),
      { numRuns: 200 },
    );
  });

  it('gives a stretch between two parameters, turned round when they are', () => {
    fc.assert(
      fc.property(anySegment, number(0, 0.45), number(0.55, 1), (s, t0, t1) => {
        const p = part(s, t0, t1);
        expect(distance(p.from, pointAt(s, t0))).toBeLessThan(1e-9);
        expect(distance(p.to, pointAt(s, t1))).toBeLessThan(1e-9);
        expect(Math.abs(lengthOf(p) - lengthBetween(s, t0, t1))).toBeLessThan(3e-6);
        expect(distance(part(s, t1, t0).from, p.to)).toBe(0);
      }),
      { numRuns: 100 },
    );
    const whole = line({ x: 0, y: 0 }, { x: 1, y: 0 });
    expect(part(whole, 0, 1)).toBe(whole);
    expect(() => part(whole, 0.5, 0.5)).toThrow('no length');
  });
});

describe('a cubic', () => {
  it('has the length that 20,000 chords come near', () => {
    fc.assert(
      fc.property(wildCubic, (s) => {
        let chords = 0;
        for (let i = 0; i < 20_000; i++) chords += distance(pointAt(s, i / 20_000), pointAt(s, (i + 1) / 20_000));
        expect(Math.abs(lengthOf(s) - chords)).toBeLessThan(2e-5);
      }),
      { numRuns: 40 },
    );
  });

  it('has a length to 1e-6 mm where it stops in a cusp', () => {
    // By hand: with u = 1 − 2t this curve is x = 50(1 − u³), y = 75(1 − u²), so that each half is
    // ∫ 150 u √(1 + u²) du from 0 to 1 = 50(2√2 − 1) long.
    const s = cubic({ x: 0, y: 0 }, { x: 100, y: 100 }, { x: 0, y: 100 }, { x: 100, y: 0 });
    const [half] = splitAt(s, 0.5) as [Segment, Segment];
    expect(lengthOf(half)).toBeCloseTo(50 * (2 * Math.SQRT2 - 1), 6);
    expect(lengthOf(s)).toBeCloseTo(100 * (2 * Math.SQRT2 - 1), 6);
  });

  it('has a direction at its ends even without handles', () => {
    const a = { x: 0, y: 0 };
    const d = { x: 30, y: 40 };
    expect(tangentAt(cubic(a, a, { x: 0, y: 5 }, d), 0)).toEqual({ x: 0, y: 1 });
    expect(tangentAt(cubic(a, a, d, d), 0)).toEqual({ x: 0.6, y: 0.8 });
    expect(tangentAt(cubic(a, a, d, d), 1)).toEqual({ x: 0.6, y: 0.8 });
    expect(tangentAt(cubic(a, { x: 5, y: 0 }, d, d), 1)).toEqual(tangentAt(line({ x: 5, y: 0 }, d), 0));
  });

  it('bends like the circle through three near points', () => {
    fc.assert(
      fc.property(wildCubic, fraction, (s, t) => {
        const h = 1e-4;
        const [p, q, r] = [pointAt(s, t - h), pointAt(s, t), pointAt(s, t + h)];
        fc.pre(distance(p, q) > 1e-2 && distance(q, r) > 1e-2);
        const byThreePoints =
          (2 * cross(subtract(q, p), subtract(r, q))) / (distance(p, q) * distance(q, r) * distance(p, r));
        expect(Math.abs(curvatureAt(s, t) - byThreePoints)).toBeLessThan(1e-3 * (1 + Math.abs(byThreePoints)));
      }),
      { numRuns: 100 },
    );
  });
});

describe('an arc', () => {
  it('comes back from its bulge', () => {
    fc.assert(
      fc.property(anyArc, (s) => {
        fc.pre(Math.abs(s.sweep) < 6);
        const again = arcFromBulge(s.from, s.to, bulgeOf(s));
        expect(distance(again.centre, s.centre)).toBeLessThan(1e-6);
        expect(again.sweep).toBeCloseTo(s.sweep, 9);
      }),
      { numRuns: 150 },
    );
  });

  it('bulges to the right of its chord when the bulge is positive: 1 is a half circle', () => {
    // DXF Reference, LWPOLYLINE group code 42: tangent of a quarter of the included angle, negative when clockwise.
    const s = arcFromBulge({ x: 0, y: 0 }, { x: 2, y: 0 }, 1);
    expect(s.centre.x).toBeCloseTo(1, 12);
    expect(s.sweep).toBeCloseTo(Math.PI, 12);
    expect(pointAt(s, 0.5).y).toBeCloseTo(-1, 12);
  });

  it('becomes cubics within the tolerance asked for', () => {
    fc.assert(
      fc.property(anyArc, fc.constantFrom(1e-1, 1e-3, 1e-5), (s, tolerance) => {
        for (const c of arcToCubics(s, tolerance)) {
          for (let i = 0; i <= 20; i++) {
            expect(Math.abs(distance(pointAt(c, i / 20), s.centre) - radiusOf(s))).toBeLessThan(tolerance);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it('of a full turn has the area of the circle and its box', () => {
    const start = { x: 7, y: 3 };
    const s = arc(start, start, { x: 2, y: 3 }, 2 * Math.PI);
    expect(signedAreaUnder(s)).toBeCloseTo(25 * Math.PI, 9);
    const box = boundsOf(s);
    expect([box.minX, box.minY, box.maxX, box.maxY].map((v) => Math.round(v * 1e9) / 1e9)).toEqual([-3, -2, 7, 8]);
  });
});

it('tells numbers that are none, and segments without length', () => {
  const p = { x: 1, y: 2 };
  expect(isFiniteSegment(line(p, { x: Number.NaN, y: 0 }))).toBe(false);
  expect(isFiniteSegment(arc(p, p, { x: 0, y: Infinity }, 1))).toBe(false);
  expect(isDegenerate(cubic(p, p, p, p))).toBe(true);
  expect(isDegenerate(arc(p, p, { x: 0, y: 0 }, 2 * Math.PI))).toBe(false);
});

it('puts ends on given points a hair away and stays within that hair', () => {
  fc.assert(
    fc.property(anySegment, angle, fraction, (s, way, t) => {
      const hair = turn({ x: 1e-3, y: 0 }, way);
      const to = { x: s.to.x + hair.x, y: s.to.y + hair.y };
      const moved = withEnds(s, s.from, to);
      expect(moved.to).toEqual(to);
      expect(moved.from).toEqual(s.from);
      expect(nearestOn(s, pointAt(moved, t)).distance).toBeLessThan(3e-3);
    }),
    { numRuns: 60 },
  );
});
