import { formatLength, type LengthUnit, MM_PER_INCH } from '../units.ts';

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
  const number = mm / factor;
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
