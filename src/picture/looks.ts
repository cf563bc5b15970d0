/**
 * How the lines of a figure look. They are told apart by dash and weight as well as by colour, so that a grey print and
 * colour-blind eyes lose nothing: as it was thin and dashed, as it is heavy and whole, levels dash and dot, moves short
 * and thick with a dot at their end. Colours keep the contrast to white that WCAG 2.2 asks for: 3:1 for lines (1.4.11),
 * 4.5:1 for words (1.4.3).
 */
export interface Look {
  readonly stroke?: string;
  /** mm, printed. */
  readonly width?: number;
  /** On and off along the line, mm. */
  readonly dash?: readonly number[];
  readonly fill?: string;
  /** Of letters: size of the type, mm. */
  readonly size?: number;
}

/** Letters have a white rim, so that a line behind them does not strike them out, mm. */
export const HALO = 0.7;

const INK = '#12304a';
const GREY = '#5c5c5c';
const RED = '#a3221a';
const BLACK = '#1c1c1c';

const table = {
  /** The piece's own paper as it is now. */
  paper: { fill: '#eef3f7' },
  /** What came to it or went from it. */
  change: { fill: '#f4cfae' },
  is: { stroke: INK, width: 0.5 },
  was: { stroke: GREY, width: 0.25, dash: [1.6, 1.1] },
  cut: { stroke: INK, width: 0.15 },
  inner: { stroke: BLACK, width: 0.2 },
  'inner-was': { stroke: GREY, width: 0.2, dash: [0.8, 0.8] },
  grain: { stroke: BLACK, width: 0.3 },
  'grain-head': { fill: BLACK },
  level: { stroke: GREY, width: 0.2, dash: [3, 0.9, 0.3, 0.9] },
  corner: { stroke: INK, width: 0.25, fill: '#ffffff' },
  notch: { stroke: INK, width: 0.35 },
  move: { stroke: RED, width: 0.8 },
  'move-end': { fill: RED },
  leader: { stroke: RED, width: 0.15 },
  rule: { stroke: BLACK, width: 0.25 },
  apart: { stroke: RED, width: 0.5 },
  'edge-name': { fill: INK, size: 3 },
  'level-name': { fill: GREY, size: 2.8 },
  amount: { fill: RED, size: 3.1 },
  words: { fill: BLACK, size: 3 },
} satisfies Readonly<Record<string, Look>>;

export type LookName = keyof typeof table;
export const LOOKS: Readonly<Record<LookName, Look>> = table;

/** Looks as classes of a style sheet, prefixed so that they meet no other: '.f-was{…}'. */
export const looksCss = (): string =>
  (Object.entries(LOOKS) as [LookName, Look][]).map(([name, look]) => `.f-${name}{${declarations(look)}}`).join('');

const declarations = ({ stroke, width, dash, fill, size }: Look): string =>
  [
    `fill:${fill ?? 'none'}`,
    ...(stroke ? [`stroke:${stroke}`, `stroke-width:${width}`] : []),
    ...(dash ? [`stroke-dasharray:${dash.join(' ')}`] : []),
    ...(size ? [`font-size:${size}px`, `stroke:#fff;stroke-width:${HALO};paint-order:stroke`] : []),
  ].join(';');
