import { describe, expect, it } from 'vitest';
import { lettering, letteringWidth } from '../../src/formats/lettering.ts';
import { LETTERS, MARKS, SMALL_CAPITALS } from '../../src/formats/letters.ts';
import type { TextMark } from '../../src/formats/sheet.ts';
import { EMPTY_BOUNDS, unionBounds } from '../../src/geometry/bounds.ts';
import { pathBounds } from '../../src/geometry/path.ts';

const mark = (text: string, more: Partial<TextMark> = {}): TextMark => ({
  ...{ kind: 'text', purpose: 'text', text, at: { x: 0, y: 0 }, anchor: 'start', angle: 0, height: 12, ...more },
});
const box = (m: TextMark) => lettering(m).strokes.reduce((b, s) => unionBounds(b, pathBounds(s)), EMPTY_BOUNDS);

describe('stroked letters', () => {
  it('are as high as asked and stand on the base line', () => {
    const b = box(mark('HEX', { height: 7 }));
    expect(b.minY).toBeCloseTo(0, 9);
    expect(b.maxY).toBeCloseTo(7, 9);
  });

  it('are narrowed to their room, and no narrower', () => {
    const wide = box(mark('centre front', { room: 40 }));
    expect(wide.maxX).toBeLessThanOrEqual(40 + 1e-9);
    expect(wide.maxX).toBeGreaterThan(38);
    expect(box(mark('CF', { room: 500 })).maxX).toBeCloseTo(letteringWidth('CF', 12), 0);
  });

  it('stand about their middle, and turn about their place', () => {
    const b = box(mark('HOH', { anchor: 'middle', at: { x: 100, y: 50 } }));
    expect((b.minX + b.maxX) / 2).toBeCloseTo(100, 6);
    const upright = box(mark('HOH', { angle: Math.PI / 2, at: { x: 100, y: 50 } }));
    expect(upright.maxX).toBeCloseTo(100, 6);
    expect(upright.minY).toBeCloseTo(50, 6);
  });

  it('have every letter of the eight label languages that are not written in kana or kanji', () => {
    const words =
      'Fadenläufe Größe Übergröße drittofilo lunghezza però più droit-fil côté à l’ourlet cœur doblez señal ¿añadir? fio reto coração não draadrichting één “cut 2” ½ ⅝″ 1 × 2 №';
    expect(lettering(mark(words)).missing).toEqual([]);
    expect(lettering(mark('ΑΒΓ αβγ ώ Ж я й ї ґ')).missing).toEqual([]);
  });

  it('tell what they have not, and draw a box for it', () => {
    const { missing, strokes } = lettering(mark('前A中前'));
    expect(missing).toEqual(['前', '中']);
    expect(strokes.length).toBe(3 + 2);
  });

  it('are drawn in figures that can be read', () => {
    const all = [...Object.values(LETTERS), ...Object.values(MARKS).map((m) => m.strokes)];
    for (const drawn of all)
      expect(drawn).toMatch(/^(?:~?[0-9a-z]{2}(?: [0-9a-z]{2})+\|)*~?[0-9a-z]{2}(?: [0-9a-z]{2})+$/);
    for (const capital of Object.values(SMALL_CAPITALS)) expect(LETTERS[capital]).toBeDefined();
  });
});
