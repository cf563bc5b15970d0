import fc from 'fast-check';
import type { Path } from '../../src/geometry/path.ts';
import { add, cross, distance, type Point, scale, subtract, unit } from '../../src/geometry/point.ts';
import { arcAbout, arcFromBulge, type CubicSegment, cubic, line, type Segment } from '../../src/geometry/segment.ts';

/** Random geometry of the size of pattern pieces: millimetres, up to half a metre from the origin. */

/** Evenly spread over the range (fc.double favours the tiny), in a million steps, both ends now and then. */
export const number = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1_000_000 }).map((k) => min + ((max - min) * k) / 1_000_000);

export const place: fc.Arbitrary<Point> = fc.record({ x: number(-500, 500), y: number(-500, 500) });

export const angle = number(-Math.PI, Math.PI);

export const anyLine = fc
  .tuple(place, place)
  .filter(([a, b]) => distance(a, b) > 1)
  .map(([a, b]) => line(a, b));

export const anyArc = fc
  .tuple(place, number(1, 400), angle, number(0.05, 2 * Math.PI), fc.boolean())
  .map(([centre, r, start, sweep, left]) => arcAbout(centre, r, start, left ? sweep : -sweep));

/** Any four points: loops, cusps and all. */
export const wildCubic: fc.Arbitrary<CubicSegment> = fc
  .tuple(place, place, place, place)
  .filter(([a, , , d]) => distance(a, d) > 1)
  .map(([a, b, c, d]) => cubic(a, b, c, d));

/** A curve as seams have them: handles of about a third of the chord, turned by less than a right angle. */
export const calmCubic: fc.Arbitrary<CubicSegment> = fc
  .tuple(place, angle, number(20, 400), number(-1, 1), number(-1, 1), number(0.2, 0.45), number(0.2, 0.45))
  .map(([from, way, length, out, back, k0, k1]) => {
    const polar = (a: number, r: number): Point => ({ x: r * Math.cos(a), y: r * Math.sin(a) });
    const to = add(from, polar(way, length));
    return cubic(from, add(from, polar(way + out, k0 * length)), subtract(to, polar(way + back, k1 * length)), to);
  });

export const anySegment: fc.Arbitrary<Segment> = fc.oneof(anyLine, anyArc, wildCubic);
export const calmSegment: fc.Arbitrary<Segment> = fc.oneof(anyLine, anyArc, calmCubic);

/**
 * A closed anticlockwise outline round the origin with 3 to 9 corners, its sides straight, bulged or curved a little:
 * simple, since every side stays near the chord of its sector.
 */
export const outline: fc.Arbitrary<Path> = fc
  .array(
    fc.record({
      r: number(150, 260),
      kind: fc.constantFrom('line', 'arc', 'cubic'),
      bow: number(-0.1, 0.1),
      lean: number(-0.1, 0.1),
    }),
    {
      minLength: 3,
      maxLength: 9,
    },
  )
  .map((corners) => {
    const n = corners.length;
    const at = (i: number): Point => {
      const r = corners[i % n]?.r ?? 0;
      return { x: r * Math.cos((2 * Math.PI * (i % n)) / n), y: r * Math.sin((2 * Math.PI * (i % n)) / n) };
    };
    const segments = corners.map(({ kind, bow, lean }, i): Segment => {
      const from = at(i);
      const to = at(i + 1);
      if (kind === 'arc' && Math.abs(bow) > 1e-3) return arcFromBulge(from, to, bow);
      if (kind !== 'cubic') return line(from, to);
      const chord = subtract(to, from);
      const side = { x: -chord.y, y: chord.x };
      return cubic(
        from,
        add(add(from, scale(chord, 1 / 3)), scale(side, bow)),
        add(add(from, scale(chord, 2 / 3)), scale(side, lean)),
        to,
      );
    });
    return { segments, closed: true };
  });

/** Sine of the angle between two directions: 0 when one runs on in the other or against it. */
export const sineBetween = (a: Point, b: Point): number => cross(unit(a), unit(b));
