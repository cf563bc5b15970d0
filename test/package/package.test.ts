import { execFileSync, spawnSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type } from '../cli/typed.ts';

/*
 * What a user installs: the package is packed from a copy of this folder and installed without a network in an empty
 * one. Everything below runs there, away from the source and its packages.
 */

const ROOT = join(import.meta.dirname, '../..');
const place = mkdtempSync(join(tmpdir(), 'retrue-package-'));
const shop = join(place, 'shop');
const DRAFTED = 'waist girth=26 1/2in, hip girth=36in';

const run = (program: string, args: readonly string[], cwd = shop) =>
  spawnSync(program, args, {
    cwd,
    encoding: 'utf8',
    timeout: 240_000,
    env: { ...process.env, npm_config_offline: 'true' },
  });

/** Runs and must succeed; what it printed. */
const done = (program: string, args: readonly string[], cwd = shop): string => {
  const { status, stdout, stderr } = run(program, args, cwd);
  if (status !== 0) throw new Error(`${program} ${args.join(' ')} ended with ${status}:\n${stdout}${stderr}`);
  return stdout;
};

let tarball = '';

beforeAll(() => {
  const packed = join(place, 'packed');
  const { files } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { files: string[] };
  for (const part of ['package.json', 'README.md', 'LICENSE', ...files.filter((f) => f !== 'dist')]) {
    cpSync(join(ROOT, part), join(packed, part), { recursive: true });
  }
  done(process.execPath, ['scripts/build.mjs', join(packed, 'dist')], ROOT);
  const tsc = join(ROOT, 'node_modules/typescript/bin/tsc');
  done(process.execPath, [tsc, '-p', 'tsconfig.types.json', '--outDir', join(packed, 'dist/types')], ROOT);
  tarball = join(
    place,
    done('npm', ['pack', '--ignore-scripts', '--silent', '--pack-destination', place], packed).trim(),
  );
  mkdirSync(shop);
  writeFileSync(join(shop, 'package.json'), '{ "name": "shop", "private": true, "type": "module" }');
  done('npm', ['install', '--offline', '--no-audit', '--no-fund', tarball]);
}, 300_000);
afterAll(() => rmSync(place, { recursive: true, force: true }));

/** The command as npm has put it into the folder's own path. */
const retrue = (...args: string[]): string => done(join(shop, 'node_modules/.bin/retrue'), args);

const installed = (...path: string[]): string => join(shop, 'node_modules/retrue', ...path);

const PACKAGE = String.raw`(?:@[\w-]+\/)?[a-z][\w-]*`;

/** What a source file imports, types apart. */
const importsOf = (file: string): string[] =>
  [
    ...readFileSync(file, 'utf8').matchAll(/^(?:import|export) (?!type )[^;]*?from '([^']+)';|import\('([^']+)'\)/gm),
  ].map(([, named, loaded]) => (named ?? loaded) as string);

/** Packages that are imported by these files, and by those of the source that they lead to; Node's own are `node:`. */
const packagesFrom = (files: readonly string[]): string[] => {
  const [seen, packages] = [new Set(files), new Set<string>()];
  for (const file of seen) {
    for (const name of importsOf(file)) {
      if (name.startsWith('.')) seen.add(join(dirname(file), name));
      else if (!name.startsWith('node:')) packages.add(new RegExp(PACKAGE).exec(name)![0]);
    }
  }
  return [...packages];
};

/** Packages in CommonJS, whose paths the bundler leaves in what it writes. */
const packagesIn = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.js'))
    .map((file) => readFileSync(join(folder, file), 'utf8'))
    .flatMap((text) => [...text.matchAll(new RegExp(`"node_modules/(${PACKAGE})/[^"]*"\\(`, 'g'))].map((m) => m[1]!));

const ENTRIES = ['cli/main.ts', 'index.ts', 'layout/nest/worker.ts', 'job/run/worker.ts'];

