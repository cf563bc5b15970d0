import { readFileSync } from 'node:fs';
import { copyFile, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type } from '../cli/typed.ts';

const BLOCKS = join(import.meta.dirname, '../../fixtures/blocks');
const OPERA = join(import.meta.dirname, '../../fixtures/jobs/opera');
const SKIRT = join(BLOCKS, 'skirt-cubics.svg');
const GORES = join(BLOCKS, 'skirt-six-gores-cm-dutch.svg');
const FAST = ['--effort', '40'];

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retrue-plot-'));
});
afterAll(() => rm(folder, { recursive: true }));

const validate = new Ajv2020({ strictTypes: false, allowUnionTypes: true }).compile(
  JSON.parse(readFileSync(join(import.meta.dirname, '../../schema/layout.schema.json'), 'utf8')),
);
/** The record of a plot, which must be as its schema has it. */
const layoutIn = async (dir: string) => {
  const layout = JSON.parse(await readFile(join(dir, 'layout.json'), 'utf8'));
  expect(validate(layout), JSON.stringify(validate.errors)).toBe(true);
  return layout;
};

describe('plot', () => {
  it('writes every format and the layout, and tells sizes in mm and in', async () => {
    const dir = join(folder, 'all');
    const done = await type('plot', SKIRT, '--roll', '36in', '--to', 'pdf,hpgl,svg,dxf', '--out', dir, ...FAST);
    expect(done.err).not.toMatch(/^error/m);
    expect(done.exit).toBe(0);
    expect((await readdir(dir)).sort()).toEqual([
      'layout.json',
      'skirt-cubics.dxf',
      'skirt-cubics.pdf',
      'skirt-cubics.plt',
      'skirt-cubics.svg',
    ]);
    expect(done.out).toMatch(/914\.4 mm \(36\.00 in\)/);
    expect(done.out).toMatch(/100 mm and the 4 in square/);
    expect(done.out).toMatch(/about .* of cloth 1500\.0 mm/);
    const { layouts } = await layoutIn(dir);
    const [layout] = layouts;
    expect(layout.pieces.map((p: { piece: string }) => p.piece).sort()).toEqual([
      'skirt-back',
      'skirt-front',
      'waistband',
    ]);
    expect(layout.width).toBe(914.4);
    expect(layout.files.length).toBe(4);
  });

  it('gives the same bytes again', async () => {
    const [a, b] = [join(folder, 'same-a'), join(folder, 'same-b')];
    for (const dir of [a, b])
      await type('plot', GORES, '--roll', '914', '--to', 'pdf,hpgl,svg,dxf', '--out', dir, ...FAST);
    for (const name of await readdir(a))
      expect((await readFile(join(a, name))).equals(await readFile(join(b, name)))).toBe(true);
  });

  it('lays as many copies as the pieces say, or each once', async () => {
    const counts: number[] = [];
    for (const copies of ['as cut', 'once']) {
      const dir = join(folder, `copies ${copies}`);
      await type('plot', GORES, '--roll', '914', '--to', 'svg', '--copies', copies, '--out', dir, ...FAST);
      const { layouts } = await layoutIn(dir);
      counts.push(layouts[0].pieces.filter((p: { piece: string }) => p.piece === 'skirt-gore').length);
    }
    expect(counts).toEqual([6, 1]);
  });

  it('puts patterns of one name on one roll, labelled by their folders, and others into files of their own', async () => {
    const names = ['Alma', 'Birgit'];
    for (const name of names) {
      await mkdir(join(folder, 'rack', name), { recursive: true });
      await copyFile(SKIRT, join(folder, 'rack', name, 'skirt.svg'));
    }
    const dir = join(folder, 'rack', 'out');
    const patterns = [...names.map((n) => join(folder, 'rack', n, 'skirt.svg')), GORES];
    const { exit } = await type('plot', ...patterns, '--roll', '1500', '--to', 'svg', '--out', dir, ...FAST);
    expect(exit).toBe(0);
    const { layouts } = await layoutIn(dir);
    expect(layouts.map((l: { name: string; pieces: unknown[] }) => [l.name, l.pieces.length])).toEqual([
      ['skirt', 6],
      ['skirt-six-gores-cm-dutch', 7],
    ]);
    expect(new Set(layouts[0].pieces.map((p: { fitting: string }) => p.fitting))).toEqual(new Set(names));
    const svg = await readFile(join(dir, 'skirt.svg'), 'utf8');
    for (const name of names) expect(svg).toContain(name);
    expect(layouts[0].cloth.map((c: { fitting: string }) => c.fitting)).toEqual(names);
  });

  it('writes the pieces to be exchanged, which a survey reads back', async () => {
    const dir = join(folder, 'apparel');
    // Nothing is laid out, so no roll need be named.
    const { exit, err } = await type('plot', SKIRT, '--to', 'apparel', '--out', dir, ...FAST);
    expect(err).not.toMatch(/^error/m);
    expect(exit).toBe(0);
    const survey = async (file: string) => {
      const [report] = JSON.parse((await type('survey', file, '--json')).out);
      return report.pieces.map((p: { id: string; cut: unknown; notches: unknown[]; darts: unknown[] }) => ({
        id: p.id,
        cut: p.cut,
        notches: p.notches.length,
        darts: p.darts.length,
      }));
    };
    expect(await survey(join(dir, 'skirt-cubics.apparel.dxf'))).toEqual(await survey(SKIRT));
  });

  it('puts the fold of half pieces on the edge of folded cloth, and says so on the sheet', async () => {
    const dir = join(folder, 'folded');
    const args = [
      'plot',
      SKIRT,
      '--lay',
      'folded',
      '--cloth',
      '150cm',
      '--to',
      'svg,dxf',
      '--machine',
      'knife',
      '--out',
      dir,
    ];
    const { exit, err } = await type(...args, ...FAST);
    expect(exit).toBe(0);
    expect(err).not.toContain('tool-cut-open');
    const { layouts } = await layoutIn(dir);
    expect(layouts[0].width).toBe(750);
    const halves = layouts[0].pieces.filter((p: { laidAs: string }) => p.laidAs === 'on the fold');
    expect(halves.length).toBe(2);
    for (const p of halves) expect(Math.abs(p.box.y)).toBeLessThan(0.001);
  });

  it('never replaces a file without being told to, and then writes nothing', async () => {
    const dir = join(folder, 'force');
    const args = ['plot', SKIRT, '--roll', '914', '--to', 'svg', '--out', dir, ...FAST];
    expect((await type(...args)).exit).toBe(0);
    const again = await type(...args);
    expect(again.exit).toBe(2);
    expect(again.err).toContain('job-output-exists');
    expect((await type(...args, '--force')).exit).toBe(0);
  });

  it('never writes over the pattern', async () => {
    const dir = join(folder, 'source');
    await mkdir(dir);
    await copyFile(SKIRT, join(dir, 'skirt.svg'));
    const { exit, err } = await type(
      'plot',
      join(dir, 'skirt.svg'),
      '--roll',
      '914',
      '--to',
      'svg',
      '--out',
      dir,
      '--force',
      ...FAST,
    );
    expect(exit).toBe(2);
    expect(err).toContain('job-output-is-source');
    expect(await readFile(join(dir, 'skirt.svg'))).toEqual(await readFile(SKIRT));
  });

  it('shows what to heed before a machine that cuts is started', async () => {
    for (const [machine, standard] of [
      ['knife', 'ISO 12100'],
      ['laser', 'IEC 60825-1'],
    ] as const) {
      const dir = join(folder, machine);
      const { err } = await type(
        'plot',
        SKIRT,
        '--roll',
        '914',
        '--machine',
        machine,
        '--to',
        'dxf',
        '--out',
        dir,
        ...FAST,
      );
      expect(err).toContain('layout-machine-caution');
      expect(err).toContain(standard);
    }
  });

  it('tells of a piece that does not fit, writes the rest, and ends with 1', async () => {
    const dir = join(folder, 'narrow');
    const { exit, err } = await type('plot', SKIRT, '--roll', '240', '--to', 'svg', '--out', dir, ...FAST);
    expect(exit).toBe(1);
    expect(err).toMatch(/error layout-piece-too-wide: .*skirt-front/);
    expect((await layoutIn(dir)).layouts[0].pieces.map((p: { piece: string }) => p.piece)).toEqual(['waistband']);
  });

  it.each<[string, string[], string]>([
    ['no width', [], 'job-plot-no-size'],
    ['a width that is none', ['--roll', 'wide'], 'job-option-unknown'],
    ['a paper that is none', ['--paper', 'B99'], 'job-option-unknown'],
    ['a format that is none', ['--roll', '914', '--to', 'doc'], 'job-option-unknown'],
    ['a lay that is none', ['--roll', '914', '--lay', 'floor'], 'job-option-unknown'],
    ['an effort that is none', ['--roll', '914', '--effort', 'mad'], 'job-option-unknown'],
    ['a machine that is none', ['--roll', '914', '--machine', 'roll-printr'], 'job-machine-unknown'],
    ['margins wider than the roll', ['--roll', '914', '--margin', '500'], 'layout-frame-beyond-roll'],
  ])('refuses %s', async (_, args, code) => {
    const { exit, err } = await type('plot', SKIRT, '--out', join(folder, 'none'), ...FAST, ...args);
    expect(exit).toBe(2);
    expect(err).toContain(`error ${code}`);
    expect(err).toMatch(/Try: \S/);
  });

  it('goes on when one of several patterns cannot be read', async () => {
    const { exit, err } = await type(
      'plot',
      SKIRT,
      join(folder, 'gone.dxf'),
      '--roll',
      '914',
      '--to',
      'svg',
      '--out',
      join(folder, 'some'),
      ...FAST,
    );
    expect(exit).toBe(1);
    expect(err).toContain('job-file-unreadable');
  });
});

