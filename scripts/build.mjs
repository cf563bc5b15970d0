// Bundles the command line to dist/. Code splitting keeps what a command does not need out of its start.
import { chmod, readFile, rm, writeFile } from 'node:fs/promises';
import { build } from 'esbuild';

/** What packages in CommonJS take for granted, for the modules they are bundled into. */
const COMMONJS = [
  "import { createRequire as retrueRequire } from 'node:module';",
  "import { fileURLToPath as retruePath } from 'node:url';",
  'const require = retrueRequire(import.meta.url);',
  'const __filename = retruePath(import.meta.url);',
  "const __dirname = retruePath(new URL('.', import.meta.url));",
].join(' ');

await rm('dist', { recursive: true, force: true });
await build({
  entryPoints: { retrue: 'src/cli/main.ts' },
  outdir: 'dist',
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20',
  chunkNames: 'parts/[name]-[hash]',
  legalComments: 'linked',
  logLevel: 'warning',
  banner: { js: COMMONJS },
});
const entry = 'dist/retrue.js';
await writeFile(entry, `#!/usr/bin/env node\n${await readFile(entry, 'utf8')}`);
await chmod(entry, 0o755);