describe('the package as it is installed', { timeout: 300_000 }, () => {
  it('needs no other package, and holds what it uses at run time', () => {
    expect(readdirSync(join(shop, 'node_modules')).filter((n) => !n.startsWith('.'))).toEqual(['retrue']);
    for (const [folder, some] of [
      ['dist/fonts', 'DejaVuSans.ttf'],
      ['dist/blocks', 'skirt-cubics.svg'],
      ['schema', 'ledger.schema.json'],
      ['man', 'retrue.1'],
      ['examples', 'chorus-skirt.mjs'],
    ] as const) {
      expect(readdirSync(installed(folder))).toContain(some);
    }
  });

  it('holds the licence of whatever is bundled: what the source imports, and what that brings with it', () => {
    const notices = readFileSync(installed('dist/NOTICES.txt'), 'utf8').split(/\n-{80}\n\n/);
    const bundled = new Set([
      ...packagesFrom(ENTRIES.map((e) => join(ROOT, 'src', e))),
      ...packagesIn(installed('dist')),
    ]);
    expect(bundled.size).toBeGreaterThan(15);
    for (const name of bundled) {
      const { version, license } = JSON.parse(
        readFileSync(join(ROOT, 'node_modules', name, 'package.json'), 'utf8'),
      ) as Record<string, string>;
      const notice = notices.find((n) => n.startsWith(`${name} ${version}\n`)) ?? '';
      expect(notice, name).toContain(`Licence: ${license}`);
      // What the licences themselves (MIT, ISC, BSD, 0BSD) are known by.
      expect(notice, name).toMatch(/Permission .*is hereby granted|Permission to use, copy|Redistribution and use/);
      expect(notice, name).toMatch(/copyright/i);
    }
    for (const font of ['DejaVuSans', 'BIZUDPGothic']) {
      expect(readFileSync(installed(`dist/fonts/${font}-LICENSE`), 'utf8')).toMatch(/copyright/i);
    }
  });

  it('is not built with a package that has no licence text', async () => {
    const folder = join(place, 'bare/node_modules/nameless');
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, 'package.json'), '{ "name": "nameless", "version": "1.0.0", "license": "MIT" }');
    writeFileSync(join(folder, 'index.js'), 'export default 1;');
    const script = 'import(process.argv[1]).then((m) => m.noticesOf(JSON.parse(process.argv[2]))).then(console.log)';
    const metafile = { outputs: { 'out.js': { inputs: { [join(folder, 'index.js')]: { bytesInOutput: 17 } } } } };
    const notices = () =>
      run(process.execPath, ['-e', script, join(ROOT, 'scripts/notices.mjs'), JSON.stringify(metafile)]);
    expect(notices().stderr).toContain('nameless 1.0.0 is bundled but has no licence text');
    writeFileSync(join(folder, 'LICENSE'), 'Do as you like.');
    expect(notices().stdout).toContain('nameless 1.0.0\nLicence: MIT\n\nDo as you like.');
  });

  it('holds whatever its README points to, but for what that says is in the source', () => {
    const readme = readFileSync(installed('README.md'), 'utf8').replace(/\s+/g, ' ');
    const pointed = [
      ...readme.matchAll(/(in the source, )?`((?:docs|schema|examples|fixtures|man|src|test)\/[\w./-]+)`/g),
    ];
    expect(pointed.length).toBeGreaterThan(6);
    for (const [, inSource, path] of pointed) {
      expect(existsSync(inSource ? join(ROOT, path!) : installed(path!)), path).toBe(true);
    }
  });

  it('does what the example of its README says, in an empty folder', () => {
    const readme = readFileSync(installed('README.md'), 'utf8');
    const [, example] = /<!-- example -->\n([\s\S]*?)<!-- example: end -->/.exec(readme) ?? [];
    const home = join(place, 'home');
    mkdirSync(home);
    const prefix = join(place, 'global');
    done('npm', ['install', '--global', '--offline', '--no-audit', '--no-fund', '--prefix', prefix, tarball], home);
    const env = { PATH: `${join(prefix, 'bin')}:${process.env.PATH}`, npm_config_prefix: prefix };
    const { status, stdout } = spawnSync('bash', ['-ec', example ?? 'false'], {
      ...{ cwd: home, encoding: 'utf8', env: { ...process.env, ...env } },
    });
    // One of the singers is refused, as the text before it says.
    expect([status, stdout.trimEnd().split('\n').at(-1)]).toEqual([
      1,
      '7 done, 1 refused. Everything is in ./altered.',
    ]);
    expect(readdirSync(join(home, 'altered'))).toContain('index.html');
  });

  it('puts the command on the path, from the folder and from the package alone', () => {
    const { version } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { version: string };
    expect(done('npx', ['--offline', 'retrue', '--version']).trim()).toBe(version);
    const empty = join(place, 'empty');
    mkdirSync(empty);
    expect(done('npx', ['--offline', '--yes', '--package', tarball, 'retrue', '--version'], empty).trim()).toBe(
      version,
    );
  });

  it('surveys, alters and plots with what it came with', () => {
    const skirt = installed('dist/blocks/skirt-cubics.svg');
    expect(retrue('survey', skirt)).toContain('Skirt front');
    const wearer = ['--drafted', DRAFTED, '--wearer', 'waist girth=27in, hip girth=37in', '--out', 'altered'];
    retrue('alter', skirt, ...wearer, '--plot', 'pdf', '--roll', '36in');
    const files = readdirSync(join(shop, 'altered'), { recursive: true, encoding: 'utf8' });
    expect(files).toEqual(expect.arrayContaining(['wearer/skirt-cubics.svg', 'wearer/ledger.json', 'manifest.jsonl']));
    const pdf = files.find((f) => f.endsWith('.pdf')) ?? '';
    // Lettering is drawn with the font of the package.
    expect(readFileSync(join(shop, 'altered', pdf)).includes('DejaVuSans')).toBe(true);
  });

  it('ends no run where its reader has seen enough', () => {
    const skirt = installed('dist/blocks/skirt-cubics.svg');
    const rows = Array.from({ length: 12 }, (_, i) => `Chorister ${i + 1},${680 + i}`);
    writeFileSync(join(shop, 'chorus.csv'), ['fitting,waist girth (mm)', ...rows, ''].join('\n'));
    const line = `set -o pipefail; "$0" alter "$1" --drafted "$2" --fittings chorus.csv --out piped --no-report 2>&1 | head -1`;
    const args = ['-c', line, join(shop, 'node_modules/.bin/retrue'), skirt, DRAFTED];
    expect(run('bash', args).status).toBe(0);
    const manifest = readFileSync(join(shop, 'piped/manifest.jsonl'), 'utf8').trim().split('\n');
    expect(manifest.map((l) => (JSON.parse(l) as { status: string }).status)).toEqual(rows.map(() => 'done'));
  });

  it('finds in a pattern sheet what the source finds, though its schema was made into code', async () => {
    const skirt = installed('dist/blocks/skirt-cubics.svg');
    const sheets = [
      'pieces:\n  Skirt front:\n    cutt: 3\n    fold: maybe\nunits: elephants\n',
      'pieces: none\nviews:\n  - long\nallowances: { side: wide }\n',
      'drafted for: { waist girth: [1, 2] }\npieces: { Skirt front: { cut: -1, part: wing, edges: { hem: 7 } } }\n',
    ];
    for (const [i, sheet] of sheets.entries()) {
      const path = join(shop, `bad-${i}.sheet.yaml`);
      writeFileSync(path, sheet);
      const { stderr } = run(join(shop, 'node_modules/.bin/retrue'), ['survey', skirt, '--pattern-sheet', path]);
      expect(stderr).toMatch(/^error sheet-/m);
      expect(stderr).toBe((await type('survey', skirt, '--pattern-sheet', path)).err);
    }
  });

  it('is a library to a script, with the bytes of the command line', () => {
    cpSync(installed('examples/chorus-skirt.mjs'), join(shop, 'chorus-skirt.mjs'));
    const told = done(process.execPath, ['chorus-skirt.mjs', installed('dist/blocks/skirt-cubics.svg'), 'scripted']);
    expect(told).toContain('Dorothea');
    expect(told).toMatch(/hip/);
    expect(readdirSync(join(shop, 'scripted/Leonie'))).toEqual(['ledger.json', 'skirt-cubics.svg']);
    const altered = readFileSync(join(shop, 'scripted/Dorothea/skirt-cubics.svg'));
    retrue(
      ...['alter', installed('dist/blocks/skirt-cubics.svg'), '--drafted', DRAFTED],
      ...['--wearer', 'waist girth=27in, hip girth=37in', '--out', 'typed'],
    );
    expect(readFileSync(join(shop, 'typed/wearer/skirt-cubics.svg')).equals(altered)).toBe(true);
  });

  it('tells a compiler its types, and refuses what is wrong', () => {
    const script = (fitting: string): string =>
      `
      import { alter, type Finding, hasErrors, planFitting, readPattern, writePattern } from 'retrue';
      const { file, findings } = await readPattern('skirt.svg', { drafted: { 'waist girth': '27in' } });
      const bad: boolean = hasErrors(findings);
      const first: Finding | undefined = findings[0];
      if (file && !bad && first?.level !== 'error') {
        const shares: number[] = planFitting(file, ${fitting}).steps.flatMap((s) => s.shares.map((x) => x.amount));
        const { outputs, ledger } = await alter(file, ${fitting}, { to: ['dxf'] });
        const bytes: Uint8Array = (await writePattern(file, 'dxf')).bytes;
        const edges: number = ledger.edges.reduce((sum, e) => sum + e.after - e.before, shares.length + bytes.length);
        export default [outputs.length, edges, file.pattern.pieces[0]?.seamLine.spans.length];
      }`.replace('export default', 'void');
    writeFileSync(join(shop, 'right.ts'), script("{ name: 'Dorothea', measurements: { 'waist girth': 711 } }"));
    writeFileSync(join(shop, 'wrong.ts'), script("{ name: 7, measurements: { 'waist girth': true } }"));
    symlinkSync(join(ROOT, 'node_modules/typescript'), join(shop, 'typescript'));
    for (const [module, moduleResolution] of [
      ['nodenext', 'nodenext'],
      ['esnext', 'bundler'],
    ] as const) {
      const options = { noEmit: true, strict: true, target: 'es2022', lib: ['es2022'], types: [] };
      const compilerOptions = { ...options, module, moduleResolution };
      writeFileSync(join(shop, 'tsconfig.json'), JSON.stringify({ compilerOptions, files: ['right.ts', 'wrong.ts'] }));
      const told = run(process.execPath, ['typescript/bin/tsc', '-p', 'tsconfig.json']).stdout;
      const errors = told.split('\n').filter((line) => /error TS/.test(line));
      expect(errors.filter((line) => !line.startsWith('wrong.ts'))).toEqual([]);
      expect(told).toMatch(/Type 'number' is not assignable to type 'string'/);
      expect(told).toMatch(/Type 'boolean' is not assignable to type 'Length'/);
    }
  });
});

