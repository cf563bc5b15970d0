import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Ledger } from '../../src/job/ledger.ts';
import { nearestSize } from '../../src/job/orders/sizing.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { PartName } from '../../src/pattern/piece.ts';
import { type } from '../cli/typed.ts';
import { patternOf, pieceOf } from './handmade.ts';

/* What the record of a fitting and the screen tell. */

const BLOCKS = join(import.meta.dirname, '../../fixtures/blocks');
const DRAFTED = ['--drafted', 'waist girth=26 1/2in, hip girth=36in'];

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retrue-told-'));
});
afterAll(() => rm(folder, { recursive: true }));

const alter = async (block: string, out: string, ...more: string[]) => {
  const told = await type('alter', join(BLOCKS, block), ...DRAFTED, '--out', join(folder, out), ...more);
  const ledger = async (fitting = 'wearer') =>
    JSON.parse(await readFile(join(folder, out, fitting, 'ledger.json'), 'utf8')) as Ledger;
  return { ...told, ledger };
};

it('calls the seams of gores by their name', async () => {
  const wearer = ['--wearer', 'waist girth=27in, hip girth=37in'];
  const { out } = await alter('skirt-six-gores-cm-dutch.svg', 'gores', ...wearer);
  expect(out).toMatch(/over 12 gore seams: .* each/);
  expect(out).toMatch(/gore seam out .* at the hip/);
  expect(out).not.toContain('side edge');
});

it('shows a sway back with one sign', async () => {
  const { out } = await alter('skirt-cubics.svg', 'sway', '--wearer', 'sway back=10mm');
  expect(out).toMatch(/sway back \+10\.0 mm; waist lowered 10\.0 mm at the centre back/);
  expect(out).not.toContain('−10');
});

it('records what --true and --full-grainline did', async () => {
  const wearer = ['--wearer', 'length at the hem=10mm', '--true', '--full-grainline'];
  const { ledger, out } = await alter('skirt-lines-and-arcs.dxf', 'true', ...wearer);
  const did = (await ledger()).followed.map((f) => f.did);
  expect(did.some((d) => /faults it came with mended/.test(d))).toBe(true);
  expect(did.some((d) => /grainline run through the whole piece/.test(d))).toBe(true);
  for (const deed of did) expect(out).toContain(deed);
  const { ledger: plain } = await alter('skirt-lines-and-arcs.dxf', 'plain', '--wearer', 'length at the hem=10mm');
  expect((await plain()).followed.filter((f) => /mended|grainline/.test(f.did))).toEqual([]);
});

it('records what the file itself is warned of, and why a row is refused for an unknown column alone', async () => {
  const table = join(folder, 'columns.csv');
  await writeFile(table, 'fitting,waist girth (in),wiggle (in)\nAlma,27,\nBirgit,27,1\n');
  const { exit, ledger } = await alter('skirt-polylines-inches-cutting-line.svg', 'columns', '--fittings', table);
  expect(exit).toBe(1);
  const [alma, birgit] = [await ledger('Alma'), await ledger('Birgit')];
  expect([alma.status, birgit.status]).toEqual(['done', 'refused']);
  const errors = birgit.findings.filter((f) => f.level === 'error');
  expect(errors.map((f) => f.where.cell)).toEqual(['wiggle (in)']);
  for (const { findings } of [alma, birgit]) expect(findings.map((f) => f.code)).toContain('recognise-no-seam-line');
});

describe('the nearest size', () => {
  const INCH = 25.4;
  const sizes = [34, 36, 38, 40].map((bust, file) => {
    const piece = { ...pieceOf([]), part: 'bodice front' as PartName };
    const pattern: Pattern = { ...patternOf(piece), size: `${10 + 2 * file}` };
    return { file, pattern: { ...pattern, draftedFor: { 'bust girth': bust * INCH } } };
  });
  const sizeOf = (wearer: Record<string, number>) => {
    const inMm = Object.fromEntries(Object.entries(wearer).map(([name, inches]) => [name, inches * INCH]));
    return nearestSize(inMm, sizes, 'in')?.sizing;
  };

  it('of what hangs from the shoulders is chosen by the bust, whatever the hip (common practice)', () => {
    expect(sizeOf({ 'bust girth': 38.5, 'hip girth': 36 })).toMatchObject({ size: '14', by: 'bust girth' });
    expect(sizeOf({ 'bust girth': 20 })?.size).toBe('10');
    expect(sizeOf({ 'bust girth': 60 })?.size).toBe('16');
    expect(sizeOf({ 'hip girth': 36 })).toBeUndefined();
  });

  it('is the smaller one where the full bust exceeds the high bust by more than 2 in (Texas bulletin E-372)', () => {
    expect(sizeOf({ 'bust girth': 40, 'high bust girth': 36 })).toMatchObject({
      size: '14',
      reason: expect.stringMatching(/^The high bust 36 in \+ 2 in, since the full bust 40 in .*nearest to size 14/),
    });
    expect(sizeOf({ 'bust girth': 40, 'high bust girth': 38 })?.size).toBe('16');
  });
});
