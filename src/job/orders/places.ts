import type { Finding } from '../../finding.ts';
import { sizeKey } from '../../measurements/size-name.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { list } from '../words.ts';
import { patternUnknown } from './fitting-rows.ts';
import type { Order } from './orders.ts';
import type { Row } from './rows.ts';
import { type Chosen, nearestSize, type SizeAtHand, sizeAsked } from './sizing.ts';
import { meantBy, nearestPattern, type Style } from './wardrobe.ts';

/** The patterns of a run, and the size for whoever names none. */
export interface Wardrobe {
  readonly patterns: readonly Pattern[];
  readonly styles: readonly Style[];
  /** Whether any row says which pattern it is for. */
  readonly named: boolean;
  readonly size?: string | undefined;
}

/** Orders for the patterns that a row is for: the one its cell names, else every pattern there is; each in one size. */
export const placed = (row: Row, wardrobe: Wardrobe): { orders: readonly Order[]; findings: readonly Finding[] } => {
  const { styles, patterns } = wardrobe;
  if (row.pattern === undefined) {
    const told = wardrobe.named && styles.length > 1 ? [everyPattern(row, styles)] : [];
    const order = { ...row.order, findings: [...row.order.findings, ...told] };
    return { orders: styles.map((s) => inSize({ ...row, order }, s, wardrobe)), findings: [] };
  }
  const meant = meantBy(row.pattern, styles, patterns);
  if (meant.length > 0) return { orders: meant.map((s) => inSize(row, s, wardrobe)), findings: [] };
  const near = nearestPattern(row.pattern, patterns);
  if (near === undefined) return { orders: [], findings: [otherPattern(row)] };
  return { orders: [refused(row.order, patternUnknown(whereOf(row), row.pattern, near))], findings: [] };
};

/** One that asks for a size that is not there, or cannot be told, is for none of the files. */
const inSize = (row: Row, style: Style, wardrobe: Wardrobe): Order => {
  const { order } = row;
  const [only] = style.files as readonly [number];
  if (style.files.length === 1) {
    const pattern = wardrobe.patterns[only] as Pattern;
    if (row.size === undefined || sizeKey(row.size) === sizeKey(pattern.size)) return { ...order, pattern: only };
    if (pattern.size !== '') return refused(order, sizeMissing(row, row.size, [{ file: only, pattern }]));
    return { ...order, pattern: only, findings: [...order.findings, sizeUnsaid(row, row.size, pattern)] };
  }
  const sizes = style.files.map((file): SizeAtHand => ({ file, pattern: wardrobe.patterns[file] as Pattern }));
  const chosen = sizeFor(row, sizes, wardrobe.size);
  if ('code' in chosen) return refused(order, chosen);
  return { ...order, pattern: chosen.file, sizing: chosen.sizing };
};

/** The size in the row, else the one for all, else the one whose body is nearest. */
const sizeFor = (row: Row, sizes: readonly SizeAtHand[], forAll: string | undefined): Chosen | Finding => {
  const asked = row.size ?? forAll;
  if (asked !== undefined) {
    return sizeAsked(asked, row.size === undefined ? 'option' : 'table', sizes) ?? sizeMissing(row, asked, sizes);
  }
  const { needs, show } = row.order;
  return nearestSize(needs.measurements, sizes, show) ?? sizeUndecided(row, sizes);
};

const refused = (order: Order, why: Finding): Order => ({
  ...order,
  refused: true,
  findings: [...order.findings, why],
});

const whereOf = ({ file, row, order }: Row): Finding['where'] => ({ file, row, fitting: order.needs.fitting });

const everyPattern = (row: Row, styles: readonly Style[]): Finding => ({
  code: 'job-fitting-every-pattern',
  level: 'note',
  where: { ...whereOf(row), cell: 'pattern' },
  message: `The row of “${row.order.needs.fitting}” names no pattern, so it is for each: ${list(styles.map((s) => s.name))}.`,
  try: 'Write in the column “pattern” which it is for, if not all of them are meant.',
});

const otherPattern = (row: Row): Finding => ({
  code: 'job-fitting-other-pattern',
  level: 'note',
  where: whereOf(row),
  message: `The fitting “${row.order.needs.fitting}” is for the pattern “${row.pattern}” and was left out.`,
  try: 'Give that pattern too, or alter it with the same table of fittings.',
});

const sizesOf = (sizes: readonly SizeAtHand[]): string => list(sizes.map((s) => s.pattern.size));

const sizeMissing = (row: Row, asked: string, sizes: readonly SizeAtHand[]): Finding => ({
  code: 'job-fitting-size-missing',
  level: 'error',
  where: { ...whereOf(row), cell: 'size' },
  message: `Size “${asked}” is asked for; the pattern is at hand in ${sizesOf(sizes)} (${list(sizes.map((s) => s.pattern.fileName))}).`,
  try:
    sizes.length > 1
      ? 'Name one of these, or take the size out of the row: then the nearest is chosen.'
      : 'Give the file of that size too. If the row is for this one, take the size out of it.',
});

const sizeUndecided = (row: Row, sizes: readonly SizeAtHand[]): Finding => ({
  code: 'job-fitting-size-undecided',
  level: 'error',
  where: whereOf(row),
  message: `Which of the sizes ${sizesOf(sizes)} is nearest cannot be told: bust (or hip) and waist of the wearer, or of a body a size was drafted for, are not known.`,
  try: 'Write the size in the column “size”; or give the measurement, and “drafted for” of every size (pattern sheets, or --chart).',
});

const sizeUnsaid = (row: Row, asked: string, { fileName }: Pattern): Finding => ({
  code: 'job-fitting-size-unsaid',
  level: 'note',
  where: { ...whereOf(row), cell: 'size' },
  message: `Size “${asked}” is asked for, and nothing says which size ${fileName} is. It was taken.`,
  try: 'Write its size in its pattern sheet (“size: 12”); then a row for another is refused.',
});
