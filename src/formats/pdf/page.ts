import type { Finding } from '../../finding.ts';
import type { Frame } from '../sheet.ts';
import { report } from './codes.ts';

/** A page's units to the inch when it states no other. */
const UNITS_PER_INCH = 72;
const MILLIMETRES_PER_INCH = 25.4;

/** Greatest side of a page in its own units: ISO 32000-1, annex C.2. */
const GREATEST_UNITS = 14400;

/** Greatest side of a page without UserUnit, mm: 200 in. */
export const GREATEST_SIDE = (GREATEST_UNITS / UNITS_PER_INCH) * MILLIMETRES_PER_INCH;

/** How large the page of a frame is, in its own units. */
export interface PageSize {
  /** Of a unit in 1/72 in, a whole number: the UserUnit entry, 1 when there is none. */
  readonly userUnit: number;
  /** Units to the millimetre. */
  readonly unitsPerMillimetre: number;
  readonly width: number;
  readonly height: number;
}

/** Lengths that are meant to be the limit may be a rounding error above it. */
const fits = (length: number): boolean => length <= GREATEST_SIDE * (1 + 1e-9);

export const pageSize = (frame: Frame): PageSize => {
  const longest = Math.max(frame.width, frame.height);
  const userUnit = fits(longest) ? 1 : Math.ceil(longest / GREATEST_SIDE - 1e-9);
  const unitsPerMillimetre = UNITS_PER_INCH / MILLIMETRES_PER_INCH / userUnit;
  return {
    userUnit,
    unitsPerMillimetre,
    width: Math.min(GREATEST_UNITS, frame.width * unitsPerMillimetre),
    height: Math.min(GREATEST_UNITS, frame.height * unitsPerMillimetre),
  };
};

/** What is to be said of frames past the limit: an error, or a warning where a larger unit was asked for. */
export const checkPages = (frames: readonly Frame[], userUnit: boolean): Finding[] =>
  frames
    .filter((f) => !fits(Math.max(f.width, f.height)))
    .map((f) => {
      const size = `${f.title} is ${Math.max(f.width, f.height).toFixed(0)} mm long`;
      return userUnit
        ? report(
            'pdf-user-unit',
            { entity: f.name },
            `${size}, so its page states a unit ${pageSize(f).userUnit} times the usual. Programs that ignore this print it that much too small.`,
            'Measure the test square on the first print, or leave the option out for pages of at most 5080 mm.',
          )
        : report(
            'pdf-page-too-long',
            { entity: f.name },
            `${size}, and a PDF page ends at ${GREATEST_SIDE.toFixed(0)} mm.`,
            'Split the roll between pieces, write HP-GL/2, SVG or DXF, or allow larger page units (--user-unit).',
          );
    });
