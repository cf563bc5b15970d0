import type { MeasurementName } from '../terms.ts';
import { girthsOff, isRelated } from './girths.ts';
import { PARTS } from './parts.ts';

/** Measurements of one body, mm. */
export type Given = ReadonlyMap<MeasurementName, number>;

/** The limits of a proportion lie so many spreads from its middle; ours. */
const SPREADS_TO_LIMIT = 3;

/**
 * How hard it is to believe that measurements are of one body: the sum of squares of how many spreads they are off what
 * the others lead to expect. Two less is e times as likely, as with the normal distribution.
 */
export const strainOf = (given: Given): number =>
  girthsOff(given) +
  PARTS.reduce((sum, [part, whole, least, most]) => {
    const [a, b] = [given.get(part), given.get(whole)];
    if (a === undefined || b === undefined || (isRelated(part) && isRelated(whole))) return sum;
    const [low, high] = [Math.log(least), Math.log(most)];
    const spread = (high - low) / 2 / SPREADS_TO_LIMIT;
    return sum + ((Math.log(a / b) - (low + high) / 2) / spread) ** 2;
  }, 0);

/** The same measurements with some of them changed. */
export const changed = (given: Given, values: Iterable<readonly [MeasurementName, number]>): Given =>
  new Map([...given, ...values]);

export const without = (given: Given, name: MeasurementName): Given =>
  new Map([...given].filter(([other]) => other !== name));

/** Whether anything else that is given says what a measurement should be. */
export const isTied = (given: Given, name: MeasurementName): boolean =>
  (isRelated(name) && [...given.keys()].some((other) => other !== name && isRelated(other))) ||
  PARTS.some(([part, whole]) => (part === name && given.has(whole)) || (whole === name && given.has(part)));
