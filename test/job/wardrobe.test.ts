import { copyFile, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { draftSkirt } from '../../fixtures/blocks/draft/skirt.ts';
import { writeDraft } from '../../fixtures/blocks/draft/write.ts';
import type { Finding } from '../../src/finding.ts';
import { sizesUnclear, stylesOf } from '../../src/job/orders/wardrobe.ts';
import type { ManifestLine } from '../../src/job/run/manifest.ts';
import { type AlterRequest, alter, type FittingTold } from '../../src/job/run/run.ts';
import { sizeKey } from '../../src/measurements/size-name.ts';
import { type } from '../cli/typed.ts';
import { patternOf } from './handmade.ts';

/* Several patterns and sizes in one run. */

const INCH = 25.4;
/** Misses' body table, a secondary copy of a US home-sewing size table: size, bust, waist, hip, inches. */
const MISSES = [
  ['10', 32.5, 25, 34.5],
  ['12', 34, 26.5, 36],
  ['14', 36, 28, 38],
] as const;

let folder = '';
const path = (...names: string[]): string => join(folder, ...names);
const skirts = MISSES.map(([size]) => `skirt-${size}.dxf`);
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retrue-wardrobe-'));
  for (const [size, , waist, hip] of MISSES) {
    const body = { waist: waist * INCH, hip: hip * INCH, waistToHip: 8 * INCH, length: 24 * INCH };
    const draft = draftSkirt(body, { style: 'Heron skirt', size });
    const { fileName, bytes } = writeDraft(draft, { format: 'dxf', variant: 'apparel', name: `skirt-${size}` });
    await writeFile(path(fileName), bytes);
  }
  await copyFile(join(import.meta.dirname, '../../fixtures/blocks/bodice-cubics.svg'), path('bodice.svg'));
  await writeFile(path('bodice.sheet.yaml'), 'retrue pattern sheet: 1\nstyle: Heron bodice\nsize: 12\n');
  const rows = MISSES.map((row) => row.join(','));
  await writeFile(path('chart.csv'), `size,bust girth (in),waist girth (in),hip girth (in)\n${rows.join('\n')}\n`);
});
afterAll(() => rm(folder, { recursive: true }));

const go = async (out: string, patterns: readonly string[], rows: string, request: Partial<AlterRequest> = {}) => {
  await writeFile(path(`${out}.csv`), rows);
  const findings: Finding[] = [];
  const told: FittingTold[] = [];
  const result = await alter(
    {
      ...{ pattern: patterns.map((p) => path(p)), fittings: path(`${out}.csv`), chart: path('chart.csv') },
      ...{ out: path(out), force: false, dryRun: true, ...request },
    },
    { onFindings: (f) => findings.push(...f), onFitting: (t) => told.push(t) },
  );
  return { ...result, findings, told, made: told.map((t) => [t.fitting, basename(t.pattern ?? ''), t.status]) };
};

describe('stylesOf', () => {
  const file = (fileName: string, style: string, size: string) => ({ ...patternOf(), fileName, style, size });
  it('takes files for sizes of one pattern when style, or name but for the size, is one and sizes differ', () => {
    const files = [file('a.dxf', 'Skirt', '12'), file('b.dxf', 'skirt', '14'), file('cape-12.svg', '', '12')];
    expect(stylesOf([...files, file('cape_14.svg', '', '14')]).map((s) => s.files)).toEqual([
      [0, 1],
      [2, 3],
    ]);
  });

  it('takes them for patterns by themselves when a size is not said or is said twice', () => {
    expect(stylesOf([file('a.dxf', 'Skirt', '12'), file('a.svg', 'Skirt', '12')])).toHaveLength(2);
    expect(stylesOf([file('a.dxf', 'Skirt', '12'), file('b.dxf', 'Skirt', '')])).toHaveLength(2);
  });
});

