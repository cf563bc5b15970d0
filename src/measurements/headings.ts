import type { Finding } from '../finding.ts';
import { type GridRow, knownIn } from './grid-row.ts';
import { partedHeading } from './heading.ts';
import type { TableOptions } from './table.ts';
import { unitCalled } from './units.ts';
import { plainWords } from './words.ts';

/** The headings of a grid, and from which of its rows on the data stand. */
export interface Headings {
  readonly headings: readonly string[];
  /** The row they stand in, of two the lower one. */
  readonly row: number;
  readonly dataFrom: number;
  readonly findings: readonly Finding[];
}

/** Headings are looked for in so many rows from the top. */
const LOOKED_AT = 60;

/**
 * The headings are the first row in which at least two cells are columns that are known, or the fullest with one such
 * cell; what stands above them is a title and passed over, which is told. Two rows are read together, `back` over `width
 * (in)` and `neck to waist (in)`, where that makes more columns or units known than either row does, which is told too. A
 * row of units right below (`in`, `cm`) belongs to the headings.
 */
export const headingsIn = (rows: readonly GridRow[], options: TableOptions): Headings | undefined => {
  const at = headingIndex(rows, options.knows);
  const own = rows[at];
  if (own === undefined) return undefined;
  const pair = [at - 1, at].flatMap((i) => pairAt(rows, i, options))[0];
  const [first, last] = pair === undefined ? [at, at] : [pair.at, pair.at + 1];
  const texts = pair?.headings ?? own.cells.map(inOneLine);
  const below = rows[last + 1];
  const units = below !== undefined && isUnits(below.cells) ? below.cells : [];
  const row = rows[last]?.row ?? own.row;
  const findings = [
    ...(first === 0 ? [] : [titlePassedOver(rows.slice(0, first), rows[first]?.row ?? row, options.fileName)]),
    ...(pair === undefined ? [] : [readTogether(pair.joined, row, options.fileName)]),
  ];
  return {
    headings: texts.map((heading, i) => withUnit(heading, units[i] ?? '')),
    row,
    dataFrom: last + (units.length > 0 ? 2 : 1),
    findings,
  };
};

const headingIndex = (rows: readonly GridRow[], knows: TableOptions['knows']): number => {
  const looked = rows.slice(0, LOOKED_AT).map(({ cells }) => ({ known: knownIn(cells, knows), full: cells.length }));
  const sure = looked.findIndex(({ known }) => known >= 2);
  if (sure >= 0) return sure;
  const fullest = Math.max(0, ...looked.filter(({ known }) => known > 0).map(({ full }) => full));
  return Math.max(
    0,
    looked.findIndex(({ known, full }) => known > 0 && full === fullest),
  );
};

interface Pair {
  readonly at: number;
  readonly headings: readonly string[];
  /** Those that both rows have a part in. */
  readonly joined: readonly string[];
}

/** Two rows of headings, or none: where the lower one is data, or the two say no more together than one of them. */
const pairAt = (rows: readonly GridRow[], at: number, options: TableOptions): readonly Pair[] => {
  const [upper, lower] = [rows[at], rows[at + 1]];
  if (upper === undefined || lower === undefined || lower.row !== upper.row + 1) return [];
  if (isUnits(lower.cells) || lower.cells.some((cell) => /\d/.test(cell))) return [];
  const named = upper.cells.findIndex((cell) => plainWords(cell) === options.nameColumn);
  if (named >= 0 && (lower.cells[named] ?? '').trim() !== '') return [];
  const groups = spread(upper.cells, lower.cells);
  const headings = groups.map((group, i) => together(group, inOneLine(lower.cells[i] ?? ''), options));
  const says = (cells: readonly string[]) => knownIn(cells, options.knows) + unitsIn(cells, options.knows);
  if (says(headings) <= Math.max(says(upper.cells), says(lower.cells))) return [];
  const joined = headings.filter(
    (h, i) => h !== inOneLine(upper.cells[i] ?? '') && h !== inOneLine(lower.cells[i] ?? ''),
  );
  return [{ at, headings, joined }];
};

/** How many known columns of a row have their unit in brackets. */
const unitsIn = (cells: readonly string[], knows: TableOptions['knows']): number =>
  cells.filter((cell) => knows(cell.trim()) && unitCalled(partedHeading(cell.trim()).unit) !== undefined).length;

/** The upper headings, each also over the empty cells to its right that have a heading below them. */
const spread = (upper: readonly string[], lower: readonly string[]): readonly string[] => {
  let group = '';
  return Array.from({ length: Math.max(upper.length, lower.length) }, (_, i) => {
    const own = inOneLine(upper[i] ?? '');
    const isBelow = (lower[i] ?? '').trim() !== '';
    group = own === '' && isBelow ? group : own;
    return group;
  });
};

/** A heading broken into lines within its cell. */
const inOneLine = (heading: string): string => heading.replace(/\s+/g, ' ').trim();

/** `back` over `width (in)` is `back width (in)`; over `waist (in)` a group has no part in the name, but its unit may. */
const together = (group: string, heading: string, { knows, isText }: TableOptions): string => {
  if (group === '' || heading === '') return group + heading;
  // A group, or a title that names the unit of all, says nothing of names and notes.
  if (isText?.(heading)) return heading;
  if (unitCalled(group) !== undefined && knows(heading)) return withUnit(heading, group);
  const [above, below] = [partedHeading(group), partedHeading(heading)];
  const unit = below.unit || above.unit;
  const name = [`${above.name} ${below.name}`, `${below.name} ${above.name}`, below.name].find(
    (text) => text.trim() !== '' && knows(text.trim()),
  );
  return name === undefined ? `${group} ${heading}` : withUnit(name.trim(), unit);
};

const isUnits = (cells: readonly string[]): boolean =>
  cells.every((cell) => cell.trim() === '' || unitCalled(cell.replace(/^\s*[([]|[)\]]\s*$/g, '')) !== undefined);

const withUnit = (heading: string, unit: string): string =>
  unit.trim() === '' || heading === '' || /[)\]]$/.test(heading)
    ? heading
    : `${heading} (${unit.replace(/[()[\]]/g, '').trim()})`;

const readTogether = (joined: readonly string[], row: number, file: string): Finding => ({
  code: 'measure-headings-in-two-rows',
  level: 'note',
  where: { file, row },
  message: `The headings stand in rows ${row - 1} and ${row}, and were read together${joined.length === 0 ? '' : `: ${joined.map((h) => `'${h}'`).join(', ')}`}.`,
  try: 'If that is not what is meant, write each heading in one cell.',
});

const titlePassedOver = (rows: readonly GridRow[], headingRow: number, file: string): Finding => {
  const text = rows.map(({ cells }) => cells.filter((c) => c.trim() !== '').join(' ')).join(' / ');
  return {
    code: 'measure-title-rows',
    level: 'note',
    where: { file, row: headingRow, excerpt: text.length > 80 ? `${text.slice(0, 79)}…` : text },
    message: `The headings were found in row ${headingRow}; what stands above them was taken for a title.`,
    try: 'If fittings stand above it, move the headings to the top.',
  };
};
