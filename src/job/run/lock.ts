import { mkdir, open, readFile, rm, stat, utimes } from 'node:fs/promises';
import { hostname } from 'node:os';
import { dirname, resolve } from 'node:path';
import type { Finding } from '../../finding.ts';

/*
 * One run at a time writes to a manifest. The lock is a file beside it that names the run and is touched as long as the run
 * lives; one that a killed run left is taken over.
 */

/** A lock that was not touched for so long belongs to no run that lives, ms; and how often it is. */
const STALE = 60_000;
const TOUCHED = 10_000;

/** Who holds a lock. */
interface Holder {
  readonly process: number;
  readonly host: string;
  readonly since: string;
}

export interface Lock {
  readonly release: () => Promise<void>;
}

/**
 * Takes the lock of a manifest; a finding where another run holds it.
 * @throws as the file system does
 */
export const lockFor = async (manifest: string): Promise<Lock | Finding> => {
  const path = resolve(`${manifest}.lock`);
  await mkdir(dirname(path), { recursive: true });
  for (let tries = 0; tries < 3; tries++) {
    if (await taken(path)) return kept(path);
    const holder = await holderOf(path);
    if (await lives(path, holder)) return underWay(path, holder);
    // Unless another has taken it over meanwhile.
    if ((await holderOf(path))?.since === holder?.since) await rm(path, { force: true });
  }
  return underWay(path, await holderOf(path));
};

/** Whether the file could be made: only one of several that try at once can. */
const taken = async (path: string): Promise<boolean> => {
  try {
    const file = await open(path, 'wx');
    ours.add(path);
    const own: Holder = { process: process.pid, host: hostname(), since: new Date().toISOString() };
    await file.writeFile(`${JSON.stringify(own)}\n`);
    await file.close();
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  }
};

/** Locks that this process holds. */
const ours = new Set<string>();

const kept = (path: string): Lock => {
  const touch = setInterval(() => void utimes(path, new Date(), new Date()).catch(() => undefined), TOUCHED);
  touch.unref();
  return {
    release: async () => {
      clearInterval(touch);
      await rm(path, { force: true });
      ours.delete(path);
    },
  };
};

const holderOf = async (path: string): Promise<Holder | undefined> => {
  try {
    return JSON.parse(await readFile(path, 'utf8')) as Holder;
  } catch {
    return undefined;
  }
};

/** Whether the run that holds a lock is still there. Of another host, or where it has not yet said who it is, its touch tells. */
const lives = async (path: string, holder: Holder | undefined): Promise<boolean> => {
  const touched = await stat(path).then(
    (s) => s.mtimeMs,
    () => 0,
  );
  if (Date.now() - touched > STALE) return false;
  if (holder?.host !== hostname()) return true;
  // A container that is started again has the number it had before.
  return holder.process === process.pid ? ours.has(path) : isRunning(holder.process);
};

const isRunning = (pid: number): boolean => {
  try {
    return process.kill(pid, 0);
  } catch (error) {
    // It is there, and another user's.
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
};

const underWay = (path: string, holder: Holder | undefined): Finding => ({
  code: 'job-run-under-way',
  level: 'error',
  where: { file: path },
  message: `Another run is writing here${holder ? ` since ${holder.since} (process ${holder.process} on ${holder.host})` : ''}. Two at once would undo each other's work.`,
  try: `Wait until it has ended, or name another folder with --out. If there is none, wait a minute, or delete ${path}.`,
});
