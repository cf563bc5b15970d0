import { type Figure, type Mark, moved, stroke } from './figure.ts';
import { lettersWide } from './labels.ts';
import { LOOKS, type LookName } from './looks.ts';
import { dot } from './piece-lines.ts';

/* What the lines mean, and a bar to measure the print by. */

const LINES: readonly (readonly [LookName, string])[] = [
  ['was', 'as drafted'],
  ['is', 'as altered: seam line'],
  ['cut', 'cutting line'],
  ['grain', 'grainline'],
  ['inner', 'fold, dart, adjustment line or other mark'],
  ['inner-was', 'such a line as drafted'],
  ['level', 'level'],
  ['notch', 'notch'],
  ['move', 'moved: direction and distance'],
];

/** mm, printed. */
const ROW = 5;
const SAMPLE = 12;

export interface KeyShown {
  readonly scale: number;
  /** Length that the bar stands for on the piece, mm, and in words. */
  readonly bar: { readonly mm: number; readonly words: string };
}

export const keyFigure = ({ scale, bar }: KeyShown): Figure => {
  const rows = LINES.flatMap(([look, words], i): Mark[] => {
    const y = 3 + i * ROW;
    const sample: Mark[] =
      look === 'notch'
        ? [stroke('is', 0, y, SAMPLE, y), stroke('notch', SAMPLE / 2, y - 1.1, SAMPLE / 2, y + 1.1)]
        : look === 'move'
          ? [stroke('move', 4, y, 8, y), dot('move-end', { x: 8, y }, 0.75)]
          : [stroke(look, 0, y, SAMPLE, y)];
    return [...sample, { kind: 'words', look: 'words', at: { x: SAMPLE + 3, y: y + 1 }, anchor: 'start', words }];
  });
  const y = 3 + LINES.length * ROW + 3;
  const marks: Mark[] = [...rows, ...barMarks({ scale, bar }, y)];
  const longest = Math.max(...LINES.map(([, said]) => SAMPLE + 3 + lettersWide(said, LOOKS.words.size ?? 3)));
  return {
    width: Math.max(longest, barWide({ scale, bar })) + 1,
    height: y + 3,
    marks: moved(marks, 0.5, 0),
    title: 'Key',
    describes: `${LINES.map(([, said]) => said).join('; ')}. The bar stands for ${barWords({ scale, bar })}.`,
  };
};

const barWords = ({ scale, bar }: KeyShown): string => `${bar.words} at 1:${scale}`;
const barWide = (key: KeyShown): number =>
  key.bar.mm / key.scale + 3 + lettersWide(barWords(key), LOOKS.words.size ?? 3);

const barMarks = (key: KeyShown, y: number): Mark[] => {
  const length = key.bar.mm / key.scale;
  return [
    stroke('rule', 0, y, length, y),
    stroke('rule', 0, y - 1.5, 0, y + 1.5),
    stroke('rule', length, y - 1.5, length, y + 1.5),
    { kind: 'words', look: 'words', at: { x: length + 3, y: y + 1 }, anchor: 'start', words: barWords(key) },
  ];
};

/** A figure with a bar of its own under it, where its scale is not that of the others. */
export const withBar = (figure: Figure, key: KeyShown): Figure => ({
  ...figure,
  width: Math.max(figure.width, barWide(key) + 1),
  height: figure.height + 6,
  marks: [...figure.marks, ...moved(barMarks(key, figure.height + 3), 0.5, 0)],
});
