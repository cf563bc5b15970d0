import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ellipseToSegments, svgArcToSegments } from '../../src/geometry/ellipse.ts';
import { cross, distance, dot, type Point, scale, size, subtract, turn } from '../../src/geometry/point.ts';
import {
  type CubicSegment,
  curvatureAt,
  lengthOf,
  nearestOn,
  pointAt,
  reversed,
  type Segment,
  tangentAt,
} from '../../src/geometry/segment.ts';
import {
  type BSpline,
  cubicsToSpline,
  splineFault,
  splinePointAt,
  splineThrough,
  splineToCubics,
} from '../../src/geometry/spline.ts';
import { angle, calmCubic, number, place, wildCubic } from './arbitrary.ts';

const expectEndToEnd = (segments: readonly Segment[]): void => {
  for (const [i, s] of segments.slice(1).entries()) expect(s.from).toEqual(segments[i]?.to);
};

describe('an ellipse', () => {
  it('has the same sum of distances to both foci all over, from its first parameter to its last', () => {
    fc.assert(
      fc.property(
        place,
        angle,
        number(5, 300),
        number(0.1, 0.99),
        angle,
        number(0.1, 6.2),
        (centre, way, r, ratio, start, sweep) => {
          const major = turn({ x: r, y: 0 }, way);
          const segments = ellipseToSegments(centre, major, ratio, start, start + sweep);
          const focus = scale(major, Math.sqrt(1 - ratio * ratio));
          for (const s of segments) {
            for (let i = 0; i <= 10; i++) {
              const p = subtract(pointAt(s, i / 10), centre);
              expect(Math.abs(distance(p, focus) + distance(p, scale(focus, -1)) - 2 * r)).toBeLessThan(2e-4);
            }
          }
          const at = (u: number): Point => {
            const own = turn({ x: r * Math.cos(u), y: r * ratio * Math.sin(u) }, way);
            return { x: centre.x + own.x, y: centre.y + own.y };
          };
          expect(distance((segments[0] as Segment).from, at(start))).toBeLessThan(1e-9);
          expect(distance((segments[segments.length - 1] as Segment).to, at(start + sweep))).toBeLessThan(1e-9);
          expectEndToEnd(segments);
          // Anticlockwise: every part turns left.
          for (const s of segments) expect(curvatureAt(s, 0.5)).toBeGreaterThan(0);
        },
      ),
      { numRuns: 80 },
    );
  });

  it('is a circular arc when both axes are alike, closed when it goes all round, nothing without axes', () => {
    const round = ellipseToSegments({ x: 1, y: 2 }, { x: 0, y: 5 }, 1, 0, 2 * Math.PI);
    expect(round).toHaveLength(1);
    expect(round[0]?.kind).toBe('arc');
    expect(round[0]?.from).toEqual(round[0]?.to);
    expect(lengthOf(round[0] as Segment)).toBeCloseTo(10 * Math.PI, 9);
    expect(ellipseToSegments({ x: 0, y: 0 }, { x: 0, y: 0 }, 0.5, 0, 1)).toEqual([]);
  });

  it('of half axes 2 and 1 is 9.68844822 round', () => {
    // 4a E(m), m = 3/4: E(3/4) = 1.21105603 (Abramowitz & Stegun 1964, table 17.1, value from memory).
    const all = ellipseToSegments({ x: 0, y: 0 }, { x: 2000, y: 0 }, 0.5, 0, 0);
    expect(all.reduce((sum, s) => sum + lengthOf(s), 0) / 1000).toBeCloseTo(8 * 1.21105603, 5);
  });
});

