import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hpgl } from '../../../src/formats/hpgl/index.ts';
import type { Machine, PathMark, Sheet, SheetMark } from '../../../src/formats/sheet.ts';
import { nearestOnPath, pathOf, polyline } from '../../../src/geometry/path.ts';
import { cubic, pointAt } from '../../../src/geometry/segment.ts';
import { frameOf, longRoll, machineOf, pieceMarks, sheetOf, solid, testSquare } from '../sheet-sample.ts';
import { type Page, pagesOf } from './reading.ts';

const texts = async (sheet: Sheet, machine: Machine = machineOf()) => {
  const { files, findings } = await hpgl.write(sheet, machine, { name: 'skirt' });
  const notes = findings.filter((f) => f.code === 'hpgl-file').map((f) => f.message);
  return {
    texts: files.map((f) => new TextDecoder().decode(f.bytes)),
    names: files.map((f) => f.name),
    findings: findings.filter((f) => f.code !== 'hpgl-file'),
    notes,
  };
};
const page = async (
  marks: readonly SheetMark[],
  machine: Machine = machineOf(),
  width = 1200,
  height = 900,
): Promise<Page> =>
  pagesOf((await texts(sheetOf(frameOf('1', width, height, marks)), machine)).texts[0] as string)[0] as Page;
const old = { unitsPerMillimetre: 40, greatest: 32767, enter: false, frames: false, letters: 'strokes' } as const;
const cutOf = (path: PathMark['path']): PathMark => ({ kind: 'path', purpose: 'cut', inner: false, path });

