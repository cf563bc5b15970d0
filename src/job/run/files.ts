import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Finding } from '../../finding.ts';
import { sha256 } from '../digest.ts';
import type { Bench, FittingOutcome } from '../fitting.ts';
import type { Ledger } from '../ledger.ts';
import { ledgerText } from '../ledger.ts';
import { type OutputFile, withEnding } from '../making.ts';
import { reportNames } from '../report/report.ts';
import { clear, exists, isSystemError, refuseNoFolder, store, sweep, writeFailed } from '../store.ts';
import type { ListedFile } from './manifest.ts';

export const LEDGER = 'ledger.json';

/**
 * The names of all files that a fitting may get. Together with `filesOf` this is the one place to add another: it is then
 * looked for before a run, taken away before it is made anew, written whole, hashed and listed.
 */
export const fileNames = ({ file, formats, report }: Pick<Bench, 'file' | 'formats' | 'report'>): readonly string[] => [
  ...formats.map((f) => (f.name === file.format.name ? file.fileName : withEnding(file.fileName, f))),
  ...reportNames(report),
  LEDGER,
];

/** The record of a fitting that was done earlier, from its folder. */
export const ledgerIn = async (folder: string): Promise<Ledger | undefined> => {
  try {
    return JSON.parse(await readFile(join(folder, LEDGER), 'utf8')) as Ledger;
  } catch {
    return undefined;
  }
};

/** The files of a fitting, the ledger last: where it lies, all lies. */
const filesOf = (outcome: FittingOutcome): readonly OutputFile[] => [
  ...outcome.outputs,
  ...outcome.reports,
  { name: LEDGER, bytes: new TextEncoder().encode(ledgerText(outcome.ledger)) },
];

/** Where a fitting's files go. */
export interface Place {
  /** Folder of the run. */
  readonly out: string;
  /** Folder of the fitting within it, with `/`. */
  readonly folder: string;
  /** Names of its files. */
  readonly names: readonly string[];
  /** What an earlier run wrote for it. */
  readonly stale: readonly ListedFile[];
}

export interface Put {
  readonly outcome: FittingOutcome;
  readonly files: readonly ListedFile[];
}

/** Writes the files of one fitting. What cannot be written whole is taken away again, and the fitting has failed. */
export const put = async ({ out, folder, names, stale }: Place, outcome: FittingOutcome): Promise<Put> => {
  const all = [...names.map((name) => join(out, folder, name)), ...stale.map(({ file }) => join(out, file))];
  try {
    await clear(all);
    await sweep(all);
    const files: ListedFile[] = [];
    for (const { name, bytes } of filesOf(outcome)) {
      await store(join(out, folder, name), bytes);
      files.push({ file: `${folder}/${name}`, sha256: sha256(bytes) });
    }
    return { outcome, files };
  } catch (error) {
    if (!isSystemError(error)) throw error;
    await clear(all).catch(() => undefined);
    const findings = [...outcome.ledger.findings, await whyNotPut(join(out, folder), error)];
    const ledger: Ledger = { ...outcome.ledger, status: 'failed', outputs: [], findings };
    return {
      outcome: { ...outcome, status: 'failed', outputs: [], reports: [], ledger },
      files: await stillThere(stale, out),
    };
  }
};

/** What an earlier run wrote and the system does not let go stays listed as ours. */
const stillThere = async (stale: readonly ListedFile[], out: string): Promise<ListedFile[]> => {
  const there = await Promise.all(stale.map(({ file }) => exists(join(out, file))));
  return stale.filter((_, i) => there[i]);
};

/** A file that stands where the fitting's folder, or one on the way there, should be is named as such. */
const whyNotPut = async (folder: string, error: Error): Promise<Finding> => {
  const [inTheWay] = await refuseNoFolder(folder);
  if (!inTheWay) return writeFailed(folder, error);
  const remedy = 'Move that file away and go on with --retry-failed, or have the folders named otherwise with --names.';
  return { ...inTheWay, try: remedy };
};
