import type { MeasurementName } from '../measurements/terms.ts';
import { measurementNames } from '../measurements/terms.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { canUse } from './changes.ts';

/** A measurement that a pattern's pieces can use. */
export interface Usable {
  readonly measurement: MeasurementName;
  /** Others that would do in its place; they are not used where it is given. */
  readonly orElse: readonly MeasurementName[];
}

/** Measurements that are used only where those they stand for are not given (see `driving.ts`). */
const IN_PLACE_OF: Readonly<Partial<Record<MeasurementName, MeasurementName>>> = {
  'neck girth': 'neck base girth',
  'across back shoulder': 'shoulder length',
  'back neck to wrist': 'outer arm length',
  'crotch length': 'front crotch length',
  'outside leg length': 'inside leg length',
};

/** The measurements that can change a pattern, in the order of the terms: girths first, from neck to hem, then lengths. */
export const usableOn = (pattern: Pattern): readonly Usable[] => {
  const used = measurementNames.filter((m) => canUse(pattern, m));
  const second = used.filter((m) => used.includes(IN_PLACE_OF[m] ?? m) && IN_PLACE_OF[m] !== undefined);
  return used
    .filter((m) => !second.includes(m))
    .map((measurement) => ({ measurement, orElse: second.filter((m) => IN_PLACE_OF[m] === measurement) }));
};
