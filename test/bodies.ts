import { draftBodice, SAMPLE_BODICE_BODY } from '../fixtures/blocks/draft/bodice.ts';
import type { BodiceBody } from '../fixtures/blocks/draft/bodice-body.ts';
import { draftDress } from '../fixtures/blocks/draft/dress.ts';
import { draftSkirt } from '../fixtures/blocks/draft/skirt.ts';
import { draftTrousers } from '../fixtures/blocks/draft/trousers.ts';
import type { Pattern } from '../src/pattern/pattern.ts';
import { patternOf } from './drafted.ts';

/*
 * Bodies as a fitting room sees them: drawn around the misses' body table (a secondary copy of a US home-sewing size
 * table: bust, waist, hip, back waist length), each a little off it in every measurement. What the table does not give
 * grows with what it gives. How far bodies scatter round the table is ours, from memory: common practice with no source.
 */

const INCH = 25.4;

/** Sizes 6 to 20, inches: bust, waist, hip, back waist length. */
const MISSES: readonly (readonly [bust: number, waist: number, hip: number, back: number])[] = [
  [30.5, 23, 32.5, 15.5],
  [31.5, 24, 33.5, 15.75],
  [32.5, 25, 34.5, 16],
  [34, 26.5, 36, 16.25],
  [36, 28, 38, 16.5],
  [38, 30, 40, 16.75],
  [40, 32, 42, 17],
  [42, 34, 44, 17.25],
];
export const SIZES = MISSES.length;

/** All that the drafts take, mm. */
export interface Figure extends BodiceBody {
  readonly hip: number;
  readonly waistToHip: number;
  readonly skirt: number;
  readonly crotchDepth: number;
  readonly waistToFloor: number;
}

/** The table's body at a size, also between two: 0 is size 6, 3 is size 12. */
export const figureAt = (size: number): Figure => {
  const low = Math.min(SIZES - 2, Math.max(0, Math.floor(size)));
  const column = (i: 0 | 1 | 2 | 3): number => {
    const [a, b] = [MISSES[low]?.[i] as number, MISSES[low + 1]?.[i] as number];
    return (a + (b - a) * (size - low)) * INCH;
  };
  const [bust, waist, hip, backLength] = [column(0), column(1), column(2), column(3)];
  const s = SAMPLE_BODICE_BODY;
  // Girths of arm and neck and the widths grow by part of what the bust does; lengths as the back does.
  const wider = (mm: number, part: number): number => mm * (1 + part * (bust / s.bust - 1));
  const longer = (mm: number): number => (mm * backLength) / s.backLength;
  return {
    ...{ bust, waist, hip, backLength },
    neck: wider(s.neck, 0.5),
    backWidth: wider(s.backWidth, 0.55),
    chestWidth: wider(s.chestWidth, 0.6),
    shoulder: wider(s.shoulder, 0.25),
    frontLength: longer(s.frontLength) + 0.12 * (bust - s.bust),
    bustHeight: longer(s.bustHeight) + 0.08 * (bust - s.bust),
    bustSpan: wider(s.bustSpan, 0.6),
    armholeDepth: longer(s.armholeDepth) + 0.03 * (bust - s.bust),
    upperArm: wider(s.upperArm, 0.9),
    elbow: wider(s.elbow, 0.8),
    wrist: wider(s.wrist, 0.5),
    armLength: longer(s.armLength),
    shoulderToElbow: longer(s.shoulderToElbow),
    waistToHip: longer(8 * INCH),
    skirt: longer(24 * INCH),
    crotchDepth: longer(276) + 0.03 * (hip - 36 * INCH),
    waistToFloor: longer(1040),
  };
};

/** Standard deviations about the table, mm. */
const SCATTER: Readonly<Partial<Record<keyof Figure, number>>> = {
  ...{ bust: 18, waist: 20, hip: 20, neck: 7, backWidth: 8, chestWidth: 7, shoulder: 4, backLength: 9 },
  ...{ frontLength: 10, bustHeight: 8, armholeDepth: 5, upperArm: 12, wrist: 5, armLength: 14, shoulderToElbow: 8 },
  ...{ waistToHip: 9, skirt: 30, crotchDepth: 9, waistToFloor: 20 },
};

