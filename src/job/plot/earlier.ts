import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Finding } from '../../finding.ts';
import { sha256 } from '../digest.ts';
import { list } from '../words.ts';
import { LAYOUT } from './report.ts';

/* What an earlier plot wrote into a folder, by its record there. */

/**
 * Names of the files that the record lists and that are there as they were written, and of the record itself. A file that
 * somebody changed since is theirs, and so is a record that is none of ours.
 */
export const plottedEarlier = async (out: string): Promise<ReadonlySet<string>> => {
  const files = listedIn(await readFile(join(out, LAYOUT), 'utf8').catch(() => ''));
  if (!files) return new Set();
  const ours = await Promise.all(
    files.map(async ({ file, sha256: hash }) => {
      const bytes = await readFile(join(out, file)).catch(() => undefined);
      return bytes !== undefined && sha256(bytes) === hash ? [file] : [];
    }),
  );
  return new Set([...ours.flat(), LAYOUT]);
};

interface Plotted {
  readonly file: string;
  readonly sha256: string;
}

/** Only names without a folder are trusted: what they name may be taken away. */
const listedIn = (text: string): Plotted[] | undefined => {
  try {
    const record = JSON.parse(text) as { 'retrue layout'?: unknown; layouts?: { files?: Partial<Plotted>[] }[] };
    if (record['retrue layout'] !== 1 || !Array.isArray(record.layouts)) return undefined;
    const files = record.layouts.flatMap((l) => l.files ?? []);
    return files.filter((f): f is Plotted => typeof f.file === 'string' && !/[/\\]/.test(f.file) && f.file !== '..');
  } catch {
    return undefined;
  }
};

/** Told of plots that lie beside newer ones and were not made anew with them. */
export const plotsLeft = (names: readonly string[], out: string): Finding[] =>
  names.length === 0
    ? []
    : [
        {
          code: 'job-plots-left',
          level: 'warning',
          where: { file: out },
          message: `${list(names)} ${names.length === 1 ? 'is' : 'are'} of an earlier plot and ${names.length === 1 ? 'was' : 'were'} not made anew: what was altered since is not in ${names.length === 1 ? 'it' : 'them'}.`,
          try: 'Take away what is not to be cut any more, or plot it again.',
        },
      ];
