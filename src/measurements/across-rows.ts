import type { Finding, Where } from '../finding.ts';
import { covers, type Stands } from './checked.ts';
import { LIKELY_EXCHANGED, looksExchanged } from './exchanged.ts';
import { list } from './list.ts';
import type { Body } from './plausible/body.ts';
import { childOf } from './plausible/child.ts';
import { exchangeDoubts } from './plausible/exchanges.ts';
import { otherUnits } from './plausible/readings.ts';
import { type MeasurementName, terms } from './terms.ts';
import { formatLength, type LengthUnit } from './units.ts';
import { plainWords } from './words.ts';

/** A row as it is compared with the others. */
export interface ComparedRow {
  readonly fitting: string;
  readonly wearer: string;
  readonly row: number;
  readonly measurements: Readonly<Record<string, number>>;
  readonly writtenIn: Readonly<Record<string, LengthUnit>>;
  readonly places: Readonly<Record<string, Where>>;
  readonly stands: Stands;
}

/** What only shows when rows are held side by side: one person measured in two ways, a column in another unit. */
export const compareRows = (rows: readonly ComparedRow[]): readonly Finding[] => [
  ...columnsInAnotherUnit(rows),
  ...columnsExchanged(rows),
  ...samePersonTwice(rows),
  ...exchangedUnlikeOthers(rows),
];

/** So many others at least say what is usual, and none of them is off it by more; in the logarithm. */
const OTHERS = 4;
const ALIKE_AMONG_THEM = 0.08;

/** Bust and hip the other way round than on all the others of the table. */
const exchangedUnlikeOthers = (rows: readonly ComparedRow[]): readonly Finding[] =>
  LIKELY_EXCHANGED.flatMap(([first, second]) => {
    const given = rows.flatMap((row) => {
      const [a, b] = [row.measurements[first], row.measurements[second]];
      return a === undefined || b === undefined ? [] : [{ row, a, b }];
    });
    const usual = median(given.map(({ a, b }) => a / b));
    const odd = given.filter(({ a, b }) => looksExchanged(a, b, usual));
    const others = given.filter((g) => !odd.includes(g));
    const alike = others.every(({ a, b }) => Math.abs(Math.log(a / b / usual)) <= ALIKE_AMONG_THEM);
    if (others.length < Math.max(OTHERS, 2 * odd.length) || !alike) return [];
    return odd.map(({ row, a, b }) => exchanged(row, [first, a], [second, b]));
  });

const median = (values: readonly number[]): number => values.toSorted((a, b) => a - b)[values.length >> 1] ?? 1;

const exchanged = (row: ComparedRow, [first, a]: [string, number], [second, b]: [string, number]): Finding => {
  const stands = covers(row.stands, first) || covers(row.stands, second);
  const say = (name: string, mm: number) => formatLength(mm, row.writtenIn[name] ?? 'mm');
  const cell = (name: string) => (row.places[name]?.address === undefined ? '' : ` (cell ${row.places[name].address})`);
  return {
    code: 'measure-exchanged',
    level: stands ? 'note' : 'warning',
    where: row.places[first] ?? { row: row.row, fitting: row.fitting },
    message: `The ${first} is ${say(first, a)}${cell(first)} and the ${second} ${say(second, b)}${cell(second)}: on all others in the table it is the other way round.`,
    try: stands
      ? 'It is marked as checked, and taken as it stands.'
      : `If the two were exchanged, put them right: ${first} ${say(second, b)} and ${second} ${say(first, a)}. If it was measured so, write yes in the column 'checked'.`,
  };
};

/** A tape read twice differs by less than this. mm; common practice with no source. */
const ALIKE = 10;

const samePersonTwice = (rows: readonly ComparedRow[]): readonly Finding[] => {
  const seen = new Map<string, ComparedRow[]>();
  return rows.flatMap((row) => {
    const person = plainWords(row.wearer || row.fitting);
    const before = person === '' ? [] : (seen.get(person) ?? []);
    seen.set(person, [...before, row]);
    return Object.entries(row.measurements).flatMap(([name, mm]): Finding[] => {
      const other = before.find((b) => Math.abs((b.measurements[name] ?? mm) - mm) > ALIKE);
      return other === undefined ? [] : [measuredTwice(row, other, name, mm)];
    });
  });
};

