import { copyFile, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import writeWorkbook from 'write-excel-file/node';
import { run } from '../../src/cli/run.ts';
import { type } from './typed.ts';

const OPERA = join(import.meta.dirname, '../../fixtures/jobs/opera');
const SKIRT = join(OPERA, 'chorus-skirt.dxf');
const BLOCKS = join(import.meta.dirname, '../../fixtures/blocks');

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retrue-fittings-'));
});
afterAll(() => rm(folder, { recursive: true }));
const at = (name: string) => join(folder, name);

describe('fittings new', () => {
  it('writes a workbook beside no other, in inches for a pattern in inches', async () => {
    const { out, err, exit } = await type('fittings', 'new', SKIRT, '--out', folder);
    expect([exit, err]).toEqual([0, '']);
    expect(out).toContain(`Wrote ${at('chorus-skirt-fittings.xlsx')}`);
    expect(out).toContain('waist girth (in), hip girth (in), waist to hip (in)');
  });

  it('replaces nothing without --force', async () => {
    const before = await readFile(at('chorus-skirt-fittings.xlsx'));
    const again = await type('fittings', 'new', SKIRT, '--out', folder);
    expect(again.exit).toBe(2);
    expect(again.err).toContain('job-output-exists');
    expect(await readFile(at('chorus-skirt-fittings.xlsx'))).toEqual(before);
    expect((await type('fittings', 'new', SKIRT, '--out', folder, '--force')).exit).toBe(0);
  });

  it('writes CSV with its notes beside it, in centimetres and with semicolons when asked', async () => {
    const { exit } = await type(
      'fittings',
      'new',
      SKIRT,
      '--out',
      at('f.csv'),
      '--units',
      'cm',
      '--separator',
      'semicolon',
    );
    expect(exit).toBe(0);
    const csv = await readFile(at('f.csv'), 'utf8');
    expect(csv).toMatch(/^\uFEFFfitting;wearer;note;waist girth \(cm\);hip girth \(cm\);/);
    const notes = await readFile(at('f-how-to-measure.txt'), 'utf8');
    expect(notes).toMatch(/waist girth \(cm\) +5\.3\.10 waist girth +level round the body/);
    expect(notes).toContain('67.31 cm');
    const empty = await type('alter', SKIRT, '--fittings', at('f.csv'), '--out', at('out'));
    expect(empty.exit).toBe(2);
    expect(empty.err).toContain('The table has headings and no rows below them.');
  });

  it('takes several patterns, says which uses what, and asks which each row is for', async () => {
    const patterns = [join(BLOCKS, 'skirt-cubics.svg'), join(BLOCKS, 'bodice-cubics.svg')];
    const { out, exit } = await type('fittings', 'new', ...patterns, '--out', folder, '--json');
    expect(exit).toBe(0);
    const { files, columns } = JSON.parse(out) as {
      files: string[];
      columns: { heading: string; measure?: { patterns: string[] } }[];
    };
    expect(files).toEqual([at('fittings.xlsx')]);
    expect(columns.slice(0, 4).map((c) => c.heading)).toEqual(['fitting', 'wearer', 'note', 'pattern']);
    const used = Object.fromEntries(columns.map((c) => [c.heading, c.measure?.patterns]));
    expect(used['waist girth (cm)']).toEqual(['skirt-cubics.svg', 'bodice-cubics.svg']);
    expect(used['hip girth (cm)']).toEqual(['skirt-cubics.svg']);
    expect(used['bust girth (cm)']).toEqual(['bodice-cubics.svg']);
  });

  it.each([
    ['units', ['--units', 'ells'], 'Write --units in, cm, mm.'],
    ['kind', ['--to', 'ods'], 'Write --to xlsx, csv.'],
    ['separator', ['--separator', '|'], 'Write --separator comma, semicolon, tab.'],
  ])('knows the %s it can write', async (_, args, remedy) => {
    const { err, exit } = await type('fittings', 'new', SKIRT, '--out', at('no'), ...args);
    expect([exit, err.includes(remedy)]).toEqual([2, true]);
  });
});

