import { rmSync } from 'node:fs';
import { mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { EFFORTS, type Nesting, nest, overlaps } from '../../src/layout/nest/index.ts';
import { type NestingSet, nestingSet, SET_NAMES } from './nesting-sets.ts';

/**
 * Densities reached on three public garment sets beside the best known:
 * `tsx test/bench/nesting.ts [effort, by name or number] [searches] [seed]`. With two searches the second runs in a
 * thread of its own.
 */
const [effort = 'usual', searches = '1', seed = '1'] = process.argv.slice(2);

const percent = (v: number): string => (100 * v).toFixed(2).padStart(6);

const row = (set: NestingSet, found: Nesting, seconds: number): string => {
  const worst = overlaps(set.items, found.placements, 0).reduce((most, o) => Math.max(most, o.share), 0);
  return [
    set.name.padEnd(9),
    String(found.placements.length).padStart(6),
    percent(found.density),
    percent(set.wanted),
    percent(set.filled),
    percent(set.average),
    percent(set.best),
    (found.density / set.best).toFixed(3).padStart(6),
    String(found.iterations).padStart(10),
    seconds.toFixed(1).padStart(7),
    worst.toExponential(1).padStart(8),
  ].join('  ');
};

const folder = await mkdtemp(join(tmpdir(), 'nesting-'));
const worker = join(folder, 'worker.mjs');
await build({
  entryPoints: [fileURLToPath(new URL('../../src/layout/nest/worker.ts', import.meta.url))],
  outfile: worker,
  bundle: true,
  platform: 'node',
  format: 'esm',
});
console.log('set        pieces   here  wanted  filled  average   best   ÷best  iterations        s   overlap');
for (const name of SET_NAMES) {
  const set = nestingSet(name);
  const began = performance.now();
  const found = nest(
    set.items,
    { height: set.height, gap: 0 },
    {
      effort: effort in EFFORTS ? (effort as keyof typeof EFFORTS) : Number(effort),
      searches: Number(searches),
      seed: Number(seed),
      worker: pathToFileURL(worker).href,
    },
  );
  console.log(row(set, found, (performance.now() - began) / 1000));
}
rmSync(folder, { recursive: true });
