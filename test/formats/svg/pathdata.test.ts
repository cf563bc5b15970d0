import fc from 'fast-check';
import { SVGPathData } from 'svg-pathdata';
import { describe, expect, it } from 'vitest';
import { arcSegments } from '../../../src/formats/svg/pathdata/arcs.ts';
import { composePath } from '../../../src/formats/svg/pathdata/splice.ts';
import { subpathsOf } from '../../../src/formats/svg/pathdata/subpaths.ts';
import { tokenise } from '../../../src/formats/svg/pathdata/tokens.ts';
import type { Point } from '../../../src/geometry/point.ts';
import { pointAt, type Segment } from '../../../src/geometry/segment.ts';
import { pathData } from './arbitrary.ts';
import { apart } from './helpers.ts';

const segmentsOf = (data: string): Segment[] => subpathsOf(tokenise(data).commands).flatMap((s) => [...s.segments]);
const letters = (data: string): string =>
  tokenise(data)
    .commands.map((c) => c.letter)
    .join('');

describe('path data', () => {
  it('ends and control points are where svg-pathdata has them', () => {
    fc.assert(
      fc.property(pathData, (data) => {
        const plain = data.replace(/[aA][^a-zA-Z]*/g, ' ');
        const theirs: Point[] = [];
        for (const c of new SVGPathData(plain).toAbs().normalizeHVZ().normalizeST().qtToC().commands) {
          if (c.type === SVGPathData.CURVE_TO) theirs.push({ x: c.x1, y: c.y1 }, { x: c.x2, y: c.y2 });
          if (c.type !== SVGPathData.MOVE_TO && 'x' in c && 'y' in c) theirs.push({ x: c.x, y: c.y });
        }
        const ours = segmentsOf(plain).flatMap((s) => (s.kind === 'cubic' ? [s.control1, s.control2, s.to] : [s.to]));
        const missing = ours.filter((p) => !theirs.some((q) => Math.hypot(p.x - q.x, p.y - q.y) < 1e-6));
        expect(missing).toEqual([]);
      }),
      { numRuns: 150 },
    );
  });

  it.each([
    ['M0 0 10 10 20 20', 'MLL'],
    ['m0,0,1-1.5.5e0-.5', 'mll'],
    ['M1 1A5 5 0 0110 10a5 5 0 10-3-.5.5.5 0 00.1.1', 'MAaa'],
    ['M0 0zm1 1z', 'Mzmz'],
    ['\n M \t0 , 0\r\nL 1,1 ', 'ML'],
    ['', ''],
  ])('the grammar of SVG 2, section 9.3.9: %j', (data, wanted) => {
    const tokens = tokenise(data);
    expect(tokens.error).toBeUndefined();
    expect(letters(data)).toBe(wanted);
  });

  it.each([
    ['L0 0', 0, ''],
    ['M0 0L10', 7, 'M'],
    ['M0 0L1 1 NaN 3', 9, 'ML'],
    ['M0 0L1e999 3', 5, 'M'],
    ['M0 0A1 1 0 2 0 5 5', 11, 'M'],
    ['M0 0L,1 1', 5, 'M'],
    ['M0 0z5 5', 5, 'Mz'],
    ['M0 0 B 4', 5, 'M'],
  ])('is read up to its mistake: %j', (data, at, before) => {
    expect(tokenise(data).error?.at).toBe(at);
    expect(letters(data)).toBe(before);
  });

  it('composed anew draws the same', () => {
    fc.assert(
      fc.property(pathData, (data) => {
        for (const { segments, closed } of subpathsOf(tokenise(data).commands)) {
          if (segments.length === 0) continue;
          const again = segmentsOf(composePath(segments, closed, 4, 0.0005));
          if (again.length === segments.length) expect(apart(again, segments)).toBeLessThan(0.002);
          else expect(segments.some((s) => s.kind === 'arc')).toBe(true);
        }
      }),
      { numRuns: 100 },
    );
  });
});

describe('arcs', () => {
  // The four arcs of SVG 2, section 9.3.8 (figure arcs02): same ends and radii, all combinations of the flags.
  it.each([
    [false, false, -1],
    [false, true, 1],
    [true, false, -1],
    [true, true, 1],
  ])('large %s, sweep %s', (large, sweep, sign) => {
    const [s] = arcSegments({ x: 125, y: 75 }, { rx: 100, ry: 100, rotation: 0, large, sweep }, { x: 225, y: 125 });
    if (s?.kind !== 'arc') throw new Error('no arc');
    expect(Math.sign(s.sweep)).toBe(sign);
    expect(Math.abs(s.sweep) > Math.PI).toBe(large);
    expect(Math.hypot(125 - s.centre.x, 75 - s.centre.y)).toBeCloseTo(100, 9);
    expect(Math.hypot(225 - s.centre.x, 125 - s.centre.y)).toBeCloseTo(100, 9);
  });
  it('radii too small are scaled up to half a turn (appendix B.2.5)', () => {
    const [s] = arcSegments({ x: 0, y: 0 }, { rx: 1, ry: 1, rotation: 0, large: false, sweep: true }, { x: 20, y: 0 });
    expect(s?.kind === 'arc' && s.centre).toEqual({ x: 10, y: 0 });
    expect(s?.kind === 'arc' && s.sweep).toBeCloseTo(Math.PI, 12);
  });
  it('points of an elliptical arc satisfy the equation of its ellipse', () => {
    const segments = arcSegments(
      { x: 30, y: 0 },
      { rx: 30, ry: 10, rotation: 0, large: true, sweep: true },
      { x: 0, y: -10 },
    );
    for (const s of segments) {
      for (const t of [0, 0.2, 0.5, 0.9]) {
        const { x, y } = pointAt(s, t);
        expect(Math.hypot(x / 30, y / 10)).toBeCloseTo(1, 5);
      }
    }
  });
  it('a radius of nothing is a straight line', () => {
    expect(
      arcSegments({ x: 0, y: 0 }, { rx: 0, ry: 5, rotation: 0, large: false, sweep: true }, { x: 20, y: 0 })[0]?.kind,
    ).toBe('line');
  });
});
