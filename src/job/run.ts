import { join } from 'node:path';
import type { Finding } from '../finding.ts';
import { hasErrors } from '../finding.ts';
import type { Exit } from './exits.ts';
import type { Ledger, Status } from './ledger.ts';
import type { ListedFile, ManifestLine } from './manifest.ts';
import { readManifest } from './manifest.ts';
import type { Prepared } from './prepare.ts';
import { prepare } from './prepare.ts';
import type { ReportAsked } from './report.ts';
import { indexOfOthers, writeIndex } from './report-index-file.ts';
import { inOrder } from './run-in-order.ts';
import { type Journal, openJournal } from './run-journal.ts';
import { openPool } from './run-pool.ts';
import { type AlterRequest, type RunSettings, settleRun } from './run-settings.ts';
import { type Ended, endTask, type Shop } from './run-task.ts';
import { type Task, tasksFor } from './run-tasks.ts';
import { isSystemError, refuseNoFolder, refuseToOverwrite, writeFailed } from './store.ts';
import { tableNamed } from './table-file.ts';
import { stylesOf } from './wardrobe.ts';

export type { AlterRequest } from './run-settings.ts';

/** One fitting of a run, as it ended. */
export interface FittingTold {
  readonly fitting: string;
  readonly status: Status;
  /** Absent for one that was kept as it was, and for one whose pattern is not known. */
  readonly ledger?: Ledger;
  readonly findings: readonly Finding[];
  /** Path of the folder in which its files lie, or would; none where it cannot have one. */
  readonly folder?: string;
  /** Path of the pattern file it was made from. */
  readonly pattern?: string;
  /** Paths of its files; on a dry run those that would be written. */
  readonly files: readonly string[];
  /** Done by an earlier run, and left as it was. */
  readonly kept: boolean;
}

/** Told as the run goes on, so that nothing of a fitting need be kept once it is written. */
export interface RunEvents {
  readonly onFindings: (findings: readonly Finding[]) => void;
  /** In the order of the table, whatever the order in which they ended. What it returns is awaited. */
  readonly onFitting: (told: FittingTold, folder: string) => unknown;
  /** How many have ended, of how many. */
  readonly onProgress?: (ended: number, of: number) => void;
}

export interface RunResult {
  readonly exit: Exit;
  readonly done: number;
  readonly refused: number;
  readonly failed: number;
  /** How many of these an earlier run had done. */
  readonly kept: number;
  /** How many were not begun, since the run stopped at the first that was refused or failed. */
  readonly left: number;
  /** What the program itself failed on. */
  readonly faults: readonly unknown[];
}

const NOTHING: RunResult = { exit: 2, done: 0, refused: 0, failed: 0, kept: 0, left: 0, faults: [] };

/** The main job: patterns for one wearer or a thousand, written to a folder for each fitting. */
export const alter = async (request: AlterRequest, events: RunEvents): Promise<RunResult> => {
  const { ready, findings } = await prepare(request);
  events.onFindings(findings);
  if (!ready) return NOTHING;
  const styles = stylesOf(ready.patterns.map((p) => p.bench.file.pattern)).length;
  const { settings, findings: unsettled } = settleRun(request, styles, ready.orders.length);
  events.onFindings(unsettled);
  if (!settings) return NOTHING;
  const tasks = tasksFor(ready.orders, ready.patterns, settings.template, settings.shard);
  const blocked = await whatBlocks(request, settings, ready.patterns, tasks);
  events.onFindings(blocked);
  if (hasErrors(blocked)) return NOTHING;
  if (request.dryRun) return runAll(request, settings, ready.patterns, tasks, undefined, events);
  try {
    const journal = await openJournal(settings.manifest);
    return await runAll(request, settings, ready.patterns, tasks, journal, events);
  } catch (error) {
    if (!isSystemError(error)) throw error;
    events.onFindings([writeFailed(settings.manifest, error)]);
    return NOTHING;
  }
};

