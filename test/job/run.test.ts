import { createHash } from 'node:crypto';
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Finding } from '../../src/finding.ts';
import { carryOut } from '../../src/job/fitting.ts';
import type { Ledger } from '../../src/job/ledger.ts';
import { type Prepared, prepare } from '../../src/job/prepare.ts';
import type { ManifestLine } from '../../src/job/run/manifest.ts';
import type { AlterRequest } from '../../src/job/run/run.ts';
import { alter } from '../../src/job/run/run.ts';
import { survey } from '../../src/job/survey.ts';

const OPERA = join(import.meta.dirname, '../../fixtures/jobs/opera');
const SCHEMA = join(import.meta.dirname, '../../schema/ledger.schema.json');
const DRAFTED = 'waist girth=26 1/2in, hip girth=36in, waist to hip=8in';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retrue-run-'));
});
afterAll(() => rm(folder, { recursive: true }));

const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** Runs an order and collects all it tells. */
const go = async (request: Partial<AlterRequest> & { pattern: string; out: string }) => {
  const findings: Finding[] = [];
  const ledgers: Ledger[] = [];
  const result = await alter(
    { force: false, ...request },
    { onFindings: (f) => findings.push(...f), onFitting: (o) => o.ledger && ledgers.push(o.ledger) },
  );
  return { ...result, findings, ledgers };
};

const filesOf = async (dir: string): Promise<Map<string, string>> => {
  const names = await readdir(dir, { recursive: true, withFileTypes: true });
  const files = names.filter((n) => n.isFile()).map((n) => join(n.parentPath, n.name));
  return new Map(await Promise.all(files.map(async (f) => [f.slice(dir.length), sha256(await readFile(f))] as const)));
};

describe.each(['dxf', 'svg'])('the whole table of fittings, %s', (format) => {
  const pattern = join(OPERA, `chorus-skirt.${format}`);
  const request = () => ({ pattern, fittings: join(OPERA, 'fittings.csv'), out: join(folder, format) });

  it('does all fittings but the one past the limits, and leaves the source alone', async () => {
    const before = sha256(await readFile(pattern));
    const { exit, done, refused, failed, ledgers } = await go(request());
    expect(ledgers.filter((l) => l.status === 'failed').map((l) => l.findings)).toEqual([]);
    expect({ exit, done, refused, failed }).toEqual({ exit: 1, done: 7, refused: 1, failed: 0 });
    expect(ledgers.find((l) => l.status === 'refused')?.fitting).toMatch(/^Fiammetta/);
    expect(sha256(await readFile(pattern))).toBe(before);
  });

  it('keeps a ledger of the published form for each, the refused one included', async () => {
    const validate = new Ajv2020({ allowUnionTypes: true, formats: { 'date-time': true } }).compile(
      JSON.parse(await readFile(SCHEMA, 'utf8')),
    );
    const folders = (await readdir(request().out, { withFileTypes: true })).filter((e) => e.isDirectory());
    expect(folders).toHaveLength(8);
    for (const { name } of folders) {
      const ledger = JSON.parse(await readFile(join(request().out, name, 'ledger.json'), 'utf8')) as Ledger;
      expect(validate(ledger), `${name}: ${JSON.stringify(validate.errors)}`).toBe(true);
      expect(await readdir(join(request().out, name))).toEqual(
        ledger.status === 'done' ? [`chorus-skirt.${format}`, 'ledger.json'] : ['ledger.json'],
      );
    }
  });

  it('lists each fitting in the manifest with the hash of what was written', async () => {
    const text = await readFile(join(request().out, 'manifest.jsonl'), 'utf8');
    const lines = text
      .trimEnd()
      .split('\n')
      .map((l) => JSON.parse(l) as ManifestLine);
    expect(lines).toHaveLength(8);
    for (const line of lines) {
      expect(line.outputs.length).toBe(line.status === 'done' ? 2 : 1);
      for (const { file, sha256: hash } of line.outputs) {
        expect(sha256(await readFile(join(request().out, file)))).toBe(hash);
      }
    }
  });

  it('writes nothing over without force, and the same bytes again with it', async () => {
    const some = join(folder, `some-${format}.csv`);
    await writeFile(some, 'fitting,waist girth (in)\nAnn,27\nBea,40\n');
    const again = { pattern, fittings: some, out: join(folder, `some-${format}`) };
    await go(again);
    const first = await filesOf(again.out);
    const refused = await go(again);
    expect(refused.exit).toBe(2);
    expect(refused.findings.map((f) => f.code)).toContain('job-output-exists');
    expect(await filesOf(again.out)).toEqual(first);
    await go({ ...again, force: true });
    expect(await filesOf(again.out)).toEqual(first);
  });

  it('gives the very bytes it read when nothing is to change', async () => {
    const out = join(folder, `same-${format}`);
    const { exit } = await go({ pattern, wearer: 'waist girth=26 1/2in, hip girth=36in', out });
    expect(exit).toBe(0);
    expect(sha256(await readFile(join(out, 'wearer', `chorus-skirt.${format}`)))).toBe(sha256(await readFile(pattern)));
  });
});

