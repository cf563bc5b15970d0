import { merge as mergeManifests } from '../../job/run/merge.ts';
import { runLine } from '../../job/summary.ts';
import { findingPrinter } from '../findings.ts';
import type { Io } from '../io.ts';

export const merge = async (folder: string, options: { readonly json?: boolean }, io: Io): Promise<number> => {
  const { merged, findings, exit } = await mergeManifests(folder);
  findingPrinter(io)(findings);
  if (options.json) io.out(`${JSON.stringify(merged ?? null, null, 2)}\n`);
  else if (merged) io.out(`${merged.shards} parts: ${runLine({ ...merged, kept: 0, left: 0 }, folder)}\n`);
  return exit;
};
