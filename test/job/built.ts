import { execFile, spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';

/* The program as users have it: bundled, in a process of its own, with threads. */

const ROOT = join(import.meta.dirname, '../..');

/** Bundles the program into a folder. @returns path of its entry */
export const build = async (folder: string): Promise<string> => {
  await mkdir(folder, { recursive: true });
  await promisify(execFile)(process.execPath, ['scripts/build.mjs', folder], { cwd: ROOT });
  await writeFile(join(folder, 'package.json'), '{"type":"module"}');
  return join(folder, 'retrue.js');
};

export interface Ran {
  /** Null when it was killed. */
  readonly exit: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs the program; `meanwhile` may kill it. */
export const run = (
  entry: string,
  args: readonly string[],
  meanwhile: (kill: () => void) => void = () => undefined,
  env: Readonly<Record<string, string>> = {},
): Promise<Ran> =>
  new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [entry, ...args], { env: { ...process.env, ...env } });
    const told = { out: '', err: '' };
    child.stdout.on('data', (chunk) => (told.out += chunk));
    child.stderr.on('data', (chunk) => (told.err += chunk));
    child.on('error', reject);
    child.on('close', (exit) => resolve({ exit, ...told }));
    meanwhile(() => child.kill('SIGKILL'));
  });

/** Every file below a folder by its path, with the SHA-256 of its bytes. */
export const treeOf = async (folder: string): Promise<Record<string, string>> => {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true }).catch(() => []);
  const files = entries.filter((e) => e.isFile()).map((e) => join(e.parentPath, e.name));
  const hashed = files.sort().map(async (file) => {
    const hash = createHash('sha256').update(await readFile(file));
    return [file.slice(folder.length + 1), hash.digest('hex')] as const;
  });
  return Object.fromEntries(await Promise.all(hashed));
};