describe("SVG's elliptical arc", () => {
  it('starts and ends where it should and lies on an ellipse of the given axes', () => {
    fc.assert(
      fc.property(
        place,
        place,
        number(5, 600),
        number(5, 600),
        angle,
        fc.boolean(),
        fc.boolean(),
        (a, b, rx, ry, way, large, sweep) => {
          fc.pre(distance(a, b) > 1);
          const segments = svgArcToSegments(a, rx, ry, way, large, sweep, b);
          expect(segments[0]?.from).toEqual(a);
          expect(segments[segments.length - 1]?.to).toEqual(b);
          expectEndToEnd(segments);
          // In the ellipse's own stretched axes it is a circle through both ends: one centre, found from three points.
          const own = (p: Point): Point => {
            const q = turn(p, -way);
            return { x: q.x / rx, y: q.y / ry };
          };
          const points = segments.flatMap((s) => [0, 0.25, 0.5, 0.75, 1].map((t) => own(pointAt(s, t))));
          const third = points[Math.floor(points.length / 2)] as Point;
          const centre = circumcentre(own(a), third, own(b));
          const radius = distance(centre, own(a));
          fc.pre(radius < 50);
          for (const p of points) expect(Math.abs(distance(p, centre) - radius)).toBeLessThan(1e-4);
          // Radii are kept when they reach, else enlarged together to a half turn.
          const reach = distance(own(a), own(b)) / 2;
          expect(Math.abs(radius - Math.max(1, reach))).toBeLessThan(1e-3 * radius);
          if (reach < 0.99) {
            const turned = segments.reduce((sum, s) => sum + turning(s, own), 0);
            expect(turned > 0).toBe(sweep);
            expect(Math.abs(turned) > Math.PI).toBe(large);
          }
        },
      ),
      { numRuns: 150 },
    );
  });

  it('is a straight line without radius, nothing between equal points', () => {
    const [a, b] = [
      { x: 0, y: 0 },
      { x: 3, y: 4 },
    ];
    expect(svgArcToSegments(a, 0, 5, 0, false, true, b).map((s) => s.kind)).toEqual(['line']);
    expect(svgArcToSegments(a, 5, 5, 0, false, true, a)).toEqual([]);
    expect(svgArcToSegments(a, 5, 5, 1, false, true, b).map((s) => s.kind)).toEqual(['arc']);
  });
});

const circumcentre = (a: Point, b: Point, c: Point): Point => {
  const [p, q] = [subtract(b, a), subtract(c, a)];
  const d = 2 * cross(p, q);
  const [pp, qq] = [dot(p, p), dot(q, q)];
  return { x: a.x + (q.y * pp - p.y * qq) / d, y: a.y + (p.x * qq - q.x * pp) / d };
};

/** Angle by which the direction of a segment turns, seen in other axes; in small steps. */
const turning = (s: Segment, own: (p: Point) => Point): number => {
  let sum = 0;
  const steps = 24;
  for (let i = 1; i < steps; i++) {
    const [p, q, r] = [i - 1, i, i + 1].map((k) => own(pointAt(s, k / steps))) as [Point, Point, Point];
    const [u, v] = [subtract(q, p), subtract(r, q)];
    sum += Math.atan2(cross(u, v), dot(u, v));
  }
  return (sum * steps) / (steps - 1);
};

const spline: fc.Arbitrary<BSpline> = fc
  .tuple(
    fc.integer({ min: 1, max: 5 }),
    fc
      .array(place, { minLength: 6, maxLength: 10 })
      .filter((list) => list.every((p, i) => i === 0 || distance(p, list[i - 1] as Point) > 1)),
    fc.array(number(0.2, 2), { minLength: 16, maxLength: 16 }),
    fc.boolean(),
    fc.boolean(),
  )
  .map(([degree, controls, steps, clamped, twice]) => {
    const doubled = twice && degree > 1;
    const count = controls.length + degree + 1;
    const knots: number[] = [];
    let at = 0;
    for (let i = 0; i < count; i++) {
      const outer = clamped && (i <= degree || i > controls.length);
      const first = i === 0 || (clamped && i <= degree) || (clamped && i > controls.length);
      if (i > 0 && !(outer && first && i !== controls.length) && !(doubled && i === degree + 2))
        at += steps[i] as number;
      knots.push(at);
    }
    if (clamped) for (let i = controls.length; i < count; i++) knots[i] = knots[controls.length] as number;
    return { degree, controls, knots };
  });

