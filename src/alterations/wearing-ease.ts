import type { Finding } from '../finding.ts';
import { type EaseRow, type Garment, leastEase } from '../measurements/ease.ts';
import { type MeasurementName, measurementNames } from '../measurements/terms.ts';
import { formatLength } from '../measurements/units.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { takeMeasurement } from '../pattern/taking/index.ts';
import type { LengthShown, Needs, PlanOptions, Target } from './contract.ts';

/* Wearing ease is never used up to make an alteration unnecessary (costume text, chapters 16 and 17). */

/** Garments of the ease table by the part of the pattern that shows a measure. */
const GARMENTS: Readonly<Record<string, readonly Garment[]>> = {
  bodice: ['bodice or dress'],
  dress: ['bodice or dress'],
  skirt: ['skirt or trousers'],
  trousers: ['skirt or trousers', 'trousers'],
  leg: ['trousers'],
};

/** Ease may be this much under the least, mm: 1/16 in, what the trade lets pass. */
const LETS_PASS = 25.4 / 16;

interface Eased {
  readonly measurement: string;
  readonly of: string;
  /** mm */
  readonly ease: number;
  readonly least: EaseRow;
}

/**
 * Places where the garment would have less than the least wearing ease: a refusal, or a warning when asked for. Where the
 * design itself was drafted closer than that (the cloth stretches) it stays as it is, and is told.
 */
export const wearingEase = (
  pattern: Pattern,
  targets: readonly Target[],
  needs: Needs,
  { beyondLimits, show }: Pick<PlanOptions, 'beyondLimits' | 'show'>,
): Finding[] =>
  measurementNames.flatMap((measurement) => {
    const body = needs.measurements[measurement];
    if (body === undefined) return [];
    const target = targets.find((t) => t.measurement === measurement);
    const measures = target ? (target.after ?? target.before) : takeMeasurement(pattern, measurement).takings;
    const short = measures.flatMap((m) => shortOf(measurement, m, body)).slice(0, 1);
    return short.map((s) => {
      const drafted = draftedEase(pattern, target, s);
      const design = needs.ease?.[measurement] === undefined && drafted !== undefined && drafted <= s.ease + LETS_PASS;
      return design && drafted < s.least.least - LETS_PASS ? closeDesign(s, show) : tooClose(s, beyondLimits, show);
    });
  });

/** The least wearing ease at a place of the garment: 'skirt', 'dress, lining'. Undefined where no source gives one. */
export const leastFor = (of: string, measurement: MeasurementName): EaseRow | undefined =>
  (GARMENTS[of.split(',')[0] ?? ''] ?? [])
    .flatMap((g) => leastEase(g, measurement) ?? [])
    .reduce<EaseRow | undefined>((a, b) => (a === undefined || b.least < a.least ? b : a), undefined);

const shortOf = (measurement: MeasurementName, m: { of: string; mm: number }, body: number): Eased[] => {
  const ease = m.mm - body;
  const least = leastFor(m.of, measurement);
  return least && ease < least.least - LETS_PASS ? [{ measurement, of: m.of, ease, least }] : [];
};

/** The ease that the pattern was drafted with, mm. */
const draftedEase = (pattern: Pattern, target: Target | undefined, { measurement, of }: Eased): number | undefined => {
  const draftedFor = pattern.draftedFor[measurement];
  const was = target?.before.find((b) => b.of === of);
  return draftedFor === undefined || !was ? undefined : was.mm - draftedFor;
};

const described = ({ measurement, of, ease, least }: Eased, show: LengthShown): string =>
  `${ease < 0 ? `${formatLength(-ease, show)} less than the body` : `${formatLength(ease, show)} ease`} at the ${measurement} (${of}), where ${formatLength(least.least, show)} is the least (${least.source})`;

const tooClose = (eased: Eased, beyondLimits: boolean, show: LengthShown): Finding => ({
  code: 'plan-ease-least',
  level: beyondLimits ? 'warning' : 'error',
  where: { cell: eased.measurement },
  message: `The garment would have ${described(eased, show)}.`,
  try: beyondLimits
    ? 'Make a trial garment before cutting the cloth.'
    : 'Check the measurement; ask for more ease; or, for cloth that stretches, ask for it with --beyond-limits.',
});

const closeDesign = (eased: Eased, show: LengthShown): Finding => ({
  code: 'plan-ease-design',
  level: 'note',
  where: { cell: eased.measurement },
  message: `The garment has ${described(eased, show)}; the pattern was drafted so, and the design's ease is kept.`,
  try: 'Nothing, if the design is a close one or its cloth stretches; else set the ease with --ease.',
});
