// Bundles command line and library to dist/, or to the folder that is named, with all that they need: what is packed has
// no dependencies. Code splitting keeps what a command does not need out of its start.
import { chmod, copyFile, mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { default as standaloneCode } from 'ajv/dist/standalone/index.js';
import { build } from 'esbuild';
import { noticesOf } from './notices.mjs';

/** What packages in CommonJS take for granted, for the modules they are bundled into. */
const COMMONJS = [
  "import { createRequire as retrueRequire } from 'node:module';",
  "import { fileURLToPath as retruePath } from 'node:url';",
  'const require = retrueRequire(import.meta.url);',
  'const __filename = retruePath(import.meta.url);',
  "const __dirname = retruePath(new URL('.', import.meta.url));",
].join(' ');

const json = async (path) => JSON.parse(await readFile(path, 'utf8'));

/** The code that Ajv makes of the sheet's schema, in the place of the file that has it made at the start. */
const madeValidator = {
  name: 'made validator',
  setup: ({ onLoad }) =>
    onLoad({ filter: /[\\/]sheet[\\/]validator\.ts$/ }, async () => {
      const options = await json('src/recognise/sheet/ajv-options.json');
      const ajv = new Ajv2020({ ...options, code: { source: true, esm: true } });
      const validate = ajv.compile(await json('schema/pattern-sheet.schema.json'));
      return { contents: standaloneCode(ajv, { validate: validate.schema.$id }), resolveDir: process.cwd() };
    }),
};

/** Where it goes. */
const OUT = process.argv[2] ?? 'dist';

await rm(OUT, { recursive: true, force: true });
const { metafile } = await build({
  metafile: true,
  // The layout's searches and the fittings of a run go side by side in threads, which start from files of their own. The
  // pool looks for the file that its threads start from beside itself.
  entryPoints: {
    retrue: 'src/cli/main.ts',
    index: 'src/index.ts',
    'nest-worker': 'src/layout/nest/worker.ts',
    'run-worker': 'src/job/run/worker.ts',
    'parts/worker': 'node_modules/piscina/dist/worker.js',
  },
  external: ['@napi-rs/nice'],
  outdir: OUT,
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20',
  chunkNames: 'parts/[name]-[hash]',
  legalComments: 'linked',
  // Less to read at the start; names stay, so that what a fault prints can be understood.
  minifyWhitespace: true,
  minifySyntax: true,
  logLevel: 'warning',
  plugins: [madeValidator],
  banner: { js: COMMONJS },
});
const entry = `${OUT}/retrue.js`;
await writeFile(entry, `#!/usr/bin/env node\n${await readFile(entry, 'utf8')}`);
await chmod(entry, 0o755);

// Fonts for lettering in PDF, with their licences.
const FONTS = [
  ['dejavu-fonts-ttf/ttf/DejaVuSans.ttf', 'DejaVuSans.ttf'],
  ['dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf', 'DejaVuSans-Bold.ttf'],
  ['dejavu-fonts-ttf/LICENSE', 'DejaVuSans-LICENSE'],
  ['@expo-google-fonts/biz-udpgothic/400Regular/BIZUDPGothic_400Regular.ttf', 'BIZUDPGothic_400Regular.ttf'],
  ['@expo-google-fonts/biz-udpgothic/LICENSE_FONT', 'BIZUDPGothic-LICENSE'],
];
await mkdir(`${OUT}/fonts`, { recursive: true });
for (const [from, to] of FONTS) await copyFile(`node_modules/${from}`, `${OUT}/fonts/${to}`);

// What else is bundled is of others too.
await writeFile(`${OUT}/NOTICES.txt`, await noticesOf(metafile));

// Demo blocks, for the pictures of the catalogue and for trying the program out.
await mkdir(`${OUT}/blocks`, { recursive: true });
for (const file of ['skirt-cubics.svg', 'bodice-cubics.svg', 'trousers-cubics-inches.svg', 'dress-cubics.svg']) {
  await copyFile(`fixtures/blocks/${file}`, `${OUT}/blocks/${file}`);
}
