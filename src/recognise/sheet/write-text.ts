import type { Drawing } from '../../formats/drawing.ts';
import { angleOf, type Point } from '../../geometry/point.ts';
import { formatLength } from '../../measurements/units.ts';
import type { Judged } from '../../pattern/evidence.ts';
import { placeOfPoint } from './places.ts';

/** A text as YAML takes it anywhere, inside brackets too. */
export const quoted = (text: string): string =>
  /^\p{L}[\p{L}\p{N}_.-]*(?: [\p{L}\p{N}_.-]+)*$/u.test(text) && !/^(?:true|false|null|yes|no|on|off|nan)$/i.test(text)
    ? text
    : JSON.stringify(text);

/** Printed text may hold line breaks; a note in YAML may not. */
export const oneLine = (text: string): string => text.replace(/\s+/g, ' ').trim();

/** A line with a note behind it. */
export const noted = (line: string, note: string): string => (note === '' ? line : `${line}  # ${oneLine(note)}`);

/** The strongest reasons suffice for a note; `survey` lists them all. */
const REASONS = 3;

/** Why it was taken for what it was, for a note behind the line. */
export const because = (judged: Judged): string => {
  const strongest = [...judged.evidence].sort((a, b) => b.weight - a.weight).slice(0, REASONS);
  const reasons = strongest.map((e) => oneLine(e.says)).filter((says) => says !== '');
  const sure = judged.confidence >= 1 ? '' : `${Math.round(judged.confidence * 100)} % sure`;
  return [reasons.join('; '), sure].filter((part) => part !== '').join(' · ');
};

/** A length for a note, in inches where the drawing is in inches. */
export const lengthNote = (mm: number, drawing: Drawing): string =>
  formatLength(mm, drawing.units.name === 'in' ? 'in' : 'mm');

/** A marked place: what is asked, and lines that count once their # is taken away. */
export const marked = (message: string, ...lines: readonly string[]): readonly string[] => [
  `# ? ${oneLine(message)}`,
  ...lines.map((l) => `#   ${l}`),
];

export const indented = (lines: readonly string[], by: number): readonly string[] =>
  lines.map((line) => ' '.repeat(by) + line);

/** [x, y] in the file's units, with the decimals that a thousandth of a millimetre needs. */
export const placeText = (point: Point, drawing: Drawing): string => {
  const decimals = Math.max(0, Math.ceil(Math.log10(drawing.units.millimetresPerUnit / 0.001)));
  const { x, y } = placeOfPoint(drawing, point);
  return `[${plain(x, decimals)}, ${plain(y, decimals)}]`;
};

/** A direction (mm, y up) as the sheet writes it: a word where it is square to the page, else degrees. */
export const directionText = (direction: Point): string => {
  const degrees = plain((angleOf(direction) * 180) / Math.PI, 6);
  const word = { '90': 'up', '-90': 'down', '0': 'right', '180': 'left' }[degrees];
  return word ?? `${degrees} degrees`;
};

/** Without trailing zeros, and never −0. */
export const plain = (value: number, decimals: number): string => `${Number(value.toFixed(decimals)) + 0}`;

/** Inches where they come out even in thirty-seconds, else millimetres: nothing is lost by writing. */
export const exactLength = (mm: number): string => {
  const inches = formatLength(mm, 'in');
  const even = Math.abs(Math.round((mm / 25.4) * 32) * (25.4 / 32) - mm) < 1e-6;
  return even && inches !== '0 in' ? inches : `${plain(mm, 4)} mm`;
};
