import { mkdir, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sha256 } from '../../src/job/digest.ts';
import { lineText, type ManifestLine } from '../../src/job/run/manifest.ts';
import { merge } from '../../src/job/run/merge.ts';
import { isInShard, readShard } from '../../src/job/run/shard.ts';

describe('readShard', () => {
  it('reads a part of a whole', () => {
    expect(readShard('2/4', {})).toEqual({ index: 2, of: 4 });
    expect(readShard(undefined, {})).toBeUndefined();
    for (const bad of ['0/4', '5/4', '1', '1/0', 'x/y', '1.5/2', '-1/2']) {
      expect(readShard(bad, {})).toMatchObject({ code: 'job-option-unknown' });
    }
  });

  it('finds the place of a Slurm task among those of its array (sbatch(1))', () => {
    const env = (id: string, first: string, count: string, step?: string) => ({
      ...{ SLURM_ARRAY_TASK_ID: id, SLURM_ARRAY_TASK_MIN: first, SLURM_ARRAY_TASK_COUNT: count },
      ...(step === undefined ? {} : { SLURM_ARRAY_TASK_STEP: step }),
    });
    expect(readShard('slurm', env('0', '0', '4'))).toEqual({ index: 1, of: 4 });
    expect(readShard('slurm', env('4', '1', '4'))).toEqual({ index: 4, of: 4 });
    expect(readShard('slurm', env('9', '1', '5', '2'))).toEqual({ index: 5, of: 5 });
    // --array=1,3,7 has gaps that tell no place.
    expect(readShard('slurm', env('7', '1', '3'))).toMatchObject({ code: 'job-option-unknown' });
    expect(readShard('slurm', {})).toMatchObject({ code: 'job-option-unknown' });
  });

  it('counts the pods of an indexed Kubernetes job from 0', () => {
    expect(readShard('kubernetes/3', { JOB_COMPLETION_INDEX: '0' })).toEqual({ index: 1, of: 3 });
    expect(readShard('kubernetes/3', { JOB_COMPLETION_INDEX: '3' })).toMatchObject({ code: 'job-option-unknown' });
    expect(readShard('kubernetes/3', {})).toMatchObject({ code: 'job-option-unknown' });
    expect(readShard('kubernetes', { JOB_COMPLETION_INDEX: '0' })).toMatchObject({ code: 'job-option-unknown' });
  });

  it('gives every fitting to one part, and no part more than one over another', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 200 }), fc.integer({ min: 1, max: 20 }), (fittings, of) => {
        const places = Array.from({ length: fittings }, (_, i) => i + 1);
        const parts = Array.from({ length: of }, (_, i) => places.filter((p) => isInShard(p, { index: i + 1, of })));
        expect(parts.flat().sort((a, b) => a - b)).toEqual(places);
        const sizes = parts.map((p) => p.length);
        expect(Math.max(...sizes) - Math.min(...sizes)).toBeLessThanOrEqual(1);
      }),
    );
  });
});

