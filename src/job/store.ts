import { randomBytes } from 'node:crypto';
import { type FileHandle, mkdir, open, readdir, realpath, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import type { Finding } from '../finding.ts';

/** Writes a file whole or not at all, making its folder. */
export const store = (path: string, content: Uint8Array | string): Promise<void> =>
  storeWhole(path, (file) => file.writeFile(content));

/** The same for a file that comes in parts, which are not kept. */
export const storeParts = (path: string, parts: AsyncIterable<string>): Promise<void> =>
  storeWhole(path, async (file) => {
    for await (const part of parts) await file.write(part);
  });

/**
 * Written beside its place, on the disk for good, then put there by its name. The name it has until then is one that no
 * user gives: what a killed run leaves can be told from all else and taken away.
 */
const storeWhole = async (path: string, write: (file: FileHandle) => Promise<unknown>): Promise<void> => {
  await mkdir(dirname(path), { recursive: true });
  const unfinished = `${path}.unfinished-${randomBytes(4).toString('hex')}`;
  try {
    const file = await open(unfinished, 'wx');
    try {
      await write(file);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(unfinished, path);
  } catch (error) {
    await rm(unfinished, { force: true });
    throw error;
  }
};

export const exists = async (path: string): Promise<boolean> =>
  stat(path).then(
    () => true,
    () => false,
  );

/** Takes away what an earlier run left there, so that nothing old lies beside a record that does not name it. */
export const clear = (paths: readonly string[]): Promise<unknown> =>
  Promise.all(paths.map((path) => rm(path, { force: true })));

/** What a killed run leaves beside a file that it was about to write. */
const UNFINISHED = /^(.*)\.unfinished-[0-9a-f]{8}$/s;

/** Takes away what killed runs left of these files. */
export const sweep = async (paths: readonly string[]): Promise<void> => {
  for (const folder of new Set(paths.map((path) => dirname(path)))) {
    const own = new Set(paths.filter((path) => dirname(path) === folder).map((path) => basename(path)));
    const there = await readdir(folder).catch(() => []);
    await clear(there.filter((name) => own.has(UNFINISHED.exec(name)?.[1] ?? '')).map((name) => join(folder, name)));
  }
};

/** The file's true place, links resolved as far as the path exists. */
const place = async (path: string): Promise<string> => {
  const full = resolve(path);
  try {
    return await realpath(full);
  } catch {
    const parent = dirname(full);
    return parent === full ? full : join(await place(parent), basename(full));
  }
};

/** Findings for outputs that are inputs, and, unless `force`, for outputs that are there already. */
export const refuseToOverwrite = async (
  outputs: readonly string[],
  inputs: readonly string[],
  force: boolean,
): Promise<Finding[]> => {
  const read = new Map(await Promise.all(inputs.map(async (path) => [await place(path), path] as const)));
  const findings: Finding[] = [];
  for (const output of outputs) {
    const input = read.get(await place(output));
    if (input !== undefined) findings.push(overInput(output));
    else if (!force && (await exists(output))) findings.push(there(output));
  }
  return shortened(findings);
};

/** Of a thousand files that are there already, the first few tell all. */
const MOST_TOLD = 5;

const shortened = (findings: readonly Finding[]): Finding[] => {
  const alike = findings.filter((f) => f.code === 'job-output-exists');
  if (alike.length <= MOST_TOLD) return [...findings];
  const left = new Set(alike.slice(MOST_TOLD - 1));
  const more = { ...there('more'), where: {}, message: `${left.size} more files are there already.` };
  return [...findings.filter((f) => !left.has(f)), more];
};

/** A finding when something that is no folder stands where the outputs are to go, or on the way there. */
export const refuseNoFolder = async (folder: string): Promise<Finding[]> => {
  const is = await stat(folder).catch(() => undefined);
  if (is?.isDirectory()) return [];
  if (!is) return dirname(folder) === folder ? [] : refuseNoFolder(dirname(folder));
  return [
    {
      code: 'job-output-no-folder',
      level: 'error',
      where: { file: folder },
      message: `${folder} is a file, and what is written needs a folder there.`,
      try: 'Name a folder with --out; it is made when it is not there yet.',
    },
  ];
};

const overInput = (path: string): Finding => ({
  code: 'job-output-is-source',
  level: 'error',
  where: { file: path },
  message: `${path} is one of the files that were read. It is never written over.`,
  try: 'Name another folder with --out.',
});

export const there = (path: string): Finding => ({
  code: 'job-output-exists',
  level: 'error',
  where: { file: path },
  message: `${path} is there already.`,
  try: 'Add --force to replace it, or name another folder with --out.',
});

/** Whether the system refused (a full disk, a folder that is locked); anything else is a fault of ours. */
export const isSystemError = (error: unknown): error is NodeJS.ErrnoException =>
  error instanceof Error && typeof (error as NodeJS.ErrnoException).syscall === 'string';

const ROOM = 'Make room, or name a folder on another disk with --out; then go on with --retry-failed.';
const RIGHTS = 'Ask for the right to write there, or name another folder with --out.';

/** What a system's error code says, in words, and what to try. */
const REASONS: Readonly<Record<string, readonly [why: string, remedy: string]>> = {
  ENOSPC: ['no room is left on the disk', ROOM],
  EDQUOT: ['your share of the disk is used up', ROOM],
  EFBIG: ['the disk takes no file of that size', ROOM],
  EACCES: ['you have no right to write there', RIGHTS],
  EPERM: ['the system does not let it be written', RIGHTS],
  EROFS: ['the disk can only be read', RIGHTS],
  ENOTDIR: ['a file stands where a folder is needed', 'Move that file away, or name another folder with --out.'],
  EEXIST: ['a file stands where a folder is needed', 'Move that file away, or name another folder with --out.'],
  EISDIR: ['a folder of that name is there', 'Move that folder away, or name another one with --out.'],
  ERR_FS_EISDIR: ['a folder of that name is there', 'Move that folder away, or name another one with --out.'],
  ENAMETOOLONG: [
    'the name is too long for the disk',
    'Name a folder with a shorter path with --out, or shorten --names.',
  ],
  EBUSY: ['another program has it open', 'Close it there, then go on with --retry-failed.'],
  EMFILE: ['too many files are open at once', 'Try fewer side by side, with --workers 1.'],
};

/** @param asked what was being written: a file, or a folder with several, of which the error may name one */
export const writeFailed = (asked: string, error: Error): Finding => {
  const { code = '', path: named } = error as NodeJS.ErrnoException;
  const path = /EISDIR$/.test(code) ? (named ?? asked) : asked;
  const known = REASONS[code];
  const [why, remedy] = known ?? [error.message, 'Check that the folder can be written to.'];
  return {
    code: 'job-output-failed',
    level: 'error',
    where: { file: path },
    message: `${path} could not be written: ${why}.`,
    try: remedy,
  };
};
