import { workerData } from 'node:worker_threads';
import { nestOnce } from './nest.ts';
import type { SearchTask } from './parallel.ts';

// One search, for a thread that waits on `state`.
const { items, strip, options, seed, port, state } = workerData as SearchTask;
const tell = (value: number): void => {
  Atomics.store(state, 0, value);
  Atomics.notify(state, 0);
};
tell(1);
try {
  port.postMessage(nestOnce(items, strip, options, seed));
} finally {
  tell(2);
}
