import { describe, expect, it } from 'vitest';
import { pathBounds } from '../../src/geometry/path.ts';
import { layOut } from '../../src/layout/lay-out.ts';
import { markBounds } from '../../src/layout/marks.ts';
import { LAY_OUT, patternOf, ringOf, worstOverlap } from './laying.ts';

const laid = async (longest: number | undefined, copies: number) => {
  const pattern = await patternOf('skirt-six-gores-cm-dutch.svg');
  const sets = Array.from({ length: copies }, (_, i) => ({ fitting: `Singer ${i + 1}`, pieces: pattern.pieces }));
  const options = { ...LAY_OUT, roll: 914.4, effort: 60, ...(longest === undefined ? {} : { longest }) };
  const { laid: found, findings } = layOut(sets, options);
  if (!found) throw new Error('nothing was laid out');
  return { found, findings };
};

describe('a roll in frames', () => {
  it('ends each frame between pieces: none is longer than it may be, no piece is cut, none is lost', async () => {
    for (const longest of [1000, 1400, 5080]) {
      const { found } = await laid(longest, 3);
      const sheet = found.sheet(longest);
      const labels = new Set(found.pieces.map((p) => p.label));
      expect(labels.size).toBe(21);
      const seen: string[] = [];
      for (const frame of sheet.frames) {
        expect(frame.width).toBeLessThanOrEqual(longest + 1e-6);
        expect(frame.height).toBe(914.4);
        for (const m of frame.marks) {
          if (m.kind === 'text') continue;
          const box = markBounds(m);
          expect(box.minX).toBeGreaterThanOrEqual(0);
          expect(box.maxX).toBeLessThanOrEqual(frame.width);
          expect(box.minY).toBeGreaterThanOrEqual(0);
          expect(box.maxY).toBeLessThanOrEqual(frame.height);
        }
        seen.push(...new Set(frame.marks.flatMap((m) => m.piece ?? [])));
      }
      expect(seen.length).toBe(21);
      expect(new Set(seen)).toEqual(labels);
      expect(worstOverlap(found.pieces.map((p) => ringOf(p.piece)))).toBeLessThan(1e-4);
    }
  });

  it('is one frame for a format without a longest page, with every piece where the frames have it', async () => {
    const { found, findings } = await laid(1000, 2);
    const [whole, ...more] = found.sheet(undefined).frames;
    expect(more).toEqual([]);
    expect(whole?.width).toBeCloseTo(found.length, 6);
    expect(findings.map((f) => f.code)).toContain('layout-moved-for-frames');
    for (const piece of found.pieces) {
      const cut = whole?.marks.find((m) => m.piece === piece.label && m.purpose === 'cut');
      if (cut?.kind !== 'path') throw new Error('every piece is cut');
      const box = pathBounds(cut.path);
      expect([box.minX, box.minY, box.maxX, box.maxY].map((v) => v.toFixed(6))).toEqual(
        [piece.bounds.minX, piece.bounds.minY, piece.bounds.maxX, piece.bounds.maxY].map((v) => v.toFixed(6)),
      );
    }
  });

  it('draws a 100 mm and a 4 in square at its start, clear of all pieces', async () => {
    const { found } = await laid(undefined, 1);
    const marks = found.sheet(undefined).frames[0]?.marks ?? [];
    const squares = marks.filter((m) => m.purpose === 'guide' && m.kind === 'path' && m.path.closed).map(markBounds);
    expect(squares.map((b) => (b.maxX - b.minX).toFixed(6))).toEqual(['100.000000', '101.600000']);
    expect(squares.map((b) => (b.maxY - b.minY).toFixed(6))).toEqual(['100.000000', '101.600000']);
    for (const s of squares) for (const p of found.pieces) expect(s.maxX).toBeLessThan(p.bounds.minX);
  });
});
