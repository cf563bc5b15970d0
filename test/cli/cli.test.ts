import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type } from './typed.ts';

const OPERA = join(import.meta.dirname, '../../fixtures/jobs/opera');
const DXF = join(OPERA, 'chorus-skirt.dxf');
const SVG = join(OPERA, 'chorus-skirt.svg');
const WEARER = ['--wearer', 'waist girth=27in, hip girth=37in'];

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retrue-cli-'));
});
afterAll(() => rm(folder, { recursive: true }));

describe('every command', () => {
  it.each<[string, string[], number, RegExp]>([
    ['help', ['--help'], 0, /survey[\s\S]*amounts[\s\S]*alter[\s\S]*walk[\s\S]*catalogue/],
    ['help for a command', ['help', 'merge'], 0, /^Usage: retrue merge /],
    ['help for one that belongs to another', ['help', 'fittings', 'new'], 0, /^Usage: retrue fittings new /],
    ['version', ['--version'], 0, /^\d+\.\d+\.\d+\n$/],
    ['survey', ['survey', DXF], 0, /skirt front[\s\S]*waist[\s\S]*side[\s\S]*hem/],
    ['survey of two', ['survey', DXF, SVG], 0, /chorus-skirt\.dxf[\s\S]*chorus-skirt\.svg/],
    ['amounts', ['amounts', DXF, ...WEARER], 0, /waist[\s\S]*hip/],
    ['walk', ['walk', DXF], 0, /side.*to.*side.*even/],
    ['catalogue', ['catalogue'], 0, /waist[\s\S]*hip/],
    ['catalogue of one', ['catalogue', 'hip'], 0, /hip[\s\S]*keeps/],
  ])('%s', async (_, args, exit, shown) => {
    const done = await type(...args);
    expect(done.err).not.toMatch(/^error/m);
    expect(done.out).toMatch(shown);
    expect(done.exit).toBe(exit);
  });

  it.each([
    ['survey', ['survey', DXF]],
    ['amounts', ['amounts', DXF, ...WEARER]],
    ['walk', ['walk', SVG]],
    ['catalogue', ['catalogue']],
  ])('%s prints JSON alone on the standard output', async (_, args) => {
    const { out, exit } = await type(...args, '--json');
    expect(exit).toBe(0);
    expect((JSON.parse(out) as unknown[]).length).toBeGreaterThan(0);
  });
});

describe('alter', () => {
  it('tells what was needed, shared, done and written', async () => {
    const { out, exit } = await type('alter', DXF, ...WEARER, '--out', join(folder, 'a'), '--show', 'in');
    expect(exit).toBe(0);
    for (const word of ['Needed', 'Done', 'Measures', 'Sews', 'Written']) expect(out).toContain(word);
    expect(out).toMatch(/½ in|¼ in|⅛ in/);
  });

  it('ends with 1 and a reason when the only fitting is refused', async () => {
    const wearer = ['--wearer', 'waist girth=40in, hip girth=50in'];
    const { out, err, exit } = await type('alter', DXF, ...wearer, '--out', join(folder, 'b'));
    expect(exit).toBe(1);
    expect(out).toContain('REFUSED');
    expect(err).toMatch(/^error plan-[\s\S]*Try: /m);
  });
});

describe('survey --write-sheet', () => {
  it('writes a sheet that gives the same pattern when it is read, and replaces none without force', async () => {
    const sheet = join(folder, 'sheet.yaml');
    const first = await type('survey', SVG, '--write-sheet', sheet, '--json');
    expect(first.exit).toBe(0);
    const again = await type('survey', SVG, '--pattern-sheet', sheet, '--json');
    const roles = (json: string) =>
      (JSON.parse(json) as { pieces: { id: string; part: string; edges: { id: string; role: string }[] }[] }[]).flatMap(
        (r) => r.pieces.map((p) => [p.id, p.part, ...p.edges.map((e) => `${e.id}: ${e.role}`).sort()]),
      );
    expect(roles(again.out)).toEqual(roles(first.out));
    const refused = await type('survey', SVG, '--write-sheet', sheet);
    expect(refused.exit).toBe(2);
    expect(refused.err).toContain('job-sheet-exists');
    expect((await type('survey', SVG, '--write-sheet', sheet, '--force')).exit).toBe(0);
  });
});

describe('what was typed wrong', () => {
  it.each<[string, string[], RegExp]>([
    ['no command', [], /Usage: retrue/],
    ['an unknown command', ['altar', DXF], /unknown command 'altar'[\s\S]*alter/],
    ['no pattern', ['alter'], /missing required argument/],
    ['an unknown option', ['survey', DXF, '--colour'], /unknown option/],
    ['an unknown unit to show', ['survey', DXF, '--show', 'ell'], /Allowed choices are in, cm, mm/],
    ['an unknown alteration', ['catalogue', 'full abdomne'], /Did you mean “full abdomen”/],
    ['an unknown measurement', ['alter', DXF, '--wearer', 'waits=27in'], /Did you mean 'waist/],
    ['a number without a unit', ['alter', DXF, '--wearer', 'waist girth=27'], /27 in, 27 cm or 27 mm/],
    ['a file that is not there', ['survey', 'nowhere.dxf'], /job-file-unreadable: nowhere\.dxf/],
  ])('%s', async (_, args, told) => {
    const { exit, out, err } = await type(...args);
    expect(err).toMatch(told);
    expect(out).toBe('');
    expect(exit).toBe(2);
  });
});
