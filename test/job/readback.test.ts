import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PathDrawable } from '../../src/formats/drawing.ts';
import { point } from '../../src/geometry/point.ts';
import type { Segment } from '../../src/geometry/segment.ts';
import { arc, lengthOf, line, reversed, splitAt } from '../../src/geometry/segment.ts';
import { readBack, sizeDifference } from '../../src/job/readback.ts';
import { drawingOf, pathDrawable, patternOf, pieceOf, spansOf } from './handmade.ts';

const corners = [point(0, 0), point(100, 0), point(100, 100), point(0, 100)] as const;
const [a, b, c, d] = corners;
const outline: readonly Segment[] = [
  line(a, b),
  arc(b, c, point(80, 50), 2 * Math.atan2(50, 20)),
  line(c, d),
  line(d, a),
];
const drawable = pathDrawable('d', outline, true);
const pattern = patternOf(pieceOf(spansOf(drawable)));
const seam = (p: typeof pattern) => p.pieces[0]?.seamLine.spans ?? [];
const reread = (segments: readonly Segment[], id = 'd') => drawingOf([pathDrawable(id, segments, true)]);

/** The same outline as a format might bring it back: other start, other direction, segments cut in two. */
const writings = fc
  .record({ start: fc.nat(3), turned: fc.boolean(), cut: fc.array(fc.boolean(), { minLength: 4, maxLength: 4 }) })
  .map(({ start, turned, cut }) => {
    const cutUp = outline.map((s, i) => (cut[i] ? splitAt(s, 0.4).filter((x) => x !== undefined) : [s]));
    const ring = [...cutUp.slice(start), ...cutUp.slice(0, start)].flat();
    return turned ? ring.toReversed().map(reversed) : ring;
  });

describe('readBack', () => {
  it('finds every stretch again, however the file draws it', () => {
    fc.assert(
      fc.property(writings, (segments) => {
        const { pattern: measured, deviation, findings } = readBack(pattern, drawingOf([drawable]), reread(segments));
        expect(findings).toEqual([]);
        expect(deviation).toBeLessThan(1e-9);
        for (const [i, span] of seam(measured).entries()) {
          const meant = outline[i] as Segment;
          const length = span.segments.reduce((sum, s) => sum + lengthOf(s), 0);
          expect(length).toBeCloseTo(lengthOf(meant), 9);
          expect(span.segments[0]?.from.x).toBeCloseTo(meant.from.x, 9);
          expect(span.segments.at(-1)?.to.y).toBeCloseTo(meant.to.y, 9);
        }
      }),
    );
  });

  it('takes the lengths from the written file, not from what was meant', () => {
    const off = point(100.05, 0);
    const written = [line(a, off), { ...(outline[1] as Segment), from: off }, ...outline.slice(2)] as Segment[];
    const { pattern: measured, deviation } = readBack(pattern, drawingOf([drawable]), reread(written));
    expect(lengthOf(seam(measured)[0]?.segments[0] as Segment)).toBeCloseTo(100.05, 9);
    expect(deviation).toBeCloseTo(0.05, 6);
  });

  it('finds a line whose id has changed by where it lies', () => {
    const { findings, deviation } = readBack(pattern, drawingOf([drawable]), reread(outline, 'other'));
    expect(findings).toEqual([]);
    expect(deviation).toBe(0);
  });

  it('refuses a file in which a line lies elsewhere, or is not there', () => {
    const codes = (written: readonly PathDrawable[]) =>
      readBack(pattern, drawingOf([drawable]), drawingOf(written)).findings.map((f) => f.code);
    const corner = point(100, 0.3);
    const askew = [line(a, corner), { ...(outline[1] as Segment), from: corner }, ...outline.slice(2)] as Segment[];
    expect(codes([pathDrawable('d', askew, true)])).toEqual(['job-written-differs']);
    expect(codes([pathDrawable('d', outline.slice(0, 3))])).toEqual(['job-written-line-missing']);
    expect(codes([])).toEqual(['job-written-line-missing']);
  });
});

describe('sizeDifference', () => {
  it('does not mind where on the page a drawing lies', () => {
    const moved = outline.map((s) =>
      s.kind === 'line'
        ? line(shift(s.from), shift(s.to))
        : { ...s, from: shift(s.from), to: shift(s.to), centre: shift(s.kind === 'arc' ? s.centre : s.to) },
    ) as Segment[];
    expect(sizeDifference(reread(outline), reread(moved))).toBeCloseTo(0, 9);
    expect(sizeDifference(reread(outline), drawingOf([pathDrawable('d', [line(a, point(50, 0))])]))).toBeGreaterThan(
      40,
    );
  });
  const shift = (p: { x: number; y: number }) => point(p.x + 1000, p.y - 7);
});
