import { copyFile, mkdir, mkdtemp, readdir, readFile, rm, truncate, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Finding } from '../../src/finding.ts';
import { prepare } from '../../src/job/prepare.ts';
import { openJournal } from '../../src/job/run/journal.ts';
import type { ManifestLine } from '../../src/job/run/manifest.ts';
import { merge } from '../../src/job/run/merge.ts';
import { readTemplate } from '../../src/job/run/names.ts';
import { type AlterRequest, alter, type FittingTold } from '../../src/job/run/run.ts';
import { endTask } from '../../src/job/run/task.ts';
import { type Task, tasksFor } from '../../src/job/run/tasks.ts';
import { treeOf } from './built.ts';

/* What a run takes over from an earlier one, and what it leaves alone. */

const BLOCK = join(import.meta.dirname, '../../fixtures/blocks/skirt-polylines-inches-cutting-line.svg');
const SCHEMA = join(import.meta.dirname, '../../schema/manifest.schema.json');

let folder = '';
let pattern = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retrue-resume-'));
  pattern = join(folder, 'page-skirt.svg');
  await copyFile(BLOCK, pattern);
});
afterAll(() => rm(folder, { recursive: true }));

/** Alters the hem, which is quickly done; a run a folder. */
const go = async (out: string, rows: string, request: Partial<AlterRequest> = {}) => {
  const fittings = join(folder, `${out}.csv`);
  await writeFile(fittings, `fitting,length at the hem (mm),elbow change (mm)\n${rows}`);
  const findings: Finding[] = [];
  const told: FittingTold[] = [];
  const result = await alter(
    { pattern, fittings, out: join(folder, out), force: false, ...request },
    { onFindings: (f) => findings.push(...f), onFitting: (t) => told.push(t) },
  );
  const codes = [...findings, ...told.flatMap((t) => t.ledger?.findings ?? t.findings)]
    .filter((f) => f.level === 'error')
    .map((f) => f.code);
  return { ...result, told, codes, findings, warned: findings.filter((f) => /^job-fittings/.test(f.code)) };
};
const manifestOf = async (out: string): Promise<ManifestLine[]> =>
  (await readFile(join(folder, out, 'manifest.jsonl'), 'utf8'))
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line) as ManifestLine);
const at = (...path: string[]): string => join(folder, ...path);

