import { edgeLengths, measureGirths, walkMates } from '../checks/index.ts';
import type { Pattern } from '../pattern/pattern.ts';

/** All that is measured of a pattern before and after. */
export interface Measures {
  readonly edges: ReturnType<typeof edgeLengths>;
  readonly mates: ReturnType<typeof walkMates>;
  readonly girths: ReturnType<typeof measureGirths>;
}

/** Edges that are sewn together may differ by so much, mm: 1/16 in (Threads magazine no. 200). */
export const EVEN_WITHIN = 25.4 / 16;

export const measure = (pattern: Pattern): Measures => ({
  edges: edgeLengths(pattern),
  mates: walkMates(pattern),
  girths: measureGirths(pattern),
});