describe('completion in bash', { timeout: 120_000 }, () => {
  let completion = '';
  beforeAll(() => {
    completion = retrue('completion', 'bash');
  });

  /** What is offered for the last of the words, typed behind `retrue`. */
  const offered = (words: readonly string[]): string[] => {
    const script = [
      'source /dev/stdin <<<"$1"; shift',
      `COMP_WORDS=(retrue "$@"); COMP_CWORD=$#; _retrue; printf "%s\\n" "\${COMPREPLY[@]}"`,
    ].join('\n');
    const printed = execFileSync('bash', ['-c', script, 'bash', completion, ...words], { cwd: shop, encoding: 'utf8' });
    return printed.split('\n').filter((line) => line !== '');
  };

  it('offers commands, options, values, files and alterations', () => {
    expect(offered(['a'])).toEqual(['amounts', 'alter']);
    expect(offered(['alter', '--be'])).toEqual(['--beyond-limits']);
    expect(offered(['alter', 'skirt.svg', '--show', ''])).toEqual(['in', 'cm', 'mm']);
    expect(offered(['completion', 'z'])).toEqual(['zsh']);
    expect(offered(['catalogue', 'full'])).toEqual([]);
    expect(offered(['catalogue', 'length\\ ab'])).toEqual([
      'length\\ above\\ the\\ knee',
      'length\\ above\\ the\\ elbow',
    ]);
    writeFileSync(join(shop, 'Skirt.DXF'), '');
    expect(offered(['survey', ''])).toEqual(expect.arrayContaining(['Skirt.DXF', 'node_modules']));
    expect(offered(['survey', ''])).not.toContain('package.json');
    expect(offered(['alter', 'x.svg', '--chart', 'pack'])).toEqual(expect.arrayContaining(['package.json']));
  });
});

it('has a manual page that a formatter reads without a complaint', () => {
  const { stdout, stderr, status } = run('groff', ['-man', '-ww', '-Tascii', '-P', '-cbou', installed('man/retrue.1')]);
  expect([status, stderr]).toEqual([0, '']);
  for (const word of ['retrue alter', '--beyond-limits', 'EXIT STATUS']) expect(stdout).toContain(word);
});
