import type { LengthShown, Needs } from '../alterations/contract.ts';
import { alterationColumns } from '../alterations/index.ts';
import type { Finding } from '../finding.ts';
import { hasErrors } from '../finding.ts';
import { parseAssignments } from '../measurements/assignments.ts';
import type { Fitting } from '../measurements/fittings.ts';
import { readFittings } from '../measurements/fittings.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { DraftedOptions } from './drafted.ts';
import { settleDraftedFor } from './drafted.ts';
import { readEase } from './ease.ts';
import { isForPattern, reasonsFor } from './fitting-rows.ts';
import { loadTable } from './table-file.ts';

/** One wearer's order: what is asked of the pattern, and how to show it. */
export interface Order {
  readonly needs: Needs;
  readonly show: LengthShown;
  readonly wearer: string;
  readonly note: string;
  /** The order itself cannot be read as it stands; the findings say why. The others go on. */
  readonly refused: boolean;
  readonly findings: readonly Finding[];
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
  readonly orders: readonly Order[];
  /** The pattern with the drafted-for measurements as settled. */
  readonly pattern: Pattern;
  readonly findings: readonly Finding[];
  /** Whether the findings let the orders that can be read go on. */
  readonly usable: boolean;
}

/** Gathers who the pattern is to be altered for and which body it was drafted for. */
export const settleOrders = async (pattern: Pattern, options: OrderOptions): Promise<Orders> => {
  const show = shownIn(options.show);
  const drafted = await settleDraftedFor(pattern, options);
  const read = await readOrders(pattern, options);
  const eased = readEase(options.ease, pattern);
  const orders = read.orders
    .map((o) => (typeof show === 'string' ? { ...o, show } : o))
    .map((o) => ({ ...o, needs: { ...o.needs, ease: { ...easeFor(o, eased.ease), ...o.needs.ease } } }));
  const general = [...drafted.findings, ...eased.findings, ...(typeof show === 'object' ? [show] : [])];
  if (!hasErrors(general) && Object.keys(drafted.draftedFor).length === 0 && orders.some(needsDraftedFor)) {
    general.push(draftedForUnknown(pattern.fileName));
  }
  return {
    orders,
    pattern: { ...pattern, draftedFor: drafted.draftedFor },
    findings: [...general, ...read.findings],
    usable: orders.length > 0 && !hasErrors(general),
  };
};

/** Where ease is asked for, the pattern itself is measured. */
const needsDraftedFor = ({ needs }: Order): boolean =>
  Object.keys(needs.measurements).some((m) => needs.ease?.[m] === undefined);

/** Ease that holds for all orders, where the wearer was measured. */
const easeFor = ({ needs }: Order, ease: Readonly<Record<string, number>>): Readonly<Record<string, number>> =>
  Object.fromEntries(Object.entries(ease).filter(([m]) => needs.measurements[m] !== undefined));

interface ReadOrders {
  readonly orders: readonly Order[];
  readonly findings: readonly Finding[];
}

const readOrders = async (pattern: Pattern, options: OrderOptions): Promise<ReadOrders> => {
  if (options.wearer !== undefined && options.fittings !== undefined) return { orders: [], findings: [twoSources] };
  if (options.wearer !== undefined) return oneWearer(options.wearer, options.name ?? 'wearer');
  if (options.fittings === undefined) return { orders: [], findings: [nobody] };
  const table = await loadTable(options.fittings);
  if ('code' in table) return { orders: [], findings: [table] };
  const { bytes, fileName, sheet } = table;
  const { fittings, findings } = await readFittings(bytes, { fileName, sheet, alterationColumns: alterationColumns() });
  const others = fittings.filter((f) => !isForPattern(f, pattern));
  const own = fittings.filter((f) => !others.includes(f)).map((f) => orderOf(f, pattern, findings));
  const orders = own.filter(firstOfName);
  const general = findings.filter((f) => !orders.some((o) => o.findings.includes(f)));
  return { orders, findings: [...general, ...others.map((f) => otherPattern(f, fileName))] };
};

/** Rows of one name are refused together, and one record of that is enough. */
const firstOfName = (order: Order, index: number, all: readonly Order[]): boolean =>
  !order.refused || all.findIndex((o) => o.needs.fitting.toLowerCase() === order.needs.fitting.toLowerCase()) === index;

const oneWearer = (list: string, fitting: string): ReadOrders => {
  const read = parseAssignments(list, { source: '--wearer', alterationColumns: alterationColumns() });
  const { measurements, direct, ease, show } = read;
  const order: Order = {
    needs: { fitting, measurements, direct, ease },
    show,
    wearer: '',
    note: '',
    refused: false,
    findings: [],
  };
  return { orders: hasErrors(read.findings) ? [] : [order], findings: read.findings };
};

const orderOf = (fitting: Fitting, pattern: Pattern, findings: readonly Finding[]): Order => ({
  needs: { fitting: fitting.name, measurements: fitting.measurements, direct: fitting.direct, ease: fitting.ease },
  show: fitting.show,
  wearer: fitting.wearer,
  note: fitting.note,
  refused: fitting.refused,
  findings: [...reasonsFor(fitting, findings), ...otherSize(fitting, pattern)],
});

const shownIn = (text: string | undefined): LengthShown | Finding | undefined => {
  const show = text?.trim().toLowerCase();
  if (show === undefined || show === 'in' || show === 'cm' || show === 'mm') return show;
  return {
    code: 'job-option-unknown',
    level: 'error',
    where: {},
    message: `“${text}” is not a unit lengths can be shown in.`,
    try: 'Write --show in, cm or mm.',
  };
};

const twoSources: Finding = {
  code: 'job-option-clash',
  level: 'error',
  where: {},
  message: 'Both --wearer and --fittings say who the pattern is to be altered for.',
  try: 'Give one of the two.',
};

const nobody: Finding = {
  code: 'job-no-fittings',
  level: 'error',
  where: {},
  message: 'Nothing says who the pattern is to be altered for.',
  try: "Give one wearer, --wearer 'waist girth=28in, hip girth=38in', or a table, --fittings fittings.csv.",
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

const otherPattern = (fitting: Fitting, file: string): Finding => ({
  code: 'job-fitting-other-pattern',
  level: 'note',
  where: { file, row: fitting.row, fitting: fitting.name },
  message: `The fitting “${fitting.name}” is for the pattern “${fitting.pattern}” and was left out.`,
  try: 'Alter that pattern with the same table of fittings.',
});

const otherSize = (fitting: Fitting, pattern: Pattern): Finding[] => {
  if (fitting.size === undefined || pattern.size === '' || fitting.size.trim() === pattern.size.trim()) return [];
  return [
    {
      code: 'job-fitting-other-size',
      level: 'warning',
      where: { row: fitting.row, fitting: fitting.name },
      message: `The fitting asks for size ${fitting.size}; the pattern is drafted for size ${pattern.size}.`,
      try: `If the pattern file is the right one, take the size out of the table; else alter the file of size ${fitting.size}.`,
    },
  ];
};