describe('--resume', () => {
  it('keeps what is done of the same order, pattern, options and version, and does the rest', async () => {
    await go('more', 'Alban,10,\nBertil,20,\n');
    const { exit, kept, done, told } = await go('more', 'Alban,10,\nBertil,22,\nCaspar,30,\n', { resume: true });
    expect({ exit, kept, done }).toEqual({ exit: 0, kept: 1, done: 3 });
    expect(told.map((t) => t.kept)).toEqual([true, false, false]);
    await go('afresh', 'Alban,10,\nBertil,22,\nCaspar,30,\n', { fittings: at('more.csv') });
    expect(await treeOf(at('more'))).toEqual(await treeOf(at('afresh')));
  });

  it('does again what other options bear on', async () => {
    await go('options', 'Alban,10,\n');
    expect((await go('options', 'Alban,10,\n', { resume: true, to: 'svg,dxf' })).kept).toBe(0);
    expect(await readdir(at('options', 'Alban'))).toEqual(['ledger.json', 'page-skirt.dxf', 'page-skirt.svg']);
    expect((await go('options', 'Alban,10,\n', { resume: true })).kept).toBe(0);
    // A file that the new order does not ask for does not stay beside a record that does not name it.
    expect(await readdir(at('options', 'Alban'))).toEqual(['ledger.json', 'page-skirt.svg']);
  });

  it('does again what is gone, and never judges by times', async () => {
    await go('gone', 'Alban,10,\nBertil,20,\n');
    const whole = await treeOf(at('gone'));
    await rm(at('gone', 'Alban', 'page-skirt.svg'));
    const bytes = await readFile(at('gone', 'Bertil', 'ledger.json'));
    await writeFile(at('gone', 'Bertil', 'ledger.json'), bytes);
    expect((await go('gone', 'Alban,10,\nBertil,20,\n', { resume: true })).kept).toBe(1);
    expect(await treeOf(at('gone'))).toEqual(whole);
  });

  it('keeps its hands off a file that was changed since, unless forced', async () => {
    await go('changed', 'Alban,10,\nBertil,20,\n');
    await writeFile(at('changed', 'Alban', 'page-skirt.svg'), 'drawn over by hand');
    const before = await manifestOf('changed');
    const refused = await go('changed', 'Alban,10,\nBertil,20,\n', { resume: true });
    expect(refused).toMatchObject({ exit: 1, refused: 1, kept: 1, codes: ['job-output-changed'] });
    expect(await readFile(at('changed', 'Alban', 'page-skirt.svg'), 'utf8')).toBe('drawn over by hand');
    expect(await manifestOf('changed')).toEqual(before);
    const forced = await go('changed', 'Alban,10,\nBertil,20,\n', { resume: true, force: true });
    expect(forced).toMatchObject({ exit: 0, kept: 1, done: 2 });
  });

  it('keeps its hands off a file that no run has listed', async () => {
    await go('foreign', 'Alban,10,\n');
    await rm(at('foreign', 'manifest.jsonl'));
    const refused = await go('foreign', 'Alban,10,\nBertil,20,\n', { resume: true });
    expect(refused).toMatchObject({ exit: 1, refused: 1, done: 1, codes: ['job-output-exists'] });
  });

  it('takes what a run had begun for its own, and mends a torn line', async () => {
    await go('torn', 'Alban,10,\nBertil,20,\n');
    const whole = await treeOf(at('torn'));
    const [alban, bertil] = await manifestOf('torn');
    await writeFile(at('torn', 'Bertil', 'page-skirt.svg'), 'half of it');
    await writeFile(at('torn', 'Bertil', 'page-skirt.svg.unfinished-40151abc'), 'half');
    for (const name of ['index.html', 'manifest.jsonl']) await writeFile(at('torn', `${name}.unfinished-05334276`), '');
    const lines = [alban, { ...bertil, status: 'begun', outputs: [] }].map((l) => JSON.stringify(l)).join('\n');
    await writeFile(at('torn', 'manifest.jsonl'), `${lines}\n{"fitting":"Caspar","sta`);
    expect(await go('torn', 'Alban,10,\nBertil,20,\n', { resume: true })).toMatchObject({ exit: 0, kept: 1 });
    expect(await treeOf(at('torn'))).toEqual(whole);
  });

  it('takes nothing away on the word of a manifest that names files elsewhere', async () => {
    await go('astray', 'Alban,10,\n');
    const [alban] = await manifestOf('astray');
    const outputs = [
      { file: '../own.txt', sha256: '0'.repeat(64) },
      { file: 'Alban/../../own.txt', sha256: '' },
    ];
    await writeFile(at('own.txt'), 'mine');
    for (const output of outputs) {
      await writeFile(at('astray', 'manifest.jsonl'), `${JSON.stringify({ ...alban, outputs: [output] })}\n`);
      await go('astray', 'Alban,12,\n', { force: true });
      expect(await readFile(at('own.txt'), 'utf8')).toBe('mine');
    }
  });

  it('loses no more than its last line when the manifest is cut anywhere', async () => {
    await go('cut', 'Alban,10,\nBertil,20,\n');
    const whole = await treeOf(at('cut'));
    const { length } = await readFile(at('cut', 'manifest.jsonl'));
    await truncate(at('cut', 'manifest.jsonl'), length - 1);
    const { kept, codes } = await go('cut', 'Alban,10,\nBertil,20,\n', { resume: true, force: true });
    expect({ kept, codes }).toEqual({ kept: 1, codes: [] });
    expect(await treeOf(at('cut'))).toEqual(whole);
  });
});

