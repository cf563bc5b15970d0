import { workerData } from 'node:worker_threads';
import { type BenchSetup, setUpBench } from '../bench.ts';
import type { Bench } from '../fitting.ts';
import { type Carried, carry, type Job } from './work.ts';

// A thread of the pool: sets up a bench for each pattern the first time it is needed, and keeps it.
const setups = workerData as readonly BenchSetup[];
const benches = new Map<number, Promise<Bench>>();

const benchFor = (pattern: number): Promise<Bench> => {
  const bench = benches.get(pattern) ?? setUpBench(setups[pattern] as BenchSetup);
  benches.set(pattern, bench);
  return bench;
};

export default async (job: Job): Promise<Carried> => carry(await benchFor(job.order.pattern ?? 0), job);