describe('files of one style that are not told apart by their sizes', () => {
  const file = (fileName: string, size: string) => ({ ...patternOf(), fileName, style: 'Heron skirt', size });
  const said = (...files: ReturnType<typeof file>[]) => sizesUnclear(files).map((f) => [f.code, f.level, f.message]);

  it('are refused where others are further sizes, naming the files', () => {
    const sizes = [file('a.dxf', '10'), file('b.dxf', '12')];
    expect(said(...sizes)).toEqual([]);
    expect(said(...sizes, file('c.svg', '12'))).toEqual([
      [
        'job-sizes-unclear',
        'error',
        expect.stringMatching(/^b\.dxf and c\.svg are 2 files of size 12, .*“Heron skirt”/),
      ],
    ]);
    expect(said(...sizes, file('c.svg', ''))).toEqual([
      ['job-sizes-unclear', 'error', expect.stringMatching(/^c\.svg says no size/)],
    ]);
  });

  it('are told where there are no others', () => {
    expect(said(file('a.dxf', '12'), file('a.svg', '12'))).toEqual([
      ['job-style-twice', 'note', expect.stringMatching(/^a\.dxf and a\.svg .*both size 12/)],
    ]);
    expect(said(file('a.dxf', '12'), file('a.svg', '')).map((f) => f[0])).toEqual(['job-style-twice']);
  });

  it('stop a run before anything is chosen by guessing', async () => {
    await copyFile(path('skirt-12.dxf'), path('skirt-12b.dxf'));
    const rows = 'fitting,pattern,waist girth (in),hip girth (in)\nAlma,Heron skirt,27,36 1/2\n';
    const { exit, told, findings } = await go('unclear', [...skirts, 'skirt-12b.dxf'], rows);
    expect([exit, told.length]).toEqual([2, 0]);
    const unclear = findings.filter((f) => f.code === 'job-sizes-unclear');
    expect(unclear.map((f) => f.message)).toEqual([expect.stringContaining('skirt-12.dxf and skirt-12b.dxf')]);
  });
});

describe('the size of a row', () => {
  it('is the one asked for; else the nearest at the hip for a skirt, halfway the larger, and the waist without a hip', async () => {
    const { made, told, exit } = await go(
      'sizes',
      skirts,
      'fitting,size,waist girth (in),hip girth (in)\n' +
        'Asked,10,26,35\nNear,,26 1/4,35 1/2\nHalfway,,27,37\nLarge,,29,39\nWaist,,25 1/4,\n',
    );
    expect(made).toEqual([
      ['Asked', 'skirt-10.dxf', 'done'],
      ['Near', 'skirt-12.dxf', 'done'],
      ['Halfway', 'skirt-14.dxf', 'done'],
      ['Large', 'skirt-14.dxf', 'done'],
      ['Waist', 'skirt-10.dxf', 'done'],
    ]);
    expect(exit).toBe(0);
    expect(told.map((t) => t.ledger?.sizing?.by)).toEqual([
      'table',
      ...['hip girth', 'hip girth', 'hip girth', 'waist girth'],
    ]);
    expect(told[1]?.ledger?.sizing?.reason).toBe(
      'The hip girth 35½ in is nearest to size 12, 36 in (10: 34½ in; 14: 38 in).',
    );
  });

  it('is for all of them the one named with --size, unless a row names its own', async () => {
    const rows = 'fitting,size,waist girth (in)\nAlma,,26\nBirgit,14,27\n';
    const { made } = await go('size for all', skirts, rows, { size: '12' });
    expect(made.map((m) => m[1])).toEqual(['skirt-12.dxf', 'skirt-14.dxf']);
  });

  it('refuses a row whose size is not at hand, or cannot be told, and does the others', async () => {
    const rows = 'fitting,size,waist girth (in),waist to hip (in)\nAlma,18,26,\nBirgit,,,8\nCleo,12,26,\n';
    const { told, exit } = await go('no size', skirts, rows, { dryRun: false });
    expect(exit).toBe(1);
    expect(told.map((t) => t.findings.find((f) => f.level === 'error')?.code)).toEqual([
      ...['job-fitting-size-missing', 'job-fitting-size-undecided', undefined],
    ]);
    // They are for none of the files.
    const lines = (await readFile(path('no size', 'manifest.jsonl'), 'utf8')).trimEnd().split('\n');
    expect(lines.map((line) => JSON.parse(line) as ManifestLine).map((l) => [l.pattern, l.folder])).toEqual([
      ...[
        [null, null],
        [null, null],
        ['skirt-12.dxf', 'Cleo'],
      ],
    ]);
  });

  it('is read as people and spreadsheets write it', async () => {
    const rows = 'fitting,size,waist girth (in)\nA,14.0,27\nB,Size 14,27\nC,012,26\nD,Gr. 10,25\nE,Taille 12,26\n';
    const { made } = await go('written so', skirts, rows);
    expect(made.map((m) => m[1])).toEqual([14, 14, 12, 10, 12].map((size) => `skirt-${size}.dxf`));
    expect(sizeKey('0')).not.toBe(sizeKey('00'));
    expect(['M', 'size m', 'Size: M'].map(sizeKey)).toEqual(['m', 'm', 'm']);
    expect(['10', '100', '14.5'].map(sizeKey)).toEqual(['10', '100', '14 5']);
  });

  it('is refused where the only file is of another, and told where it says none', async () => {
    const rows = 'fitting,size,waist girth (in),hip girth (in)\nAlma,16,28 1/4,38\nBirgit,14,28 1/4,38\n';
    const { told, exit } = await go('one file', ['skirt-14.dxf'], rows);
    expect([exit, ...told.map((t) => t.status)]).toEqual([1, 'refused', 'done']);
    expect(told[0]?.findings[0]).toMatchObject({
      code: 'job-fitting-size-missing',
      message: 'Size “16” is asked for; the pattern is at hand in 14 (skirt-14.dxf).',
      try: /Give the file of that size too/,
    });
  });

  it('is written into the ledger, which keeps its published form', async () => {
    const rows = 'fitting,waist girth (in),hip girth (in)\nAlma,26 1/4,35 3/4\n';
    await go('written', skirts, rows, { dryRun: false });
    const ledger = JSON.parse(await readFile(path('written', 'Alma', 'ledger.json'), 'utf8')) as object;
    const schema = JSON.parse(await readFile(join(import.meta.dirname, '../../schema/ledger.schema.json'), 'utf8'));
    const validate = new Ajv2020({ allowUnionTypes: true, formats: { 'date-time': true } }).compile(schema as object);
    expect(validate(ledger), JSON.stringify(validate.errors)).toBe(true);
    expect(ledger).toMatchObject({ source: { file: 'skirt-12.dxf', size: '12' }, sizing: { size: '12' } });
  });

  it('needs a body for each size, not one for all', async () => {
    const { exit, findings } = await go('one body', skirts, 'fitting,waist girth (in)\nAlma,26\n', {
      drafted: 'waist girth=26in',
    });
    expect(exit).toBe(2);
    expect(findings.map((f) => f.code)).toContain('job-option-clash');
  });
});

