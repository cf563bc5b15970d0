import { join } from 'node:path';
import type { Finding } from '../finding.ts';
import { hasErrors } from '../finding.ts';
import type { ManifestLine } from './manifest.ts';
import { damagedIn, readManifest } from './manifest.ts';
import type { Prepared } from './prepare.ts';
import { prepare } from './prepare.ts';
import type { ReportAsked } from './report.ts';
import { indexOfOthers, writeIndex } from './report-index-file.ts';
import { inOrder } from './run-in-order.ts';
import { type Journal, openJournal } from './run-journal.ts';
import { knownIn, leftBefore, leftFinding, leftOver, leftThere } from './run-left.ts';
import { lockFor } from './run-lock.ts';
import { AT_ONCE, openPool } from './run-pool.ts';
import { type AlterRequest, type RunSettings, settleRun } from './run-settings.ts';
import { isInShard } from './run-shard.ts';
import { newTally, type RunResult } from './run-tally.ts';
import { type Ended, endTask, type Shop } from './run-task.ts';
import { type Task, tasksFor } from './run-tasks.ts';
import { type FittingTold, toldOf } from './run-told.ts';
import { isSystemError, refuseNoFolder, refuseToOverwrite, writeFailed } from './store.ts';
import { tableNamed } from './table-file.ts';
import { stylesOf } from './wardrobe.ts';

export type { AlterRequest } from './run-settings.ts';
export type { RunResult } from './run-tally.ts';
export type { FittingTold } from './run-told.ts';

/** Told as the run goes on, so that nothing of a fitting need be kept once it is written. */
export interface RunEvents {
  readonly onFindings: (findings: readonly Finding[]) => void;
  /** In the order of the table, whatever the order in which they ended. What it returns is awaited. */
  readonly onFitting: (told: FittingTold, folder: string) => unknown;
  /** How many have ended, of how many; and how many of these were kept as they were. */
  readonly onProgress?: (ended: number, of: number, kept: number) => void;
}

const NOTHING: RunResult = { exit: 2, done: 0, refused: 0, failed: 0, kept: 0, left: 0, elsewhere: 0, faults: [] };

/** The main job: patterns for one wearer or a thousand, written to a folder for each fitting. */
export const alter = async (request: AlterRequest, events: RunEvents): Promise<RunResult> => {
  const { ready, findings } = await prepare(request);
  events.onFindings(findings);
  if (!ready) return NOTHING;
  const styles = stylesOf(ready.patterns.map((p) => p.bench.file.pattern)).length;
  const { settings, findings: unsettled } = settleRun(request, styles, ready.orders.length);
  events.onFindings(unsettled);
  if (!settings) return NOTHING;
  // Folders that meet are found over the whole table, also where only a part of it is done here.
  const whole = tasksFor(ready, settings.template, request);
  const tasks = whole.filter((task) => isInShard(task.place, settings.shard));
  const blocked = await whatBlocks(request, settings, ready.patterns, tasks);
  events.onFindings(blocked);
  if (hasErrors(blocked)) return NOTHING;
  const run = { request, settings, patterns: ready.patterns, elsewhere: ready.elsewhere, whole, tasks };
  if (request.dryRun) return runAll(run, undefined, events);
  try {
    const lock = await lockFor(settings.manifest);
    if ('code' in lock) {
      events.onFindings([lock]);
      return NOTHING;
    }
    try {
      return await runAll(run, await openJournal(settings.manifest), events);
    } finally {
      await lock.release();
    }
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
    ...(await damagedIn(manifest)),
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

/** A run that is ready to begin. */
interface Ready {
  readonly request: AlterRequest;
  readonly settings: RunSettings;
  readonly patterns: readonly Prepared[];
  /** All that the table asks for, and what of it is done here. */
  readonly whole: readonly Task[];
  readonly tasks: readonly Task[];
  /** How many rows are for patterns that were not given. */
  readonly elsewhere: number;
}

const standing = ({ order, folder, pattern, place, table }: Task) => ({
  fitting: order.needs.fitting,
  ...{ folder, pattern, place, table },
});

const runAll = async (
  { request, settings, patterns, elsewhere, whole, tasks }: Ready,
  journal: Journal | undefined,
  events: RunEvents,
): Promise<RunResult> => {
  const pool = await openPool(patterns, settings.threads);
  const { out, force, resume = false, retryFailed = false } = request;
  const resuming = { resume: resume || retryFailed, retryFailed, force };
  const own = journal?.manifest ?? (await readManifest(settings.manifest));
  const manifest = await knownIn(out, own);
  const taking = { resumed: resuming.resume, part: settings.shard !== undefined };
  events.onFindings(leftFinding(await leftThere(leftOver(own, whole.map(standing), taking), out), out));
  const here = tasks.map(standing);
  // Those of a part of the run, since what was its own may by now be another part's.
  const gone = [...leftOver(own, here, taking), ...leftBefore(own, here)];
  const shop: Shop = { out, patterns, pool, manifest, journal, resuming };
  const tally = newTally(tasks.length, elsewhere);
  const start = async (task: Task): Promise<Ended> => {
    const end = await endTask(task, shop);
    tally.count(end);
    events.onProgress?.(tally.ended(), tasks.length, tally.counts().kept);
    return end;
  };
  const untilStopped = function* (): Generator<Task> {
    for (const task of tasks) if (!(request.failFast && tally.isAmiss())) yield task;
  };
  // What is begun is done: where the first that fails ends the run, none is begun before the one before it has ended.
  const ahead = request.failFast ? 1 : pool.threads === 1 ? AT_ONCE : pool.threads * AHEAD;
  const lines: ManifestLine[] = [];
  try {
    for await (const end of inOrder(untilStopped(), ahead, start)) {
      if (end.line) lines.push(end.line);
      const told = toldOf(end, request);
      await events.onFitting(told, told.folder ?? '');
    }
  } finally {
    await pool.close();
  }
  // What concerns the run as a whole is written here, from its lines and from what lies in its folders.
  const unlisted = [...((await journal?.settle(lines, { gone, there: await leftThere(gone, out) })) ?? [])];
  const report = reportOf(patterns);
  // The parts of a run are listed when they are merged.
  if (journal && report && !settings.shard) unlisted.push(...(await writeIndex(request.out, report)));
  events.onFindings(unlisted);
  return tally.result(unlisted.length > 0);
};
