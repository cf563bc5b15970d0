import { list } from '../list.ts';
import { type MeasurementName, terms } from '../terms.ts';
import { formatLength } from '../units.ts';
import { asWritten, type Body, type Doubt, measuredOf, OR_CHECKED, withArticle } from './body.ts';
import { expectedFrom, isRelated } from './girths.ts';
import { likelyFirst, otherReadings, type Ranked, saidOf } from './readings.ts';
import { strainOf, without } from './strain.ts';

/** A girth this many spreads away from what every other girth of the body leads to expect is asked about; ours. */
const FAR = 4;
/** A reading is likely when it lies within so many spreads of it; ours. */
const NEAR = 2.5;

/** Girths that are far from all the others of the same body. */
export const relatedDoubts = (body: Body, asked: ReadonlySet<string>): readonly Doubt[] => {
  const girths = measuredOf(body).filter(([name]) => isRelated(name) && !asked.has(name));
  const odd = girths.filter(([name, mm]) => {
    const others = girths.filter(([other]) => other !== name);
    return others.length > 0 && others.every((other) => Math.abs(spreadsOff(name, mm, other)) > FAR);
  });
  if (odd.length === 0) return [];
  if (girths.length > 2) return odd.map(([name, mm]) => farFromOthers(name, mm, girths, body));
  const [first, second] = odd.map((girth) => explained(girth, body)).toSorted((a, b) => a.strain - b.strain);
  if (!first) return [];
  const isOpen = second && (first.reading === undefined || second.strain - first.strain < AS_GOOD);
  const other = isOpen && second.reading ? `a ${second.name} of ${second.reading.text}` : undefined;
  return [farFromOthers(first.name, first.mm, girths, body, other)];
};

/** So much rarer it is, as a strain, that a value is wrong in a way no slip explains; ours. */
const UNEXPLAINED = 10;
/** Two explanations are about as likely within this. */
const AS_GOOD = 2;

/** Of two that contradict each other: how likely the rest of the body is when this is the wrong one, and what it was meant as. */
const explained = ([name, mm]: readonly [MeasurementName, number], body: Body) => {
  const [reading] = readingsFor(name, mm, body);
  const alone = strainOf(without(new Map(measuredOf(body)), name)) + UNEXPLAINED;
  if (reading === undefined) return { name, mm, strain: alone };
  // Where the other cell is the one that is off, a reading that suits it explains nothing.
  return { name, mm, strain: Math.min(alone, reading.strain), reading };
};

const spreadsOff = (
  name: MeasurementName,
  mm: number,
  [other, otherMm]: readonly [MeasurementName, number],
): number => {
  const { middle, spread } = expectedFrom(name, other, otherMm);
  return Math.log(mm / middle) / spread;
};

/** Whether a value for a measurement would suit the girths that the rest of the body has. */
export const fitsTheRest = (name: MeasurementName, mm: number, body: Body): boolean =>
  !isRelated(name) ||
  measuredOf(body)
    .filter(([other]) => other !== name && isRelated(other))
    .every((other) => Math.abs(spreadsOff(name, mm, other)) <= NEAR);

/** Other readings of the number that suit the rest of the body, likeliest first. */
const readingsFor = (name: MeasurementName, mm: number, body: Body): readonly Ranked[] => {
  const [least, most] = terms[name].range;
  return likelyFirst(name, otherReadings(mm, body.writtenIn?.[name]), body).filter(
    (r) => r.mm >= least && r.mm <= most && fitsTheRest(name, r.mm, body),
  );
};

const farFromOthers = (
  name: MeasurementName,
  mm: number,
  girths: readonly (readonly [MeasurementName, number])[],
  body: Body,
  orElse?: string,
): Doubt => {
  const others = girths.filter(([other]) => other !== name);
  const expected = others.map(([other, otherMm]) => expectedFrom(name, other, otherMm));
  const unit = body.writtenIn?.[name] ?? 'mm';
  const middles = expected.map(({ middle }) => middle);
  const about = [Math.min(...middles) * 0.9, Math.max(...middles) * 1.1].map((m) =>
    formatLength(rounded(m, unit), unit),
  );
  const with_ = list(others.slice(0, 3).map(([other, otherMm]) => `a ${other} of ${asWritten(body, other, otherMm)}`));
  const [best, ...less] = readingsFor(name, mm, body);
  const own = best === undefined ? 'Measure again.' : `Was ${saidOf([best, ...less])} meant?`;
  const meant = orElse === undefined ? own : `${own} Or was ${orElse} meant?`;
  return {
    about: [name],
    finding: {
      code: 'measure-far-from-others',
      level: 'warning',
      where: body.where(name),
      message: `${withArticle(name)} of ${asWritten(body, name, mm)} is far from what goes with ${with_}: about ${about[0]} to ${about[1]}.`,
      try: `${meant} ${OR_CHECKED}`,
    },
  };
};

/** To whole centimetres or half inches: more would say too much. */
const rounded = (mm: number, unit: string): number => {
  const step = unit === 'in' ? 12.7 : 10;
  return Math.round(mm / step) * step;
};