const measuredTwice = (row: ComparedRow, other: ComparedRow, name: string, mm: number): Finding => {
  const unit = row.writtenIn[name] ?? 'mm';
  const stands = covers(row.stands, name) || covers(other.stands, name);
  return {
    code: 'measure-person-twice',
    level: stands ? 'note' : 'warning',
    where: row.places[name] ?? { row: row.row, fitting: row.fitting },
    message: `${row.wearer || row.fitting} has a ${name} of ${formatLength(mm, unit)} here and of ${formatLength(other.measurements[name] ?? 0, unit)} in row ${other.row}.`,
    try: stands
      ? 'It is marked as checked, and taken as it stands.'
      : "Keep the one that was measured last in both. If both stand, write yes in the column 'checked'.",
  };
};

/** In so many rows at least, and in so large a part of them, before a heading is doubted; ours. */
const FEWEST = 3;
const MOST_OF_THEM = 0.6;

const columnsInAnotherUnit = (rows: readonly ComparedRow[]): readonly Finding[] => {
  const names = new Set(rows.flatMap((r) => Object.keys(r.measurements)));
  return [...names].flatMap((name): Finding[] => {
    const own = rows.filter((r) => r.measurements[name] !== undefined);
    const [first] = own;
    const units = own.map((r) => meantUnit(name as MeasurementName, r));
    const meant = units.find((unit) => unit !== undefined);
    const count = units.filter((unit) => unit !== undefined && unit === meant).length;
    if (!first || !meant || count < FEWEST || count < own.length * MOST_OF_THEM) return [];
    return [wholeColumn(name, first, meant, count, own.length)];
  });
};

/** The same two measurements in each other's place in most rows: rather the headings are. */
const columnsExchanged = (rows: readonly ComparedRow[]): readonly Finding[] => {
  const doubts = rows.flatMap((row) => exchangeDoubts(bodyOf(row)).map(({ about }) => ({ row, about })));
  const pairs = new Map(doubts.map(({ about }) => [about.join('\n'), about]));
  return [...pairs.values()].flatMap((about): Finding[] => {
    const given = rows.filter(({ measurements }) => about.every((name) => measurements[name] !== undefined));
    const found = doubts.filter((d) => d.about.join('\n') === about.join('\n'));
    const [first] = found;
    if (!first || found.length < FEWEST || found.length < given.length * MOST_OF_THEM) return [];
    return [headingsExchanged(about, first.row, found.length, given.length)];
  });
};

const headingsExchanged = (about: readonly string[], first: ComparedRow, count: number, all: number): Finding => ({
  code: 'measure-columns-exchanged',
  level: 'warning',
  where: { file: first.places[about[0] ?? '']?.file },
  message: `In ${count} of ${all} rows the ${list(about)} look as if they stood in each other's columns.`,
  try: 'If the headings are in the wrong order, put them right; the values can stay.',
});

const bodyOf = ({ measurements, writtenIn, places }: ComparedRow): Body => ({
  measurements,
  writtenIn,
  where: (name) => places[name] ?? {},
});

/** The unit in which a value would be an adult's, where it is none as it stands, and no child's. */
const meantUnit = (name: MeasurementName, row: ComparedRow): LengthUnit | undefined => {
  const { measurements, writtenIn } = row;
  if (childOf(bodyOf(row)) !== undefined) return undefined;
  const mm = measurements[name] ?? 0;
  const [least, most] = terms[name].range;
  if (mm >= least && mm <= most) return undefined;
  const reading = otherUnits(mm, writtenIn[name]).find((r) => r.mm >= least && r.mm <= most);
  return reading === undefined ? undefined : (/(in|cm|mm)$/.exec(reading.text)?.[1] as LengthUnit | undefined);
};

const UNIT_WORDS = { in: 'inches', cm: 'centimetres', mm: 'millimetres' } as const satisfies Record<LengthUnit, string>;

const wholeColumn = (name: string, first: ComparedRow, meant: LengthUnit, count: number, all: number): Finding => {
  const { file, cell } = first.places[name] ?? {};
  return {
    code: 'measure-column-unit',
    level: 'warning',
    where: { file, cell },
    message: `In ${count} of ${all} rows the ${name} can only be in ${UNIT_WORDS[meant]}: the whole column seems to be.`,
    try: `Head the column '${name} (${meant})'.`,
  };
};
