import type { MeasurementName } from '../terms.ts';
import { girthsOff, isRelated } from './girths.ts';
import { PARTS } from './parts.ts';

/** Measurements of one body, mm. */
export type Given = ReadonlyMap<MeasurementName, number>;

/** The limits of a proportion lie so many spreads from its middle; ours. */
const SPREADS_TO_LIMIT = 3;

/** Proportions as logarithms: their middle, and the spread about it. Those of girths that were studied are known better. */
const PROPORTIONS = PARTS.filter(([part, whole]) => !isRelated(part) || !isRelated(whole)).map(
  ([part, whole, least, most]) => ({
    part,
    whole,
    middle: (Math.log(least) + Math.log(most)) / 2,
    spread: (Math.log(most) - Math.log(least)) / 2 / SPREADS_TO_LIMIT,
  }),
);

/**
 * How hard it is to believe that measurements are of one body: the sum of squares of how many spreads they are off what
 * the others lead to expect. Two less is e times as likely, as with the normal distribution.
 */
export const strainOf = (given: Given): number => {
  let sum = girthsOff(given);
  for (const { part, whole, middle, spread } of PROPORTIONS) {
    const a = given.get(part);
    const b = a === undefined ? undefined : given.get(whole);
    if (a !== undefined && b !== undefined) sum += ((Math.log(a / b) - middle) / spread) ** 2;
  }
  return sum;
};

/** The same measurements with some of them changed. */
export const changed = (given: Given, values: Iterable<readonly [MeasurementName, number]>): Given =>
  new Map([...given, ...values]);

export const without = (given: Given, name: MeasurementName): Given =>
  new Map([...given].filter(([other]) => other !== name));

/** Whether anything else that is given says what a measurement should be. */
export const isTied = (given: Given, name: MeasurementName): boolean =>
  (isRelated(name) && [...given.keys()].some((other) => other !== name && isRelated(other))) ||
  PARTS.some(([part, whole]) => (part === name && given.has(whole)) || (whole === name && given.has(part)));
