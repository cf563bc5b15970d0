// npm test: on a fresh machine with node alone it installs, builds, checks types and style, and runs all tests.
import { fileURLToPath } from 'node:url';
import { install, step } from './steps.mjs';

process.chdir(fileURLToPath(new URL('..', import.meta.url)));
install();
step(process.execPath, ['scripts/build.mjs']);
step('npx', ['tsc', '--noEmit']);
step('npx', ['biome', 'check', '.']);
step('npx', ['vitest', 'run', ...process.argv.slice(2)]);
