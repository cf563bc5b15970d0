import type { Exit } from '../exits.ts';
import type { RunCounts } from '../summary.ts';
import type { Ended } from './task.ts';

export interface RunResult extends RunCounts {
  readonly exit: Exit;
  /** What the program itself failed on. */
  readonly faults: readonly unknown[];
}

/** What a run has come to so far. */
export interface Tally {
  readonly count: (end: Ended) => void;
  readonly ended: () => number;
  readonly counts: () => Pick<RunResult, 'done' | 'refused' | 'failed' | 'kept'>;
  /** Whether any was refused or failed. */
  readonly isAmiss: () => boolean;
  /** @param unlisted whether the manifest could not be written */
  readonly result: (unlisted: boolean) => RunResult;
}

export const newTally = (of: number, elsewhere: number): Tally => {
  const counts = { done: 0, refused: 0, failed: 0, kept: 0 };
  const faults: unknown[] = [];
  const ended = (): number => counts.done + counts.refused + counts.failed;
  const isAmiss = (): boolean => counts.refused + counts.failed > 0;
  return {
    count: (end) => {
      counts[end.status] += 1;
      if (end.kept) counts.kept += 1;
      if (end.fault !== undefined) faults.push(end.fault);
    },
    ended,
    counts: () => counts,
    isAmiss,
    result: (unlisted) => {
      const wrong = isAmiss() || unlisted || ended() < of;
      const exit: Exit = faults.length > 0 ? 3 : wrong ? 1 : 0;
      return { exit, ...counts, left: of - ended(), elsewhere, faults };
    },
  };
};
