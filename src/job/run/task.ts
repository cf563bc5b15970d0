import type { Finding } from '../../finding.ts';
import { programFault } from '../fitting.ts';
import type { Ledger, Status } from '../ledger.ts';
import type { Prepared } from '../prepare.ts';
import { clear } from '../store.ts';
import type { Journal } from './journal.ts';
import { type Resuming, standingOf } from './kept.ts';
import type { ListedFile, Manifest, ManifestLine } from './manifest.ts';
import { keyOf } from './manifest.ts';
import type { Pool } from './pool.ts';
import type { Task } from './tasks.ts';
import { type Carried, notCarried } from './work.ts';

/** What the tasks of a run share. */
export interface Shop {
  readonly out: string;
  readonly patterns: readonly Prepared[];
  readonly pool: Pool;
  /** What earlier runs left. */
  readonly manifest: Manifest;
  /** Absent on a dry run: then nothing is written. */
  readonly journal: Journal | undefined;
  readonly resuming: Resuming;
}

/** A task as it ended. */
export interface Ended {
  readonly task: Task;
  readonly status: Status;
  readonly ledger?: Ledger;
  readonly findings: readonly Finding[];
  readonly files: readonly ListedFile[];
  readonly kept: boolean;
  /** Path of the pattern file. */
  readonly source?: string;
  /** For the manifest; none for what an earlier run's line still holds of. */
  readonly line?: ManifestLine;
  readonly fault?: unknown;
}

/** One task from the table to its line in the manifest. Never rejects for a fitting that goes wrong. */
export const endTask = async (task: Task, shop: Shop): Promise<Ended> => {
  const { journal, manifest, resuming, out } = shop;
  if (task.refusals.length > 0) return refusedAtOnce(task, shop, task.refusals);
  const earlier = manifest.get(keyOf({ ...task, fitting: task.order.needs.fitting }));
  const standing = await standingOf(task, earlier, out, resuming);
  if (standing.kind === 'keep') return keptAsItWas(task, shop, standing.line);
  if (standing.kind === 'refuse') {
    const { line: _, ...refused } = await refusedAtOnce(task, { ...shop, journal: undefined }, [standing.why]);
    return refused;
  }
  await journal?.add(lineOf(task, 'begun', standing.stale, []));
  const carried = await carriedBy(task, shop, standing.stale);
  return recorded(task, shop, carried);
};

/** Through the pool. A thread that breaks down takes its own fitting with it, and no other. */
const carriedBy = async (
  task: Task,
  { pool, out, journal, ...shop }: Shop,
  stale: readonly ListedFile[],
): Promise<Carried> => {
  const { order, folder, names } = task;
  const place = journal && { out, folder: folder ?? '', names, stale };
  try {
    return await pool.run({ order, place });
  } catch (fault) {
    const bench = (shop.patterns[order.pattern ?? 0] as Prepared).bench;
    if (place) await clear(names.map((name) => `${out}/${folder}/${name}`)).catch(() => undefined);
    return { ...notCarried(bench, order, 'failed', [programFault(order.needs.fitting, fault)]), fault };
  }
};

const recorded = async (task: Task, shop: Shop, carried: Carried): Promise<Ended> => {
  const { status, ledger, files, fault } = carried;
  const line = lineOf(task, status, files, ledger.findings);
  await shop.journal?.add(line);
  const told = { task, status, ledger, findings: ledger.findings, files, kept: false, line, ...sourceOf(task, shop) };
  return fault === undefined ? told : { ...told, fault };
};

/** Refused before anything is altered, with no folder of its own to say so in. */
const refusedAtOnce = async (task: Task, shop: Shop, why: readonly Finding[]): Promise<Ended> => {
  const { order } = task;
  const bench = order.pattern === undefined ? undefined : shop.patterns[order.pattern]?.bench;
  const line = lineOf(task, 'refused', [], why);
  await shop.journal?.add(line);
  const told = { task, status: 'refused', findings: why, files: [], kept: false, line } as const;
  return bench ? { ...told, ledger: notCarried(bench, order, 'refused', why).ledger, ...sourceOf(task, shop) } : told;
};

const keptAsItWas = (task: Task, shop: Shop, line: ManifestLine): Ended => ({
  ...{ task, status: line.status as Status, findings: [], files: line.outputs, kept: true, ...sourceOf(task, shop) },
  // What it stands in may have changed, and it has not.
  line: { ...line, ...placeOf(task) },
});

/** Where an order stands, and in a run of which options. */
const placeOf = ({ place, of, table, settings }: Task) => ({ place, of, table, asked: true, settings });

const sourceOf = (task: Task, { patterns }: Shop): { source?: string } => {
  const path = task.order.pattern === undefined ? undefined : patterns[task.order.pattern]?.bench.file.path;
  return path === undefined ? {} : { source: path };
};

const lineOf = (
  task: Task,
  status: ManifestLine['status'],
  outputs: readonly ListedFile[],
  findings: readonly Finding[],
): ManifestLine => {
  const { order, pattern, folder, input, options, version } = task;
  const reasons = status === 'done' ? [] : [...new Set(findings.filter((f) => f.level === 'error').map((f) => f.code))];
  return {
    fitting: order.needs.fitting,
    pattern,
    status,
    folder,
    outputs,
    reasons,
    ...placeOf(task),
    input,
    options,
    version,
  };
};
