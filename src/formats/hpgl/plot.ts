import { type Point, subtract, turn } from '../../geometry/point.ts';
import { letteringWidth } from '../lettering.ts';
import type { Frame, HpglHabits, LineType, Machine } from '../sheet.ts';
import type { ToolText } from '../tool-strokes.ts';
import type { PenWork } from './pens.ts';

/** Points in one PD: old controllers hold only so many in their memory. */
const POINTS = 50;
/** Ends a label (ETX, the terminator by default). */
const END_OF_LABEL = '\u0003';
/** Space between the left edges of letters: 1.5 times their width by default (HP PCL 5 Technical Reference, ch. 23). */
const LETTER_STEP = 1.5;
const LETTER_WIDTH = 0.6;

/** LT numbers and the lengths of their patterns, mm (mode 1: absolute; HP PCL 5 Technical Reference, chapter 22). */
const LINE_TYPES: Readonly<Record<Exclude<LineType, 'solid'>, string>> = {
  dotted: 'LT1,2,1;',
  dashed: 'LT2,6,1;',
  'dash-dot': 'LT4,10,1;',
};

/** The frame's size in plot units: along the roll, and across it. */
export const plotSize = (frame: Frame, { unitsPerMillimetre: units }: HpglHabits): readonly [number, number] => [
  Math.ceil(frame.width * units - 1e-6),
  Math.ceil(frame.height * units - 1e-6),
];

/**
 * One frame, from IN to the end of its page. HP-GL/2 lays its X axis along the longer side of the plot size (so does
 * hp2xx), hence a frame that is higher than wide is turned a quarter clockwise: its size on paper stays what it is.
 */
export const framePlot = (pens: readonly PenWork[], frame: Frame, machine: Machine): string => {
  const { hpgl } = machine;
  const turned = hpgl.frames && frame.height > frame.width;
  const plotter = newPlotter(frame, hpgl, turned);
  const out = ['IN;'];
  if (hpgl.frames) {
    out.push(`PS${plotSize(frame, hpgl).join(',')};`);
    const widths = new Map(pens.map((p) => [p.pen, p.width]));
    for (const [pen, width] of [...widths].sort(([a], [b]) => a - b)) out.push(`PW${plain(width, 3)},${pen};`);
  }
  for (const { pen, lines } of pens) {
    out.push(`SP${pen};`);
    let type: LineType = 'solid';
    for (const line of lines) {
      const wanted = line.kind === 'points' && hpgl.frames ? line.line : 'solid';
      if (wanted !== type) out.push(wanted === 'solid' ? 'LT;' : LINE_TYPES[wanted]);
      type = wanted;
      out.push(line.kind === 'points' ? plotter.draw(line.points) : plotter.label(line.text));
    }
    if (type !== 'solid') out.push('LT;');
    out.push('PU;');
  }
  out.push('SP0;');
  if (hpgl.frames) out.push('PG;');
  return `${out.filter((s) => s !== '').join('\n')}\n`;
};

interface Units {
  readonly x: number;
  readonly y: number;
}

/** Knows where the pen is, so that it moves only where it must. */
const newPlotter = (frame: Frame, hpgl: HpglHabits, turned: boolean) => {
  let at: Units | undefined;
  const toPaper = (p: Point): Point => (turned ? { x: p.y, y: frame.width - p.x } : p);
  const toUnits = (p: Point): Units => {
    const paper = toPaper(p);
    return { x: whole(paper.x * hpgl.unitsPerMillimetre), y: whole(paper.y * hpgl.unitsPerMillimetre) };
  };
  const draw = (points: readonly Point[]): string => {
    const stops = withoutNeedless(points.map(toUnits));
    const start = stops[0];
    if (!start) return '';
    const rest = stops.length === 1 ? [start] : stops.slice(1);
    const move = at && at.x === start.x && at.y === start.y ? '' : `PU${start.x},${start.y};`;
    at = rest[rest.length - 1];
    return (
      move +
      inChunks(rest)
        .map((chunk) => `PD${chunk.map((u) => `${u.x},${u.y}`).join(',')};`)
        .join('')
    );
  };
  const label = ({ text }: ToolText): string => {
    const height = text.height;
    const natural = Math.min(text.room ?? Infinity, letteringWidth(text.text, height) * 1.2);
    const letters = [...text.text.replace(/[^\x20-\x7e]/gu, '?')];
    const width = Math.min(LETTER_WIDTH * height, natural / (letters.length * LETTER_STEP));
    const back = text.anchor === 'middle' ? (letters.length * width * LETTER_STEP) / 2 : 0;
    const start = toUnits(subtract(text.at, turn({ x: back, y: 0 }, text.angle)));
    const way = turn({ x: 1, y: 0 }, text.angle - (turned ? Math.PI / 2 : 0));
    // Where the pen stands after a label is the machine's affair.
    at = undefined;
    return `PU${start.x},${start.y};SI${plain(width / 10, 4)},${plain(height / 10, 4)};DI${plain(way.x, 6)},${plain(way.y, 6)};LB${letters.join('')}${END_OF_LABEL}`;
  };
  return { draw, label };
};

const whole = (value: number): number => Math.round(value) + 0;

/** A number without exponent and without trailing zeros. */
const plain = (value: number, decimals: number): string => `${Number(value.toFixed(decimals)) + 0}`;

/** Without stops that repeat the one before or lie on the straight way between their neighbours. */
const withoutNeedless = (stops: readonly Units[]): Units[] => {
  const out: Units[] = [];
  for (const stop of stops) {
    const last = out[out.length - 1];
    if (last && last.x === stop.x && last.y === stop.y) continue;
    const before = out[out.length - 2];
    if (last && before && goesStraightOn(before, last, stop)) out.pop();
    out.push(stop);
  }
  return out;
};

const goesStraightOn = (a: Units, b: Units, c: Units): boolean => {
  const [ux, uy, vx, vy] = [b.x - a.x, b.y - a.y, c.x - b.x, c.y - b.y];
  return ux * vy === uy * vx && ux * vx + uy * vy > 0;
};

const inChunks = <T>(list: readonly T[]): T[][] =>
  Array.from({ length: Math.ceil(list.length / POINTS) }, (_, i) => list.slice(i * POINTS, (i + 1) * POINTS));
