import { access } from 'node:fs/promises';

/** What the build lays beside the entry, one folder above the parts, for threads of their own. */
export type WorkerName = 'nest-worker' | 'run-worker';

/** URL of a worker's file; none where the program runs unbuilt, and then the work takes longer for the same result. */
export const builtWorker = async (name: WorkerName): Promise<string | undefined> => {
  for (const place of [`../${name}.js`, `./${name}.js`]) {
    const url = new URL(place, import.meta.url);
    const there = await access(url).then(
      () => true,
      () => false,
    );
    if (there) return url.href;
  }
  return undefined;
};
