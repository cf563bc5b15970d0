import { describe, expect, it } from 'vitest';
import type { Drawing } from '../../src/formats/drawing.ts';
import { svg } from '../../src/formats/svg/index.ts';
import { type RecogniseOptions, recognise } from '../../src/recognise/index.ts';
import { writeSheet } from '../../src/recognise/sheet/write.ts';

/* What cannot be told for sure is said, and how to settle it; a wrong unit is said before all else. */

const drawingOf = (body: string, size = 2000): Drawing => {
  const text = `<svg xmlns="http://www.w3.org/2000/svg" width="${size}mm" height="${size}mm" viewBox="0 0 2000 2000" fill="none" stroke="black">${body}</svg>`;
  const { drawing } = svg.read(new TextEncoder().encode(text), { fileName: 'unsure.svg' });
  if (!drawing) throw new Error('not read');
  return drawing;
};
const read = (body: string, options: RecogniseOptions = {}, size = 2000) => recognise(drawingOf(body, size), options);
const words = (text: string, x: number, y: number): string => `<text x="${x}" y="${y}" font-size="8">${text}</text>`;

const SKIRT =
  '<path d="M 100 100 L 100 700 L 340 700 L 340 300 C 340 220 315 160 290 90 C 230 100 160 100 100 100 Z"/>';
const GRAIN = `<path d="M 200 250 L 200 600"/>${words('grain', 205, 450)}`;
const FRONT =
  'M 100 1360 L 380 1360 L 335 760 L 325 560 L 345 360 C 300 350 290 250 295 140 L 175 100 C 165 150 140 180 100 190 Z';

describe('a file in the wrong unit', () => {
  it('whose pieces are too small to be found is told its size and the units that it may have', () => {
    const { pattern, findings } = read(SKIRT + words('Skirt front', 150, 400), {}, 60);
    expect(pattern.pieces).toEqual([]);
    expect(findings[0]?.code).toBe('recognise-size-implausible');
    expect(findings[0]?.message).toContain('18.3 mm high');
    expect(findings[0]?.try).toMatch(/--units/);
    expect(findings.map((f) => f.code)).not.toContain('recognise-no-piece');
  });

  it('whose pieces are found is told that before anything else', () => {
    expect(read(SKIRT + words('Skirt front', 150, 400), {}, 200).findings[0]?.code).toBe('recognise-size-implausible');
  });
});

describe('a closed line shaped like a dart with two tips', () => {
  const lozenge = (turn: number): string =>
    `<path id="L7" transform="translate(12 0) rotate(${turn} 210 575)" d="M 210 440 L 222 560 L 210 710 L 198 560 Z"/>`;
  const front = `<path d="${FRONT}"/>${words('Dress front', 150, 900)}${words('Cut 1 on fold', 150, 920)}`;

  it('is a dart where it lies along a straight edge of the piece', () => {
    const { pattern } = read(front + lozenge(0));
    expect(pattern.pieces[0]?.darts.filter((d) => d.otherTip)).toHaveLength(1);
  });

  it('is told, and left as it lies, where nothing else speaks for it', () => {
    const { pattern, findings } = read(front + lozenge(50));
    expect(pattern.pieces[0]?.darts).toEqual([]);
    expect(findings.find((f) => f.code === 'recognise-inner-dart-unsure')?.try).toContain('dart');
  });
});

describe('the centre of a back that may be a seam or the fold', () => {
  it('is not stated to be sewn in the sheet that is written', () => {
    const drawing = drawingOf(SKIRT + GRAIN + words('Skirt back', 220, 400));
    const { pattern } = recognise(drawing);
    expect(pattern.doubts.map((d) => d.code)).toContain('recognise-fold-doubtful');
    const sheet = writeSheet(pattern, drawing);
    const lines = sheet.split('\n').filter((line) => line.includes('name: centre seam'));
    for (const line of lines) expect(line).toMatch(/^#/);
    expect(pattern.mates.some((m) => m.id === 'centre seam')).toBe(lines.length > 0);
  });
});

describe('a raglan', () => {
  it.each(['Raglan bodice front', 'Raglan Oberteil Vorderteil', 'Bodice front, kimono'])(
    '“%s” has none of its edges guessed, and says what to do',
    (name) => {
      const { pattern, findings } = read(`<path d="${FRONT}"/>${words(name, 150, 900)}`);
      expect(pattern.pieces[0]?.part).toBe('bodice front');
      expect(pattern.pieces[0]?.edges.map((e) => e.role)).not.toContain('armhole');
      const told = findings.find((f) => f.code === 'recognise-cut-unknown');
      expect(told?.message).toMatch(/raglan|kimono/);
      expect(told?.try).toContain('pattern sheet');
    },
  );
});

describe('a cut order without a word for cutting', () => {
  it.each([
    ['1x im Stoffbruch', 1, true],
    ['1 × im Bruch', 1, true],
    ['2x Oberstoff', 2, false],
  ])('“%s”', (order, count, half) => {
    const { pattern, findings } = read(SKIRT + GRAIN + words('Rock Rückenteil', 210, 400) + words(order, 210, 420));
    expect(pattern.pieces[0]?.cut.count).toBe(count);
    expect(pattern.pieces[0]?.half).toBe(half);
    expect(findings.map((f) => f.code)).not.toContain('recognise-cut-count-assumed');
  });
});

describe('a name in Chinese characters', () => {
  it('is kept as it stands beside words that are known', () => {
    const { pattern } = read(SKIRT + GRAIN + words('裙前片 Skirt front', 210, 400));
    expect(pattern.pieces[0]?.name).toBe('裙前片 Skirt front');
    expect(pattern.pieces[0]?.part).toBe('skirt front');
  });
});
