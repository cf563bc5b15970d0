import type { MeasurementName } from './terms.ts';
import { MM_PER_INCH } from './units.ts';

/** Wearing ease that a garment keeps on top of the body, as the cited text gives it. */
export interface EaseRow {
  readonly garment: Garment;
  readonly place: MeasurementName;
  /** Least ease, mm. 0 where the source names only a most. */
  readonly least: number;
  /** Upper end of the usual span, mm; absent where the source names only a least. */
  readonly most?: number;
  readonly source: string;
}

export type Garment = 'bodice or dress' | 'skirt or trousers' | 'menswear' | 'any garment' | 'trousers';

const C16 = 'Central Washington University costume text, chapter 16';
const N228 = 'New Mexico State University, Guide C-228';
const N209 = 'New Mexico State University, Guide C-209';

const row = (
  garment: Garment,
  place: MeasurementName,
  leastInches: number,
  mostInches: number | undefined,
  source: string,
): EaseRow => ({
  garment,
  place,
  least: leastInches * MM_PER_INCH,
  ...(mostInches === undefined ? {} : { most: mostInches * MM_PER_INCH }),
  source,
});

/** Ease by garment and place, inches in the sources, mm here. */
export const easeTable: readonly EaseRow[] = [
  row('bodice or dress', 'bust girth', 1.5, 2, C16),
  row('bodice or dress', 'waist girth', 0.75, 1, C16),
  row('bodice or dress', 'hip girth', 2, 2.75, C16),
  row('skirt or trousers', 'waist girth', 0.5, 0.75, C16),
  row('skirt or trousers', 'hip girth', 2, 2.75, C16),
  row('menswear', 'bust girth', 1.5, 2.5, C16),
  row('menswear', 'waist girth', 0.75, 1, C16),
  row('menswear', 'hip girth', 1.5, 2, C16),
  row('menswear', 'thigh girth', 1, undefined, C16),
  row('any garment', 'bust girth', 3, 4, N228),
  row('trousers', 'waist girth', 0, 1, N209),
  row('trousers', 'hip girth', 2, 4, N209),
  row('trousers', 'thigh girth', 1, 2, N209),
  row('trousers', 'knee girth', 1, undefined, N209),
];

/** The row for a garment and place with the smallest least ease; undefined when no source gives one. */
export const leastEase = (garment: Garment, place: MeasurementName): EaseRow | undefined =>
  easeTable
    .filter((r) => r.garment === garment && r.place === place)
    .reduce<EaseRow | undefined>((best, r) => (best === undefined || r.least < best.least ? r : best), undefined);

/**
 * Ease added to a seated crotch depth, mm: ½ in below hip 36 in, 1 in above 38 in, in between in proportion (ours).
 * Source: New Mexico State University, Guide C-209; its worked value is hip 39 in: 1 in.
 */
export const crotchDepthEase = (hipGirth: number): number => {
  const inches = Math.min(38, Math.max(36, hipGirth / MM_PER_INCH));
  return (0.5 + (inches - 36) / 4) * MM_PER_INCH;
};
