import { describe, expect, it } from 'vitest';
import { LOOKS, type Look } from '../../src/picture/looks.ts';
import { DARK, LIGHT } from '../../src/report/style.ts';

/* Readable in colour, in grey and by the colour-blind: contrast by the formula of WCAG 2.2, which knows luminance only. */

/** Relative luminance, WCAG 2.2, https://www.w3.org/TR/WCAG22/#dfn-relative-luminance */
const luminance = (hex: string): number => {
  const full = hex.length === 4 ? `#${[...hex.slice(1)].map((c) => c + c).join('')}` : hex;
  const [r, g, b] = [1, 3, 5]
    .map((i) => Number.parseInt(full.slice(i, i + 2), 16) / 255)
    .map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4)) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
};
const contrast = (a: string, b: string): number => {
  const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (high + 0.05) / (low + 0.05);
};

it('reckons contrast as the standard does', () => {
  // Both from WCAG 2.2: black on white is 21:1; #777777 on white just misses 4.5:1 (understanding document of 1.4.3).
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
  expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
});

/** Success criterion 1.4.3 and 1.4.11. */
const WORDS = 4.5;
const LINES = 3;

describe.each([
  ['light', LIGHT],
  ['dark', DARK],
] as const)('the %s page', (_, palette) => {
  it.each(['ink', 'soft', 'good', 'bad', 'warn', 'accent'] as const)('has words in %s that stand out', (name) => {
    expect(contrast(palette[name], palette.paper)).toBeGreaterThanOrEqual(WORDS);
  });
  it.each(['line', 'ink', 'bad', 'warn'] as const)('has lines in %s that stand out', (name) => {
    expect(contrast(palette[name], palette.paper)).toBeGreaterThanOrEqual(LINES);
  });
});

describe('the lines of a picture', () => {
  const looks = Object.entries(LOOKS) as [string, Look][];
  const grounds = ['#ffffff', ...['paper', 'change'].map((n) => LOOKS[n as 'paper'].fill as string)];

  it('stand out on paper, on the piece and on what came to it', () => {
    for (const [name, look] of looks) {
      for (const ground of grounds) {
        if (look.stroke) expect(contrast(look.stroke, ground), `${name} on ${ground}`).toBeGreaterThanOrEqual(LINES);
        if (look.size) expect(contrast(look.fill!, '#ffffff'), name).toBeGreaterThanOrEqual(WORDS);
      }
    }
  });

  it('are told apart without colour: by dash or by a weight half as much again (WCAG 2.2, 1.4.1)', () => {
    const key = ['was', 'is', 'cut', 'level', 'move'] as const;
    for (const [i, a] of key.entries()) {
      for (const b of key.slice(i + 1)) {
        const [one, other] = [LOOKS[a], LOOKS[b]];
        const dashed = String(one.dash ?? '') !== String(other.dash ?? '');
        const [thin, thick] = [one.width!, other.width!].sort((x, y) => x - y) as [number, number];
        expect(dashed || thick / thin >= 1.5, `${a} and ${b}`).toBe(true);
      }
    }
  });

  it('keep what was added apart from the rest of the piece in grey', () => {
    expect(contrast(LOOKS.change.fill!, LOOKS.paper.fill!)).toBeGreaterThan(1.2);
  });
});
