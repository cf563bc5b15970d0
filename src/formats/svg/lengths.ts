import type { Affine } from '../../geometry/transform.ts';

/** Units of CSS Values 3, section 6.2, in millimetres: 1 in = 2.54 cm = 96 px = 72 pt = 6 pc; 1 Q = 0.25 mm. */
const MM_PER_UNIT: Readonly<Record<string, number>> = {
  px: 25.4 / 96,
  mm: 1,
  cm: 10,
  q: 0.25,
  in: 25.4,
  pt: 25.4 / 72,
  pc: 25.4 / 6,
};

export const MM_PER_PX = 25.4 / 96;

export interface Length {
  readonly value: number;
  /** Lower case; '' for user units, '%' for a share of the viewport. */
  readonly unit: string;
}

/** What relative lengths are relative to: the viewport and font size, in user units. */
export interface Surroundings {
  readonly width: number;
  readonly height: number;
  readonly fontSize: number;
}

/** No length takes more letters; a longer text would only keep the pattern busy. */
const LONGEST = 200;

const LENGTH = /^\s*([-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?)\s*(mm|cm|in|pt|pc|px|q|em|ex|rem|ch|%)?\s*$/i;

/** Undefined when the text is no length, or too large to be finite. */
export const parseLength = (text: string): Length | undefined => {
  const match = text.length > LONGEST ? null : LENGTH.exec(text);
  const value = Number(match?.[1]);
  if (match === null || !Number.isFinite(value)) return undefined;
  return { value, unit: (match[2] ?? '').toLowerCase() };
};

/** Whether the unit has a size of its own. */
export const isPhysical = (length: Length | undefined): length is Length =>
  length !== undefined && MM_PER_UNIT[length.unit] !== undefined;

/** On paper, with plain numbers taken as px; undefined for lengths relative to something. */
export const inMillimetres = (length: Length | undefined): number | undefined => {
  const unit = length === undefined ? undefined : length.unit === '' ? MM_PER_PX : MM_PER_UNIT[length.unit];
  return length === undefined || unit === undefined ? undefined : length.value * unit;
};

/** User units in one of `unit` along the given direction (SVG 2, section 8.9: percentages of the viewport). */
export const userUnitsPer = (unit: string, along: 'x' | 'y' | 'both', around: Surroundings): number => {
  if (unit === '') return 1;
  if (unit === '%') {
    if (along === 'x') return around.width / 100;
    if (along === 'y') return around.height / 100;
    return Math.hypot(around.width, around.height) / Math.SQRT2 / 100;
  }
  if (unit === 'em') return around.fontSize;
  if (unit === 'ex' || unit === 'ch') return around.fontSize / 2;
  if (unit === 'rem') return 16;
  return (MM_PER_UNIT[unit] ?? MM_PER_PX) / MM_PER_PX;
};

export const inUserUnits = (length: Length, along: 'x' | 'y' | 'both', around: Surroundings): number =>
  length.value * userUnitsPer(length.unit, along, around);

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** `viewBox`; undefined when it is not four finite numbers with a positive size. */
export const parseViewBox = (text: string): Box | undefined => {
  const numbers = text
    .trim()
    .split(/[\s,]+/)
    .map(Number);
  const [x, y, width, height] = numbers;
  if (numbers.length !== 4 || numbers.some((n) => !Number.isFinite(n))) return undefined;
  if (x === undefined || y === undefined || width === undefined || height === undefined) return undefined;
  return width > 0 && height > 0 ? { x, y, width, height } : undefined;
};

const SHARE: Readonly<Record<string, number>> = { Min: 0, Mid: 0.5, Max: 1 };

/** The map from a viewBox onto its viewport (SVG 2, section 8.2, with preserveAspectRatio). */
export const viewTransform = (view: Box, onto: Box, aspect: string | undefined): Affine => {
  let sx = onto.width / view.width;
  let sy = onto.height / view.height;
  const [, alignX, alignY, fit] = /^\s*x(Min|Mid|Max)Y(Min|Mid|Max)(?:\s+(meet|slice))?/.exec(aspect ?? '') ?? [];
  const stretched = /^\s*none/.test(aspect ?? '');
  if (!stretched) {
    sx = fit === 'slice' ? Math.max(sx, sy) : Math.min(sx, sy);
    sy = sx;
  }
  const spareX = stretched ? 0 : (onto.width - view.width * sx) * (SHARE[alignX ?? 'Mid'] ?? 0.5);
  const spareY = stretched ? 0 : (onto.height - view.height * sy) * (SHARE[alignY ?? 'Mid'] ?? 0.5);
  return { a: sx, b: 0, c: 0, d: sy, e: onto.x + spareX - view.x * sx, f: onto.y + spareY - view.y * sy };
};
