import { MessageChannel, type MessagePort, receiveMessageOnPort, Worker } from 'node:worker_threads';
import type { NestItem, Nesting, NestOptions, NestStrip } from './item.ts';
import { nestOnce } from './nest.ts';

/** What a worker is given. */
export interface SearchTask {
  readonly items: readonly NestItem[];
  readonly strip: NestStrip;
  readonly options: Pick<NestOptions, 'effort'>;
  readonly seed: number;
  readonly port: MessagePort;
  /** [0]: 0 not begun, 1 begun, 2 done. */
  readonly state: Int32Array;
}

/** A worker that has not begun by the time this thread is done, and this many ms more, is not waited for. */
const START = 2000;
/** A worker that takes this many times as long as this thread took is given up. */
const PATIENCE = 20;

/**
 * The search from each seed, the first in this thread and each other in a worker of its own. A worker that fails
 * changes nothing but the time: its search is then done here.
 */
export const searchAll = (
  items: readonly NestItem[],
  strip: NestStrip,
  options: NestOptions,
  seeds: readonly number[],
): Nesting[] => {
  const [first, ...others] = seeds;
  if (first === undefined) return [];
  const running = others.map((seed) => begin(items, strip, options, seed));
  const began = performance.now();
  const own = nestOnce(items, strip, options, first);
  const took = performance.now() - began;
  const quiet = { effort: options.effort };
  return [own, ...running.map((r) => r.result(took) ?? nestOnce(items, strip, quiet, r.seed))];
};

interface Running {
  readonly seed: number;
  readonly result: (took: number) => Nesting | undefined;
}

/** Starts a worker on one search; what it finds comes through the port. */
export const startWorker = (
  worker: string,
  search: Omit<SearchTask, 'port' | 'state'>,
): { readonly thread: Worker; readonly port: MessagePort; readonly state: Int32Array } => {
  const state = new Int32Array(new SharedArrayBuffer(4));
  const { port1, port2 } = new MessageChannel();
  const workerData: SearchTask = { ...search, port: port2, state };
  const thread = new Worker(new URL(worker), { workerData, transferList: [port2] });
  thread.unref();
  thread.on('error', () => undefined);
  return { thread, port: port1, state };
};

const begin = (items: readonly NestItem[], strip: NestStrip, options: NestOptions, seed: number): Running => {
  if (options.worker === undefined) return { seed, result: () => undefined };
  const { thread, port, state } = startWorker(options.worker, {
    items,
    strip,
    options: { effort: options.effort },
    seed,
  });
  const result = (took: number): Nesting | undefined => {
    // The event loop stands still meanwhile: the caller gets its answer as from any other function.
    Atomics.wait(state, 0, 0, START);
    if (Atomics.load(state, 0) === 1) Atomics.wait(state, 0, 1, START + PATIENCE * took);
    const message = receiveMessageOnPort(port)?.message as Nesting | undefined;
    port.close();
    void thread.terminate();
    return message;
  };
  return { seed, result };
};
