import type { MeasurementName } from '../terms.ts';
import { formatLength } from '../units.ts';
import { asWritten, type Body, type Doubt, measuredOf, OR_CHECKED, withArticle } from './body.ts';
import { PARTS } from './parts.ts';
import { likelyFirst, otherReadings, saidOf } from './readings.ts';
import { strainOf, without } from './strain.ts';

/** Sums that must come out: the whole is its parts, within so many millimetres. Common practice with no source. */
const SUMS: readonly (readonly [whole: MeasurementName, parts: readonly MeasurementName[], within: number])[] = [
  ['crotch length', ['front crotch length', 'back crotch length'], 40],
  ['outside leg length', ['inside leg length', 'crotch depth'], 80],
];

/** Lengths to the hem are much the same all round. mm */
const HEM_WITHIN = 150;
const HEMS: readonly MeasurementName[] = ['skirt length at front', 'skirt length at side', 'skirt length at back'];

/** Measurements that contradict each other by what part one is of the other. */
export const proportionDoubts = (body: Body, asked: ReadonlySet<string>): readonly Doubt[] => {
  const given = new Map(measuredOf(body).filter(([name]) => !asked.has(name)));
  const off = PARTS.filter(([part, whole, least, most]) => {
    const [a, b] = [given.get(part), given.get(whole)];
    return a !== undefined && b !== undefined && (a < b * least || a > b * most);
  });
  return [
    ...blamed(off, given).map(([name, rules]) => outOfProportion(name, rules, body)),
    ...sumsOff(body, given),
    ...hemsOff(body, given),
  ];
};

type Part = (typeof PARTS)[number];
const measurementsOf = ([part, whole]: Part): readonly MeasurementName[] => [part, whole];

/**
 * Of measurements that contradict each other, the one that most contradictions are about is asked about first, until all
 * are accounted for; of those alike the one without which the rest go together best, else the part.
 */
const blamed = (
  off: readonly Part[],
  given: ReadonlyMap<MeasurementName, number>,
): readonly (readonly [MeasurementName, readonly Part[]])[] => {
  let left = off;
  const found: (readonly [MeasurementName, readonly Part[]])[] = [];
  while (left.length > 0) {
    const names = left.flatMap(measurementsOf);
    const count = (name: MeasurementName) => names.filter((n) => n === name).length;
    const rest = new Map([...new Set(names)].map((name) => [name, strainOf(without(given, name))]));
    const [worst] = [...rest.keys()].toSorted((a, b) => count(b) - count(a) || (rest.get(a) ?? 0) - (rest.get(b) ?? 0));
    if (worst === undefined) break;
    found.push([worst, left.filter(([p, w]) => p === worst || w === worst)]);
    left = left.filter(([p, w]) => p !== worst && w !== worst);
  }
  return found;
};

const outOfProportion = (name: MeasurementName, rules: readonly Part[], body: Body): Doubt => {
  const mm = body.measurements[name] ?? 0;
  const unit = body.writtenIn?.[name] ?? 'mm';
  const spans = rules.map(([part, whole, least, most]) => {
    const other = part === name ? whole : part;
    const value = body.measurements[other] ?? 0;
    const [low, high] = part === name ? [value * least, value * most] : [value / most, value / least];
    return { other, value, low, high };
  });
  const [low, high] = [Math.max(...spans.map((s) => s.low)), Math.min(...spans.map((s) => s.high))];
  const [first] = spans;
  const [reading, ...others] = likelyFirst(name, otherReadings(mm, body.writtenIn?.[name]), body).filter(
    (r) => r.mm >= low && r.mm <= high,
  );
  const goesWith =
    first === undefined
      ? ''
      : `a ${first.other} of ${asWritten(body, first.other, first.value)} (${formatLength(first.low, unit).replace('≈ ', '')} to ${formatLength(first.high, unit).replace('≈ ', '')})`;
  return {
    about: [name, ...spans.map((s) => s.other)],
    finding: {
      code: 'measure-out-of-proportion',
      level: 'warning',
      where: body.where(name),
      message: `${withArticle(name)} of ${asWritten(body, name, mm)} hardly goes with ${goesWith}.`,
      try: `${reading === undefined ? 'Measure both again: one was perhaps taken from or to another point.' : `Was ${saidOf([reading, ...others])} meant?`} ${OR_CHECKED}`,
    },
  };
};

const sumsOff = (body: Body, given: ReadonlyMap<string, number>): readonly Doubt[] =>
  SUMS.flatMap(([whole, parts, within]): Doubt[] => {
    const all = given.get(whole);
    const values = parts.map((p) => given.get(p));
    if (all === undefined || values.some((v) => v === undefined)) return [];
    const sum = values.reduce<number>((total, v) => total + (v ?? 0), 0);
    if (Math.abs(all - sum) <= within) return [];
    return [
      {
        about: [whole, ...parts],
        finding: {
          code: 'measure-sum-differs',
          level: 'warning',
          where: body.where(whole),
          message: `The ${whole} is ${asWritten(body, whole, all)}, and ${parts.join(' and ')} together are ${asWritten(body, whole, sum)}.`,
          try: `Measure the three again, from the same waist. ${OR_CHECKED}`,
        },
      },
    ];
  });

const hemsOff = (body: Body, given: ReadonlyMap<string, number>): readonly Doubt[] => {
  const lengths = [...HEMS, 'skirt length' as const].flatMap((name) => {
    const mm = given.get(name);
    return mm === undefined ? [] : [{ name, mm }];
  });
  const sorted = lengths.toSorted((a, b) => a.mm - b.mm);
  const [shortest, longest] = [sorted[0], sorted.at(-1)];
  if (!shortest || !longest || longest.mm - shortest.mm <= HEM_WITHIN) return [];
  return [
    {
      about: [shortest.name, longest.name],
      finding: {
        code: 'measure-sum-differs',
        level: 'warning',
        where: body.where(shortest.name),
        message: `The ${shortest.name} is ${asWritten(body, shortest.name, shortest.mm)} and the ${longest.name} ${asWritten(body, longest.name, longest.mm)}: the hem would slope.`,
        try: `Check both. ${OR_CHECKED}`,
      },
    },
  ];
};