describe('HP-GL/2', () => {
  it('has the commands of the skeleton, whole numbers for places, and no exponents', async () => {
    const { texts: written, names, findings } = await texts(longRoll());
    expect(names).toEqual(['skirt.plt']);
    expect(findings).toEqual([]);
    const text = written[0] as string;
    expect(text.startsWith('IN;\nPS480000,36576;')).toBe(true);
    expect(text.trimEnd().endsWith('PU;\nSP0;\nPG;')).toBe(true);
    for (const command of text.match(/P[UD][^;]*;/g) ?? [])
      expect(command).toMatch(/^P[UD](?:\d+,\d+(?:,\d+,\d+)*)?;$/);
    expect(text).not.toMatch(/\d[eE]|NaN|-\d/);
    for (const [before] of text.matchAll(/[^;]*;\s*SP0;/g)) expect(before.trim().startsWith('PU;')).toBe(true);
  });

  it('draws 40 units to the millimetre, or as many as the machine counts', async () => {
    const square = await page([testSquare({ x: 10, y: 20 })]);
    expect(square.drawn[0]?.points).toEqual([
      [400, 800],
      [4400, 800],
      [4400, 4800],
      [400, 4800],
      [400, 800],
    ]);
    const machine = machineOf({ hpgl: { ...machineOf().hpgl, unitsPerMillimetre: 1 / 0.02488 } });
    const other = await page([testSquare({ x: 0, y: 0 })], machine);
    // 100 mm at 0.02488 mm to the unit.
    expect(other.drawn[0]?.points[1]).toEqual([4019, 0]);
  });

  it('keeps within the tolerance of curves, and half a unit of rounding', async () => {
    const coordinate = fc.double({ min: 0, max: 800, noNaN: true });
    const place = fc.record({ x: coordinate, y: coordinate });
    await fc.assert(
      fc.asyncProperty(place, place, place, place, async (a, b, c, d) => {
        if (Math.hypot(a.x - d.x, a.y - d.y) < 1) return;
        const curve = cubic(a, b, c, d);
        const drawn = (await page([{ ...cutOf(pathOf([curve])), purpose: 'seam' }])).drawn[0]?.points ?? [];
        const path = polyline(drawn.map(([x, y]) => ({ x: x / 40, y: y / 40 })));
        for (let i = 0; i <= 40; i++) {
          expect(nearestOnPath(path, pointAt(curve, i / 40))?.distance).toBeLessThan(0.1 + 0.0125 * Math.SQRT2 + 1e-6);
        }
      }),
      { numRuns: 40 },
    );
  });

  it('takes each pen once and cuts last', async () => {
    const { commands, drawn } = await page(pieceMarks('front', { x: 100, y: 100 }));
    expect(commands.filter((c) => c.startsWith('SP'))).toEqual(['SP1;', 'SP2;', 'SP3;', 'SP4;', 'SP0;']);
    expect(drawn.map((d) => d.pen).at(-1)).toBe(4);
    const one = machineOf({ strokes: { ...machineOf().strokes, guide: { ...machineOf().strokes.cut!, pen: 4 } } });
    const shared = await page([testSquare({ x: 0, y: 0 }), ...pieceMarks('front', { x: 200, y: 100 })], one);
    expect(shared.drawn.map((d) => d.pen)).toEqual([...shared.drawn.map((d) => d.pen)].sort((a, b) => a - b));
  });

  it('draws a line that goes on where the last one ended without lifting the pen', async () => {
    const seam = (x: number): PathMark => ({
      ...cutOf(
        polyline([
          { x, y: 0 },
          { x: x + 10, y: 0 },
        ]),
      ),
      purpose: 'internal',
    });
    const { drawn, commands } = await page([seam(0), seam(10), seam(20)]);
    expect(drawn).toHaveLength(1);
    expect(commands.filter((c) => c.startsWith('PU')).length).toBe(2);
  });

  it('turns a frame that is higher than wide, since X runs along the longer side', async () => {
    const { drawn, size } = await page([testSquare({ x: 10, y: 20 }, 50)], machineOf(), 300, 900);
    expect(size).toEqual([12000, 36000]);
    const [xs, ys] = [drawn[0]!.points.map((p) => p[0]), drawn[0]!.points.map((p) => p[1])];
    // Seen with the page turned a quarter clockwise: 20 from what was the lower edge, 10 from what was the left one.
    expect([Math.min(...xs), Math.max(...xs)]).toEqual([800, 2800]);
    expect([Math.min(...ys), Math.max(...ys)]).toEqual([12000 - 400 - 2000, 12000 - 400]);
    const twice = drawn[0]!.points.reduce(
      (sum, [x, y], i, all) => sum + x * (all[i + 1]?.[1] ?? y) - (all[i + 1]?.[0] ?? x) * y,
      0,
    );
    expect(twice).toBeGreaterThan(0);
  });

  it('writes each frame as a page of its own', async () => {
    const frames = ['1', '2', '3'].map((name, i) => frameOf(name, 1000 + i, 900, [testSquare({ x: i, y: 0 })]));
    const { texts: written } = await texts(sheetOf(...frames));
    const pages = pagesOf(written[0] as string);
    expect(pages.map((p) => p.size[0])).toEqual([40000, 40040, 40080]);
    expect(pages.map((p) => p.drawn[0]?.points[0]?.[0])).toEqual([0, 40, 80]);
  });

  it('goes on past the start of a closed cut by the overcut of a blade, and of nothing else', async () => {
    const knife = machineOf({ kind: 'knife', blade: { overcut: 2.5, start: 'corner' } });
    const { drawn } = await page(
      [testSquare({ x: 0, y: 0 }), { ...testSquare({ x: 200, y: 0 }), purpose: 'cut' }],
      knife,
    );
    expect(drawn[0]?.points.at(-1)).toEqual([0, 0]);
    expect(drawn[1]?.points.slice(-2)).toEqual([
      [8000, 0],
      [8100, 0],
    ]);
  });

  it('gives an old controller a file to a frame, without pages, sizes, widths and dashes', async () => {
    const frames = ['1', '2'].map((name) => frameOf(name, 800, 600, pieceMarks('front', { x: 10, y: 10 })));
    const { texts: written, names, findings } = await texts(sheetOf(...frames), machineOf({ hpgl: old }));
    expect(names).toEqual(['skirt-1.plt', 'skirt-2.plt']);
    for (const text of written) expect(text).not.toMatch(/PS|PG|PW|LT/);
    expect(findings.map((f) => f.code)).toEqual(['hpgl-lines-solid']);
    // A frame higher than wide is not turned there: the machine's axes are its own.
    const high = pagesOf(
      (await texts(sheetOf(frameOf('1', 300, 800, [testSquare({ x: 10, y: 20 })])), machineOf({ hpgl: old })))
        .texts[0] as string,
    );
    expect(high[0]?.drawn[0]?.points[0]).toEqual([400, 800]);
  });

  it('refuses a frame past the greatest coordinate, with its size', async () => {
    const { texts: written, findings } = await texts(sheetOf(frameOf('1', 819.3, 600, [])), machineOf({ hpgl: old }));
    expect(written).toEqual([]);
    expect(findings.map((f) => [f.code, f.level])).toEqual([['hpgl-frame-too-large', 'error']]);
    expect(findings[0]?.message).toMatch(/819\.3 × 600\.0 mm.*819\.2 mm/);
    expect(
      (await texts(sheetOf(frameOf('1', 819.1, 600, [])), machineOf({ hpgl: old }))).findings.filter(
        (f) => f.level === 'error',
      ),
    ).toEqual([]);
  });

  it('letters with strokes that stay in the frame, and tells of letters it has not', async () => {
    const mark: SheetMark = {
      kind: 'text',
      purpose: 'text',
      text: 'Vorderteil 前',
      at: { x: 1150, y: 40 },
      anchor: 'start',
      angle: 0,
      height: 10,
    };
    const { drawn } = await page([mark]);
    expect(drawn.length).toBeGreaterThan(8);
    expect(Math.max(...drawn.flatMap((d) => d.points.map((p) => p[0])))).toBe(48000);
    const { findings } = await texts(sheetOf(frameOf('1', 1200, 900, [mark])));
    expect(findings.map((f) => [f.code, f.message.includes('前')])).toEqual([['hpgl-letters-missing', true]]);
  });

  it('letters with labels only where the machine says so', async () => {
    const labels = machineOf({ hpgl: { ...machineOf().hpgl, letters: 'labels' } });
    const at = { x: 100, y: 50 };
    const mark: SheetMark = {
      kind: 'text',
      purpose: 'text',
      text: 'Größe 38',
      at,
      anchor: 'start',
      angle: Math.PI / 2,
      height: 10,
    };
    const { labels: written } = await page([mark], labels);
    expect(written).toEqual([{ at: [4000, 2000], text: 'Gr??e 38', way: [0, 1], size: [expect.any(Number), 1] }]);
    const { findings } = await texts(sheetOf(frameOf('1', 1200, 900, [mark])), labels);
    expect(findings[0]?.message).toContain('ö ß');
  });

  it('enters HP-GL/2 where the machine speaks another language first', async () => {
    const enter = machineOf({ hpgl: { ...machineOf().hpgl, enter: true } });
    expect((await texts(longRoll(), enter)).texts[0]?.startsWith('\u001b%0BIN;')).toBe(true);
  });

  it('dashes by purpose, and goes back to solid', async () => {
    const { drawn } = await page(pieceMarks('front', { x: 100, y: 100 }));
    expect(drawn.find((d) => d.pen === 2)?.type).toBe('2,6,1');
    expect(drawn.filter((d) => d.pen === 4).every((d) => d.type === '')).toBe(true);
    const plain = await page(pieceMarks('front', { x: 100, y: 100 }), solid(machineOf()));
    expect(plain.drawn.every((d) => d.type === '')).toBe(true);
  });

  it('tells its unit, its pages and their size', async () => {
    expect((await texts(longRoll())).notes).toEqual([
      '40 plot units are one millimetre. Box 12000.0 × 914.4 mm (472.44 × 36.00 in).',
    ]);
    const two = sheetOf(frameOf('1', 210, 297, []), frameOf('2', 210, 297, []));
    expect((await texts(two)).notes[0]).toMatch(/2 pages: 210\.0 × 297\.0 mm \(8\.27 × 11\.69 in\); what is higher/);
  });

  it('writes the same bytes each time', async () => {
    expect((await texts(longRoll())).texts).toEqual((await texts(longRoll())).texts);
  });
});
