import { access } from 'node:fs/promises';

/** Where the build lays the search for a thread of its own: beside the entry, one folder above the parts. */
const PLACES = ['../nest-worker.js', './nest-worker.js'] as const;

/** URL of the search as a worker; none where the program runs unbuilt, and then it takes longer for the same layout. */
export const nestWorker = async (): Promise<string | undefined> => {
  for (const place of PLACES) {
    const url = new URL(place, import.meta.url);
    const there = await access(url).then(
      () => true,
      () => false,
    );
    if (there) return url.href;
  }
  return undefined;
};
