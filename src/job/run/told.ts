import { join } from 'node:path';
import type { Finding } from '../../finding.ts';
import type { Ledger, Status } from '../ledger.ts';
import type { ListedFile } from './manifest.ts';
import type { AlterRequest } from './settings.ts';
import type { Ended } from './task.ts';

/** One fitting of a run, as it ended. */
export interface FittingTold {
  readonly fitting: string;
  readonly status: Status;
  /** Absent for one that was kept as it was, and for one whose pattern is not known. */
  readonly ledger?: Ledger;
  readonly findings: readonly Finding[];
  /** Path of the folder in which its files lie, or would; none where it cannot have one. */
  readonly folder?: string;
  /** Path of the pattern file it was made from. */
  readonly pattern?: string;
  /** Paths of its files; on a dry run those that would be written. */
  readonly files: readonly string[];
  /** Done by an earlier run, and left as it was. */
  readonly kept: boolean;
}

/** A task that has ended, for those who are told. */
export const toldOf = (end: Ended, { out, dryRun }: AlterRequest): FittingTold => {
  const { task, status, kept, ledger, findings, source } = end;
  const would = dryRun === true && status === 'done' ? task.names.map((name) => `${task.folder}/${name}`) : [];
  const files = [...end.files.map((f: ListedFile) => f.file), ...would].map((file) => join(out, file));
  return {
    ...{ fitting: task.order.needs.fitting, status, kept, findings, files },
    ...(ledger ? { ledger } : {}),
    ...(source === undefined ? {} : { pattern: source }),
    ...(task.folder === null ? {} : { folder: join(out, task.folder) }),
  };
};