describe('one wearer', () => {
  const pattern = join(OPERA, 'chorus-skirt.dxf');

  it('gets the girths that were asked for, measured on the written file', async () => {
    const out = join(folder, 'girths');
    const { ledgers } = await go({ pattern, drafted: DRAFTED, wearer: 'waist girth=27in, hip girth=37in', out });
    const change = (level: string) => {
      const girth = ledgers[0]?.girths.find((g) => g.level === level && g.cloth === 'shell');
      return (girth?.after ?? 0) - (girth?.before ?? 0);
    };
    // The needed change is the wearer's measurement less the one drafted for (common practice, no source).
    expect(change('waist')).toBeCloseTo(12.7, 0);
    expect(Math.abs(change('waist') - 12.7)).toBeLessThan(0.1);
    expect(Math.abs(change('hip') - 25.4)).toBeLessThan(0.1);
  });

  it('is written in both formats when both are asked for', async () => {
    const out = join(folder, 'both');
    const { exit } = await go({ pattern, drafted: DRAFTED, wearer: 'hip girth=37in', name: 'Ann', to: 'dxf,svg', out });
    expect(exit).toBe(0);
    expect(await readdir(join(out, 'Ann'))).toEqual(['chorus-skirt.dxf', 'chorus-skirt.svg', 'ledger.json']);
  });

  it('gets only the pieces of the view, the others left as drawn', async () => {
    const out = join(folder, 'view');
    const { exit, findings, ledgers } = await go({ pattern, wearer: 'waist girth=27in', view: 'on a petersham', out });
    expect(exit).toBe(0);
    expect(ledgers[0]?.source.pieces.map((p) => p.name)).toEqual(['Skirt front', 'Skirt back']);
    expect(findings.map((f) => f.code)).toContain('job-view-pieces-away');
    const written = join(out, 'wearer', 'chorus-skirt.dxf');
    const { reports } = await survey([pattern, written], { sheet: join(OPERA, 'chorus-skirt.sheet.yaml') });
    const [band, same] = reports.map((r) => r.pieces.find((p) => p.part === 'waistband')?.edges);
    expect(band?.length).toBe(4);
    expect(same).toEqual(band);
  });

  it('is never written over the pattern itself', async () => {
    const own = join(folder, 'own', 'wearer');
    await go({ pattern, drafted: DRAFTED, wearer: 'hip girth=37in', out: join(folder, 'own') });
    const written = join(own, 'chorus-skirt.dxf');
    const before = sha256(await readFile(written));
    const again = {
      pattern: written,
      drafted: DRAFTED,
      wearer: 'hip girth=37in',
      out: join(folder, 'own'),
      force: true,
    };
    const { exit, findings } = await go(again);
    expect(exit).toBe(2);
    expect(findings.map((f) => f.code)).toContain('job-output-is-source');
    expect(sha256(await readFile(written))).toBe(before);
  });

  it('leaves nothing of an earlier run when it is refused', async () => {
    const out = join(folder, 'twice');
    await go({ pattern, drafted: DRAFTED, wearer: 'waist girth=27in', out });
    const { exit } = await go({
      pattern,
      drafted: DRAFTED,
      wearer: 'waist girth=40in, hip girth=50in',
      out,
      force: true,
    });
    expect(exit).toBe(1);
    expect(await readdir(join(out, 'wearer'))).toEqual(['ledger.json']);
  });
});

describe('what cannot be done', () => {
  const pattern = join(OPERA, 'chorus-skirt.dxf');
  const out = () => join(folder, 'nothing');
  it.each([
    ['no such file', { pattern: 'nowhere.dxf', wearer: 'waist girth=27in' }, 'job-file-unreadable'],
    ['no wearer', { pattern }, 'job-no-fittings'],
    ['two sources', { pattern, wearer: 'waist girth=27in', fittings: 'x.csv' }, 'job-option-clash'],
    ['size without chart', { pattern, wearer: 'waist girth=27in', size: '12' }, 'job-option-clash'],
    ['unknown format', { pattern, wearer: 'waist girth=27in', to: 'pdf' }, 'job-option-unknown'],
    ['unknown unit', { pattern, wearer: 'waist girth=27in', units: 'ell' }, 'job-option-unknown'],
    ['unknown view', { pattern, wearer: 'waist girth=27in', view: 'Z' }, 'job-view-unknown'],
    ['unknown method', { pattern, wearer: 'waist girth=27in', choose: 'nonsense' }, 'job-option-unknown'],
  ])('%s', async (_, request, code) => {
    const { exit, findings, ledgers } = await go({ ...request, out: out() });
    expect(findings.filter((f) => f.level === 'error').map((f) => f.code)).toEqual([code]);
    expect(exit).toBe(2);
    expect(ledgers).toEqual([]);
    await expect(readdir(out())).rejects.toThrow();
  });

  it('asks whom the pattern was drafted for', async () => {
    const bare = join(folder, 'bare.dxf');
    await writeFile(bare, await readFile(pattern));
    const { exit, findings } = await go({ pattern: bare, wearer: 'waist girth=27in', out: out() });
    expect(exit).toBe(2);
    expect(findings.map((f) => f.code)).toContain('job-drafted-for-unknown');
  });

  it('tells a fault of the program apart from a refusal', async () => {
    const { ready } = await prepare({ pattern, wearer: 'waist girth=27in' });
    if (!ready) throw new Error('the demo pattern cannot be prepared');
    const { bench } = ready.patterns[0] as Prepared;
    const { file } = bench;
    const broken = {
      ...file,
      format: {
        ...file.format,
        patch: () => {
          throw new Error('out of thread');
        },
      },
    };
    const [order] = ready.orders;
    const outcome = order && (await carryOut({ ...bench, file: broken }, order));
    expect(outcome).toMatchObject({ status: 'failed', outputs: [], ledger: { status: 'failed' } });
    expect(outcome?.ledger.findings.at(-1)?.code).toBe('job-program-fault');
  });
});
