import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { flatten } from '../../src/geometry/flatten.ts';
import { encloses, nearestOnPath, pathLength, polyline } from '../../src/geometry/path.ts';
import { add, ORIGIN, scale } from '../../src/geometry/point.ts';
import { transformPath } from '../../src/geometry/transform.ts';
import { contourOf } from '../../src/layout/contour.ts';
import { letter, uprightAngle } from '../../src/layout/lettering.ts';
import { textCorners } from '../../src/layout/marks.ts';
import { templateOf } from '../../src/layout/template.ts';
import { angle, outline, place } from '../geometry/arbitrary.ts';
import { patternOf } from './laying.ts';

const FILES = ['skirt-cubics.svg', 'skirt-six-gores-cm-dutch.svg', 'skirt-apparel-mm.dxf'];

describe('notches', () => {
  it('stand on the cutting line, square to it, no deeper than half the allowance, and on the seam line too', async () => {
    for (const file of FILES) {
      for (const piece of (await patternOf(file)).pieces) {
        const template = templateOf(piece, '', { lay: 'paper', line: 'cutting' });
        const notches = template.marks.filter((m) => m.kind === 'notch');
        expect(notches.length, piece.id).toBe(piece.notches.reduce((sum, n) => sum + n.count, 0));
        const cut = template.marks.find((m) => m.kind === 'path' && m.purpose === 'cut');
        if (cut?.kind !== 'path') throw new Error('the cutting line is drawn');
        const seam = transformPath(template.lie, contourOf(piece, 'seam').path);
        for (const n of notches) {
          if (n.kind !== 'notch') continue;
          expect(nearestOnPath(cut.path, n.at)?.distance).toBeLessThan(1e-6);
          expect(n.depth).toBeLessThanOrEqual(7.5 + 1e-3);
          expect(encloses(cut.path, add(n.at, scale(n.inward, n.depth)))).toBe(true);
          expect(encloses(seam, add(n.at, scale(n.inward, n.depth)))).toBe(false);
        }
        const strokes = template.marks.filter(
          (m) => m.kind === 'path' && m.purpose === 'seam' && m.path.segments.length === 1 && pathLength(m.path) < 10,
        );
        for (const m of strokes) {
          if (m.kind !== 'path') continue;
          expect(nearestOnPath(seam, m.path.segments[0]?.from ?? ORIGIN)?.distance).toBeLessThan(1e-6);
        }
        expect(strokes.length).toBe(notches.length);
      }
    }
  });

  it('are never cut into a seam line', async () => {
    const pattern = await patternOf('skirt-bulges-mirrored-cm-french-seam-line.dxf');
    for (const piece of pattern.pieces) {
      const template = templateOf(piece, '', { lay: 'paper', line: 'cutting' });
      expect(template.marks.filter((m) => m.purpose === 'notch')).toEqual([]);
      expect(template.findings.map((f) => f.code)).toContain('layout-seam-as-cut');
      expect(contourOf(piece, 'cutting').allowed).toBe(false);
    }
  });
});

describe('lettering', () => {
  it('stands upright, inside the piece, clear of other texts; what has no room is told', () => {
    fc.assert(
      fc.property(outline, place, angle, fc.integer({ min: 3, max: 24 }), (path, near, turned, letters) => {
        const ring = flatten(path, 0.5);
        const text = 'm'.repeat(letters);
        const given = [0, 1].map(() => ({ text, height: 8, angle: turned, near }));
        const { texts, findings } = letter(ring, given, 'p');
        expect(texts.length).toBe(2);
        const outside = findings.filter((f) => f.code === 'layout-text-outside').length;
        let clear = 0;
        for (const t of texts) {
          expect(Math.cos(t.angle)).toBeGreaterThan(-2e-3);
          if (textCorners(t).every((p) => encloses(polyline(ring, true), p))) clear++;
        }
        expect(clear).toBeGreaterThanOrEqual(2 - outside);
      }),
      { numRuns: 40 },
    );
  });

  it('reads up a line that is drawn a hair off the straight', () => {
    for (const off of [-1e-6, 0, 1e-6]) {
      expect(uprightAngle(-Math.PI / 2 + off)).toBeCloseTo(Math.PI / 2, 5);
      expect(uprightAngle(Math.PI / 2 + off)).toBeCloseTo(Math.PI / 2, 5);
      expect(Math.abs(uprightAngle(Math.PI + off))).toBeLessThan(1e-5);
    }
  });
});
