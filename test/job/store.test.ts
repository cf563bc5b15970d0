import { mkdir, mkdtemp, readdir, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  clear,
  exists,
  isSystemError,
  refuseNoFolder,
  refuseToOverwrite,
  store,
  storeParts,
  sweep,
  writeFailed,
} from '../../src/job/store.ts';

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retrue-'));
});
afterEach(() => rm(folder, { recursive: true }));

describe('refuseNoFolder', () => {
  it('takes a folder, and one that is yet to be made, but no file and nothing inside one', async () => {
    await writeFile(join(folder, 'a.txt'), 'x');
    expect(await refuseNoFolder(folder)).toEqual([]);
    expect(await refuseNoFolder(join(folder, 'new', 'deeper'))).toEqual([]);
    for (const out of [join(folder, 'a.txt'), join(folder, 'a.txt', 'deeper')])
      expect(
        (await refuseNoFolder(out)).map((f) => f.code),
        out,
      ).toEqual(['job-output-no-folder']);
  });
});

describe('refuseToOverwrite', () => {
  const codes = async (outputs: string[], inputs: string[], force: boolean) =>
    (await refuseToOverwrite(outputs, inputs, force)).map((f) => f.code);

  it('never lets an input be written over, by whatever way it is named', async () => {
    const input = join(folder, 'skirt.dxf');
    await writeFile(input, 'x');
    await symlink(folder, join(folder, 'again'));
    for (const way of [input, join(folder, 'again', 'skirt.dxf'), join(folder, 'again', '..', 'skirt.dxf')]) {
      expect(await codes([way], [input], true), way).toEqual(['job-output-is-source']);
    }
  });

  it('lets an earlier output be replaced only with force', async () => {
    const output = join(folder, 'out.dxf');
    expect(await codes([output], [], false)).toEqual([]);
    await writeFile(output, 'old');
    expect(await codes([output], [], false)).toEqual(['job-output-exists']);
    expect(await codes([output], [], true)).toEqual([]);
  });
});

describe('sweep', () => {
  it('takes away what was left half written beside a file, and nothing else', async () => {
    const path = join(folder, 'skirt.dxf');
    const other = join(folder, 'skirt.dxf.1.bak');
    const kept = [
      path,
      other,
      `${path}.2025`,
      `${path}.unfinished-please`,
      join(folder, 'other.dxf.unfinished-0a1b2c3d'),
    ];
    for (const p of [...kept, `${path}.unfinished-3021455f`, `${path}.unfinished-00000000`]) await writeFile(p, 'x');
    await sweep([path, join(folder, 'no', 'such')]);
    expect((await readdir(folder)).map((name) => join(folder, name)).sort()).toEqual(kept.sort());
  });

  it('knows what is left half written by the name it has until it is whole', async () => {
    const path = join(folder, 'skirt.dxf');
    const names: string[] = [];
    const parts = async function* () {
      yield 'x';
      names.push(...(await readdir(folder)));
    };
    await storeParts(path, parts());
    expect(names).toEqual([expect.stringMatching(/^skirt\.dxf\.unfinished-[0-9a-f]{8}$/)]);
    expect(await readdir(folder)).toEqual(['skirt.dxf']);
    await writeFile(join(folder, names[0] as string), 'half');
    await sweep([path]);
    expect(await readdir(folder)).toEqual(['skirt.dxf']);
  });
});

describe('what the system refuses', () => {
  const refused = async (path: string) => {
    const error = await store(path, 'x').then(
      () => undefined,
      (e: unknown) => e,
    );
    if (!isSystemError(error)) throw new Error(`${path} was written, or failed otherwise`);
    return writeFailed(path, error);
  };

  it('is told in words, with what to try', async () => {
    await writeFile(join(folder, 'a.txt'), 'x');
    await mkdir(join(folder, 'there'));
    for (const [path, why] of [
      [join(folder, 'a.txt', 'skirt.dxf'), 'a file stands where a folder is needed'],
      [join(folder, 'n'.repeat(300)), 'the name is too long for the disk'],
      [join(folder, 'there'), 'a folder of that name is there'],
    ] as const) {
      const { message, try: remedy } = await refused(path);
      expect(message).toMatch(new RegExp(`could not be written: ${why}\\.$`));
      expect(message).not.toMatch(/E[A-Z]{4}/);
      expect(remedy).toMatch(/--out/);
    }
  });
});

describe('store', () => {
  it('makes the folder, and leaves nothing else behind', async () => {
    const path = join(folder, 'a', 'b', 'c.txt');
    await store(path, 'whole');
    await store(path, new TextEncoder().encode('new'));
    expect(await readFile(path, 'utf8')).toBe('new');
    await clear([path, join(folder, 'nothing there')]);
    expect(await exists(path)).toBe(false);
  });
});
