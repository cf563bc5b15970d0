import { list } from '../list.ts';
import { type MeasurementName, terms } from '../terms.ts';
import { formatLength } from '../units.ts';
import { asWritten, type Body, type Doubt, measuredOf, OR_CHECKED, withArticle } from './body.ts';
import { expectedFrom, isRelated } from './girths.ts';
import { otherReadings, type Reading } from './readings.ts';

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
  // Two that contradict each other, and nothing to say which is wrong: the one that another reading would mend.
  const mendable = odd.find(([name, mm]) => readingFor(name, mm, body) !== undefined);
  const named = girths.length === 2 ? [mendable ?? odd[0]].filter((g) => g !== undefined) : odd;
  const exchanged = new Map(named.map(([name, mm]) => [name, exchangedWith(name, mm, body)]));
  return named
    .filter(
      ([name]) =>
        !named
          .slice(
            0,
            named.findIndex(([n]) => n === name),
          )
          .some(([n]) => exchanged.get(n) === name),
    )
    .map(([name, mm]) => farFromOthers(name, mm, girths, body, exchanged.get(name)));
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

/** Another reading of the number that suits the rest of the body. */
export const readingFor = (name: MeasurementName, mm: number, body: Body): Reading | undefined => {
  const [least, most] = terms[name].range;
  return otherReadings(mm, body.writtenIn?.[name]).find(
    (r) => r.mm >= least && r.mm <= most && fitsTheRest(name, r.mm, body),
  );
};

/** Another measurement of the body with which this one seems to have been exchanged. */
const exchangedWith = (name: MeasurementName, mm: number, body: Body): MeasurementName | undefined => {
  const suits = (b: Body, m: MeasurementName, value: number) => {
    const [least, most] = terms[m].range;
    return value >= least && value <= most && fitsTheRest(m, value, b);
  };
  const found = measuredOf(body).find(([other, otherMm]) => {
    if (other === name || !isRelated(other)) return false;
    const measurements = { ...body.measurements, [name]: otherMm, [other]: mm };
    const exchanged = { ...body, measurements };
    return suits(exchanged, name, otherMm) && suits(exchanged, other, mm);
  });
  return found?.[0];
};

const farFromOthers = (
  name: MeasurementName,
  mm: number,
  girths: readonly (readonly [MeasurementName, number])[],
  body: Body,
  exchanged: MeasurementName | undefined,
): Doubt => {
  const others = girths.filter(([other]) => other !== name);
  const expected = others.map(([other, otherMm]) => expectedFrom(name, other, otherMm));
  const unit = body.writtenIn?.[name] ?? 'mm';
  const middles = expected.map(({ middle }) => middle);
  const about = [Math.min(...middles) * 0.9, Math.max(...middles) * 1.1].map((m) =>
    formatLength(rounded(m, unit), unit),
  );
  const with_ = list(others.slice(0, 3).map(([other, otherMm]) => `a ${other} of ${asWritten(body, other, otherMm)}`));
  const reading = readingFor(name, mm, body);
  const meant =
    exchanged !== undefined
      ? `Were ${name} and ${exchanged} exchanged?`
      : reading !== undefined
        ? `Was ${reading.text} meant?`
        : 'Measure again.';
  return {
    about: exchanged === undefined ? [name] : [name, exchanged],
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