describe('a machine of one’s own', () => {
  const plotWith = async (name: string, machine: unknown) => {
    const file = join(folder, `${name}.json`);
    await writeFile(file, typeof machine === 'string' ? machine : JSON.stringify(machine));
    const dir = join(folder, name);
    return { ...(await type('plot', SKIRT, '--machine', file, '--to', 'hpgl,dxf', '--out', dir, ...FAST)), dir };
  };

  it('is a known one with what is different about it', async () => {
    const own = {
      like: 'pen-plotter',
      name: 'loft',
      source: 'test plot',
      width: 800,
      strokes: { cut: { pen: 3 }, seam: null },
    };
    const { exit, err, dir } = await plotWith('loft', own);
    expect(exit).toBe(0);
    expect(err).toContain('tool-purpose-left-out');
    const { layouts } = await layoutIn(dir);
    expect(layouts[0].width).toBe(800);
    expect(layouts[0].machine.name).toBe('loft');
    expect(await readFile(join(dir, 'skirt-cubics.plt'), 'latin1')).toContain('SP3');
  });

  it.each<[string, unknown, RegExp]>([
    ['no JSON', '{', /not JSON/],
    ['nothing it is like', { name: 'a', source: 'b' }, /like/],
    ['like a machine that is none', { like: 'guillotine', name: 'a', source: 'b' }, /guillotine/],
    ['a key that is none', { like: 'knife', name: 'a', source: 'b', speed: 3 }, /speed/],
    ['a tolerance past 0.25 mm', { like: 'knife', name: 'a', source: 'b', curveTolerance: 1 }, /curveTolerance/],
  ])('is refused with %s', async (name, machine, says) => {
    const { exit, err } = await plotWith(name, machine);
    expect(exit).toBe(2);
    expect(err).toContain('job-machine-file-wrong');
    expect(err).toMatch(says);
  });
});

