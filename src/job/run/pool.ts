import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import type { Finding } from '../../finding.ts';
import { builtWorker } from '../built-worker.ts';
import { optionUnknown } from '../option-unknown.ts';
import type { Prepared } from '../prepare.ts';
import { type Carried, carry, type Job } from './work.ts';

/** Threads that carry fittings out. */
export interface Pool {
  /** How many work side by side. */
  readonly threads: number;
  /** Rejects when a thread broke down; the others go on. */
  readonly run: (job: Job) => Promise<Carried>;
  readonly close: () => Promise<void>;
}

/** A thread of its own takes about as long to start as this many fittings take. */
const WORTH_A_THREAD = 20;

/** How many threads for so many fittings: as asked, or one to a core as long as each has enough to do. */
export const readWorkers = (text: string | undefined, fittings: number): number | Finding => {
  const asked = (text ?? 'auto').trim().toLowerCase();
  if (asked === 'auto') return Math.max(1, Math.min(availableParallelism(), Math.floor(fittings / WORTH_A_THREAD)));
  const count = Number(asked);
  if (/^\d+$/.test(asked) && count >= 1 && count <= MOST_THREADS) return Math.max(1, Math.min(count, fittings));
  return optionUnknown(`--workers cannot be “${text}”.`, `Write auto, or a number from 1 to ${MOST_THREADS}.`);
};
const MOST_THREADS = 512;

/** While the files of one fitting go to the disk, its thread reckons the next. */
export const AT_ONCE = 2;

/**
 * Room for what a thread makes and soon throws away, MB. A fitting makes some 20 MB of it: with the usual 48 it is swept
 * up in the midst of most fittings, when much of it is still in use.
 */
const YOUNG = 96;

/** One thread is this one. Where the program runs unbuilt there is no other, and the same comes out, later. */
export const openPool = async (patterns: readonly Prepared[], threads: number): Promise<Pool> => {
  const worker = threads > 1 ? await builtWorker('run-worker') : undefined;
  if (worker === undefined) return inThisThread(patterns);
  const { Piscina } = await import('piscina');
  const pool = new Piscina<Job, Carried>({
    filename: fileURLToPath(worker),
    minThreads: threads,
    maxThreads: threads,
    workerData: patterns.map((p) => p.setup),
    concurrentTasksPerWorker: AT_ONCE,
    recordTiming: false,
    resourceLimits: { maxYoungGenerationSizeMb: YOUNG },
  });
  return { threads, run: (job) => pool.run(job), close: () => pool.destroy() };
};

const inThisThread = (patterns: readonly Prepared[]): Pool => ({
  threads: 1,
  run: (job) => carry((patterns[job.order.pattern ?? 0] as Prepared).bench, job),
  close: async () => undefined,
});
