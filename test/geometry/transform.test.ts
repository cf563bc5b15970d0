import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pathLength, signedArea } from '../../src/geometry/path.ts';
import { distance, type Point } from '../../src/geometry/point.ts';
import { lengthOf, nearestOn, pointAt } from '../../src/geometry/segment.ts';
import {
  type Affine,
  apply,
  applyToVector,
  compose,
  determinant,
  IDENTITY,
  inverse,
  isRigid,
  isSimilarity,
  mirrorIn,
  rotation,
  scaling,
  skewing,
  stretches,
  transformPath,
  transformSegment,
  translation,
} from '../../src/geometry/transform.ts';
import { angle, anyArc, anySegment, number, outline, place } from './arbitrary.ts';

const affine: fc.Arbitrary<Affine> = fc
  .tuple(angle, angle, number(0.2, 4), number(0.2, 4), fc.boolean(), place)
  .map(([first, second, kx, ky, mirrored, shift]) =>
    compose(translation(shift), compose(rotation(second), compose(scaling(kx, mirrored ? -ky : ky), rotation(first)))),
  );
const similarity: fc.Arbitrary<Affine> = fc
  .tuple(angle, number(0.2, 4), fc.boolean(), place)
  .map(([way, k, mirrored, shift]) =>
    compose(translation(shift), compose(rotation(way), scaling(k, mirrored ? -k : k))),
  );
const near = (a: Point, b: Point, by: number): void => expect(distance(a, b)).toBeLessThan(by);

describe('a map', () => {
  it('after another is the composed one, and goes back by its inverse', () => {
    fc.assert(
      fc.property(affine, affine, place, (m, n, p) => {
        near(apply(compose(m, n), p), apply(m, apply(n, p)), 1e-6);
        const back = inverse(m);
        expect(back).toBeDefined();
        near(apply(back as Affine, apply(m, p)), p, 1e-6);
        expect(determinant(compose(m, n))).toBeCloseTo(determinant(m) * determinant(n), 5);
      }),
    );
    expect(inverse(scaling(1, 0))).toBeUndefined();
    expect(inverse({ a: 1, b: 2, c: 2, d: 4, e: 0, f: 0 })).toBeUndefined();
    expect(inverse(scaling(1e-5))).toBeDefined();
  });

  it('stretches no vector by more or less than it says', () => {
    fc.assert(
      fc.property(affine, angle, (m, way) => {
        const [most, least] = stretches(m);
        const v = applyToVector(m, { x: Math.cos(way), y: Math.sin(way) });
        expect(Math.hypot(v.x, v.y)).toBeLessThan(most + 1e-9);
        expect(Math.hypot(v.x, v.y)).toBeGreaterThan(least - 1e-9);
        expect(most * least).toBeCloseTo(Math.abs(determinant(m)), 6);
      }),
    );
  });

  it('knows turns, mirrors and even scales from the rest', () => {
    fc.assert(
      fc.property(similarity, (m) => {
        expect(isSimilarity(m)).toBe(true);
      }),
    );
    expect(isSimilarity(skewing(0.01, 0))).toBe(false);
    expect(isSimilarity(scaling(1, 1.0001))).toBe(false);
    expect(isRigid(rotation(0.3, { x: 4, y: 5 }))).toBe(true);
    expect(isRigid(mirrorIn({ x: 1, y: 2 }, { x: 3, y: 1 }))).toBe(true);
    expect(isRigid(scaling(1.00001))).toBe(false);
    expect(isRigid(IDENTITY)).toBe(true);
  });

  it('mirrors in a line: points on it stay, twice is nothing', () => {
    fc.assert(
      fc.property(place, angle, place, (through, way, p) => {
        const direction = { x: 3 * Math.cos(way), y: 3 * Math.sin(way) };
        const m = mirrorIn(through, direction);
        near(
          apply(m, { x: through.x + 7 * direction.x, y: through.y + 7 * direction.y }),
          {
            x: through.x + 7 * direction.x,
            y: through.y + 7 * direction.y,
          },
          1e-9,
        );
        near(apply(m, apply(m, p)), p, 1e-9);
        expect(determinant(m)).toBeCloseTo(-1, 9);
      }),
    );
  });
});

describe('the image of a segment', () => {
  it('passes where its points are mapped', () => {
    fc.assert(
      fc.property(affine, anySegment, number(0, 1), (m, s, t) => {
        const images = transformSegment(m, s);
        const p = apply(m, pointAt(s, t));
        expect(Math.min(...images.map((i) => nearestOn(i, p).distance))).toBeLessThan(1.05e-4);
        for (const [i, image] of images.slice(1).entries()) expect(image.from).toEqual(images[i]?.to);
      }),
      { numRuns: 200 },
    );
  });

  it('of an arc stays one arc under turn, mirror and even scale', () => {
    fc.assert(
      fc.property(similarity, anyArc, number(0, 1), (m, s, t) => {
        const images = transformSegment(m, s);
        expect(images.map((i) => i.kind)).toEqual(['arc']);
        near(pointAt(images[0] as (typeof images)[0], t), apply(m, pointAt(s, t)), 1e-6);
        expect(lengthOf(images[0] as (typeof images)[0])).toBeCloseTo(stretches(m)[0] * lengthOf(s), 5);
      }),
    );
  });
});

it('scales the area of an outline by the determinant and, rigid, keeps its length', () => {
  fc.assert(
    fc.property(affine, outline, (m, path) => {
      const image = transformPath(m, path);
      const wanted = determinant(m) * signedArea(path);
      expect(Math.abs(signedArea(image) - wanted)).toBeLessThan(1e-6 * Math.abs(wanted) + 0.5);
      const turned = transformPath(rotation(1, { x: 40, y: -3 }), path);
      expect(pathLength(turned)).toBeCloseTo(pathLength(path), 4);
    }),
    { numRuns: 80 },
  );
});
