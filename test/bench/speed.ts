import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ledgerText } from '../../src/job/ledger.ts';
import { prepare } from '../../src/job/prepare.ts';
import { store } from '../../src/job/store.ts';
import { floor, valuesIn } from './floor.ts';
import { inTurns, stages } from './stages.ts';

/*
 * How fast the program is, as ratios within one run: `npm run bench [MOST FITTINGS] [ROUNDS]`, 1000 and 30 when left out.
 * Told are: a fitting and the writing alone beside the floor, where the time of a fitting goes, time and memory as the
 * number of fittings grows, one worker beside two, and the start of one fitting beside node with commander alone.
 */

const [most = '1000', rounds = '30'] = process.argv.slice(2);
const PATTERNS = ['dxf', 'svg'].map((format) => `fixtures/jobs/opera/chorus-skirt.${format}`);
const WEARER = 'waist girth=27in, hip girth=36 1/2in';
const folder = mkdtempSync(join(tmpdir(), 'retrue-bench-'));

const tell = (...columns: readonly string[]): void =>
  console.log([columns[0]?.padEnd(44), ...columns.slice(1).map((c) => c.padStart(12))].join(''));
const ms = (v: number): string => `${v.toFixed(2)} ms`;
const times = (v: number): string => `${v.toFixed(2)} ×`;

const readied = async (pattern: string) => {
  const { ready, findings } = await prepare({ pattern, wearer: WEARER });
  if (!ready) throw new Error(findings.map((f) => f.message).join('\n'));
  const [first] = ready.patterns;
  const [order] = ready.orders;
  if (!first || !order) throw new Error('nothing is asked');
  return { bench: first.bench, order };
};

/** The floor, the writing alone, the whole, and where its time goes. */
const againstFloor = async (pattern: string): Promise<void> => {
  const { bench, order } = await readied(pattern);
  const { changes, bytes, outcome, whole, ...parts } = await stages(bench, order);
  const out = join(folder, bench.file.fileName);
  const took = await inTurns(
    {
      floor: () => floor(bench.file.bytes, valuesIn(changes), out),
      put: () => writeFileSync(out, bytes),
      whole,
      ...parts,
    },
    Number(rounds),
  );
  const fitting = took.whole + took['ledger text'] + took.put;
  tell(pattern, `${bytes.length} bytes`, `${valuesIn(changes)} values`);
  tell('  floor: formatted, spliced, written', ms(took.floor), times(1));
  tell(
    '  the writing alone',
    ms(took['redraw and patch'] + took.put),
    times((took['redraw and patch'] + took.put) / took.floor),
  );
  tell('  a fitting, all of it', ms(fitting), times(fitting / took.floor));
  const compared = took['write, read again, compare'] - took['redraw and patch'] - took['read again'];
  for (const [name, took_] of [
    ['plan and alter', took['plan and alter']],
    ['check', took.check],
    ['redraw and patch', took['redraw and patch']],
    ['read again', took['read again']],
    ['compare with what was meant', compared],
    ['ledger text', took['ledger text']],
  ] as const) {
    tell(`    ${name}`, ms(took_), `${((100 * took_) / fitting).toFixed(0)} %`);
  }
  if (outcome.status !== 'done') throw new Error('the fitting was not done');
};

/** Fittings of which no two are alike, in a table. */
const table = (count: number): string => {
  const path = join(folder, `fittings-${count}.csv`);
  const rows = Array.from({ length: count }, (_, i) => `F${i},${670 + (i % 37)},${915 + ((i * 7) % 31)}`);
  writeFileSync(path, ['fitting,waist girth (mm),hip girth (mm)', ...rows, ''].join('\n'));
  return path;
};

/** Every fitting of a table altered and written, one after the other; time for each, and the memory in use at most. */
const growth = async (pattern: string): Promise<void> => {
  let first = 0;
  tell(`${pattern}, fittings`, 'each', 'growth', 'memory');
  for (let count = 10; count <= Number(most); count *= 10) {
    const { ready } = await prepare({ pattern, fittings: table(count) });
    if (!ready) throw new Error('the table cannot be read');
    const { carryOut } = await import('../../src/job/fitting.ts');
    const bench = ready.patterns[0]?.bench;
    if (!bench) throw new Error('the pattern cannot be read');
    // What is compiled on the way is not the matter here.
    for (const order of ready.orders.slice(0, 10)) await carryOut(bench, order);
    let used = 0;
    const began = performance.now();
    for (const order of ready.orders) {
      const { outputs, ledger } = await carryOut(bench, order);
      const own = join(folder, 'grown', order.needs.fitting);
      for (const file of outputs) await store(join(own, file.name), file.bytes);
      await store(join(own, 'ledger.json'), ledgerText(ledger));
      used = Math.max(used, process.memoryUsage.rss());
    }
    const each = (performance.now() - began) / count;
    first ||= each;
    tell(`  ${count}`, ms(each), times(each / first), `${(used / 1e6).toFixed(0)} MB`);
    rmSync(join(folder, 'grown'), { recursive: true, force: true });
  }
};

/** Seconds of a command, the best of a few. */
const command = (args: readonly string[], tries: number): number => {
  let best = Number.POSITIVE_INFINITY;
  for (let i = 0; i < tries; i++) {
    const began = performance.now();
    const { status, stderr } = spawnSync(process.execPath, args, {
      encoding: 'utf8',
      stdio: ['ignore', 'ignore', 'pipe'],
    });
    if (status !== 0) throw new Error(`${args.join(' ')}: ${stderr}`);
    best = Math.min(best, performance.now() - began);
  }
  return best;
};

const RETRUE = 'dist/retrue.js';

const start = (): void => {
  const bare = join(folder, 'bare.mjs');
  const commander = import.meta.resolve('commander');
  mkdirSync(folder, { recursive: true });
  writeFileSync(bare, `import { Command } from ${JSON.stringify(commander)}; new Command().argument('<a>').parse();`);
  const node = command([bare, 'a'], 5);
  tell('start of a process', '', '');
  tell('  node with commander alone', ms(node), times(1));
  tell('  retrue --version', ms(command([RETRUE, '--version'], 5)), times(command([RETRUE, '--version'], 5) / node));
  for (const pattern of PATTERNS) {
    const out = ['--out', join(folder, 'cold'), '--force', '--no-report'];
    const one = command([RETRUE, 'alter', pattern, '--wearer', WEARER, ...out], 5);
    tell(`  one fitting of ${pattern}`, ms(one), times(one / node));
  }
};

const workers = (): void => {
  const fittings = table(Number(most));
  const run = (count: number): number =>
    command(
      [
        RETRUE,
        'alter',
        PATTERNS[0] as string,
        '--fittings',
        fittings,
        '--workers',
        String(count),
        '--out',
        join(folder, 'side'),
        '--force',
        '--no-report',
      ],
      1,
    );
  const [one, two] = [run(1), run(2)];
  tell(`${most} fittings on one worker, on two`, ms(one), ms(two), times(one / two));
};

for (const pattern of PATTERNS) await againstFloor(pattern);
await growth(PATTERNS[0] as string);
start();
workers();
rmSync(folder, { recursive: true, force: true });