/** Even numbers in [0, 1), the same for the same seed (a multiplicative congruential sequence, Park and Miller 1988). */
const evenNumbers = (seed: number): (() => number) => {
  let state = (seed * 48271 + 11) % 2147483647;
  for (let i = 0; i < 8; i++) state = (state * 48271) % 2147483647;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
};

export interface Wearer {
  readonly seed: number;
  /** Of the pattern: the size whose bust (hip, below the waist) is nearest. */
  readonly size: number;
  readonly body: Figure;
}

/** Nobody is drawn further off the table than this many standard deviations. */
const FURTHEST = 2.5;

/** A body drawn around the first sizes of the table, normally distributed, and the size its pattern is bought in. */
export const wearerOf = (seed: number, boughtBy: 'bust' | 'hip', sizes = SIZES): Wearer => {
  const even = evenNumbers(seed);
  const normal = (): number => {
    const z = Math.sqrt(-2 * Math.log(1 - even())) * Math.cos(2 * Math.PI * even());
    return Math.min(FURTHEST, Math.max(-FURTHEST, z));
  };
  const table = figureAt(even() * (sizes - 1));
  const body = Object.fromEntries(
    Object.entries(table).map(([name, mm]) => [name, mm + normal() * (SCATTER[name as keyof Figure] ?? 0)]),
  ) as unknown as Figure;
  const away = (size: number): number => Math.abs(figureAt(size)[boughtBy] - body[boughtBy]);
  const size = Array.from({ length: sizes }, (_, i) => i).reduce((best, i) => (away(i) < away(best) ? i : best), 0);
  return { seed, size, body };
};

export type GarmentName = 'skirt' | 'bodice' | 'panelled bodice' | 'trousers' | 'dress';

interface Drafted {
  readonly boughtBy: 'bust' | 'hip';
  /** How many of the table's sizes the rules draft it in; all when left out. */
  readonly sizes?: number;
  readonly draft: (figure: Figure) => Pattern;
  /** The wearer's measurements as a fittings table names them, mm. */
  readonly measured: (figure: Figure) => Readonly<Record<string, number>>;
}

const upperBody = (f: Figure): Record<string, number> => ({
  'bust girth': f.bust,
  'waist girth': f.waist,
  'neck base girth': f.neck,
  'back width': f.backWidth,
  'chest width': f.chestWidth,
  'shoulder length': f.shoulder,
  'back neck to waist': f.backLength,
  'front waist length': f.frontLength,
  'bust height': f.bustHeight,
  'armhole depth': f.armholeDepth,
  'upper-arm girth': f.upperArm,
  'wrist girth': f.wrist,
  'outer arm length': f.armLength,
  'shoulder to elbow': f.shoulderToElbow,
});

const toHip = (f: Figure): Record<string, number> => ({
  'waist girth': f.waist,
  'hip girth': f.hip,
  'waist to hip': f.waistToHip,
});

export const garments: Readonly<Record<GarmentName, Drafted>> = {
  skirt: {
    boughtBy: 'hip',
    draft: ({ waist, hip, waistToHip, skirt }) =>
      patternOf(draftSkirt({ waist, hip, waistToHip, length: skirt }, { flare: 30 })),
    measured: (f) => ({ ...toHip(f), 'skirt length': f.skirt }),
  },
  bodice: { boughtBy: 'bust', draft: (f) => patternOf(draftBodice(f, {})), measured: upperBody },
  'panelled bodice': {
    boughtBy: 'bust',
    // In the largest the bust comes to lie above the underarm, and no panel seam runs from the armhole over it.
    sizes: SIZES - 1,
    draft: (f) => patternOf(draftBodice(f, { panels: true })),
    measured: upperBody,
  },
  trousers: {
    boughtBy: 'hip',
    draft: ({ waist, hip, waistToHip, crotchDepth, waistToFloor }) =>
      patternOf(draftTrousers({ waist, hip, waistToHip, crotchDepth, waistToFloor }, {})),
    measured: (f) => ({
      ...toHip(f),
      'crotch depth': f.crotchDepth,
      'inside leg length': f.waistToFloor - f.crotchDepth,
    }),
  },
  dress: {
    boughtBy: 'bust',
    draft: (f) => patternOf(draftDress({ ...f, length: f.skirt }, {})),
    measured: (f) => ({ ...upperBody(f), ...toHip(f), 'skirt length': f.skirt }),
  },
};
