import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Finding } from '../../finding.ts';
import { sha256 } from '../digest.ts';
import { exists, there } from '../store.ts';
import type { ListedFile, ManifestLine } from './manifest.ts';
import type { Task } from './tasks.ts';

/** How a run treats what an earlier one left. */
export interface Resuming {
  readonly resume: boolean;
  /** What was refused or failed is done again. */
  readonly retryFailed: boolean;
  readonly force: boolean;
}

/** What is to become of one order of a run that is taken up again. */
export type Standing =
  | { readonly kind: 'keep'; readonly line: ManifestLine }
  /** `stale`: files of an earlier run, which go. */
  | { readonly kind: 'do'; readonly stale: readonly ListedFile[] }
  | { readonly kind: 'refuse'; readonly why: Finding };

/**
 * Whether an order is done already: its line names the same pattern, order, options and version, and its files are there
 * as they were written. Times are never looked at. A file that is there and that no run has listed, or that was changed
 * since, belongs to somebody else and stays, unless `force`.
 */
export const standingOf = async (
  task: Task,
  line: ManifestLine | undefined,
  out: string,
  { resume, retryFailed, force }: Resuming,
): Promise<Standing> => {
  const stale = line?.outputs ?? [];
  if (!resume) return { kind: 'do', stale };
  const states = await Promise.all(stale.map((file) => stateOf(file, out)));
  if (
    line &&
    isFor(line, task) &&
    !(retryFailed && line.status !== 'done') &&
    states.every((s) => s === 'as written')
  ) {
    return { kind: 'keep', line };
  }
  // What a run had begun it was writing: whatever lies there is its own.
  if (force || line?.status === 'begun') return { kind: 'do', stale };
  const changed = stale.find((_, i) => states[i] === 'changed');
  if (changed) return { kind: 'refuse', why: changedSince(join(out, changed.file), task) };
  const foreign = await firstThere(task, stale, out);
  return foreign === undefined ? { kind: 'do', stale } : { kind: 'refuse', why: inTheWay(foreign, task) };
};

const isFor = (line: ManifestLine, task: Task): boolean =>
  line.status !== 'begun' &&
  line.pattern === task.pattern &&
  line.input === task.input &&
  line.options === task.options &&
  line.version === task.version;

type State = 'as written' | 'changed' | 'gone';

const stateOf = async ({ file, sha256: hash }: ListedFile, out: string): Promise<State> => {
  const bytes = await readFile(join(out, file)).catch(() => undefined);
  if (bytes === undefined) return 'gone';
  return sha256(bytes) === hash ? 'as written' : 'changed';
};

const firstThere = async (task: Task, listed: readonly ListedFile[], out: string): Promise<string | undefined> => {
  for (const name of task.names) {
    const file = `${task.folder}/${name}`;
    if (!listed.some((l) => l.file === file) && (await exists(join(out, file)))) return join(out, file);
  }
  return undefined;
};

const inTheWay = (path: string, { order }: Task): Finding => ({
  ...there(path),
  where: { file: path, fitting: order.needs.fitting },
  try: 'No run has listed it. Add --force to replace it, or move it away.',
});

const changedSince = (path: string, { order }: Task): Finding => ({
  code: 'job-output-changed',
  level: 'error',
  where: { file: path, fitting: order.needs.fitting },
  message: `${path} was changed after it was written, and would have to be written anew.`,
  try: 'Keep a copy under another name, then add --force to replace it.',
});