describe('a row that was taken out of the table', () => {
  const rows = 'Alban,10,\nBertil,20,\nCaspar,30,\n';
  const stands = async (out: string) => (await manifestOf(out)).map((l) => [l.fitting, l.asked]);

  it('is told of; what was written for it stays, and is listed apart and not counted', async () => {
    await go('left', rows, { report: 'html' });
    const bertil = await treeOf(at('left', 'Bertil'));
    const { exit, kept, warned } = await go('left', 'Alban,10,\nCaspar,30,\n', { resume: true, report: 'html' });
    expect({ exit, kept }).toEqual({ exit: 0, kept: 2 });
    expect(warned.map((f) => f.code)).toEqual(['job-fittings-left']);
    expect(warned[0]?.message).toContain('did “Bertil”, and the table no longer asks for it');
    expect(await treeOf(at('left', 'Bertil'))).toEqual(bertil);
    expect(await stands('left')).toEqual([
      ['Alban', true],
      ['Caspar', true],
      ['Bertil', false],
    ]);
    const list = await readFile(at('left', 'index.html'), 'utf8');
    expect(list).toContain('2 fittings.');
    expect(list.indexOf('Bertil')).toBeGreaterThan(list.indexOf('No longer in the table'));
  });

  it('is one of the fittings again when it is put back, and gone when its folder is', async () => {
    await go('back', rows);
    const whole = await treeOf(at('back'));
    await go('back', 'Alban,10,\nCaspar,30,\n', { resume: true });
    expect(await go('back', rows, { resume: true })).toMatchObject({ exit: 0, kept: 3, warned: [] });
    const { 'manifest.jsonl': _, ...files } = await treeOf(at('back'));
    expect(whole).toMatchObject(files);
    await go('back', 'Alban,10,\nCaspar,30,\n', { resume: true });
    await rm(at('back', 'Bertil'), { recursive: true });
    expect((await go('back', 'Alban,10,\nCaspar,30,\n', { resume: true })).warned).toEqual([]);
    expect((await stands('back')).map(([fitting]) => fitting)).toEqual(['Alban', 'Caspar']);
  });

  it('is found by force too, but nothing is said of another table’s fittings', async () => {
    await go('forced', rows);
    await writeFile(at('principals.csv'), 'fitting,length at the hem (mm)\nDagmar,10\n');
    const other = { fittings: at('principals.csv') };
    expect((await go('forced', '', other)).warned).toEqual([]);
    expect((await go('forced', 'Alban,12,\n', { force: true })).warned[0]?.message).toMatch(/“Bertil”.*“Caspar”/);
    expect(await stands('forced')).toEqual([
      ['Alban', true],
      ['Dagmar', true],
      ['Bertil', false],
      ['Caspar', false],
    ]);
  });

  it('changes nothing of what the other parts of a run do', async () => {
    const parts = async (table: string, more: Partial<AlterRequest> = {}) => {
      for (const shard of ['1/2', '2/2']) {
        const { codes } = await go('parts', table, { shard, ...more });
        expect(codes).toEqual([]);
      }
    };
    await parts(rows);
    // Caspar moves from the first part to the second.
    await parts('Alban,10,\nCaspar,30,\n', { resume: true });
    expect(await merge(at('parts'))).toMatchObject({ exit: 0, merged: { fittings: 2 } });
    expect(await stands('parts')).toEqual([
      ['Alban', true],
      ['Caspar', true],
      ['Bertil', false],
    ]);
    // A part may be taken up again after that.
    expect(await go('parts', 'Alban,10,\nCaspar,30,\n', { resume: true, shard: '1/2' })).toMatchObject({ kept: 1 });
    expect(await merge(at('parts'))).toMatchObject({ exit: 0, merged: { fittings: 2 } });
  });
});

describe('--retry-failed', () => {
  it('does again what was refused; --resume alone lets it stand', async () => {
    const rows = 'Alban,10,\nLamp,,12\n';
    expect(await go('retry', rows)).toMatchObject({ exit: 1, refused: 1 });
    expect(await go('retry', rows, { resume: true })).toMatchObject({ exit: 1, refused: 1, done: 1, kept: 2 });
    const retried = await go('retry', rows, { retryFailed: true });
    expect(retried).toMatchObject({ exit: 1, refused: 1, kept: 1 });
    expect(retried.told[1]).toMatchObject({ kept: false, ledger: { status: 'refused' } });
  });
});