describe('alter --plot', () => {
  it('lays out the pieces of all fittings that were done', async () => {
    const dir = join(folder, 'altered');
    const pattern = join(OPERA, 'chorus-skirt.svg');
    const fittings = join(OPERA, 'fittings.csv');
    const { exit, err } = await type(
      'alter',
      pattern,
      '--fittings',
      fittings,
      '--out',
      dir,
      '--plot',
      'hpgl',
      '--roll',
      '60in',
      ...FAST,
    );
    // One of the fittings asks for more than the pattern can take, and is refused.
    expect(exit).toBe(1);
    expect(err).not.toContain('error layout');
    const { layouts } = await layoutIn(dir);
    expect(layouts[0].pieces.length).toBe(21);
    expect(new Set(layouts[0].pieces.map((p: { fitting: string }) => p.fitting)).size).toBe(7);
    expect((await readFile(join(dir, 'chorus-skirt.plt'), 'latin1')).length).toBeGreaterThan(1000);
  });

  it('lays all out anew when the run is gone on with, and keeps its hands off a plot that was changed', async () => {
    const out = join(folder, 'gone-on');
    const table = join(folder, 'gone-on.csv');
    const go = async (rows: string, ...more: string[]) => {
      await writeFile(table, `fitting,length at the hem (mm)\n${rows}`);
      return type('alter', SKIRT, '--fittings', table, '--out', out, '--roll', '60in', '--no-report', ...FAST, ...more);
    };
    expect((await go('Alma,10\n', '--plot', 'pdf,hpgl')).exit).toBe(0);
    const again = await go('Alma,10\nBirgit,20\n', '--resume', '--plot', 'pdf');
    expect(again.exit).toBe(0);
    const { layouts } = await layoutIn(out);
    expect(new Set(layouts[0].pieces.map((p: { fitting: string }) => p.fitting))).toEqual(new Set(['Alma', 'Birgit']));
    expect(again.err).toMatch(/warning job-plots-left[\s\S]*skirt-cubics\.plt is of an earlier plot/);
    await writeFile(join(out, 'skirt-cubics.pdf'), 'written on');
    const changed = await go('Alma,10\n', '--resume', '--plot', 'pdf');
    expect(changed.exit).toBe(1);
    expect(changed.err).toMatch(/error job-output-exists: .*skirt-cubics\.pdf/);
    expect(await readFile(join(out, 'skirt-cubics.pdf'), 'utf8')).toBe('written on');
  });

  it('is refused before anything is altered when the roll is not said', async () => {
    const dir = join(folder, 'not altered');
    const { exit, err } = await type(
      'alter',
      SKIRT,
      '--drafted',
      'waist girth=26.5in',
      '--wearer',
      'waist girth=27in',
      '--out',
      dir,
      '--plot',
    );
    expect(exit).toBe(2);
    expect(err).toContain('job-plot-no-size');
    await expect(readdir(dir)).rejects.toThrow();
  });
});
