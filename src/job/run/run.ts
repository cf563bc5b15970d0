import { join } from 'node:path';
import type { Finding } from '../../finding.ts';
import { hasErrors } from '../../finding.ts';
import { stylesOf } from '../orders/wardrobe.ts';
import { prepare } from '../prepare.ts';
import { isSystemError, sweep, writeFailed } from '../store.ts';
import { whatBlocks } from './blocked.ts';
import { inOrder } from './in-order.ts';
import { LISTS, writeIndex } from './index-file.ts';
import { type Journal, openJournal } from './journal.ts';
import { knownIn, leftBefore, leftFinding, leftOver, leftThere } from './left.ts';
import { lockFor } from './lock.ts';
import { type Manifest, type ManifestLine, readManifest } from './manifest.ts';
import { AT_ONCE, openPool } from './pool.ts';
import { type Ready, reportOf } from './ready.ts';
import { type AlterRequest, settleRun, takesUp } from './settings.ts';
import { isInShard } from './shard.ts';
import { newTally, type RunResult, type Tally } from './tally.ts';
import { type Ended, endTask, type Shop } from './task.ts';
import { type Task, tasksFor } from './tasks.ts';
import { type FittingTold, toldOf } from './told.ts';

export type { AlterRequest } from './settings.ts';
export type { RunResult } from './tally.ts';
export type { FittingTold } from './told.ts';

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
  const run = { request, settings, patterns: ready.patterns, elsewhere: ready.elsewhere, whole, tasks };
  const blocked = await whatBlocks(run);
  events.onFindings(blocked);
  if (hasErrors(blocked)) return NOTHING;
  if (request.dryRun) return runAll(run, undefined, events);
  try {
    const lock = await lockFor(settings.manifest);
    if ('code' in lock) {
      events.onFindings([lock]);
      return NOTHING;
    }
    try {
      await sweep(LISTS.map((name) => join(request.out, name)));
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

/** How far the work may be ahead of the fitting that is told next, for each thread. */
const AHEAD = 8;

const standing = ({ order, folder, pattern, place, table }: Task) => ({
  fitting: order.needs.fitting,
  ...{ folder, pattern, place, table },
});

const runAll = async (run: Ready, journal: Journal | undefined, events: RunEvents): Promise<RunResult> => {
  const { request, settings, tasks, elsewhere } = run;
  const own = journal?.manifest ?? (await readManifest(settings.manifest));
  const { gone, findings } = await whatIsLeft(run, own);
  events.onFindings(findings);
  const tally = newTally(tasks.length, elsewhere);
  const lines = await tasksDone(run, await knownIn(request.out, own), journal, tally, events);
  const unlisted = await settled(run, journal, lines, gone);
  events.onFindings(unlisted);
  return tally.result(unlisted.length > 0);
};

/** What earlier runs did that is no longer asked for: told of the whole table, and the lines that are this run's own. */
const whatIsLeft = async ({ request, settings, whole, tasks }: Ready, own: Manifest) => {
  const { out } = request;
  const taking = { resumed: takesUp(request), part: settings.shard !== undefined };
  const findings = leftFinding(await leftThere(leftOver(own, whole.map(standing), taking), out), out);
  const here = tasks.map(standing);
  // Those of a part of the run, since what was its own may by now be another part's.
  return { findings, gone: [...leftOver(own, here, taking), ...leftBefore(own, here)] };
};

/** All tasks, side by side, told in their order; their lines for the manifest. */
const tasksDone = async (
  { request, settings, patterns, tasks }: Ready,
  manifest: Manifest,
  journal: Journal | undefined,
  tally: Tally,
  events: RunEvents,
): Promise<ManifestLine[]> => {
  const { out, force, retryFailed = false, failFast } = request;
  const pool = await openPool(patterns, settings.threads);
  const resuming = { resume: takesUp(request), retryFailed, force };
  const shop: Shop = { out, patterns, pool, manifest, journal, resuming };
  const start = async (task: Task): Promise<Ended> => {
    const end = await endTask(task, shop);
    tally.count(end);
    events.onProgress?.(tally.ended(), tasks.length, tally.counts().kept);
    return end;
  };
  const untilStopped = function* (): Generator<Task> {
    for (const task of tasks) if (!(failFast && tally.isAmiss())) yield task;
  };
  // What is begun is done: where the first that fails ends the run, none is begun before the one before it has ended.
  const ahead = failFast ? 1 : pool.threads === 1 ? AT_ONCE : pool.threads * AHEAD;
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
  return lines;
};

/** What concerns the run as a whole is written from its lines and from what lies in its folders. */
const settled = async (
  run: Ready,
  journal: Journal | undefined,
  lines: readonly ManifestLine[],
  gone: readonly ManifestLine[],
): Promise<readonly Finding[]> => {
  if (!journal) return [];
  const { out } = run.request;
  const report = reportOf(run);
  const unlisted = await journal.settle(lines, { gone, there: await leftThere(gone, out) });
  // The parts of a run are listed when they are merged.
  return report && !run.settings.shard ? [...unlisted, ...(await writeIndex(out, report))] : unlisted;
};
