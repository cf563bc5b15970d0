import { join } from 'node:path';
import { type Finding, isFinding } from '../../finding.ts';
import type { FittingRequest } from '../prepare.ts';
import { type NameTemplate, readTemplate } from './names.ts';
import { readWorkers } from './pool.ts';
import { manifestName, readShard, type Shard } from './shard.ts';

export interface AlterRequest extends FittingRequest {
  /** Folder for everything that is written. */
  readonly out: string;
  readonly force: boolean;
  /** How the folders of the fittings are named: `{wearer}/{pattern}`. */
  readonly names?: string | undefined;
  /** How many work side by side: a number, or `auto`. */
  readonly workers?: string | undefined;
  /** Takes up a run where it ended: what is done, as recorded, is kept. */
  readonly resume?: boolean | undefined;
  /** The same, and what was refused or failed is done again. */
  readonly retryFailed?: boolean | undefined;
  /** Stops at the first fitting that is refused or fails. */
  readonly failFast?: boolean | undefined;
  /** Tells what would be done and written, and writes nothing. */
  readonly dryRun?: boolean | undefined;
  /** Only a part of the fittings: `2/4`, `slurm`, `kubernetes/4`. */
  readonly shard?: string | undefined;
}

/** Whether a run takes up what an earlier one left. */
export const takesUp = ({ resume, retryFailed }: Pick<AlterRequest, 'resume' | 'retryFailed'>): boolean =>
  resume === true || retryFailed === true;

export interface RunSettings {
  readonly template: NameTemplate;
  readonly shard: Shard | undefined;
  readonly threads: number;
  /** Path of the manifest. */
  readonly manifest: string;
}

/** Reads how a run over `fittings` orders for `styles` patterns is to go. */
export const settleRun = (
  request: AlterRequest,
  styles: number,
  fittings: number,
): { readonly settings?: RunSettings; readonly findings: readonly Finding[] } => {
  const template = readTemplate(request.names, styles);
  const shard = readShard(request.shard, process.env);
  const part = shard && !('code' in shard) ? Math.ceil(fittings / shard.of) : fittings;
  const threads = readWorkers(request.workers, part);
  if (!('code' in template) && !(shard && 'code' in shard) && typeof threads === 'number') {
    return { settings: { template, shard, threads, manifest: join(request.out, manifestName(shard)) }, findings: [] };
  }
  return { findings: [template, shard, threads].filter(isFinding) };
};
