import { copyFile, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Ledger } from '../../src/job/ledger.ts';
import type { ManifestLine } from '../../src/job/run/manifest.ts';
import { outsideAvailable, python } from '../outside/python.ts';
import { build, type Ran, run, treeOf } from './built.ts';

/* A run over a rack, by the bundled program: threads, a run that is killed and taken up again, parts of a run. */

const BLOCK = join(import.meta.dirname, '../../fixtures/blocks/skirt-polylines-inches-cutting-line.svg');
const MINUTES = 60_000;

let folder = '';
let entry = '';
let pattern = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retrue-rack-'));
  entry = await build(join(folder, 'program'));
  pattern = join(folder, 'page-skirt.svg');
  await copyFile(BLOCK, pattern);
}, 5 * MINUTES);
afterAll(() => rm(folder, { recursive: true }));

const DRAFTED = ['--drafted', 'waist girth=26 1/2in, hip girth=36in'];
/** Alters the pages' skirt for a table, into a folder of that name. */
const alter = (table: string, out: string, ...more: string[]): Promise<Ran> =>
  run(entry, ['alter', pattern, ...DRAFTED, '--fittings', table, '--out', join(folder, out), ...more]);

const manifest = async (out: string): Promise<ManifestLine[]> =>
  (await readFile(join(folder, out, 'manifest.jsonl'), 'utf8'))
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line) as ManifestLine);

const table = async (name: string, rows: readonly string[]): Promise<string> => {
  const path = join(folder, name);
  await writeFile(path, `fitting,waist girth (in),hip girth (in),note\n${rows.join('\n')}\n`);
  return path;
};

/** Pages of the heron court; the fifth has grown out of the size. */
const PAGES = [
  ...['Alban,26 1/2,36 1/4,', 'Bertil,27,36 1/2,', 'Caspar,26,35 1/2,', 'Detlev,27 1/4,37,'],
  ...['Egon,34,46,grown', 'Falk,26 3/4,36,', 'Gerwin,25 3/4,35 1/4,', 'Hanno,27 1/2,37 1/4,', 'Ivo,26 1/4,36 3/4,'],
];

describe('a run on several threads', () => {
  let rows = '';
  let alone: Ran;
  beforeAll(async () => {
    rows = await table('pages.csv', PAGES);
    alone = await alter(rows, 'alone', '--workers', '1', '--json');
  }, MINUTES);

  it('does all but the one who has grown out of it', async () => {
    expect(alone.exit).toBe(1);
    const lines = await manifest('alone');
    expect(lines.map((l) => l.status)).toEqual(PAGES.map((row) => (row.startsWith('Egon') ? 'refused' : 'done')));
    expect(lines.find((l) => l.fitting === 'Egon')?.reasons).toContain('plan-past-limit');
  });

  it.each([2, 3])('writes the same tree and tells the same on %i threads as on one', async (threads) => {
    const together = await alter(rows, `on ${threads}`, '--workers', String(threads), '--json');
    expect(await treeOf(join(folder, `on ${threads}`))).toEqual(await treeOf(join(folder, 'alone')));
    expect(together.out).toBe(alone.out);
    expect(together.exit).toBe(alone.exit);
  });

  it('prints JSON entry by entry, as one list, in the order of the table', () => {
    const ledgers = JSON.parse(alone.out) as Ledger[];
    expect(ledgers.map((l) => l.fitting)).toEqual(PAGES.map((row) => row.split(',')[0]));
    expect(alone.out).toBe(`${JSON.stringify(ledgers, null, 2)}\n`);
  });

  it('shows no progress where there is no terminal', () => {
    expect(alone.err).not.toContain('\u001b');
    expect(alone.err).not.toContain('left');
  });

  it(
    'merged from three parts is the same tree as from one run',
    async () => {
      const parts = ['1/3', '3/3', '2/3'];
      for (const part of parts.slice(0, 2)) await alter(rows, 'parts', '--shard', part, '--workers', '1');
      const early = await run(entry, ['merge', join(folder, 'parts')]);
      expect(early.exit).toBe(1);
      expect(early.err).toMatch(/job-shard-missing.*manifest\.2-of-3\.jsonl/);
      const env = { SLURM_ARRAY_TASK_ID: '14', SLURM_ARRAY_TASK_MIN: '12', SLURM_ARRAY_TASK_STEP: '2' };
      const args = [
        'alter',
        pattern,
        ...DRAFTED,
        '--fittings',
        rows,
        '--out',
        join(folder, 'parts'),
        '--shard',
        'slurm',
      ];
      await run(entry, args, undefined, { ...env, SLURM_ARRAY_TASK_COUNT: '3' });
      const merged = await run(entry, ['merge', join(folder, 'parts')]);
      expect(merged.err).toBe('');
      expect(merged.exit).toBe(1);
      expect(await treeOf(join(folder, 'parts'))).toEqual(await treeOf(join(folder, 'alone')));
    },
    MINUTES,
  );
});

/** Runs a command in a terminal and gives all that this shows. */
const IN_A_TERMINAL = `
import os, pty
shown = []
def keep(fd):
    shown.append(os.read(fd, 65536))
    return shown[-1]
status = pty.spawn(given, keep)
answer = {'status': os.waitstatus_to_exitcode(status), 'text': b''.join(shown).decode()}
`;