describe('--fail-fast', () => {
  it('stops at the first that is refused, says how many are left, and can be gone on with', async () => {
    const rows = 'Alban,10,\nLamp,,12\nBertil,20,\nCaspar,30,\n';
    expect(await go('fast', rows, { failFast: true })).toMatchObject({ exit: 1, done: 1, refused: 1, left: 2 });
    expect((await manifestOf('fast')).map((l) => l.fitting)).toEqual(['Alban', 'Lamp']);
    expect(await go('fast', rows, { resume: true })).toMatchObject({ done: 3, refused: 1, left: 0, kept: 2 });
  });
});

describe('--dry-run', () => {
  it('tells what would be done and written, and writes nothing', async () => {
    const { exit, told } = await go('dry', 'Alban,10,\nLamp,,12\n', { dryRun: true });
    expect(exit).toBe(1);
    expect(told.map((t) => t.status)).toEqual(['done', 'refused']);
    expect(told[0]?.files).toEqual([at('dry', 'Alban', 'page-skirt.svg'), at('dry', 'Alban', 'ledger.json')]);
    expect(told[0]?.ledger?.alterations[0]).toMatchObject({ name: 'length at the hem', amount: 10 });
    await expect(readdir(at('dry'))).rejects.toThrow();
  });

  it('tells what a run would keep', async () => {
    await go('dry again', 'Alban,10,\n');
    const before = await treeOf(at('dry again'));
    const { kept, told } = await go('dry again', 'Alban,10,\nBertil,20,\n', { dryRun: true, resume: true });
    expect(kept).toBe(1);
    expect(told.map((t) => t.kept)).toEqual([true, false]);
    expect(await treeOf(at('dry again'))).toEqual(before);
  });
});

describe('folders that meet', () => {
  it('refuses those fittings before anything is written, and does the others', async () => {
    // The same name, once with the accent as a character of its own (Unicode normal forms C and D).
    const rows = 'Zo\u00eb,10,\nAlban,10,\nZoe\u0308,20,\na/b,1,\nA:B,2,\n';
    const { exit, done, refused, codes } = await go('meet', rows);
    expect({ exit, done, refused }).toEqual({ exit: 1, done: 1, refused: 4 });
    expect(new Set(codes)).toEqual(new Set(['job-folder-collision']));
    expect((await readdir(at('meet'))).sort()).toEqual(['Alban', 'manifest.jsonl']);
    expect((await manifestOf('meet')).map((l) => [l.fitting, l.folder, l.status])).toEqual([
      ['Zo\u00eb', null, 'refused'],
      ['Alban', 'Alban', 'done'],
      ['Zoe\u0308', null, 'refused'],
      ['a/b', null, 'refused'],
      ['A:B', null, 'refused'],
    ]);
  });
});

