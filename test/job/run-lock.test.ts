import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdir, mkdtemp, readdir, rm, utimes, writeFile } from 'node:fs/promises';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { type Lock, lockFor } from '../../src/job/run/lock.ts';
import { type } from '../cli/typed.ts';

const OPERA = join(import.meta.dirname, '../../fixtures/jobs/opera');

let folder = '';
let manifest = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retrue-lock-'));
  manifest = join(folder, 'out', 'manifest.jsonl');
});
afterEach(() => rm(folder, { recursive: true }));

const held = async (): Promise<Lock> => {
  const lock = await lockFor(manifest);
  if ('code' in lock) throw new Error(lock.message);
  return lock;
};

const codeOf = async (): Promise<string | undefined> => {
  const lock = await lockFor(manifest);
  if ('code' in lock) return lock.code;
  await lock.release();
  return undefined;
};

/** A lock as a run left it, touched so long ago, s. */
const left = async (holder: unknown, ago: number): Promise<void> => {
  await mkdir(join(folder, 'out'), { recursive: true });
  await writeFile(`${manifest}.lock`, typeof holder === 'string' ? holder : JSON.stringify(holder));
  const then = new Date(Date.now() - ago * 1000);
  await utimes(`${manifest}.lock`, then, then);
};

/** The number of a process that has ended. */
const endedProcess = async (): Promise<number> => {
  const child = spawn(process.execPath, ['-e', '']);
  await once(child, 'exit');
  return child.pid as number;
};

it('is held by one of several that ask at once, and free again when it is given back', async () => {
  const locks = await Promise.all(Array.from({ length: 8 }, () => lockFor(manifest)));
  const [lock, ...others] = locks.filter((l): l is Lock => !('code' in l));
  expect(others).toEqual([]);
  expect(await codeOf()).toBe('job-run-under-way');
  await lock?.release();
  expect(await readdir(join(folder, 'out'))).toEqual([]);
  expect(await codeOf()).toBeUndefined();
});

it('is taken over from a run that was killed, here or elsewhere, and from none that lives', async () => {
  const since = '2026-01-01T00:00:00.000Z';
  const alive = spawn(process.execPath, ['-e', 'setTimeout(() => {}, 60000)']);
  try {
    const here = { host: hostname(), since };
    await left({ ...here, process: await endedProcess() }, 1);
    expect(await codeOf(), 'killed here').toBeUndefined();
    await left({ ...here, process: alive.pid }, 1);
    expect(await codeOf(), 'lives here').toBe('job-run-under-way');
    await left({ ...here, process: alive.pid }, 3600);
    expect(await codeOf(), 'its number belongs to another by now').toBeUndefined();
    await left({ host: 'elsewhere', since, process: 1 }, 5);
    expect(await codeOf(), 'lives elsewhere').toBe('job-run-under-way');
    await left({ host: 'elsewhere', since, process: 1 }, 3600);
    expect(await codeOf(), 'killed elsewhere').toBeUndefined();
    await left('', 0);
    expect(await codeOf(), 'has not said yet who it is').toBe('job-run-under-way');
    await left('', 3600);
    expect(await codeOf(), 'never said who it was').toBeUndefined();
  } finally {
    alive.kill();
  }
});

it('lets no second run into a folder where one is under way', { timeout: 60_000 }, async () => {
  const lock = await held();
  const out = join(folder, 'out');
  const args = ['alter', join(OPERA, 'chorus-skirt.svg'), '--wearer', 'waist girth=27in', '--out', out, '--no-report'];
  const second = await type(...args);
  expect([second.exit, second.err]).toEqual([2, expect.stringMatching(/^error job-run-under-way[\s\S]*Another run/m)]);
  expect(await readdir(out)).toEqual(['manifest.jsonl.lock']);
  await lock.release();
  expect((await type(...args)).exit).toBe(0);
  expect((await readdir(out)).sort()).toEqual(['manifest.jsonl', 'wearer']);
});
