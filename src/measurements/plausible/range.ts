import { type MeasurementName, terms } from '../terms.ts';
import { formatLength } from '../units.ts';
import { asWritten, type Body, type Doubt, measuredOf, OR_CHECKED, withArticle } from './body.ts';
import { otherReadings, type Reading } from './readings.ts';
import { fitsTheRest } from './related.ts';

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

/** Values outside what adults measure, with the reading that would be inside. */
export const rangeDoubts = (body: Body): readonly Doubt[] =>
  measuredOf(body).flatMap(([name, mm]): Doubt[] => {
    const [least, most] = terms[name].range;
    if (mm >= least && mm <= most) return [];
    const meant = likelyMeant(name, mm, body);
    const surely = mm < least / SURELY_LESS || mm > most * SURELY_MORE;
    const impossible = mm < least / IMPOSSIBLE || mm > most * IMPOSSIBLE;
    const sure = impossible || (meant !== undefined && meant.slip !== 'digits' && surely);
    return [sure ? cannotBe(name, mm, meant, body) : unusual(name, mm, meant, body)];
  });

/** The first reading inside the range that suits the rest of the body; failing that, the first inside the range. */
const likelyMeant = (name: MeasurementName, mm: number, body: Body): Reading | undefined => {
  const [least, most] = terms[name].range;
  const unit = body.writtenIn?.[name];
  const inside = otherReadings(mm, unit).filter((r) => r.mm >= least && r.mm <= most);
  return inside.find((r) => fitsTheRest(name, r.mm, body)) ?? inside.find((r) => r.slip !== 'digits');
};

const CODES = {
  unit: 'measure-unit-mixed-up',
  decimal: 'measure-decimal-slip',
  digits: 'measure-decimal-slip',
} as const;

const cannotBe = (name: MeasurementName, mm: number, meant: Reading | undefined, body: Body): Doubt => {
  const change = mm < LIKE_A_CHANGE ? ` If a change of the pattern is meant, call it '${shortName(name)} change'.` : '';
  const other =
    meant === undefined
      ? 'Correct the number.'
      : meant.slip === 'unit'
        ? `Was ${meant.text} meant? Write the unit behind the number.`
        : `Was ${meant.text} meant? Put the decimal mark right.`;
  return {
    about: [name],
    finding: {
      code: meant === undefined ? 'measure-impossible' : CODES[meant.slip],
      level: 'error',
      where: body.where(name),
      message: `${withArticle(name)} of ${asWritten(body, name, mm)} cannot be right: adults measure ${span(name, body)}.`,
      try: `${other}${change}`,
    },
  };
};

const unusual = (name: MeasurementName, mm: number, meant: Reading | undefined, body: Body): Doubt => ({
  about: [name],
  finding: {
    code: 'measure-out-of-range',
    level: 'warning',
    where: body.where(name),
    message: `${withArticle(name)} of ${asWritten(body, name, mm)} is unusual: adults measure ${span(name, body)}.`,
    try: `${meant === undefined ? 'Measure again, and check the digits.' : `Check it: was ${meant.text} meant?`} ${OR_CHECKED}`,
  },
});

const span = (name: MeasurementName, body: Body): string => {
  const unit = body.writtenIn?.[name] ?? 'mm';
  const [least, most] = terms[name].range;
  return `${formatLength(least, unit)} to ${formatLength(most, unit)}`;
};

/** As the alterations are called: 'hip', not 'hip girth'. */
const shortName = (name: MeasurementName): string => name.replace(/ girth$/, '');