describe('merge', () => {
  let folder = '';
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'retrue-merge-'));
  });
  afterAll(() => rm(folder, { recursive: true }));

  const TABLE = { file: 'chorus.csv', rows: '0'.repeat(64) };
  const line = (place: number, more: Partial<ManifestLine> = {}): ManifestLine => ({
    ...{ fitting: `Reed ${place}`, pattern: 'skirt.dxf', status: 'done', folder: `Reed ${place}` },
    ...{ outputs: [], reasons: [], place, of: 4, table: TABLE, asked: true, input: '', options: '' },
    ...{ settings: { to: 'dxf' }, version: '1', ...more },
  });
  /** A folder with manifests by their names, as found after a run. */
  const found = async (name: string, parts: Record<string, readonly ManifestLine[]>): Promise<string> => {
    const out = join(folder, name);
    await mkdir(out);
    for (const [file, lines] of Object.entries(parts)) await writeFile(join(out, file), lines.map(lineText).join(''));
    return out;
  };
  const codes = async (out: string) => (await merge(out)).findings.map((f) => f.code);

  it('tells a part that is missing, and changes nothing', async () => {
    const out = await found('missing', { 'manifest.1-of-2.jsonl': [line(1), line(3)] });
    const { findings, exit } = await merge(out);
    expect(exit).toBe(1);
    expect(findings.map((f) => f.message).join('\n')).toMatch(/Part 2 of 2 has not run[\s\S]*places 2, 4 of the table/);
    expect(await readdir(out)).toEqual(['manifest.1-of-2.jsonl']);
  });

  it('tells fittings that are missing, double, or not ended', async () => {
    const lines = { 'manifest.1-of-2.jsonl': [line(1), line(3, { status: 'begun' })] };
    const out = await found('amiss', { ...lines, 'manifest.2-of-2.jsonl': [line(1)] });
    expect(await codes(out)).toEqual(['job-shard-incomplete', 'job-shard-twice', 'job-shard-incomplete']);
  });

  it('tells a file that is not there as it was written', async () => {
    const outputs = [{ file: 'Reed 2/skirt.dxf', sha256: sha256('whole') }];
    const parts = {
      'manifest.1-of-2.jsonl': [line(1), line(3)],
      'manifest.2-of-2.jsonl': [line(2, { outputs }), line(4)],
    };
    const out = await found('files', parts);
    expect(await codes(out)).toEqual(['job-shard-incomplete']);
    await mkdir(join(out, 'Reed 2'));
    await writeFile(join(out, 'Reed 2', 'skirt.dxf'), 'whole');
    expect(await merge(out)).toMatchObject({ exit: 0, merged: { shards: 2, fittings: 4, done: 4 } });
    expect((await readdir(out)).sort()).toEqual(['Reed 2', 'manifest.jsonl']);
  });

  it('joins only parts that were made alike, and says which option differs in which part', async () => {
    const two = (more: Partial<ManifestLine>) => [line(2, more), line(4, more)];
    const told = async (name: string, second: readonly ManifestLine[]) => {
      const parts = { 'manifest.1-of-2.jsonl': [line(1), line(3)], 'manifest.2-of-2.jsonl': second };
      const out = await found(name, parts);
      const { findings, exit, merged } = await merge(out);
      expect([exit, merged, (await readdir(out)).length]).toEqual([1, undefined, 2]);
      expect(new Set(findings.map((f) => f.code))).toEqual(new Set(['job-shards-mixed']));
      return findings.map((f) => f.message).join('\n');
    };
    expect(await told('to', two({ settings: { to: 'dxf,svg', unfold: 'yes' } }))).toMatch(
      /--to: “dxf” in part 1, “dxf,svg” in part 2\.\n.*--unfold: not given in part 1, “yes” in part 2\./,
    );
    // A part that was taken up with other options stands on both sides.
    expect(await told('split', [line(2), line(4, { settings: { to: 'svg' } })])).toMatch(
      /“dxf” in part 1 and part 2 \(“Reed 2”\), “svg” in part 2 \(“Reed 4”\)/,
    );
    expect(await told('table', two({ table: { ...TABLE, rows: '1'.repeat(64) } }))).toContain('fittings of the table');
    expect(await told('pattern', two({ input: '1'.repeat(64) }))).toContain('the pattern file or its sheet');
    expect(await told('version', two({ version: '2' }))).toMatch(/“1” in part 1, “2” in part 2/);
    const { settings: _, ...earlier } = line(2);
    expect(await told('earlier', [earlier, line(4)])).toContain('manifest of part 2 does not say with which options');
  });

  it('lets patterns of one run have their own formats and bodies', async () => {
    const bodice = { pattern: 'bodice.svg', settings: { to: 'svg', drafted: 'bust girth=914.4 mm' } };
    const parts = {
      'manifest.1-of-2.jsonl': [line(1), line(3, bodice)],
      'manifest.2-of-2.jsonl': [line(2), line(4, bodice)],
    };
    expect(await merge(await found('wardrobe', parts))).toMatchObject({ exit: 0, findings: [] });
  });

  it('says of what is merged already that it is, and takes up a part that was run again', async () => {
    const one = { 'manifest.1-of-2.jsonl': [line(1), line(3, { status: 'refused' })] };
    const out = await found('again', { ...one, 'manifest.2-of-2.jsonl': [line(2), line(4)] });
    expect((await merge(out)).exit).toBe(1);
    const again = await merge(out);
    expect(again.findings).toMatchObject([{ code: 'job-shards-merged', level: 'note' }]);
    expect(again.findings[0]?.message).toContain('3 done, 1 refused');
    expect(again.exit).toBe(1);
    await writeFile(join(out, 'manifest.1-of-2.jsonl'), [line(1), line(3)].map(lineText).join(''));
    expect(await merge(out)).toMatchObject({ exit: 0, merged: { shards: 2, fittings: 4, done: 4 } });
    expect(await readdir(out)).toEqual(['manifest.jsonl']);
  });

  it('tells parts of different runs apart', async () => {
    const lines = { 'manifest.1-of-2.jsonl': [line(1)], 'manifest.1-of-3.jsonl': [line(1)] };
    expect(await codes(await found('mixed', lines))).toEqual(['job-shards-mixed']);
    expect(await codes(await found('none', {}))).toEqual(['job-shard-missing']);
    expect(await codes(join(folder, 'nowhere'))).toEqual(['job-shard-missing']);
  });
});
