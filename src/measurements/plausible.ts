import type { Finding, Where } from '../finding.ts';
import { type MeasurementName, terms } from './terms.ts';
import { formatLength, type LengthUnit, MM_PER_INCH } from './units.ts';

/** One body as it is checked: mm by canonical name, and the unit each value was written in. */
export interface Body {
  readonly measurements: Readonly<Partial<Record<string, number>>>;
  /** The unit a value was written in; absent: the unit is not known and only millimetres are spoken of. */
  readonly writtenIn?: Readonly<Partial<Record<string, LengthUnit>>>;
  /** Where the value of a measurement stands, for the finding. */
  readonly where: (measurement: string) => Where;
}

/**
 * How far past the range of adults a value must be before a slip of units counts as certain: small children come
 * within 1.3 of the least, hardly anyone within 1.15 of the most. Past `IMPOSSIBLE` nobody is built so. Common practice
 * with no source; the factors are ours.
 */
const SURELY_LESS = 1.3;
const SURELY_MORE = 1.15;
const IMPOSSIBLE = 2.5;

/** Values as small as this are more likely meant as a change of the pattern. mm */
const LIKE_A_CHANGE = 150;

/**
 * Findings about a body that cannot be, or hardly can be, as written: a waist of 27 cm (inches meant), waist and hip
 * swapped, a value outside what adults measure. An error where another unit is certainly meant, else a warning.
 */
export const checkBody = (body: Body): readonly Finding[] => {
  const findings: Finding[] = [];
  for (const [name, mm] of Object.entries(body.measurements)) {
    if (mm === undefined || !(name in terms)) continue;
    const finding = checkRange(name as MeasurementName, mm, body.writtenIn?.[name], body.where(name));
    if (finding !== undefined) findings.push(finding);
  }
  return [...findings, ...checkOrder(body)];
};

const checkRange = (
  name: MeasurementName,
  mm: number,
  unit: LengthUnit | undefined,
  where: Where,
): Finding | undefined => {
  const [least, most] = terms[name].range;
  if (mm >= least && mm <= most) return undefined;
  const asShown = formatLength(mm, unit ?? 'mm');
  const meant = otherReadings(mm, unit).find((other) => other.mm >= least && other.mm <= most);
  const surely = mm < least / SURELY_LESS || mm > most * SURELY_MORE;
  const impossible = mm < least / IMPOSSIBLE || mm > most * IMPOSSIBLE;
  const span = `${formatLength(least, unit ?? 'mm')} to ${formatLength(most, unit ?? 'mm')}`;
  if (impossible || (meant !== undefined && surely)) {
    const change =
      mm < LIKE_A_CHANGE ? ` If a change of the pattern is meant, call it '${shortName(name)} change'.` : '';
    const other =
      meant === undefined ? 'Correct the number.' : `Was ${meant.text} meant? Write the unit behind the number.`;
    return {
      code: meant === undefined ? 'measure-impossible' : 'measure-unit-mixed-up',
      level: 'error',
      where,
      message: `A ${name} of ${asShown} cannot be right: adults measure ${span}.`,
      try: `${other}${change}`,
    };
  }
  return {
    code: 'measure-out-of-range',
    level: 'warning',
    where,
    message: `A ${name} of ${asShown} is unusual: adults measure ${span}.`,
    try: meant === undefined ? 'Measure again, and check the digits.' : `Check it: was ${meant.text} meant?`,
  };
};

/** As the alterations are called: 'hip', not 'hip girth'. */
const shortName = (name: MeasurementName): string => name.replace(/ girth$/, '');

const factors = { mm: 1, cm: 10, in: MM_PER_INCH } as const;

/**
 * What the number may have been meant as: taken for one unit and meant in another. Millimetres may have come from
 * centimetres on the way here, so both are tried for them.
 */
const otherReadings = (mm: number, unit: LengthUnit | undefined): readonly { mm: number; text: string }[] => {
  const taken: readonly LengthUnit[] = unit === undefined ? ['mm', 'cm', 'in'] : unit === 'mm' ? ['mm', 'cm'] : [unit];
  return taken.flatMap((from) =>
    (['in', 'cm', 'mm'] as const)
      .filter((to) => to !== from)
      .map((to) => ({ to, mm: (mm / factors[from]) * factors[to] }))
      .map(({ to, mm: meant }) => ({ mm: meant, text: formatLength(meant, to) })),
  );
};

/** Pairs of which the first is smaller on nearly every body. */
const smallerFirst: readonly (readonly [MeasurementName, MeasurementName])[] = [
  ['neck girth', 'neck base girth'],
  ['under-bust girth', 'bust girth'],
  ['wrist girth', 'upper-arm girth'],
  ['knee girth', 'thigh girth'],
];

const checkOrder = (body: Body): readonly Finding[] => {
  const findings: Finding[] = [];
  const { 'waist girth': waist, 'hip girth': hip } = body.measurements;
  if (waist !== undefined && hip !== undefined && waist > hip) {
    const show = body.writtenIn?.['waist girth'] ?? 'mm';
    findings.push({
      code: 'measure-waist-over-hip',
      level: 'warning',
      where: body.where('waist girth'),
      message: `The waist (${formatLength(waist, show)}) is larger than the hip (${formatLength(hip, show)}).`,
      try: 'If the two were swapped, put them right. If the wearer is built so, nothing is to be done.',
    });
  }
  for (const [small, large] of smallerFirst) {
    const [a, b] = [body.measurements[small], body.measurements[large]];
    if (a === undefined || b === undefined || a <= b) continue;
    findings.push({
      code: 'measure-levels-disagree',
      level: 'warning',
      where: body.where(small),
      message: `The ${small} is larger than the ${large}, which is rare.`,
      try: 'Check that the two were not swapped, and measure again.',
    });
  }
  return findings;
};