describe('a fitting that breaks', () => {
  it('is named when its folder cannot be made, and the others are done; mended, it is done again', async () => {
    await mkdir(at('blocked'));
    await writeFile(at('blocked', 'Alban'), 'a file where a folder should be');
    const rows = 'Alban,10,\nBertil,20,\n';
    const { exit, done, failed, codes, told } = await go('blocked', rows);
    expect({ exit, done, failed, codes }).toEqual({ exit: 1, done: 1, failed: 1, codes: ['job-output-no-folder'] });
    const why = told[0]?.ledger?.findings.find((f) => f.level === 'error');
    expect(why?.message).toBe(`${at('blocked', 'Alban')} is a file, and what is written needs a folder there.`);
    expect(await readFile(at('blocked', 'Alban'), 'utf8')).toContain('a file where');
    await rm(at('blocked', 'Alban'));
    expect(await go('blocked', rows, { retryFailed: true })).toMatchObject({ exit: 0, done: 2, kept: 1 });
  });

  it('keeps in the manifest what could not be taken away, and tells what was in the way', async () => {
    const rows = 'Alban,10,\nBertil,20,\n';
    await go('stuck', rows);
    await rm(at('stuck', 'Alban', 'page-skirt.svg'));
    await mkdir(at('stuck', 'Alban', 'page-skirt.svg', 'kept'), { recursive: true });
    const { exit, done, told } = await go('stuck', rows, { resume: true });
    expect({ exit, done }).toEqual({ exit: 1, done: 1 });
    const why = told[0]?.ledger?.findings.find((f) => f.level === 'error')?.message;
    expect(why).toBe(`${at('stuck', 'Alban', 'page-skirt.svg')} could not be written: a folder of that name is there.`);
    expect((await manifestOf('stuck'))[0]).toMatchObject({
      status: 'failed',
      outputs: [{ file: 'Alban/page-skirt.svg' }],
    });
    expect(await readdir(at('stuck', 'Alban', 'page-skirt.svg'))).toEqual(['kept']);
    await rm(at('stuck', 'Alban'), { recursive: true });
    expect(await go('stuck', rows, { retryFailed: true })).toMatchObject({ exit: 0, done: 2, kept: 1 });
  });

  it('tells of a line of the manifest that cannot be read, and not of one that was cut off', async () => {
    const rows = 'Alban,10,\nBertil,20,\n';
    await go('damaged', rows);
    const manifest = at('damaged', 'manifest.jsonl');
    const [first = '', second = ''] = (await readFile(manifest, 'utf8')).split('\n');
    await writeFile(manifest, `${first.slice(0, 40)}\n${second}\n`);
    const { findings } = await go('damaged', rows, { resume: true });
    const told = findings.filter((f) => f.code === 'job-manifest-damaged');
    expect(told).toMatchObject([{ level: 'warning', where: { file: manifest, line: 1 } }]);
    await go('cut off', rows);
    await writeFile(
      at('cut off', 'manifest.jsonl'),
      `${second.replaceAll('damaged', 'cut off')}\n${first.slice(0, 40)}`,
    );
    const again = await go('cut off', rows, { resume: true });
    expect(again.findings.map((f) => f.code)).not.toContain('job-manifest-damaged');
  });

  it('takes no other with it when the thread that does it breaks down', async () => {
    const { ready } = await prepare({ pattern, wearer: 'length at the hem=10mm', name: 'Alban' });
    if (!ready) throw new Error('nothing to begin');
    const { patterns } = ready;
    const template = readTemplate(undefined, 1);
    if ('code' in template) throw new Error(template.message);
    const [task] = tasksFor(ready, template, { pattern, out: at('broken'), force: false });
    const run = () => Promise.reject(new Error('out of memory'));
    const pool = { threads: 2, run, close: async () => undefined };
    const journal = await openJournal(at('broken', 'manifest.jsonl'));
    const resuming = { resume: false, retryFailed: false, force: false };
    const shop = { out: at('broken'), patterns, pool, manifest: journal.manifest, journal, resuming };
    const end = await endTask(task as Task, shop);
    expect(end).toMatchObject({ status: 'failed', files: [], line: { reasons: ['job-program-fault'] } });
    expect(end.fault).toMatchObject({ message: 'out of memory' });
    await journal.settle([end.line as ManifestLine]);
    expect((await manifestOf('broken')).map((l) => l.status)).toEqual(['failed']);
  });
});

describe('the manifest', () => {
  it('has the published form, and stays when other wearers are done into the same folder', async () => {
    const schema = JSON.parse(await readFile(SCHEMA, 'utf8')) as object;
    const validate = new Ajv2020({ allowUnionTypes: true }).compile(schema);
    await go('one', 'Alban,10,\nLamp,,12\n');
    await go('one', 'Bertil,20,\n');
    const lines = await manifestOf('one');
    expect(lines.map((l) => l.fitting)).toEqual(['Alban', 'Lamp', 'Bertil']);
    for (const line of lines) expect(validate(line), JSON.stringify(validate.errors)).toBe(true);
  });
});
