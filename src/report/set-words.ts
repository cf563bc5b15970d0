import type { Measure, PrintMark } from '../formats/print.ts';
import { line } from '../geometry/segment.ts';
import type { Slab } from './slab.ts';
import { LIGHT } from './style.ts';
import { tied } from './tied.ts';

/* Words on a printed sheet. Sizes are those of the type, mm; 3.53 mm are ten points. */

export interface Face {
  readonly size: number;
  readonly bold: boolean;
  readonly colour: string;
}

export const FACES = {
  kicker: { size: 3, bold: false, colour: LIGHT.soft },
  heading: { size: 7.4, bold: false, colour: LIGHT.ink },
  lead: { size: 3.7, bold: false, colour: LIGHT.ink },
  section: { size: 4.9, bold: false, colour: LIGHT.ink },
  under: { size: 3.5, bold: true, colour: LIGHT.ink },
  body: { size: 3.2, bold: false, colour: LIGHT.ink },
  soft: { size: 2.8, bold: false, colour: LIGHT.soft },
  cell: { size: 2.8, bold: false, colour: LIGHT.ink },
  strong: { size: 2.8, bold: true, colour: LIGHT.ink },
  caption: { size: 2.9, bold: true, colour: LIGHT.ink },
} satisfies Readonly<Record<string, Face>>;

const LEADING = 1.42;
export const lineHeight = (face: Face): number => face.size * LEADING;

export const wordMark = (
  words: string,
  x: number,
  y: number,
  face: Face,
  anchor: 'start' | 'end' = 'start',
): PrintMark => ({
  kind: 'text',
  at: { x, y },
  ...{ anchor, words, size: face.size, bold: face.bold, colour: face.colour },
});

export const ruleMark = (x1: number, x2: number, y: number, colour: string, width = 0.2): PrintMark => ({
  kind: 'path',
  rings: [[line({ x: x1, y }, { x: x2, y })]],
  closed: false,
  stroke: { colour, width },
});

/** Words broken into lines no wider than `room`; a word that is wider is broken anywhere. */
export const broken = (words: string, room: number, face: Face, measure: Measure): string[] => {
  const wide = (text: string): number => measure(text, face.size, face.bold);
  const space = wide(' ');
  const lines: string[] = [];
  let [open, length] = ['', 0];
  for (const word of tied(words.trim()).split(/[ \t\n]+/)) {
    const own = wide(word);
    if (open !== '' && length + space + own <= room) {
      [open, length] = [`${open} ${word}`, length + space + own];
      continue;
    }
    if (open !== '') lines.push(open);
    [open, length] = [word, own];
    while (length > room && [...open].length > 1) {
      const cut = fitting(open, room, wide);
      lines.push(open.slice(0, cut));
      open = open.slice(cut);
      length = wide(open);
    }
  }
  return [...lines, open];
};

/** How much of a word fits, to after a hyphen or stroke if there is one: one letter at least, and never half of one. */
const fitting = (word: string, room: number, wide: (text: string) => number): number => {
  const letters = [...word];
  let count = 1;
  while (count < letters.length && wide(letters.slice(0, count + 1).join('')) <= room) count++;
  const fits = letters.slice(0, count).join('');
  return /^.*\p{L}[-/_.](?=\p{L})/u.exec(fits)?.[0].length ?? fits.length;
};

/** Lines of words from x on, as one slab. */
export const wordSlab = (words: string, x: number, room: number, face: Face, measure: Measure, over = 0): Slab => {
  const lines = broken(words, room, face, measure);
  const step = lineHeight(face);
  return {
    height: lines.length * step,
    marks: lines.map((said, i) => wordMark(said, x, i * step + face.size, face)),
    over,
  };
};