describe('fittings check', () => {
  const table = async (name: string, text: string) => {
    await writeFile(at(name), text);
    return at(name);
  };

  it('has nothing to say of wearers as they are', async () => {
    const path = await table('good.csv', 'fitting,waist girth (in),hip girth (in)\nDorothea,27 1/2,38\nAlma,30,41\n');
    expect(await type('fittings', 'check', path)).toEqual({
      exit: 0,
      out: 'good.csv: 2 fittings: 2 without anything to look at.\n',
      err: '',
    });
  });

  it('says row, cell, value, why and what was likely meant', async () => {
    const path = await table(
      'odd.csv',
      'Chorus\n\nfitting;waist (cm);hip (cm)\nAlma;27;95\nBirgit;98;72\nEdda;70,5;95\n',
    );
    const { out, err, exit } = await type('fittings', 'check', path);
    expect(exit).toBe(1);
    expect(err).toContain(
      [
        'error measure-unit-mixed-up: odd.csv, cell B4, column “waist (cm)”, fitting “Alma”',
        '  | 27',
        '  A waist girth of 27.0 cm cannot be right: adults measure 50.0 cm to 170.0 cm.',
        '  Try: Was 27 in meant? Write the unit behind the number.',
      ].join('\n'),
    );
    expect(err).toMatch(/warning measure-exchanged: odd\.csv, cell B5/);
    expect(out).toBe('odd.csv: 3 fittings: 1 without anything to look at, 1 to look at, 1 that would be refused.\n');
  });

  it('sends nothing to the terminal that it would obey', async () => {
    const name = 'An\u001b[31mna\u0007\u009b2J';
    const path = await table(
      'controls.csv',
      `fitting,waist (in),hip \u001b]0;x\u0007 (in)\n${name},27,37\n${name},20,95\n`,
    );
    const out: string[] = [];
    const say = (text: string) => void out.push(text);
    for (const colour of [false, true]) await run(['fittings', 'check', path], { out: say, err: say, colour });
    await run(['alter', SKIRT, '--fittings', path, '--dry-run'], { out: say, err: say, colour: false });
    const colours = ['31', '33', '36', '0'].map((n) => `\u001b[${n}m`);
    const all = colours.reduce((text, colour) => text.replaceAll(colour, ''), out.join(''));
    expect(all).toContain('“An␛[31mna␇\ufffd2J”');
    expect(all.match(/(?!\n|\t)\p{Cc}/gu)).toBeNull();
  });

  it('can be overruled, and says so in JSON', async () => {
    const path = await table('sure.csv', 'fitting,waist (in),hip (in),checked\nEdda,44,41,yes\n');
    const { out, exit } = await type('fittings', 'check', path, '--json');
    expect(exit).toBe(0);
    expect(JSON.parse(out)).toMatchObject({
      fittings: [
        { fitting: 'Edda', row: 2, status: 'good', findings: [{ code: 'measure-waist-over-hip', level: 'note' }] },
      ],
    });
  });

  it('holds the table against a pattern: its own rows, what it uses, and the body it was drafted for', async () => {
    const own = ['Alma,chorus-skirt,26 1/2,36,14', 'Edda,chorus-skirt,32,42,14'];
    const rows = [...own, 'Isolde,cloak,10,10,1', 'Gudrun,chorus-skrit,27,37,'].join('\n');
    const path = await table('beside.csv', `fitting,pattern,waist (in),hip (in),back width (in)\n${rows}\n`);
    const { out, err, exit } = await type('fittings', 'check', path, SKIRT);
    expect(exit).toBe(1);
    expect(err).toMatch(/note job-fittings-unused[\s\S]*does not use: back width/);
    expect(err).toMatch(
      /warning job-fitting-far-from-pattern: beside\.csv, row 3[\s\S]*waist girth 32 in for 26½ in and hip girth 42 in for 36 in/,
    );
    // For another pattern, and looked at all the same.
    expect(err).toMatch(/error measure-\S+: beside\.csv, cell D4, .*“Isolde”/);
    expect(err).toMatch(/error job-fitting-pattern-unknown: beside\.csv, row 5[\s\S]*Is “chorus-skirt” meant\?/);
    expect(out).toContain(
      '4 fittings: 1 without anything to look at, 1 to look at, 2 that would be refused. ' +
        '1 fitting is for another pattern, and was looked at without.',
    );
  });

  it('holds each row against the patterns it is for, of several', async () => {
    const bodice = join(BLOCKS, 'bodice-cubics.svg');
    const chart = await table('bodies.csv', 'size,bust (in),waist (in),hip (in)\nb,36,28,38\n');
    const rows = [
      'Alma,chorus-skirt,36,26 1/2,36',
      'Edda,bodice-cubics,46,36,46',
      'Birgit,,44,35,45',
      'Cleo,,36,27,37',
    ];
    const path = await table('rack.csv', `fitting,pattern,bust (in),waist (in),hip (in)\n${rows.join('\n')}\n`);
    const { out, err, exit } = await type('fittings', 'check', path, SKIRT, bodice, '--chart', chart, '--size', 'b');
    expect(exit).toBe(1);
    const far = err
      .match(/job-fitting-far-from-pattern: .*\n.*/g)
      ?.map((said) => said.replace(/[\s\S]*“(\w+)”[\s\S]* what (\S+) was[\s\S]*/, '$1 $2'));
    expect(far).toEqual(['Edda bodice-cubics.svg', 'Birgit chorus-skirt.dxf', 'Birgit bodice-cubics.svg']);
    expect(err).not.toContain('job-fittings-unused');
    expect(out).toContain('rack.csv: 4 fittings: 2 without anything to look at, 2 to look at.');
  });

  it('tells which size a row gets none of', async () => {
    const path = await table('sizes.csv', 'fitting,size,waist (in),hip (in)\nAlma,16,27,37\nEdda,12,27,37\n');
    for (const [name, size] of [
      ['s-12', 12],
      ['s-14', 14],
    ] as const) {
      await copyFile(join(BLOCKS, 'skirt-cubics.svg'), at(`${name}.svg`));
      const drafted = `drafted for:\n  waist girth: 26 in\n  hip girth: 36 in\n`;
      await writeFile(at(`${name}.sheet.yaml`), `retrue pattern sheet: 1\nstyle: S\nsize: ${size}\n${drafted}`);
    }
    const { err, exit } = await type('fittings', 'check', path, at('s-12.svg'), at('s-14.svg'));
    expect([exit, err.match(/^(?:error|warning) .*/gm)]).toEqual([
      1,
      ['error job-fitting-size-missing: sizes.csv, row 2, column “size”, fitting “Alma”'],
    ]);
  });

  it('asks about bust and hip that are the other way round than on the body it was drafted for', async () => {
    const path = await table('turned.csv', 'fitting,bust (in),waist (in),hip (in)\nAlma,38,28,36\nBirgit,36,28,38\n');
    const drafted = ['--drafted', 'bust girth=34in, waist girth=26 1/2in, hip girth=36in'];
    const { err, exit } = await type('fittings', 'check', path, SKIRT, ...drafted);
    expect(exit).toBe(1);
    expect(err.match(/^(?:warning|error) \S+ .*/gm)).toEqual([
      'warning job-fitting-exchanged: turned.csv, row 2, column “bust girth”, fitting “Alma”',
    ]);
  });

  it('reads the sheet of a workbook that is named, and alter warns once of what check finds', async () => {
    const sheet = (name: string, ...rows: (string | number)[][]) => ({
      sheet: name,
      data: [['fitting', 'waist (in)', 'hip (in)'], ...rows],
    });
    const book = [sheet('soloists', ['Isolde', 9, 9]), sheet('chorus', ['Alma', 27, 36.5], ['Birgit', 38, 27])];
    await writeFile(at('w.xlsx'), await writeWorkbook(book).toBuffer());
    const check = await type('fittings', 'check', `${at('w.xlsx')}#chorus`);
    expect(check.err).toMatch(/^warning measure-exchanged: w\.xlsx#chorus, cell B3/);
    const { err, exit } = await type('alter', SKIRT, '--fittings', `${at('w.xlsx')}#chorus`, '--out', at('altered'));
    expect(exit).toBe(1);
    expect(err.match(/measure-exchanged/g)).toHaveLength(1);
    expect(err).not.toContain('Isolde');
    const unknown = await type('fittings', 'check', `${at('w.xlsx')}#chrous`);
    expect(unknown.exit).toBe(2);
    expect(unknown.err).toContain("Did you mean 'chorus'?");
  });

  it.each([
    ['no file', 'nowhere.csv', 'There is no such file.'],
    ['no column', 'none.csv', "There is no column 'fitting'"],
  ])('ends with 2 for %s', async (_, name, message) => {
    await table('none.csv', 'who,waist (in)\nAlma,27\n');
    const { err, exit } = await type('fittings', 'check', at(name));
    expect([exit, err.includes(message)]).toEqual([2, true]);
  });
});

it.each(['skirt-cubics.svg', 'bodice-cubics.svg', 'trousers-apparel-mm.dxf', 'dress-cubics.svg'])(
  'the empty table for %s says that its rows are to be filled in, and nothing else',
  async (block) => {
    const out = at(`${block}.xlsx`);
    expect((await type('fittings', 'new', join(BLOCKS, block), '--out', out)).exit).toBe(0);
    const { err, exit } = await type('fittings', 'check', out);
    expect([exit, err.match(/^(?:error|warning|note) \S+/gm)]).toEqual([2, ['error measure-table-empty:']]);
  },
);
