import { alterationColumns } from '../../alterations/index.ts';
import type { Finding } from '../../finding.ts';
import { hasErrors } from '../../finding.ts';
import { parseAssignments } from '../../measurements/assignments.ts';
import type { Fitting } from '../../measurements/fittings.ts';
import { readFittings } from '../../measurements/fittings.ts';
import { reasonsFor } from './fitting-rows.ts';
import type { Order, OrderOptions } from './orders.ts';
import { loadTable } from './table-file.ts';

/** One wearer's row, before it is known which pattern it is for. */
export interface Row {
  readonly order: Order;
  /** The cells `pattern` and `size`, where they say something. */
  readonly pattern?: string | undefined;
  readonly size?: string | undefined;
  /** Row of the table, and the table. */
  readonly row?: number;
  readonly file?: string;
}

export interface ReadRows {
  readonly rows: readonly Row[];
  /** What concerns no row. */
  readonly findings: readonly Finding[];
}

/** Reads who is to be fitted: one wearer, or a table. */
export const readRows = async (options: OrderOptions): Promise<ReadRows> => {
  if (options.wearer !== undefined && options.fittings !== undefined) return { rows: [], findings: [twoSources] };
  if (options.wearer !== undefined) return oneWearer(options.wearer, options.name ?? 'wearer');
  if (options.fittings === undefined) return { rows: [], findings: [nobody] };
  const table = await loadTable(options.fittings);
  if ('code' in table) return { rows: [], findings: [table] };
  const { bytes, fileName, sheet } = table;
  const { fittings, findings } = await readFittings(bytes, { fileName, sheet, alterationColumns: alterationColumns() });
  const rows = fittings.map((f) => rowOf(f, findings, fileName));
  const general = findings.filter((f) => !rows.some((r) => r.order.findings.includes(f)));
  return { rows, findings: general };
};

/** A row as it was read, with what was found of it. */
export const rowOf = (fitting: Fitting, findings: readonly Finding[], file: string): Row => {
  const { pattern, size, row } = fitting;
  return { order: orderOf(fitting, findings), pattern, size, row, file };
};

const oneWearer = (list: string, fitting: string): ReadRows => {
  const read = parseAssignments(list, { source: '--wearer', alterationColumns: alterationColumns() });
  const { measurements, direct, ease, show } = read;
  const needs = { fitting, measurements, direct, ease };
  const order: Order = { needs, show, wearer: '', note: '', refused: false, findings: [] };
  return { rows: hasErrors(read.findings) ? [] : [{ order }], findings: read.findings };
};

const orderOf = (fitting: Fitting, findings: readonly Finding[]): Order => ({
  needs: { fitting: fitting.name, measurements: fitting.measurements, direct: fitting.direct, ease: fitting.ease },
  show: fitting.show,
  wearer: fitting.wearer,
  note: fitting.note,
  refused: fitting.refused,
  findings: reasonsFor(fitting, findings),
});

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
