import type { Finding } from '../finding.ts';
import type { Drawing } from '../formats/drawing.ts';
import { EMPTY_BOUNDS, heightOfBounds, unionBounds, widthOf } from '../geometry/bounds.ts';
import { pathBounds } from '../geometry/path.ts';
import { outlineSegments } from '../pattern/edges.ts';
import type { Piece } from '../pattern/piece.ts';
import { acrossOf, heightOf } from '../pattern/upright.ts';

/**
 * Sizes a piece of clothing for a grown person or a child can have, mm: width and height of the outline. Common
 * practice: a skirt is between a child's mini and a trained one; a half panel between a gore and half a circle; a sleeve
 * between a cap sleeve and one gathered to twice its width.
 */
const skirt = { height: [180, 1700], width: [70, 1900] } as const;
const bodice = { height: [150, 1000], width: [60, 1300] } as const;
const dress = { height: [350, 1900], width: [60, 1900] } as const;
const sleeve = { height: [60, 950], width: [60, 900] } as const;
const trousers = { height: [180, 1400], width: [120, 900] } as const;
const band = { height: [15, 260], width: [180, 1700] } as const;
const anything = { height: [12, 2200], width: [12, 2200] } as const;

/** Factors by which a drawing is off when its unit is taken for another. */
const mistakes: readonly { readonly factor: number; readonly units: string }[] = [
  { factor: 1 / 25.4, units: 'mm' },
  { factor: 0.1, units: 'mm' },
  { factor: 25.4, units: 'in' },
  { factor: 10, units: 'cm' },
  { factor: 2.54, units: 'in' },
  { factor: 1 / 2.54, units: 'cm' },
];

const sizesFor = ({ part }: Piece) => {
  if (part === 'waistband') return band;
  if (part.endsWith('sleeve')) return sleeve;
  const tiers = { skirt, bodice, dress, trouser: trousers };
  return tiers[part.split(' ')[0] as keyof typeof tiers] ?? anything;
};

const extentOf = (piece: Piece): { width: number; height: number } => {
  const points = outlineSegments(piece.cuttingLine ?? piece.seamLine).map((s) => s.from);
  const across = points.map((p) => acrossOf(piece.upright, p));
  const heights = points.map((p) => heightOf(piece.upright, p));
  return { width: Math.max(...across) - Math.min(...across), height: Math.max(...heights) - Math.min(...heights) };
};

const within = (value: number, [least, most]: readonly [number, number]): boolean => value >= least && value <= most;
const fits = (piece: Piece, { width, height }: { width: number; height: number }, factor: number): boolean => {
  const sizes = sizesFor(piece);
  return within(width * factor, sizes.width) && within(height * factor, sizes.height);
};

/** One finding when pieces are as large or small as no garment is, with the unit that would make them right. */
export const implausibleSizes = (pieces: readonly Piece[], drawing: Drawing): Finding[] => {
  const sizes = pieces.map((piece) => ({ piece, extent: extentOf(piece) }));
  const odd = sizes.filter((s) => !fits(s.piece, s.extent, 1));
  const first = odd[0];
  if (!first) return [];
  const likely = mistakes.find(
    (m) =>
      odd.every((s) => fits(s.piece, s.extent, m.factor)) &&
      sizes.every((s) => fits(s.piece, s.extent, m.factor) || fits(s.piece, s.extent, 1)),
  );
  const { width, height } = first.extent;
  const ratio = likely
    ? likely.factor < 1
      ? `${round(1 / likely.factor)} times too large`
      : `${round(likely.factor)} times too small`
    : 'of no size that clothing has';
  const unit = likely ? unitFor(drawing, likely.factor) : undefined;
  return [
    {
      code: 'recognise-size-implausible',
      level: drawing.units.statedBy === 'option' || !likely ? 'warning' : 'error',
      where: { file: drawing.fileName, piece: first.piece.id },
      message: `${first.piece.id} is ${width.toFixed(0)} mm wide and ${height.toFixed(0)} mm high when one unit of the file is 1 ${drawing.units.name}: ${ratio}.`,
      try: unit
        ? `Say what the unit is: --units ${unit}, or “units: ${unit}” in the pattern sheet.`
        : 'Check the unit with --units mm, cm or in.',
    },
  ];
};

/** What holds a pattern is at least this wide or high, and hardly more, mm: a cuff or two, a gown laid out at length. */
const pattern = [180, 6000] as const;

/** When all that is drawn is too small to hold a piece: the size it has, and the units that would make it a pattern's. */
export const tooSmallForPieces = (drawing: Drawing): Finding[] => {
  const bounds = drawing.drawables
    .filter((d) => d.kind === 'path')
    .map((d) => pathBounds(d.path))
    .reduce(unionBounds, EMPTY_BOUNDS);
  const [width, height] = [widthOf(bounds), heightOfBounds(bounds)];
  const size = Math.max(width, height);
  if (!(size > 0) || size >= pattern[0]) return [];
  const likely = mistakes.filter(({ factor }) => factor > 1 && within(size * factor, pattern));
  const units = [...new Set(likely.flatMap(({ factor }) => unitFor(drawing, factor) ?? []))];
  const times = likely.map(({ factor }) => round(factor)).join(' or ');
  return [
    {
      code: 'recognise-size-implausible',
      level: 'error',
      where: { file: drawing.fileName },
      message: `All that is drawn is ${width.toFixed(1)} mm wide and ${height.toFixed(1)} mm high when one unit of the file is 1 ${drawing.units.name}: ${times ? `likely ${times} times too small` : 'too small for a pattern piece'}.`,
      try:
        units.length > 0
          ? `Say what the unit is: ${units.map((u) => `--units ${u}`).join(' or ')}, or “units: ${units[0]}” in the pattern sheet.`
          : 'Check the unit with --units mm, cm or in, and that the file holds the pattern at full size.',
    },
  ];
};

const round = (v: number): string => String(Number(v.toFixed(2)));

/** The unit whose size is the stated one times the factor. */
const unitFor = (drawing: Drawing, factor: number): string | undefined => {
  const size = drawing.units.millimetresPerUnit * factor;
  const units = [
    ['mm', 1],
    ['cm', 10],
    ['in', 25.4],
  ] as const;
  return units.find(([, mm]) => Math.abs(mm - size) < 0.01 * mm)?.[0];
};
