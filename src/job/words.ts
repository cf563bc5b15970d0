import type { LengthShown } from '../alterations/contract.ts';
import { formatLength, showLength } from '../measurements/units.ts';
import type { SewnEdge } from '../pattern/pattern.ts';

/** A length as it is asked for or shared, in the unit the user works in: `27½ in`, `705 mm`; ≈ when it is rounded. */
export const shown = (mm: number, show: LengthShown): string => formatLength(mm, show);

/** A length as measured, to the nearest 1/32 in or 0.1 mm: that it is rounded goes without saying. */
export const measured = (mm: number, show: LengthShown): string => showLength(mm, show).text;

/** A change with its sign in words: `½ in larger`. Zero says `no change`. */
export const change = (mm: number, show: LengthShown, more = 'larger', less = 'smaller'): string => {
  if (Math.abs(mm) < 0.05) return 'no change';
  return `${measured(Math.abs(mm), show)} ${mm > 0 ? more : less}`;
};

export const plural = (count: number, one: string, many = `${one}s`): string => `${count} ${count === 1 ? one : many}`;

export { list } from '../measurements/list.ts';

/** Rows of cells as a table with aligned columns. */
export const table = (rows: readonly (readonly string[])[], indent = ''): string[] => {
  const columns = Math.max(0, ...rows.map((r) => r.length));
  const widths = Array.from({ length: columns }, (_, c) => Math.max(0, ...rows.map((r) => width(r[c] ?? ''))));
  return rows.map((row) =>
    `${indent}${row.map((cell, c) => cell + ' '.repeat((widths[c] ?? 0) - width(cell))).join('  ')}`.trimEnd(),
  );
};
const width = (text: string): number => [...text].length;

/** A row of edges as it is sewn: `Skirt front waist × 2 + Skirt back waist × 2`. */
export const sewnRow = (row: readonly SewnEdge[], names: PieceNames): string =>
  row.map((e) => `${names.get(e.piece) ?? e.piece} ${e.edge}${e.times > 1 ? ` × ${e.times}` : ''}`).join(' + ');

/** Printed names by piece id; a piece without a name goes by its id. Of pieces of one name the cloth tells which is which. */
export type PieceNames = ReadonlyMap<string, string>;
export const pieceNames = (
  pieces: readonly { readonly id: string; readonly name: string; readonly cloth?: string }[],
): PieceNames => {
  const alike = (name: string): boolean => pieces.filter((p) => p.name === name).length > 1;
  const cloth = (p: (typeof pieces)[number]): string =>
    p.cloth === undefined || p.cloth === 'shell' || !alike(p.name) ? '' : ` (${p.cloth})`;
  return new Map(pieces.map((p) => [p.id, p.name === '' ? p.id : `${p.name}${cloth(p)}`]));
};

/** The unit to show lengths in: as asked for, else inches for a pattern drawn in inches and millimetres for all others. */
export const lengthShown = (asked: string | undefined, patternUnit: string): LengthShown => {
  const unit = asked?.trim().toLowerCase();
  if (unit === 'in' || unit === 'cm' || unit === 'mm') return unit;
  return /^in(ch(es)?)?$/.test(patternUnit) ? 'in' : 'mm';
};

/** A text broken between words into lines of at most `width` characters. */
export const wrapped = (text: string, width: number): string[] => {
  const lines = [''];
  for (const word of text.split(' ')) {
    const line = lines.at(-1) ?? '';
    if (line === '') lines[lines.length - 1] = word;
    else if (line.length + 1 + word.length <= width) lines[lines.length - 1] = `${line} ${word}`;
    else lines.push(word);
  }
  return lines;
};
