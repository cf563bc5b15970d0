import type { LengthShown, Needs } from '../../alterations/contract.ts';
import type { Finding } from '../../finding.ts';
import { hasErrors } from '../../finding.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { optionUnknown } from '../option-unknown.ts';
import type { DraftedOptions } from './drafted.ts';
import { settleDraftedFor } from './drafted.ts';
import { readEase } from './ease.ts';
import { placed, type Wardrobe } from './places.ts';
import { readRows } from './rows.ts';
import type { Sizing } from './sizing.ts';
import { sizesUnclear, stylesOf } from './wardrobe.ts';

/** One wearer's order: what is asked of one pattern, and how to show it. */
export interface Order {
  readonly needs: Needs;
  readonly show: LengthShown;
  readonly wearer: string;
  readonly note: string;
  /** The order itself cannot be read as it stands; the findings say why. The others go on. */
  readonly refused: boolean;
  readonly findings: readonly Finding[];
  /** Which of the pattern files it is for, counted from 0; none when its row names a pattern that is not there. */
  readonly pattern?: number;
  /** How its size was chosen, where there were several. */
  readonly sizing?: Sizing;
}

export interface OrderOptions extends DraftedOptions {
  /** One wearer, as a list: `waist girth=28in, hip girth=38in`. */
  readonly wearer?: string | undefined;
  /** Name of that one fitting. */
  readonly name?: string | undefined;
  /** Ease asked for in place of the design's, as a list: `bust girth=2in`, `hip girth=least`. */
  readonly ease?: string | undefined;
  /** Path of a table of fittings. */
  readonly fittings?: string | undefined;
  /** Unit to show lengths in, over the one the orders are written in. */
  readonly show?: string | undefined;
}

export interface Orders {
  /** In the order of the table; those of one row in the order of the patterns. */
  readonly orders: readonly Order[];
  /** The patterns with the drafted-for measurements as settled. */
  readonly patterns: readonly Pattern[];
  readonly findings: readonly Finding[];
  /** How many rows were left out, being for patterns that were not given. */
  readonly elsewhere: number;
  /** Whether the findings let the orders that can be read go on. */
  readonly usable: boolean;
}

/** Gathers who the patterns are to be altered for and which bodies they were drafted for. */
export const settleOrders = async (patterns: readonly Pattern[], options: OrderOptions): Promise<Orders> => {
  const show = shownIn(options.show);
  const read = await readRows(options);
  const { styles, patterns: drafted, findings } = await settleSizes(patterns, options);
  const general: Finding[] = [...(typeof show === 'object' ? [show] : []), ...findings];
  const eased = patterns.map((pattern) => readEase(options.ease, pattern));
  general.push(...eased.flatMap((e) => e.findings));
  const rows = read.rows.map((r) => (typeof show === 'string' ? { ...r, order: { ...r.order, show } } : r));
  const wardrobe = { patterns: drafted, styles, named: rows.some((r) => r.pattern !== undefined), size: options.size };
  const meant = rows.map((row) => placed(row, wardrobe));
  const orders = meant
    .flatMap((m) => m.orders)
    .map((o) => (o.pattern === undefined ? o : withEase(o, eased[o.pattern]?.ease ?? {})));
  if (!hasErrors(general)) general.push(...undrafted(drafted, orders));
  const others = meant.flatMap((m) => m.findings);
  if (orders.length === 0 && others.length > 0) general.push(noneForThese);
  return {
    orders,
    patterns: drafted,
    elsewhere: meant.filter((m) => m.orders.length === 0).length,
    findings: once([...general, ...read.findings, ...others]),
    usable: orders.length > 0 && !hasErrors(general),
  };
};

/** Which files are sizes of one pattern, and the body that each was drafted for. */
export const settleSizes = async (
  patterns: readonly Pattern[],
  options: DraftedOptions,
): Promise<Pick<Wardrobe, 'patterns' | 'styles'> & { readonly findings: readonly Finding[] }> => {
  const styles = stylesOf(patterns);
  const inSizes = (i: number): boolean => styles.some((s) => s.files.length > 1 && s.files.includes(i));
  const findings = sizesUnclear(patterns);
  if (options.drafted !== undefined && patterns.some((_, i) => inSizes(i))) findings.push(oneBodyForSizes);
  const drafted: Pattern[] = [];
  for (const [i, pattern] of patterns.entries()) {
    // Of a pattern in several sizes each has its own row of the chart; --size then says which to alter.
    const settled = await settleDraftedFor(pattern, inSizes(i) ? { ...options, size: undefined } : options);
    findings.push(...settled.findings);
    drafted.push({ ...pattern, draftedFor: settled.draftedFor });
  }
  return { patterns: drafted, styles, findings };
};

/** Patterns of which it must be known whom they were drafted for, and is not. */
const undrafted = (patterns: readonly Pattern[], orders: readonly Order[]): Finding[] =>
  patterns.flatMap((pattern, i) => {
    const isNeeded = orders.some((o) => o.pattern === i && needsDraftedFor(o));
    return isNeeded && Object.keys(pattern.draftedFor).length === 0 ? [draftedForUnknown(pattern.fileName)] : [];
  });

/** Where ease is asked for, the pattern itself is measured. */
const needsDraftedFor = ({ needs }: Order): boolean =>
  Object.keys(needs.measurements).some((m) => needs.ease?.[m] === undefined);

/** Ease that holds for all orders, where the wearer was measured; the order's own goes before it. */
const withEase = (order: Order, ease: Readonly<Record<string, number>>): Order => {
  const { needs } = order;
  const general = Object.fromEntries(Object.entries(ease).filter(([m]) => needs.measurements[m] !== undefined));
  return { ...order, needs: { ...needs, ease: { ...general, ...needs.ease } } };
};

/** What was found of each pattern alike is told once. */
export const once = (findings: readonly Finding[]): Finding[] => {
  const told = new Set<string>();
  return findings.filter((f) => {
    const key = JSON.stringify(f);
    return !told.has(key) && told.add(key);
  });
};

/** The unit to show lengths in, or why it is none; undefined where none was asked for. */
export const shownIn = (text: string | undefined): LengthShown | Finding | undefined => {
  const show = text?.trim().toLowerCase();
  if (show === undefined || show === 'in' || show === 'cm' || show === 'mm') return show;
  return optionUnknown(`“${text}” is not a unit lengths can be shown in.`, 'Write --show in, cm or mm.');
};

const oneBodyForSizes: Finding = {
  code: 'job-option-clash',
  level: 'error',
  where: {},
  message: '--drafted states one body, and a pattern is given in several sizes.',
  try: 'Give a size chart with a row for each, --chart CHART.csv, or “drafted for” in the pattern sheet of each.',
};

const noneForThese: Finding = {
  code: 'job-no-fittings',
  level: 'error',
  where: {},
  message: 'No row of the table is for a pattern that was given.',
  try: 'Give the patterns that the column “pattern” names.',
};

const draftedForUnknown = (file: string): Finding => ({
  code: 'job-drafted-for-unknown',
  level: 'error',
  where: { file },
  message: 'Nothing says which body the pattern was drafted for, so the needed changes cannot be reckoned.',
  try:
    "Give the body measurements of the pattern's size: --drafted 'waist girth=27in, hip girth=37in', " +
    'or --chart CHART.csv --size SIZE, or “drafted for” in the pattern sheet.',
});
