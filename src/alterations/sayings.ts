import { formatLength } from '../measurements/units.ts';
import type { LengthShown } from './contract.ts';

/* Turns of phrase in which the trade tells a signed amount. */

export const told =
  (plus: string, minus: string) =>
  (mm: number, show: LengthShown): string =>
    `${mm < 0 ? minus : plus} ${formatLength(Math.abs(mm), show)}`;

export const outOrIn = told('out', 'in');
export const raisedOrLowered = told('raised', 'lowered');
export const takenOrLet = told('let down', 'taken up');
export const spreadOrLapped = told('spread', 'overlapped');
export const spreadOrTucked = told('parted and spread', 'folded out');
export const narrowerOrDeeper = told('narrower by', 'deeper by');
export const longerOrShorter = told('longer by', 'shorter by');
export const largerOrSmaller = told('larger by', 'smaller by');
