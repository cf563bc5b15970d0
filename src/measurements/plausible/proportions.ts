import type { MeasurementName } from '../terms.ts';
import { formatLength } from '../units.ts';
import { asWritten, type Body, type Doubt, measuredOf, OR_CHECKED, withArticle } from './body.ts';
import { otherReadings } from './readings.ts';

/**
 * What part the first is of the second on nearly every body, children included. Common practice with no source, set wide;
 * the tests hold drafted and published bodies against it.
 */
const PARTS: readonly (readonly [MeasurementName, MeasurementName, least: number, most: number])[] = [
  ['hip girth', 'bust girth', 0.78, 1.45],
  ['high bust girth', 'bust girth', 0.8, 1.06],
  ['under-bust girth', 'bust girth', 0.68, 1.03],
  ['top hip girth', 'hip girth', 0.72, 1.08],
  ['neck base girth', 'bust girth', 0.28, 0.62],
  ['neck girth', 'bust girth', 0.27, 0.58],
  ['elbow girth', 'upper-arm girth', 0.65, 1.15],
  ['back width', 'bust girth', 0.27, 0.5],
  ['chest width', 'bust girth', 0.25, 0.5],
  ['across back shoulder', 'bust girth', 0.28, 0.62],
  ['back width', 'across back shoulder', 0.7, 1.08],
  ['chest width', 'back width', 0.72, 1.2],
  ['shoulder length', 'across back shoulder', 0.2, 0.45],
  ['front waist length', 'back neck to waist', 0.9, 1.4],
  ['bust height', 'front waist length', 0.42, 0.8],
  ['armhole depth', 'back neck to waist', 0.36, 0.74],
  ['shoulder to elbow', 'outer arm length', 0.5, 0.7],
  ['outer arm length', 'back neck to wrist', 0.62, 0.86],
  ['outer arm length', 'back neck to waist', 1.05, 1.85],
  ['waist to hip', 'waist to knee', 0.2, 0.5],
  ['crotch depth', 'waist to knee', 0.35, 0.65],
  ['waist to hip', 'crotch depth', 0.4, 1.05],
  ['waist to knee', 'back neck to waist', 1.05, 1.8],
  ['front crotch length', 'back crotch length', 0.55, 1],
  ['back neck to waist', 'stature', 0.2, 0.31],
  ['outer arm length', 'stature', 0.28, 0.41],
  ['waist to knee', 'stature', 0.27, 0.42],
  ['crotch depth', 'stature', 0.12, 0.22],
];

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
 * are accounted for; of a lone pair the part.
 */
const blamed = (
  off: readonly Part[],
  given: ReadonlyMap<string, number>,
): readonly (readonly [MeasurementName, readonly Part[]])[] => {
  let left = off;
  const found: (readonly [MeasurementName, readonly Part[]])[] = [];
  while (left.length > 0) {
    const names = left.flatMap(measurementsOf);
    const count = (name: MeasurementName) => names.filter((n) => n === name).length;
    const fine = (name: MeasurementName) =>
      PARTS.filter(([p, w]) => (p === name || w === name) && given.has(p) && given.has(w)).length - count(name);
    const [worst] = [...new Set(names)].toSorted((a, b) => count(b) - count(a) || fine(a) - fine(b));
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
  const reading = otherReadings(mm, body.writtenIn?.[name]).find((r) => r.mm >= low && r.mm <= high);
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
      try: `${reading === undefined ? 'Measure both again: one was perhaps taken from or to another point.' : `Was ${reading.text} meant?`} ${OR_CHECKED}`,
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
