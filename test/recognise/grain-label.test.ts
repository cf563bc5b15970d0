import { describe, expect, it } from 'vitest';
import type { Piece } from '../../src/pattern/piece.ts';
import type { HandDrawn } from './handdrawn.ts';
import { readByHand } from './handdrawn.ts';

/* The word “grain” in level letters beside an upright line without arrow heads, near lines that run across. y up, mm */

const skirtOutline = 'M0 0 L81 1 L90 -95 L99 1.5 L188 10 C198 -60 240 -150 240 -200 L252 -600 L0 -600 Z';
const skirt: HandDrawn = {
  outline: skirtOutline,
  lines: ['M0 -200 L240 -200', 'M120 -240 L120 -540'],
  texts: [
    ['hip line', 20, -196],
    ['grain', 123, -245],
    ['Skirt front', 30, -400],
    ['cut 1 on fold', 30, -415],
    ['centre front, fold', 4, -500],
  ],
};

/** A child's, wider than it is long to the hip. */
const childSkirt: HandDrawn = {
  outline: 'M0 0 L51 1 L60 -58.9 L69 1.5 L148 10 C158 -37.2 165 -89 165 -120 L172.44 -320 L0 -320 Z',
  lines: ['M0 -120 L165 -120', 'M82.5 -144.8 L82.5 -282.8'],
  texts: [
    ['hip line', 20, -116],
    ['grain', 91.5, -169.6],
    ['Skirt front', 42.5, -194.4],
    ['cut 1 on fold', 42.5, -206.8],
    ['centre front, fold', 4, -258],
  ],
};

const trousers: HandDrawn = {
  outline:
    'M0 0 L175 8 C185 -60 195 -140 195 -200 L180 -560 L162 -1010 L-8 -1010 L-30 -560 L-60 -265 C-30 -255 -8 -160 0 0 Z',
  lines: ['M-56 -265 L192 -265', 'M-28 -560 L178 -560', 'M77 -950 L77 -150'],
  texts: [
    ['crotch line', -10, -262],
    ['knee line', -10, -557],
    ['grain', 87, -600],
    ['Trouser front', 0, -400],
    ['cut 2', 0, -415],
  ],
};

const adjusted: HandDrawn = {
  ...skirt,
  lines: ['M0 -300 L243 -300', 'M120 -240 L120 -540'],
  texts: [['lengthen or shorten here', 20, -296], ['grain', 136, -335], ...(skirt.texts ?? []).slice(2)],
};

const isUpright = ({ grainline, upright }: Piece): boolean => {
  if (!grainline) return false;
  const { from, to } = grainline;
  const along = (to.x - from.x) * upright.up.x + (to.y - from.y) * upright.up.y;
  return Math.abs(along) > 0.999 * Math.hypot(to.x - from.x, to.y - from.y);
};

const lengthOf = ({ grainline }: Piece): number =>
  grainline ? Math.hypot(grainline.to.x - grainline.from.x, grainline.to.y - grainline.from.y) : 0;

const drawn: [string, HandDrawn, number][] = [
  ['a skirt with its hip line', skirt, 300],
  ["a child's skirt with its hip line", childSkirt, 138],
  ['trousers with crotch and knee line', trousers, 800],
  ['a skirt with its adjustment line', adjusted, 300],
];

describe.each(drawn)('the grain of %s', (_, piece, length) => {
  it.each([0, 90, 217])('is the line the word stands at, at %s°', (angle) => {
    const { pattern, findings } = readByHand([piece], angle);
    const [read] = pattern.pieces as [Piece];
    expect(lengthOf(read)).toBeCloseTo(length, 3);
    expect(isUpright(read)).toBe(true);
    expect(findings.filter((f) => f.level === 'error')).toEqual([]);
    expect(findings.map((f) => f.code)).not.toContain('recognise-grain-doubtful');
  });
});

describe('a line with a name of its own', () => {
  it('keeps its level, counted from the waist at the side (8 mm up)', () => {
    const [read] = readByHand([trousers]).pattern.pieces;
    const heights = read?.levels.filter((l) => l.line).map((l) => [l.name, Math.round(l.height)]);
    expect(heights).toContainEqual(['knee', -560 - 8]);
  });

  it('is no grainline where no other line is drawn', () => {
    const { pattern, findings } = readByHand([{ ...skirt, lines: ['M0 -200 L240 -200'] }]);
    expect(pattern.pieces[0]?.grainline).toBeUndefined();
    expect(findings.map((f) => f.code)).toContain('recognise-no-grain');
  });

  it('is still the grainline where it has arrow heads', () => {
    const { pattern } = readByHand([
      {
        ...skirt,
        lines: [],
        grain: 'M120 -540 L120 -240',
        texts: [['hip', 100, -300], ...(skirt.texts ?? []).slice(1)],
      },
    ]);
    expect(lengthOf(pattern.pieces[0] as Piece)).toBeCloseTo(300, 3);
  });
});

describe('a grain across a skirt', () => {
  const across = 'M60 -330 L230 -330';
  const texts = [['grain', 120, -326] as const, ...(skirt.texts ?? []).slice(2)];

  it('is told where the word alone says it', () => {
    const { pattern, findings } = readByHand([{ outline: skirtOutline, lines: [across], texts }]);
    expect(lengthOf(pattern.pieces[0] as Piece)).toBeCloseTo(170, 3);
    expect(findings.map((f) => f.code)).toContain('recognise-grain-doubtful');
  });

  it('is taken as drawn where word and arrow heads say it', () => {
    const { findings } = readByHand([{ outline: skirtOutline, grain: across, texts }]);
    expect(findings.map((f) => f.code)).not.toContain('recognise-grain-doubtful');
  });
});