describe.skipIf(!outsideAvailable(['pty']))('on a terminal', () => {
  it.each([[[]], [['--json']]])('a run shows how far it is, and ends (%s)', async (more) => {
    const rows = await table('few.csv', PAGES.slice(0, 3));
    const args = ['alter', pattern, ...DRAFTED, '--fittings', rows, '--out', join(folder, 'shown'), '--force', ...more];
    const ran = python(IN_A_TERMINAL, [process.execPath, entry, ...args]) as { status: number; text: string };
    expect(ran.status).toBe(0);
    expect(ran.text).toMatch(/2 of 3 fittings.*(a second|s each)/);
    expect(ran.text.trimEnd()).toMatch(more.length > 0 ? /\]$/ : /3 done\. Everything is in/);
  });
});

/** Moments at which a run is killed; 100 of them with RETRUE_KILLS=100. */
const KILLS = Number(process.env.RETRUE_KILLS ?? 5);

describe('a run that is killed', () => {
  it(
    'leaves no file half written, and taken up again comes to the same end',
    async () => {
      const rows = await table('killed.csv', PAGES);
      await alter(rows, 'unharmed', '--workers', '1');
      const whole = await treeOf(join(folder, 'unharmed'));
      let count = 0;
      let killed = 0;
      const moment = fc.record({
        /** Lines of the manifest to wait for, and how much longer, ms. */
        lines: fc.integer({ min: 0, max: 2 * PAGES.length }),
        later: fc.integer({ min: 0, max: 60 }),
        threads: fc.constantFrom('1', '2'),
      });
      const dies = async ({ lines, later, threads }: { lines: number; later: number; threads: string }) => {
        const out = `killed ${++count}`;
        const args = ['alter', pattern, ...DRAFTED, '--fittings', rows, '--out', join(folder, out)];
        const { exit } = await run(entry, [...args, '--workers', threads], killAt(join(folder, out), lines, later));
        if (exit === null) killed += 1;
        for (const [file, hash] of Object.entries(await treeOf(join(folder, out)))) {
          if (!/^manifest|\.unfinished-[0-9a-f]{8}$/.test(file)) expect(hash, file).toBe(whole[file]);
        }
        const again = await alter(rows, out, '--resume', '--workers', threads === '1' ? '2' : '1');
        expect(again.exit, again.err).toBe(1);
        expect(await treeOf(join(folder, out))).toEqual(whole);
        await rm(join(folder, out), { recursive: true });
      };
      await fc.assert(fc.asyncProperty(moment, dies), { numRuns: KILLS, endOnFailure: true });
      // Some end before their moment comes, but by no means all.
      expect(killed).toBeGreaterThan(KILLS / 3);
    },
    (2 + KILLS) * MINUTES,
  );
});

/** Kills as soon as the manifest has so many lines, and a little later. */
const killAt = (out: string, lines: number, later: number) => (kill: () => void) => {
  const look = async (): Promise<void> => {
    const text = await readFile(join(out, 'manifest.jsonl'), 'utf8').catch(() => undefined);
    if (text !== undefined && text.split('\n').length > lines) setTimeout(kill, later);
    else if (Date.now() < deadline) setTimeout(look, 3);
  };
  const deadline = Date.now() + MINUTES;
  void look();
};

/** How many fittings the rack has, every twentieth of them bad; 1000 with RETRUE_RACK=1000. */
const RACK = Number(process.env.RETRUE_RACK ?? 100);

/** Ten ways in which a row goes wrong. The columns are those of the table below. */
const WAYS: readonly ((name: string) => string)[] = [
  (name) => `${name},27,37,,,,wide`,
  (name) => `${name},"1,234",37,,,,`,
  (name) => `${name},36,50,,,,`,
  (name) => `${name},27 ells,37,,,,`,
  (name) => `${name},27 1/0,37,,,,`,
  (name) => `${name},27,37,,15,,`,
  (name) => `${name},27,37,paeg-skirt,,,`,
  (name) => `${name},27,37,,,-12,`,
  (name) => `${name},0,37,,,,`,
  (name) => `${name},27,37,,,,,,too many cells`,
];

describe('a rack with bad rows', () => {
  it(
    'does every good fitting and names every bad one',
    async () => {
      const good: string[] = [];
      const bad: string[] = [];
      const rows = Array.from({ length: RACK }, (_, i) => {
        const isBad = i % 20 === 7 || (RACK < 200 && i % 20 === 15);
        const name = `${isBad ? 'Lamp' : 'Reed'} ${String(i + 1).padStart(4, '0')}`;
        const way = WAYS[bad.length % WAYS.length] as (typeof WAYS)[number];
        (isBad ? bad : good).push(name);
        // Quarter inches, so that every good one is within what is customary.
        return isBad ? way(name) : `${name},${26 + (i % 6) / 4},${35.5 + (i % 7) / 4},page-skirt,,,`;
      });
      const path = join(folder, 'rack.csv');
      const headings = 'fitting,waist girth (in),hip girth (in),pattern,elbow (mm),hip height,wiggle (in)';
      await writeFile(path, `${[headings, ...rows].join('\n')}\n`);
      const { exit, out, err } = await alter(path, 'rack');
      expect(exit).toBe(1);
      const lines = await manifest('rack');
      const named = (status: string) => lines.filter((l) => l.status === status).map((l) => l.fitting);
      expect(named('done')).toEqual(good);
      expect(named('refused')).toEqual(bad);
      for (const line of lines) expect(line.reasons.length > 0, line.fitting).toBe(line.status === 'refused');
      for (const name of bad) expect(err).toMatch(new RegExp(`^error .*${name}`, 'm'));
      expect(out).toMatch(new RegExp(`^${good.length} done, ${bad.length} refused\\.`, 'm'));
      expect(new Set(lines.flatMap((l) => l.reasons)).size).toBeGreaterThanOrEqual(7);
    },
    (2 + RACK / 50) * MINUTES,
  );
});
