import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { hpgl } from '../../src/formats/hpgl/index.ts';
import type { Machine, Sheet } from '../../src/formats/sheet.ts';
import { frameOf, longRoll, machineOf, pieceMarks, sheetOf, solid, testSquare } from '../formats/sheet-sample.ts';
import { outsideAvailable } from './python.ts';
import { readerAvailable } from './readers.ts';
import { misfits, ringsAsked, ringsInDxf } from './rings.ts';

/*
 * hp2xx is a reader of HP-GL that knows nothing of this program. It ends with 0 even on rubbish: what counts is what it
 * says. `-t` keeps the true size, `-m dxf` writes millimetres, PG begins a new file.
 */

const available = outsideAvailable(['ezdxf', 'shapely']) && readerAvailable({ program: 'hp2xx', debian: 'hp2xx' });
const folder = mkdtempSync(join(tmpdir(), 'hp2xx-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Only closed lines, with their corners and pens, and nothing dashed. */
const outlines = ({ strokes: { cut, guide }, ...machine }: Machine): Machine =>
  solid({ ...machine, strokes: { cut: cut!, guide: guide! } });

let count = 0;
const heard = async (sheet: Sheet, machine: Machine) => {
  const name = `plot${count++}`;
  const { files } = await hpgl.write(sheet, machine, { name });
  writeFileSync(join(folder, `${name}.plt`), files[0]!.bytes);
  const run = spawnSync('hp2xx', ['-t', '-m', 'dxf', '-f', join(folder, `${name}.dxf`), join(folder, `${name}.plt`)], {
    encoding: 'utf8',
    timeout: 60_000,
  });
  const pages = [`${name}.dxf`, ...[1, 2, 3].map((i) => `${name}.${i}.dxf`)]
    .map((f) => join(folder, f))
    .filter((f) => existsSync(f));
  return { said: run.stderr, pages };
};
const ignored = (said: string): number[] =>
  [...said.matchAll(/(?:HPGL command\(s\) ignored|Unexpected event\(s\)):\s*(\d+)/g)].map((m) => Number(m[1]));
const sizes = (said: string): string[] =>
  [...said.matchAll(/Width\s+x\s+height:\s*(.+?), true sizes/g)].map((m) => (m[1] as string).replace(/\s+/g, ' '));

describe.skipIf(!available)('HP-GL/2 in hp2xx', () => {
  it('understands every command of a sheet with everything on it', async () => {
    const { said } = await heard(longRoll(), machineOf({ notch: { shape: 'as drawn', joined: true } }));
    expect(ignored(said)).toEqual([0, 0]);
    expect(said).not.toMatch(/error|warning/i);
  });

  it('finds a roll of 12 m, its test squares and its pieces at their true size', async () => {
    const { said, pages } = await heard(longRoll(), outlines(machineOf()));
    expect(sizes(said)).toEqual(['12000.00 x 914.40 mm']);
    const [found] = ringsInDxf(pages);
    const asked = ringsAsked(longRoll());
    expect(asked).toHaveLength(8);
    expect(misfits(asked, found!)).toEqual([]);
    asked.forEach((a, i) => {
      expect(Math.abs(found![i]!.x - a.x)).toBeLessThan(0.15);
      expect(Math.abs(found![i]!.y - a.y)).toBeLessThan(0.15);
    });
  });

  it('finds a frame higher than wide at its size, lying on its side', async () => {
    const sheet = sheetOf(
      frameOf('1', 420, 594, [testSquare({ x: 10, y: 10 }), ...pieceMarks('front', { x: 60, y: 60 })]),
    );
    const { said, pages } = await heard(sheet, outlines(machineOf()));
    expect(sizes(said)).toEqual(['594.00 x 420.00 mm']);
    const turned = ringsAsked(sheet).map((r) => ({
      ...r,
      x: r.y,
      y: 420 - r.x - r.width,
      width: r.height,
      height: r.width,
    }));
    const [found] = ringsInDxf(pages);
    const key = (r: { area: number }): number => r.area;
    expect(
      misfits(
        [...turned].sort((a, b) => key(a) - key(b)),
        [...found!].sort((a, b) => key(a) - key(b)),
      ),
    ).toEqual([]);
    const outline = found!.find((r) => r.area > 100000)!;
    const asked = turned.find((r) => r.area > 100000)!;
    expect([outline.x, outline.y].map((v, i) => Math.abs(v - [asked.x, asked.y][i]!) < 0.15)).toEqual([true, true]);
  });

  it('finds a page for each frame', async () => {
    const frames = ['1', '2'].map((name, i) =>
      frameOf(name, 700, 600, pieceMarks('front', { x: 20 + 100 * i, y: 30 })),
    );
    const { said, pages } = await heard(sheetOf(...frames), outlines(machineOf()));
    expect(ignored(said).every((n) => n === 0)).toBe(true);
    expect(pages).toHaveLength(2);
    ringsInDxf(pages).forEach((found, i) => {
      expect(misfits(ringsAsked(sheetOf(...frames), i), found)).toEqual([]);
      expect(Math.abs(found.at(-1)!.x - ringsAsked(sheetOf(...frames), i).at(-1)!.x)).toBeLessThan(0.15);
    });
  });

  it('understands what an old controller gets, and labels', async () => {
    const old = { unitsPerMillimetre: 40, greatest: 32767, enter: false, frames: false, letters: 'labels' } as const;
    const sheet = sheetOf(frameOf('1', 800, 600, pieceMarks('front', { x: 20, y: 30 })));
    expect(ignored((await heard(sheet, machineOf({ hpgl: old }))).said)).toEqual([0, 0]);
  });

  it('would complain of rubbish', () => {
    writeFileSync(join(folder, 'bad.plt'), 'IN;QX12,3;PU0,0;PD100,0;ZZ;SP0;');
    const { stderr } = spawnSync('hp2xx', ['-t', '-m', 'dxf', '-f', join(folder, 'bad.dxf'), join(folder, 'bad.plt')], {
      encoding: 'utf8',
    });
    expect(ignored(stderr)[0]).toBeGreaterThan(0);
  });
});