/** The Cox-de Boor recursion, written out from its definition: an evaluation that shares nothing with the tested one. */
const coxDeBoor = (s: BSpline, u: number): Point => {
  const basis = (i: number, p: number): number => {
    const [k0, k1] = [s.knots[i] as number, s.knots[i + 1] as number];
    if (p === 0) return u >= k0 && u < k1 ? 1 : 0;
    const kp = s.knots[i + p] as number;
    const kq = s.knots[i + p + 1] as number;
    const a = kp > k0 ? ((u - k0) / (kp - k0)) * basis(i, p - 1) : 0;
    const b = kq > k1 ? ((kq - u) / (kq - k1)) * basis(i + 1, p - 1) : 0;
    return a + b;
  };
  let [x, y, w] = [0, 0, 0];
  s.controls.forEach((c, i) => {
    const b = basis(i, s.degree) * (s.weights?.[i] ?? 1);
    x += b * c.x;
    y += b * c.y;
    w += b;
  });
  return { x: x / w, y: y / w };
};

describe('a B-spline', () => {
  it('evaluates as the Cox-de Boor recursion does, clamped or not, weighted or not', () => {
    fc.assert(
      fc.property(spline, number(0, 0.999), fc.boolean(), (s, k, weighted) => {
        const given = weighted ? { ...s, weights: s.controls.map((_, i) => 1 + (i % 3) / 2) } : s;
        const [a, b] = [s.knots[s.degree] as number, s.knots[s.controls.length] as number];
        const u = a + k * (b - a);
        expect(splineFault(given)).toBeUndefined();
        expect(distance(splinePointAt(given, u), coxDeBoor(given, u))).toBeLessThan(1e-8);
      }),
      { numRuns: 200 },
    );
  });

  it('becomes cubics that pass through all its points: exact to degree 3, else within the deviation told', () => {
    fc.assert(
      fc.property(spline, fc.boolean(), (s, weighted) => {
        const given = weighted ? { ...s, weights: s.controls.map((_, i) => 1 + (i % 3) / 2) } : s;
        const { segments, deviation } = splineToCubics(given);
        const exact = s.degree <= 3 && !weighted;
        if (exact) expect(deviation).toBe(0);
        // Wild control points make cusps, where the fit gives up at its depth: calm ones are held to the tolerance.
        expect(deviation).toBeLessThan(1.1e-3);
        expectEndToEnd(segments);
        const [a, b] = [s.knots[s.degree] as number, s.knots[s.controls.length] as number];
        for (let i = 0; i < 40; i++) {
          const p = coxDeBoor(given, a + ((b - a) * (i + 0.5)) / 40);
          const off = Math.min(...segments.map((c) => nearestOn(c, p).distance));
          expect(off).toBeLessThan(exact ? 1e-7 : 2e-3);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('draws a quarter circle from three weighted points', () => {
    // Piegl & Tiller, The NURBS Book (1997), 7.3: weights 1, cos 45°, 1 give the exact quarter circle.
    const { segments } = splineToCubics({
      degree: 2,
      controls: [
        { x: 100, y: 0 },
        { x: 100, y: 100 },
        { x: 0, y: 100 },
      ],
      knots: [0, 0, 0, 1, 1, 1],
      weights: [1, Math.SQRT1_2, 1],
    });
    for (const s of segments)
      for (let i = 0; i <= 20; i++) expect(Math.abs(size(pointAt(s, i / 20)) - 100)).toBeLessThan(1.1e-3);
    expect(segments.length).toBeLessThanOrEqual(8);
  });

  it('says what is wrong with one that cannot be drawn', () => {
    const controls = [
      { x: 0, y: 0 },
      { x: 1, y: 0 },
      { x: 2, y: 0 },
      { x: 3, y: 1 },
    ];
    expect(splineFault({ degree: 3, controls, knots: [0, 0, 0, 0, 1, 1, 1] })).toContain('7 knots where 8');
    expect(splineFault({ degree: 3, controls, knots: [0, 0, 0, 0, 0, 0, 0, 0] })).toContain('one place');
    expect(splineFault({ degree: 3, controls, knots: [0, 0, 0, 0, 1, 1, 1, 0] })).toContain('fall');
    expect(splineFault({ degree: 4, controls, knots: [] })).toContain('4 control points for degree 4');
    const twice = splineFault({ degree: 1, controls, knots: [0, 0, 1, 1, 2, 2] });
    expect(twice).toContain('breaks apart');
    expect(() => splineToCubics({ degree: 0, controls, knots: [] })).toThrow('degree 0');
  });
});

describe('cubics as one B-spline', () => {
  it('come back as they were', () => {
    fc.assert(
      fc.property(fc.array(wildCubic, { minLength: 1, maxLength: 5 }), fc.boolean(), (list, smooth) => {
        const joined: CubicSegment[] = [];
        for (const s of list) {
          const before = joined[joined.length - 1];
          const from = before?.to ?? s.from;
          const handle =
            before && smooth ? scale(subtract(before.to, before.control2), 0.7) : subtract(s.control1, s.from);
          joined.push({ ...s, from, control1: { x: from.x + handle.x, y: from.y + handle.y } });
        }
        fc.pre(joined.every((s) => distance(s.from, s.control1) > 1 && distance(s.control2, s.to) > 1));
        const made = cubicsToSpline(joined);
        expect(splineFault(made)).toBeUndefined();
        const back = splineToCubics(made).segments;
        expect(back).toHaveLength(joined.length);
        back.forEach((s, i) => {
          const was = joined[i] as CubicSegment;
          for (const key of ['from', 'control1', 'control2', 'to'] as const)
            expect(distance(s[key], was[key])).toBeLessThan(1e-6);
        });
        // A smooth joint needs no control point of its own.
        if (smooth) expect(made.controls.length).toBeLessThanOrEqual(3 * joined.length + 1 - (joined.length - 1));
      }),
      { numRuns: 100 },
    );
  });
});

describe('a spline through points', () => {
  const row = fc.array(fc.tuple(number(5, 60), number(-30, 30)), { minLength: 2, maxLength: 9 }).map((steps) => {
    let x = 0;
    return steps.map(([dx, y]) => {
      x += dx;
      return { x, y };
    });
  });

  it('passes through them with continuous direction and curvature', () => {
    fc.assert(
      fc.property(row, (points) => {
        const segments = splineThrough(points);
        expect(segments).toHaveLength(points.length - 1);
        for (const [i, s] of segments.entries()) expect([s.from, s.to]).toEqual([points[i], points[i + 1]]);
        segments.slice(1).forEach((s, i) => {
          const before = segments[i] as CubicSegment;
          expect(distance(tangentAt(before, 1), tangentAt(s, 0))).toBeLessThan(1e-9);
          expect(curvatureAt(s, 0)).toBeCloseTo(curvatureAt(before, 1), 6);
        });
        expect(curvatureAt(segments[0] as CubicSegment, 0)).toBeCloseTo(0, 7);
      }),
      { numRuns: 100 },
    );
  });

  it('leaves and arrives as it is told, and is the same from the other end', () => {
    fc.assert(
      fc.property(row, angle, angle, (points, a, b) => {
        const [out, back] = [turn({ x: 3, y: 0 }, a), turn({ x: 1, y: 0 }, b)];
        const segments = splineThrough(points, out, back);
        expect(distance(tangentAt(segments[0] as CubicSegment, 0), turn({ x: 1, y: 0 }, a))).toBeLessThan(1e-9);
        const other = splineThrough([...points].reverse(), scale(back, -1), scale(out, -1));
        const turned = other.map(reversed).reverse();
        for (const [i, s] of segments.entries()) {
          expect(distance(pointAt(s, 0.4), pointAt(turned[i] as Segment, 0.4))).toBeLessThan(1e-7);
        }
      }),
      { numRuns: 60 },
    );
  });
});

it('keeps a calm curve calm through spline and back', () => {
  fc.assert(
    fc.property(calmCubic, (s) => {
      const [back] = splineToCubics(cubicsToSpline([s])).segments;
      for (let i = 0; i <= 10; i++)
        expect(distance(pointAt(back as Segment, i / 10), pointAt(s, i / 10))).toBeLessThan(1e-9);
    }),
  );
});
