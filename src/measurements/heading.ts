import { unitCalled } from './units.ts';

/** A heading, and what stands for the unit in it. */
export interface PartedHeading {
  readonly name: string;
  /** '' where there is none; in brackets it need not be a unit that is known. */
  readonly unit: string;
}

/** `waist girth (in)`, `waist girth [in]`; without brackets `waist cm`, `waist in cm`, `waist, cm`, `waist_cm`. */
export const partedHeading = (heading: string): PartedHeading => {
  const bracketed = /^(.*?)\s*(?:\(([^()]*)\)|\[([^[\]]*)\])$/.exec(heading);
  if (bracketed !== null) return { name: bracketed[1] ?? '', unit: bracketed[2] ?? bracketed[3] ?? '' };
  const bare = /^(.*?[^\s,;:/_-])(?:[\s,;:/_-]+in)?[\s,;:/_-]+(\p{L}+)\.?$/u.exec(heading);
  const unit = bare?.[2] ?? '';
  return bare !== null && unitCalled(unit) !== undefined ? { name: bare[1] ?? '', unit } : { name: heading, unit: '' };
};