describe('the pattern of a row', () => {
  const wardrobe = [...skirts, 'bodice.svg'];
  it('is the one it names, by file or style; every pattern when it names none', async () => {
    const { made, told } = await go(
      'patterns',
      wardrobe,
      'fitting,pattern,waist girth (in),hip girth (in)\n' +
        'Alma,Heron skirt,26 1/4,35 3/4\nBirgit,bodice,26 1/4,\nCleo,skirt-14.dxf,28,38\nDora,,26 3/4,36\n',
    );
    expect(made.map((m) => m.slice(0, 2))).toEqual([
      ['Alma', 'skirt-12.dxf'],
      ['Birgit', 'bodice.svg'],
      ['Cleo', 'skirt-14.dxf'],
      ['Dora', 'skirt-12.dxf'],
      ['Dora', 'bodice.svg'],
    ]);
    expect(told.flatMap((t) => t.ledger?.findings.filter((f) => f.code === 'job-fitting-every-pattern'))).toHaveLength(
      2,
    );
    expect(told.map((t) => t.folder?.slice(path('patterns').length))).toEqual([
      ...['/Alma/skirt-12', '/Birgit/bodice', '/Cleo/skirt-14', '/Dora/skirt-12', '/Dora/bodice'],
    ]);
  });

  it('refuses a name that is nearly one of them, and leaves out what is for another pattern', async () => {
    const rows = 'fitting,pattern,waist girth (in)\nAlma,bodcie,26\nBirgit,cloak,26\nCleo,bodice.svg,27\n';
    const { told, findings, exit } = await go('misspelt', wardrobe, rows, { dryRun: false });
    expect(exit).toBe(1);
    expect(told.map((t) => [t.fitting, t.status])).toEqual([
      ['Alma', 'refused'],
      ['Cleo', 'done'],
    ]);
    expect(told[0]?.findings.map((f) => f.code)).toEqual(['job-fitting-pattern-unknown']);
    expect(findings.map((f) => f.code)).toContain('job-fitting-other-pattern');
    const [line] = (await readFile(path('misspelt', 'manifest.jsonl'), 'utf8')).split('\n');
    expect(JSON.parse(line ?? '') as ManifestLine).toMatchObject({
      ...{ fitting: 'Alma', pattern: null, folder: null, status: 'refused' },
      reasons: ['job-fitting-pattern-unknown'],
    });
  });

  it('is refused where it is nearly the name that the files of all its sizes share', async () => {
    const plain = await Promise.all(
      skirts.map(async (file) => {
        const sheet = path(`plain-${file.replace('.dxf', '.sheet.yaml')}`);
        await writeFile(sheet, `retrue pattern sheet: 1\nstyle: Nr. 7\n`);
        await copyFile(path(file), path(`plain-${file}`));
        return `plain-${file}`;
      }),
    );
    const rows = 'fitting,pattern,waist girth (in),hip girth (in)\nAlma,plain-skirt,26,36\nFay,palin skrt,26,36\n';
    const { told, findings, exit, elsewhere } = await go('near', plain, rows);
    expect(told.map((t) => [t.fitting, t.status])).toEqual([
      ['Alma', 'done'],
      ['Fay', 'refused'],
    ]);
    expect(told[1]?.findings[0]).toMatchObject({
      code: 'job-fitting-pattern-unknown',
      try: /Is “plain-skirt” meant\?/,
    });
    expect(findings.map((f) => f.code)).not.toContain('job-fitting-other-pattern');
    expect([exit, elsewhere]).toEqual([1, 0]);
  });

  it('is counted where it is another, on the last line, in the manifest and in the list', async () => {
    const rows = 'fitting,pattern,waist girth (in)\nAlma,bodice,26 1/4\nBirgit,cloak,26\nCleo,cape,27\n';
    const { elsewhere, exit } = await go('counted', ['bodice.svg'], rows, { dryRun: false, report: 'html' });
    expect([exit, elsewhere]).toEqual([0, 2]);
    const lines = (await readFile(path('counted', 'manifest.jsonl'), 'utf8')).trimEnd().split('\n');
    expect(lines.map((line) => (JSON.parse(line) as ManifestLine).table)).toMatchObject([{ elsewhere: 2 }]);
    const says = '2 rows are for patterns that were not given, and were left out.';
    expect(await readFile(path('counted', 'index.html'), 'utf8')).toContain(`Of counted.csv ${says}`);
    const files = [path('bodice.svg'), '--chart', path('chart.csv')];
    const { out } = await type(
      'alter',
      ...files,
      '--fittings',
      path('counted.csv'),
      '--out',
      path('typed'),
      '--dry-run',
    );
    expect(out).toContain(`1 can be done. ${says} Nothing was written.`);
  });

  it('is told with its own findings where two rows of one name are for two patterns', async () => {
    const rows = 'fitting,pattern,waist girth (in)\nAlma,skirt-12,"1,234"\nAlma,bodice,26 1/4\n';
    const { told } = await go('one name', wardrobe, rows);
    expect(told.map((t) => t.status)).toEqual(['refused', 'done']);
  });

  it('is needed by somebody', async () => {
    const { exit, findings } = await go('nobody', ['bodice.svg'], 'fitting,pattern,waist girth (in)\nAlma,cloak,26\n');
    expect(exit).toBe(2);
    expect(findings.map((f) => f.code)).toContain('job-no-fittings');
  });
});

