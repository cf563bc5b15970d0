import { mkdir, open, readFile, truncate } from 'node:fs/promises';
import { dirname } from 'node:path';
import type { Finding } from '../../finding.ts';
import { isSystemError, store, sweep, writeFailed } from '../store.ts';
import { keyOf, lineText, type Manifest, type ManifestLine, manifestText, readManifest, settled } from './manifest.ts';

/**
 * The manifest while a run is under way. A line is added as each fitting is begun and again when it has ended, so that a
 * run that is killed can be taken up where it stood.
 */
export interface Journal {
  readonly manifest: Manifest;
  readonly add: (line: ManifestLine) => Promise<void>;
  /** Ends the run: the lines of its table in the table's order. Findings tell what could not be written. */
  readonly settle: (table: readonly ManifestLine[], left?: Left) => Promise<readonly Finding[]>;
}

/** Lines that the table no longer asks for, and those of them of which something is still there. */
export interface Left {
  readonly gone: readonly ManifestLine[];
  readonly there: readonly ManifestLine[];
}

export const openJournal = async (path: string): Promise<Journal> => {
  await mkdir(dirname(path), { recursive: true });
  await sweep([path]);
  await mendEnd(path);
  const manifest = await readManifest(path);
  const handle = await open(path, 'a');
  let last: Promise<unknown> = Promise.resolve();
  let broken: Error | undefined;
  const add = async (line: ManifestLine): Promise<void> => {
    manifest.set(keyOf(line), line);
    // One after the other, so that no line gets into another.
    last = last.then(() => handle.appendFile(lineText(line))).catch(keep);
    await last;
  };
  const keep = (error: unknown): void => {
    if (!isSystemError(error)) throw error;
    broken = error;
  };
  const settle = async (table: readonly ManifestLine[], left?: Left): Promise<readonly Finding[]> => {
    await last;
    await handle.close();
    for (const line of left?.gone ?? []) manifest.delete(keyOf(line));
    for (const line of left?.there ?? []) manifest.set(keyOf(line), { ...line, asked: false });
    try {
      await store(path, manifestText(settled(manifest, table)));
      return [];
    } catch (error) {
      keep(error);
      return [writeFailed(path, broken as Error)];
    }
  };
  return { manifest, add, settle };
};

/** Takes off what a killed run left of its last line. */
const mendEnd = async (path: string): Promise<void> => {
  const bytes = await readFile(path).catch(() => new Uint8Array());
  const whole = bytes.lastIndexOf(0x0a) + 1;
  if (whole < bytes.length) await truncate(path, whole);
};
