import { type MeasurementName, terms } from '../terms.ts';
import { formatLength } from '../units.ts';
import { asWritten, type Body, type Doubt, measuredOf, OR_CHECKED, withArticle } from './body.ts';
import { likelyFirst, otherReadings, type Ranked, saidOf } from './readings.ts';
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
export const rangeDoubts = (body: Body, asked: ReadonlySet<string> = new Set()): readonly Doubt[] =>
  measuredOf(body).flatMap(([name, mm]): Doubt[] => {
    const [least, most] = terms[name].range;
    if (isInside(name, mm) || asked.has(name)) return [];
    const meant = likelyMeant(name, mm, body);
    const surely = mm < least / SURELY_LESS || mm > most * SURELY_MORE;
    const impossible = mm < least / IMPOSSIBLE || mm > most * IMPOSSIBLE;
    // Turned about, digits give another number almost always: that alone makes nothing certain.
    const sure = impossible || (surely && meant.some(({ slip }) => slip !== 'digits'));
    return [sure ? cannotBe(name, mm, meant, body) : unusual(name, mm, meant, body)];
  });

/** Whether adults measure so. */
export const isInside = (name: MeasurementName, mm: number): boolean => {
  const [least, most] = terms[name].range;
  return mm >= least && mm <= most;
};

/**
 * The readings inside the range that suit the rest of the body, likeliest first; failing that, those inside the range. What
 * is outside its own range says nothing of what the others are.
 */
export const likelyMeant = (name: MeasurementName, mm: number, body: Body): readonly Ranked[] => {
  const believed = measuredOf(body).filter(([other, otherMm]) => other === name || isInside(other, otherMm));
  const rest: Body = { ...body, measurements: Object.fromEntries(believed) };
  const inside = likelyFirst(name, otherReadings(mm, body.writtenIn?.[name]), rest).filter((r) => isInside(name, r.mm));
  const suiting = inside.filter((r) => fitsTheRest(name, r.mm, rest));
  return suiting.length > 0 ? suiting : inside.filter((r) => r.slip !== 'digits');
};

const CODES = {
  unit: 'measure-unit-mixed-up',
  decimal: 'measure-decimal-slip',
  digits: 'measure-digits-turned',
} as const;

const REMEDIES = {
  unit: 'Write the unit behind the number.',
  decimal: 'Put the decimal mark right.',
  digits: 'Put the digits right.',
} as const;

const cannotBe = (name: MeasurementName, mm: number, meant: readonly Ranked[], body: Body): Doubt => {
  const change = mm < LIKE_A_CHANGE ? ` If a change of the pattern is meant, call it '${shortName(name)} change'.` : '';
  const [best, ...others] = meant;
  const other =
    best === undefined ? 'Correct the number.' : `Was ${saidOf([best, ...others])} meant? ${REMEDIES[best.slip]}`;
  return {
    about: [name],
    finding: {
      code: best === undefined ? 'measure-impossible' : CODES[best.slip],
      level: 'error',
      where: body.where(name),
      message: `${withArticle(name)} of ${asWritten(body, name, mm)} cannot be right: adults measure ${span(name, body)}.`,
      try: `${other}${change}`,
    },
  };
};

const unusual = (name: MeasurementName, mm: number, [best, ...others]: readonly Ranked[], body: Body): Doubt => ({
  about: [name],
  finding: {
    code: 'measure-out-of-range',
    level: 'warning',
    where: body.where(name),
    message: `${withArticle(name)} of ${asWritten(body, name, mm)} is unusual: adults measure ${span(name, body)}.`,
    try: `${best === undefined ? 'Measure again, and check the digits.' : `Check it: was ${saidOf([best, ...others])} meant?`} ${OR_CHECKED}`,
  },
});

const span = (name: MeasurementName, body: Body): string => {
  const unit = body.writtenIn?.[name] ?? 'mm';
  const [least, most] = terms[name].range;
  return `${formatLength(least, unit)} to ${formatLength(most, unit)}`;
};

/** As the alterations are called: 'hip', not 'hip girth'. */
const shortName = (name: MeasurementName): string => name.replace(/ girth$/, '');