describe('--names', () => {
  it('names the folders by its fields, each part fit for every file system', async () => {
    const rows = 'fitting,wearer,waist girth (in),hip girth (in)\n17/a,Alma Heron,26 1/4,35 3/4\n18,,28,38\n';
    const { told } = await go('named', skirts, rows, { names: '{wearer}/{pattern} of size {size}, order {fitting}' });
    expect(told.map((t) => t.folder?.slice(path('named').length))).toEqual([
      '/Alma Heron/skirt-12 of size 12, order 17-a',
      '/18/skirt-14 of size 14, order 18',
    ]);
  });

  it.each([
    ['{fiting}', /no field \{fiting\}[\s\S]*Did you mean \{fitting\}/],
    ['skirts', /does not say how the folders of two fittings differ/],
    ['{fitting', /does not say/],
    ['../{fitting}', /leads out of the folder of the run[\s\S]*--out/],
    ['/{fitting}', /leads out/],
    ['C:\\{fitting}', /leads out/],
    ['{fitting}/./{pattern}', /leads out/],
  ])('refuses “%s”', async (names, says) => {
    const { exit, findings } = await go('bad', skirts, 'fitting,waist girth (in)\nAlma,26\n', { names });
    expect(exit).toBe(2);
    expect(findings.map((f) => `${f.message} ${f.try}`).join('\n')).toMatch(says);
  });

  it('finds folders that several patterns of one fitting would share', async () => {
    const rows = 'fitting,waist girth (in),hip girth (in)\nAlma,26 1/4,35 3/4\n';
    const { told } = await go('shared', [...skirts, 'bodice.svg'], rows, { names: '{fitting}' });
    expect(told.map((t) => t.status)).toEqual(['refused', 'refused']);
    expect(told[0]?.findings[0]).toMatchObject({ code: 'job-folder-collision', try: /\{fitting\}\/\{pattern\}/ });
  });
});

