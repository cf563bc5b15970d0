import type { Finding, Where } from '../../finding.ts';
import { type MeasurementName, terms } from '../terms.ts';
import { formatLength, type LengthUnit } from '../units.ts';

/** One body as it is checked: mm by canonical name, and the unit each value was written in. */
export interface Body {
  readonly measurements: Readonly<Partial<Record<string, number>>>;
  /** The unit a value was written in; absent: the unit is not known and only millimetres are spoken of. */
  readonly writtenIn?: Readonly<Partial<Record<string, LengthUnit>>>;
  /** Where the value of a measurement stands, for the finding. */
  readonly where: (measurement: string) => Where;
  /** Whether a person says that a measurement was checked and stands. */
  readonly checked?: (measurement: string) => boolean;
}

/** Something odd, and the measurements it is about. */
export interface Doubt {
  readonly about: readonly string[];
  readonly finding: Finding;
}

/** The measurements of a body that are known here, mm. */
export const measuredOf = (body: Body): readonly (readonly [MeasurementName, number])[] =>
  Object.entries(body.measurements).filter(
    (entry): entry is [MeasurementName, number] => entry[1] !== undefined && entry[0] in terms,
  );

/** A value as it was written. */
export const asWritten = (body: Body, name: string, mm: number): string =>
  formatLength(mm, body.writtenIn?.[name] ?? 'mm');

/** ' (cell B7)' behind a value, where it stands in a sheet. */
export const inCell = (body: Body, name: string): string => {
  const { address } = body.where(name);
  return address === undefined ? '' : ` (cell ${address})`;
};

/** 'A hip girth', 'An elbow girth'. */
export const withArticle = (name: string): string => `${/^[aeiou]/.test(name) ? 'An' : 'A'} ${name}`;

/** What a person can do about a finding that a measurement may well deserve. */
export const OR_CHECKED = "If it was measured so, write yes in the column 'checked'.";
