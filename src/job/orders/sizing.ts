import type { LengthShown } from '../../alterations/contract.ts';
import { sizeKey } from '../../measurements/size-name.ts';
import { MM_PER_INCH } from '../../measurements/units.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { shown } from '../words.ts';

/** How a size was chosen among those of a pattern. */
export interface Sizing {
  readonly size: string;
  /** `table` or `option` where the size was asked for, else the measurement it was chosen by. */
  readonly by: string;
  /** One sentence that a dressmaker can check. */
  readonly reason: string;
}

/** A size that is at hand. */
export interface SizeAtHand {
  readonly file: number;
  readonly pattern: Pattern;
}

export interface Chosen {
  readonly file: number;
  readonly sizing: Sizing;
}

/** The size of that name. */
export const sizeAsked = (size: string, by: 'table' | 'option', sizes: readonly SizeAtHand[]): Chosen | undefined => {
  const found = sizes.find((s) => sizeKey(s.pattern.size) === sizeKey(size));
  const says = by === 'table' ? 'The table asks for it.' : '--size asks for it.';
  return found && { file: found.file, sizing: { size: found.pattern.size, by, reason: says } };
};

/**
 * Measurements by which a size is chosen, the first that is known: the bust for what hangs from the shoulders, the hip
 * for what hangs from the waist, since the waist is the easier to alter (common practice, no source).
 */
const ABOVE = ['bust girth', 'waist girth'] as const;
const BELOW = ['hip girth', 'waist girth'] as const;

const decidingFor = (pattern: Pattern): readonly string[] =>
  pattern.pieces.some(({ part }) => /^(bodice|dress)|sleeve$/.test(part)) ? ABOVE : BELOW;

/**
 * Where the full bust exceeds the high bust by 2 in or more, the smaller size is chosen and the bust altered (Texas
 * extension bulletin E-372). So no more than this is reckoned on top of the high bust, mm.
 */
const MOST_OVER_HIGH_BUST = 2 * MM_PER_INCH;

interface Deciding {
  readonly measurement: string;
  readonly mm: number;
  readonly says: string;
}

/** The size whose body is nearest to the wearer; halfway between two, the larger, which is the easier to take in. */
export const nearestSize = (
  wearer: Readonly<Record<string, number>>,
  sizes: readonly SizeAtHand[],
  show: LengthShown,
): Chosen | undefined => {
  const by = decidingFor(sizes[0]?.pattern as Pattern)
    .flatMap((measurement) => deciding(measurement, wearer, show) ?? [])
    .find(({ measurement }) => sizes.every((s) => s.pattern.draftedFor[measurement] !== undefined));
  if (!by) return undefined;
  const bodies = sizes
    .map((s) => ({ ...s, mm: s.pattern.draftedFor[by.measurement] as number }))
    .toSorted((a, b) => a.mm - b.mm);
  const nearest = bodies.reduce((best, s) => (off(s.mm, by.mm) <= off(best.mm, by.mm) + HALFWAY ? s : best));
  const others = bodies.filter((s) => s !== nearest).map((s) => `${s.pattern.size}: ${shown(s.mm, show)}`);
  const { size } = nearest.pattern;
  const reason = `${by.says} is nearest to size ${size}, ${shown(nearest.mm, show)} (${others.join('; ')}).`;
  return { file: nearest.file, sizing: { size, by: by.measurement, reason } };
};

/** Two distances are one within this, mm. */
const HALFWAY = 0.01;
const off = (a: number, b: number): number => Math.abs(a - b);

const deciding = (
  measurement: string,
  wearer: Readonly<Record<string, number>>,
  show: LengthShown,
): Deciding | undefined => {
  const mm = wearer[measurement];
  if (mm === undefined) return undefined;
  const high = wearer['high bust girth'];
  if (measurement === 'bust girth' && high !== undefined && mm - high > MOST_OVER_HIGH_BUST) {
    const over = shown(MOST_OVER_HIGH_BUST, show);
    const says = `The high bust ${shown(high, show)} + ${over}, since the full bust ${shown(mm, show)} is more than ${over} larger,`;
    return { measurement, mm: high + MOST_OVER_HIGH_BUST, says };
  }
  return { measurement, mm, says: `The ${measurement} ${shown(mm, show)}` };
};
