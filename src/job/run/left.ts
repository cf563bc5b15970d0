import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Finding } from '../../finding.ts';
import { exists } from '../store.ts';
import { calledOf, keyOf, type Manifest, type ManifestLine, type Placed, readManifest } from './manifest.ts';

/* Fittings that an earlier run of a table did, and that the table no longer asks for. */

/** An order as it stands in a table. */
type Standing = Placed & Pick<ManifestLine, 'table'>;

/** How a run takes up what it finds. */
export interface TakenUp {
  /** Whether it goes on with an earlier run, whatever the table is called by now. */
  readonly resumed: boolean;
  /** Whether it is a part of a run, whose manifest holds nothing but that part. */
  readonly part: boolean;
}

/**
 * Lines of fittings that stood in one table with some of these and do no longer. Only a run of a table takes up another,
 * and only one of the same file or one that is gone on with: else the fittings of several tables share a folder.
 */
export const leftOver = (manifest: Manifest, now: readonly Standing[], { resumed, part }: TakenUp): ManifestLine[] => {
  const keys = new Set(now.map(keyOf));
  const called = new Set(now.map(calledOf));
  const lines = [...manifest.values()];
  const isNow = (line: ManifestLine): boolean =>
    keys.has(keyOf(line)) || (line.folder === null && called.has(calledOf(line)));
  const others = lines.filter((line) => line.asked && !isNow(line));
  if (part) return others;
  const taken = new Set(lines.filter(isNow).map((line) => line.table?.rows));
  const file = now[0]?.table?.file;
  return others.filter(({ table }) => table && taken.has(table.rows) && file && (table.file === file || resumed));
};

/** Lines that were left over before. */
export const leftBefore = (manifest: Manifest, now: readonly Standing[]): ManifestLine[] => {
  const keys = new Set(now.map(keyOf));
  return [...manifest.values()].filter((line) => !line.asked && !keys.has(keyOf(line)));
};

/** Those that can still be found there. A line of which nothing is left says nothing. */
export const leftThere = async (lines: readonly ManifestLine[], out: string): Promise<ManifestLine[]> => {
  const there = await Promise.all(
    lines.map(async ({ outputs }) => (await Promise.all(outputs.map((o) => exists(join(out, o.file))))).some(Boolean)),
  );
  return lines.filter((_, i) => there[i]);
};

/** All manifests in a folder, those of the parts of a run and that of the whole; `own` has the last word. */
export const knownIn = async (out: string, own: Manifest): Promise<Manifest> => {
  const names = (await readdir(out).catch(() => [])).filter((name) => /^manifest(\.\d+-of-\d+)?\.jsonl$/.test(name));
  const manifests = await Promise.all(names.map((name) => readManifest(join(out, name))));
  return new Map([...manifests.flatMap((m) => [...m]), ...own]);
};

/** Of many names the first few tell enough. */
const MOST_NAMED = 5;

export const leftFinding = (lines: readonly ManifestLine[], out: string): Finding[] => {
  if (lines.length === 0) return [];
  const named = lines.slice(0, MOST_NAMED).map(nameOf);
  const names = `${named.join(', ')}${lines.length > MOST_NAMED ? ` and ${lines.length - MOST_NAMED} more` : ''}`;
  const [it, stay] =
    lines.length === 1 ? ['it', 'Its folder stays as it is'] : ['them', 'Their folders stay as they are'];
  return [
    {
      code: 'job-fittings-left',
      level: 'warning',
      where: { file: out },
      message: `An earlier run of the table did ${names}, and the table no longer asks for ${it}. ${stay}; the list names ${it} apart and does not count ${it}.`,
      try: 'Take away what nobody needs. If a row was lost, put it back and run again with --resume.',
    },
  ];
};

const nameOf = ({ fitting, folder }: ManifestLine): string =>
  `“${fitting}”${folder === null || folder === fitting ? '' : ` (in ${folder})`}`;