describe('two rows that come to one fitting of one pattern', () => {
  const HEAD = 'fitting,pattern,waist girth (in),hip girth (in)';
  const linesOf = async (out: string) =>
    (await readFile(path(out, 'manifest.jsonl'), 'utf8'))
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line) as { place: number; fitting: string; status: string })
      .map(({ place, fitting, status }) => [place, fitting, status]);

  it('are counted each, whether they name the pattern alike or not', async () => {
    const rows = `${HEAD}\nAnn,,26,36\nAnn,skirt-12,26,36\nBo,skirt-12,26,36\nBo,skirt-12,27,"1,234"\nCleo,,26,36\n`;
    const { told, done, refused } = await go('doubled', ['skirt-12.dxf'], rows, { dryRun: false });
    expect([done, refused]).toEqual([1, 4]);
    expect((await linesOf('doubled')).map(([, fitting]) => fitting)).toEqual(['Ann', 'Ann', 'Bo', 'Bo', 'Cleo']);
    // What else is wrong in such a row is told as well.
    expect(told[3]?.findings.map((f) => f.code)).toEqual(
      expect.arrayContaining(['job-folder-collision', 'measure-name-twice', 'measure-value-ambiguous']),
    );
  });

  it('are both refused and both recorded, each once, however often the run is taken up', async () => {
    // One of them names the pattern, the other none and is for it all the same.
    const rows = `${HEAD}\nZora,skirt-12,26,36\nAlma,bodice,26 1/4,\nZora,,26 1/4,35 3/4\n`;
    const request = { dryRun: false, report: 'html' };
    const { told } = await go('twice', ['skirt-12.dxf', 'bodice.svg'], rows, request);
    expect(told[0]?.findings[0]).toMatchObject({ code: 'job-folder-collision' });
    expect(told[0]?.findings[0]?.message).toMatch(
      /^2 rows of the table ask for the fitting “Zora” of the same pattern/,
    );
    const all = [
      [1, 'Zora', 'refused'],
      [2, 'Alma', 'done'],
      [3, 'Zora', 'refused'],
      [4, 'Zora', 'done'],
    ];
    expect(await linesOf('twice')).toEqual(all);
    await go('twice', ['skirt-12.dxf', 'bodice.svg'], rows, { ...request, resume: true });
    expect(await linesOf('twice')).toEqual(all);
    // There is no page that would say why.
    const list = await readFile(path('twice', 'index.html'), 'utf8');
    expect(list).toContain('2 done, 2 refused');
    expect(list).toContain('Two fittings would be written to the same folder.');
    const mended = `${HEAD}\nAlma,bodice,26 1/4,\nZora,,26 1/4,35 3/4\n`;
    await go('twice', ['skirt-12.dxf', 'bodice.svg'], mended, { ...request, resume: true });
    expect(await linesOf('twice')).toEqual([
      [1, 'Alma', 'done'],
      [2, 'Zora', 'done'],
      [3, 'Zora', 'done'],
    ]);
  });
});

it('tells with its file what was found of each pattern, also where several have the same', async () => {
  const rows = 'fitting,waist girth (in),hip girth (in),neck base girth (in)\nAlma,25,34 1/2,14\nBirgit,28,38,15\n';
  const { findings } = await go('same fault', skirts, rows);
  const corners = findings.filter((f) => f.code === 'fault-corners-meet');
  expect(corners.map((f) => f.where.file)).toEqual(skirts);
  const files = [...skirts.map((s) => path(s)), '--chart', path('chart.csv')];
  const { err } = await type('alter', ...files, '--fittings', path('same fault.csv'), '--dry-run');
  for (const file of skirts) expect(err).toContain(`fault-corners-meet: ${file}, side seam edge`);
  expect(err).toMatch(/plan-measurement-unused: skirt-10\.dxf, .*“Alma”/);
  expect(err).toMatch(/plan-measurement-unused: skirt-14\.dxf, .*“Birgit”/);
});

it('amounts and the screen tell why a size was chosen', async () => {
  const files = [...skirts.map((s) => path(s)), '--chart', path('chart.csv')];
  const { out, exit } = await type('amounts', ...files, '--wearer', 'waist girth=26 1/4in, hip girth=35 3/4in');
  expect(exit).toBe(0);
  expect(out).toMatch(/Size +The hip girth 35¾ in is nearest to size 12/);
});
