import type { MeasurementName } from './terms.ts';

/** Pairs that stand side by side in a table, are much alike, and are easily written into each other's cell. */
export const LIKELY_EXCHANGED: readonly (readonly [MeasurementName, MeasurementName])[] = [
  ['bust girth', 'hip girth'],
  ['back width', 'chest width'],
  ['back neck to waist', 'front waist length'],
];

/** Off the usual by more than this (in the logarithm, about 9 in a hundred), and by less than that once exchanged; ours. */
const OFF = 0.09;
const NEAR = 0.035;

/** Whether two values look exchanged, where the first is usually `usual` of the second. */
export const looksExchanged = (first: number, second: number, usual: number): boolean => {
  const off = (ratio: number) => Math.abs(Math.log(ratio / usual));
  return off(first / second) > OFF && off(second / first) < NEAR;
};