/** Looked at before anything is written: files that were read, and, unless they may be replaced, files that are there. */
const whatBlocks = async (
  request: AlterRequest,
  { manifest, shard }: RunSettings,
  patterns: readonly Prepared[],
  tasks: readonly Task[],
): Promise<Finding[]> => {
  const outputs = tasks.flatMap((t) =>
    t.folder === null ? [] : t.names.map((n) => join(request.out, t.folder ?? '', n)),
  );
  const sources = patterns.flatMap(({ bench }) => [bench.file.path, bench.file.sheet?.path]);
  const tables = await Promise.all(
    [request.fittings, request.chart].flatMap((t) => (t === undefined ? [] : tableNamed(t))),
  );
  const inputs = [...sources, ...tables.map((t) => t.path)].filter((path) => path !== undefined);
  const report = reportOf(patterns);
  const mayReplace = request.force || request.resume === true || request.retryFailed === true;
  return [
    ...(await refuseNoFolder(request.out)),
    ...(await refuseToOverwrite([...outputs, manifest], inputs, true)),
    ...(mayReplace ? [] : (await refuseToOverwrite(outputs, [], false)).map(orResume)),
    ...(request.force || shard || !report ? [] : await indexOfOthers(request.out, report)),
  ];
};

/** The pages asked for are the same for all patterns of a run. */
const reportOf = (patterns: readonly Prepared[]): ReportAsked | undefined => patterns[0]?.bench.report;

const orResume = (finding: Finding): Finding => ({
  ...finding,
  try: 'Add --resume to go on with a run that ended early, --force to replace what is there, or name another folder with --out.',
});

/** How far the work may be ahead of the fitting that is told next, for each thread. */
const AHEAD = 8;

const runAll = async (
  request: AlterRequest,
  settings: RunSettings,
  patterns: readonly Prepared[],
  tasks: readonly Task[],
  journal: Journal | undefined,
  events: RunEvents,
): Promise<RunResult> => {
  const pool = await openPool(patterns, settings.threads);
  const resuming = {
    resume: request.resume === true || request.retryFailed === true,
    retryFailed: request.retryFailed === true,
    force: request.force,
  };
  const manifest = journal?.manifest ?? (await readManifest(settings.manifest));
  const shop: Shop = { out: request.out, patterns, pool, manifest, journal, resuming };
  const counts = { done: 0, refused: 0, failed: 0 };
  const faults: unknown[] = [];
  const lines: ManifestLine[] = [];
  let [ended, kept, stopped] = [0, 0, false];
  const start = async (task: Task): Promise<Ended> => {
    const end = await endTask(task, shop);
    stopped ||= request.failFast === true && end.status !== 'done';
    ended += 1;
    events.onProgress?.(ended, tasks.length);
    return end;
  };
  const untilStopped = function* (): Generator<Task> {
    for (const task of tasks) if (!stopped) yield task;
  };
  const ahead = pool.threads === 1 ? 1 : pool.threads * AHEAD;
  try {
    for await (const end of inOrder(untilStopped(), ahead, start)) {
      counts[end.status] += 1;
      if (end.kept) kept += 1;
      if (end.fault !== undefined) faults.push(end.fault);
      if (end.line) lines.push(end.line);
      await events.onFitting(toldOf(end, request), end.task.folder === null ? '' : join(request.out, end.task.folder));
    }
  } finally {
    await pool.close();
  }
  // What concerns the run as a whole is written here, from its lines and from what lies in its folders.
  const unlisted = [...((await journal?.settle(lines)) ?? [])];
  const report = reportOf(patterns);
  // The parts of a run are listed when they are merged.
  if (journal && report && !settings.shard) unlisted.push(...(await writeIndex(request.out, report)));
  events.onFindings(unlisted);
  const left = tasks.length - ended;
  const wrong = counts.refused + counts.failed + unlisted.length + left;
  return { exit: faults.length > 0 ? 3 : wrong > 0 ? 1 : 0, ...counts, kept, left, faults };
};

const toldOf = (end: Ended, { out, dryRun }: AlterRequest): FittingTold => {
  const { task, status, kept, ledger, findings, source } = end;
  const would = dryRun === true && status === 'done' ? task.names.map((name) => `${task.folder}/${name}`) : [];
  const files = [...end.files.map((f: ListedFile) => f.file), ...would].map((file) => join(out, file));
  return {
    ...{ fitting: task.order.needs.fitting, status, kept, findings, files },
    ...(ledger ? { ledger } : {}),
    ...(source === undefined ? {} : { pattern: source }),
    ...(task.folder === null ? {} : { folder: join(out, task.folder) }),
  };
};
