import type { MeasurementName } from '../terms.ts';
import { formatLength, type LengthUnit, MM_PER_INCH } from '../units.ts';
import { type Body, measuredOf } from './body.ts';
import { changed, strainOf } from './strain.ts';

/** What a number may have been meant as. */
export interface Reading {
  readonly mm: number;
  /** As it should be written. */
  readonly text: string;
  /** What went wrong with it. */
  readonly slip: 'unit' | 'decimal' | 'digits';
}

const FACTORS = { mm: 1, cm: 10, in: MM_PER_INCH } as const;

/** The number taken for one unit and meant in another. Millimetres may have come from centimetres, so both are tried. */
export const otherUnits = (mm: number, unit: LengthUnit | undefined): readonly Reading[] => {
  const taken: readonly LengthUnit[] = unit === undefined ? ['mm', 'cm', 'in'] : unit === 'mm' ? ['mm', 'cm'] : [unit];
  return taken.flatMap((from) =>
    (['in', 'cm', 'mm'] as const)
      .filter((to) => to !== from)
      .map((to) => ({ to, mm: (mm / FACTORS[from]) * FACTORS[to] }))
      .map(({ to, mm: meant }): Reading => ({ mm: meant, text: formatLength(meant, to), slip: 'unit' })),
  );
};

/** The decimal mark one place off: 705 for 70.5, or lost and put in wrongly: 7.05. */
export const otherDecimals = (mm: number, unit: LengthUnit | undefined): readonly Reading[] =>
  [mm / 10, mm * 10].map((meant) => ({ mm: meant, text: formatLength(meant, unit ?? 'mm'), slip: 'decimal' }));

/** Two neighbouring digits before the decimal mark turned about: 79 for 97. */
export const otherDigits = (mm: number, unit: LengthUnit | undefined): readonly Reading[] => {
  const factor = FACTORS[unit ?? 'mm'];
  // 1600.2 mm are 63 in, not 62.999…
  const number = Number((mm / factor).toFixed(6));
  const digits = String(Math.trunc(number));
  return Array.from({ length: digits.length - 1 }, (_, i) => {
    const turned = `${digits.slice(0, i)}${digits[i + 1]}${digits[i]}${digits.slice(i + 2)}`;
    const meant = (Number(turned) + (number % 1)) * factor;
    return { mm: meant, text: formatLength(meant, unit ?? 'mm'), slip: 'digits' as const };
  }).filter((reading) => Math.abs(reading.mm - mm) > factor);
};

export const otherReadings = (mm: number, unit: LengthUnit | undefined): readonly Reading[] => [
  ...otherUnits(mm, unit),
  ...otherDecimals(mm, unit),
  ...otherDigits(mm, unit),
];

/** How much rarer a slip is than a wrong unit, as a strain: digits are turned about once in four or five; ours. */
const RARER = { unit: 0, decimal: 0, digits: 3 } as const satisfies Record<Reading['slip'], number>;
/** What is within so much of the best reading is told beside it: it is not e times as likely. */
const AS_GOOD = 2;

/** Readings of a measurement in the order of how well they go with the rest of the body; those alike stay in theirs. */
export const likelyFirst = (name: MeasurementName, readings: readonly Reading[], body: Body): readonly Ranked[] => {
  const given = new Map(measuredOf(body));
  return readings
    .filter(({ mm }, i) => !readings.slice(0, i).some((r) => Math.abs(r.mm - mm) < 0.5))
    .map((reading) => ({ ...reading, strain: strainOf(changed(given, [[name, reading.mm]])) + RARER[reading.slip] }))
    .toSorted((a, b) => a.strain - b.strain);
};

export interface Ranked extends Reading {
  readonly strain: number;
}

/** `37 in`, or where two are about as likely `38 in or 83.0 cm`. */
export const saidOf = (ranked: readonly [Ranked, ...Ranked[]]): string => {
  const [best, second] = ranked;
  return second !== undefined && second.strain - best.strain < AS_GOOD ? `${best.text} or ${second.text}` : best.text;
};
