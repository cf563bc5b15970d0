// npm run bench [MOST FITTINGS] [ROUNDS]: how fast the program is, built as it is shipped, as ratios within one run.
import { existsSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { step } from './steps.mjs';

process.chdir(fileURLToPath(new URL('..', import.meta.url)));
if (!existsSync('dist/retrue.js')) step(process.execPath, ['scripts/build.mjs']);
// Beside the packages, which it takes from there.
const folder = await mkdtemp('test/bench/.built-');
try {
  const outfile = join(folder, 'speed.mjs');
  await build({
    entryPoints: ['test/bench/speed.ts'],
    outfile,
    bundle: true,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    packages: 'external',
    logLevel: 'warning',
  });
  await import(pathToFileURL(outfile).href);
} finally {
  await rm(folder, { recursive: true, force: true });
}
