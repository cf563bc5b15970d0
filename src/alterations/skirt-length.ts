import { hasLengthLine } from '../paper/skirt-lengths.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { type Asked, askedBy, type Changes, type Chosen, chosen } from './asked.ts';
import type { PlanOptions } from './contract.ts';
import { lineRounds } from './length-parts.ts';

/** Lengths to the hem, measured at one seam each. */
const PLACES: Readonly<Record<string, string>> = {
  'skirt length at front': 'front',
  'skirt length at side': 'side',
  'skirt length at back': 'back',
};

export const SKIRT_LENGTHS: readonly string[] = ['skirt length', ...Object.keys(PLACES)];

/**
 * What lengths to the hem call for: a change that is the same all round at the adjustment line (at the hem where no
 * piece has one), and what one seam has over it as uneven length. Where only single seams are measured, the least
 * change among them is the same all round.
 */
export const lengthsAsked = (changes: Changes, pattern: Pattern, options: PlanOptions): Chosen => {
  const given = [...changes.values()].filter((c) => SKIRT_LENGTHS.includes(c.measurement));
  if (given.length === 0) return chosen([]);
  const least = given.reduce((a, b) => (Math.abs(b.amount) < Math.abs(a.amount) ? b : a));
  const round = changes.get('skirt length') ?? least;
  const uneven = given
    .filter((c) => c !== round && c.measurement in PLACES)
    .map(
      (c): Asked =>
        askedBy(c, 'uneven length', {
          amount: c.amount - round.amount,
          options: { at: PLACES[c.measurement] as string },
          why: 'what this seam needs over the others',
        }),
    );
  return chosen([askedBy(round, roundAlteration(pattern, options)), ...uneven], ...given);
};

/** At the line where there is one, which keeps the sweep; else at the hem. */
const roundAlteration = (pattern: Pattern, options: PlanOptions): string => {
  const lined = lineRounds(pattern).some((r) => r.pieces.some(hasLengthLine));
  return lined && options.choices['length at the hem'] === undefined
    ? 'length at the adjustment line'
    : 'length at the hem';
};
