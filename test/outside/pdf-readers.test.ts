import { join } from 'node:path';
import { PDFArray, PDFDict, PDFDocument, PDFName } from 'pdf-lib';
import { afterAll, describe, expect, it } from 'vitest';
import type { Frame, FrameBox, Margins, SheetMark } from '../../src/formats/sheet.ts';
import { type Path, pathBounds, pathLength } from '../../src/geometry/path.ts';
import { point } from '../../src/geometry/point.ts';
import { readPatternFile } from '../../src/job/patternfile.ts';
import { type LaidOut, layOut } from '../../src/layout/lay-out.ts';
import { tiledSheet } from '../../src/layout/tiled.ts';
import { tilesOf, tiling } from '../../src/layout/tiles.ts';
import {
  bytesOf,
  everyKind,
  frame,
  line2,
  panel,
  path,
  printer,
  sheetOf,
  square,
  text,
} from '../formats/pdf/samples.ts';
import { boxes, folder, measured, type Picture, pageSizes, pdfTools, pictures, run, traced } from './pdf-tools.ts';

/** What is asked of every size, as a part of it. */
const EXACT = 0.0005;

const INCH = 25.4;
const A4 = { name: 'A4', width: 210, height: 297 };
/** The widest of rolls, 72 in. */
const ROLL = 72 * INCH;

const within = (found: number, asked: number, what: string): void => {
  expect(Math.abs(found - asked), `${what}: ${found} for ${asked}`).toBeLessThanOrEqual(asked * EXACT);
};

/** A stretch of roll with a ruler along either axis, both test squares, and pieces to its very ends. */
const stretch = (name: string, width: number): Frame =>
  frame(name, width, ROLL, [
    path('guide', line2(point(10, 10), point(width - 10, 10))),
    path('guide', line2(point(10, 10), point(10, ROLL - 10))),
    path('guide', square(point(50, 50), 100)),
    path('guide', square(point(200, 50), 4 * INCH)),
    path('cut', panel(point(50, 400), 700, 1200)),
    path('cut', panel(point(width - 800, 400), 700, 1200)),
    path('seam', panel(point(width - 785, 415), 640, 1150)),
    text(`Chorus skirt, stretch ${name}`, point(400, 300), 12),
  ]);

describe.skipIf(!pdfTools())('sheets as PDF, in other readers', () => {
  const files = folder();
  afterAll(files.remove);
  const lines = (f: Frame): Path[] => f.marks.flatMap((m) => (m.kind === 'path' ? [m.path] : []));

  describe('a roll of 12 m in three stretches', async () => {
    const frames = [stretch('1', 5080), stretch('2', 4000), stretch('3', 12_000 - 9080)];
    const file = files.put('roll.pdf', await bytesOf(sheetOf(...frames)));

    it('is sound by qpdf', () => {
      expect(run('qpdf', ['--check', file]).stdout).toContain('No syntax or stream encoding errors found');
    });

    it('has pages of the size of its stretches, by poppler', () => {
      const sizes = pageSizes(file);
      expect(sizes).toHaveLength(3);
      for (const [i, f] of frames.entries()) {
        within(sizes[i]![0], f.width, 'length');
        within(sizes[i]![1], f.height, 'width');
      }
    });

    it('has squares and rulers of true size and in their places, by MuPDF', () => {
      const paths = traced(file);
      for (const [i, f] of frames.entries()) {
        const own = paths.filter((p) => p.page === i + 1 && p.layer === 'guide');
        expect(own).toHaveLength(4);
        const [along, across, metric, inches] = own.map((p) => {
          const [xs, ys] = [p.points.map(([x]) => x), p.points.map(([, y]) => y)];
          return [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys), Math.min(...xs)] as const;
        });
        within(along![0], f.width - 20, 'ruler along');
        within(across![1], ROLL - 20, 'ruler across');
        for (const side of metric!.slice(0, 2)) within(side, 100, 'square');
        for (const side of inches!.slice(0, 2)) within(side, 4 * INCH, 'square in inches');
        within(metric![2], 50, 'place of the square');
      }
    });

    it('has pieces of true length and size, by poppler and svgelements', () => {
      for (const [i, found] of measured(file, [1, 2, 3]).entries()) {
        const asked = lines(frames[i]!);
        expect(found).toHaveLength(asked.length);
        for (const p of asked) {
          const { minX, minY, maxX, maxY } = pathBounds(p);
          const near = found.find(([length]) => Math.abs(length - pathLength(p)) <= pathLength(p) * EXACT);
          expect(near, `a line ${pathLength(p)} mm long`).toBeDefined();
          if (maxX > minX) within(near![1], maxX - minX, 'width');
          if (maxY > minY) within(near![2], maxY - minY, 'height');
        }
      }
    });

    it('is drawn from end to end, by Ghostscript', () => {
      const found = boxes(file);
      const half = printer.strokes.guide!.width / 2;
      for (const [i, f] of frames.entries()) {
        const [x0, y0, x1, y1] = found[i]!;
        expect(x0).toBeCloseTo(10 - half, 1);
        expect(y0).toBeCloseTo(10 - half, 1);
        within(x1 - x0 - 2 * half, f.width - 20, 'length');
        within(y1 - y0 - 2 * half, ROLL - 20, 'width');
      }
    });
  });

  it('one page of 12 m with a larger unit, in Ghostscript and MuPDF, which heed it', async () => {
    const file = files.put('unit.pdf', await bytesOf(sheetOf(stretch('1', 12_000)), printer, { userUnit: true }));
    run('qpdf', ['--check', file]);
    const [x0, y0, x1, y1] = boxes(file)[0]!;
    within(x1 - x0, 11_980, 'length');
    within(y1 - y0, ROLL - 20, 'width');
    const metric = traced(file).find((p) => p.points.length === 4 && p.closed)!;
    within(metric.points[1]![0] - metric.points[0]![0], 100, 'square');
  });

  it('a pattern tiled over sheets of A4, laid by the sheets’ names, is the whole, as a picture', async () => {
    const laid = await laidOut('jobs/opera/chorus-skirt.dxf');
    const plan = tiling(laid.length, laid.width, { paper: A4, margins: even(5), overlap: 15 });
    const { sheet } = tiledSheet(laid.pieces, { tiling: plan, title: 'Chorus skirt', words: [], cover: false });
    const { columns, rows, step, window } = plan;
    const [wide, high] = [(columns - 1) * step.x + window.width, (rows - 1) * step.y + window.height];
    const all = laid.pieces.flatMap((p) => p.marks).filter(isWhole);
    const whole = pictures(files.put('whole.pdf', await bytesOf(sheetOf(frame('1', wide, high, all)))), 2)[0]!;
    expect([whole.width, whole.height]).toEqual([wide * 2, high * 2]);
    const tiles = sheet.frames.map((f) => ({ ...f, marks: f.marks.filter(isWhole) }));
    const shown = pictures(files.put('tiles.pdf', await bytesOf(sheetOf(...tiles))), 2);
    expect(shown.length).toBeGreaterThan(6);
    const built: Picture = { ...whole, grey: new Uint8Array(whole.grey.length).fill(255) };
    shown.forEach((picture, i) => {
      const tile = tilesOf(plan).find((t) => t.name === tiles[i]!.name)!;
      lay(built, picture, { left: tile.shows.minX * 2, top: (high - tile.shows.maxY) * 2 }, tiles[i]!.trim!);
    });
    expect(inked(whole.grey)).toBeGreaterThan(10_000);
    expect(different(whole.grey, built.grey) / inked(whole.grey)).toBeLessThan(0.001);
  });

  describe('every kind of mark', async () => {
    const file = files.put('every.pdf', await bytesOf(sheetOf(everyKind())));

    it('is in the layer of its purpose, by MuPDF', () => {
      const { stdout } = run('mutool', ['trace', file]);
      const layers = [...stdout.matchAll(/<layer name="(.*?)"\/>/g)].map((m) => m[1]);
      expect(layers).toEqual(['guide', 'text', 'grain', 'internal', 'seam', 'crease', 'drill', 'notch', 'cut']);
    });

    it('is text that can be searched, in every script, by poppler', () => {
      const found = run('pdftotext', [file, '-']).stdout.replace(/[\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, '');
      for (const words of ['Skirt front, cut 2', 'œuvre nº 3 ¾″', 'Юбка, перёд', 'Μπροστινό φούστας']) {
        expect(found).toContain(words);
      }
      for (const word of ['スカート前・縫い代', '裁断', 'חצאית קדמית', 'تنورة أمامية', 'turned and centred']) {
        expect(found).toContain(word);
      }
    });

    it('has only embedded parts of fonts, by poppler', () => {
      const rows = run('pdffonts', [file]).stdout.trim().split('\n').slice(2);
      expect(rows).toHaveLength(2);
      for (const row of rows) expect(row).toMatch(/^[A-Z]{6}\+\S+ +CID TrueType +Identity-H +yes yes yes/);
    });

    it('is drawn without a complaint, by MuPDF and Ghostscript', () => {
      const told = run('mutool', ['draw', '-r', '30', '-o', `${file}.png`, file]).stderr;
      expect(told.replace(/warning: ICC support.*\n|page .*\n/g, '')).toBe('');
      const { stdout, stderr } = run('gs', ['-dNOPAUSE', '-dBATCH', '-dSAFER', '-q', '-sDEVICE=nullpage', file]);
      expect(stdout + stderr).toBe('');
    });

    it('is gone from the page when its layer is switched off, in poppler', async () => {
      const doc = await PDFDocument.load(await bytesOf(sheetOf(everyKind())), { updateMetadata: false });
      const shown = doc.catalog.lookup(PDFName.of('OCProperties'), PDFDict).lookup(PDFName.of('D'), PDFDict);
      const all = shown.lookup(PDFName.of('ON'), PDFArray).asArray();
      shown.set(PDFName.of('ON'), doc.context.obj(all.slice(0, -1)));
      shown.set(PDFName.of('OFF'), doc.context.obj(all.slice(-1)));
      const off = pictures(files.put('off.pdf', await doc.save()), 2)[0]!;
      const on = pictures(file, 2)[0]!;
      // The fold of the cut outline, at x = 40 mm.
      const ink = (p: Picture, left: number, right: number): boolean => {
        const row = (720 - 300) * 2 * p.width;
        return p.grey.subarray(row + left * 2, row + right * 2).some((v) => v < 128);
      };
      expect([ink(on, 38, 42), ink(off, 38, 42)]).toEqual([true, false]);
      expect(inked(off.grey)).toBeGreaterThan(1000);
    });
  });
});

const even = (mm: number): Margins => ({ left: mm, right: mm, top: mm, bottom: mm });

/** Solid lines of the pieces: dashes begin anew on every sheet, and guides are each sheet's own. */
const isWhole = (m: SheetMark): boolean => ['cut', 'internal', 'grain', 'notch', 'drill'].includes(m.purpose);

const laidOut = async (fixture: string): Promise<LaidOut> => {
  const { file } = await readPatternFile(join(import.meta.dirname, '../../fixtures', fixture), {});
  const { laid } = layOut([{ fitting: '', pieces: file!.pattern.pieces }], {
    ...{ title: 'Chorus skirt', words: [], lay: 'paper', line: 'cutting', counting: 'as cut', nap: false, gap: 5 },
    ...{ margins: even(5), effort: 1, seed: 1, guides: false, roll: 720, overlap: 15, clothWidth: 1500 },
  });
  return laid!;
};

const inked = (grey: Uint8Array): number => grey.reduce((sum, v) => sum + (v < 200 ? 1 : 0), 0);
const different = (a: Uint8Array, b: Uint8Array): number =>
  a.reduce((sum, v, i) => sum + (Math.abs(v - (b[i] as number)) > 64 ? 1 : 0), 0);

/** Lays what a sheet shows within its trim box on the whole, see-through as paper against the light. */
const lay = (whole: Picture, sheet: Picture, at: { left: number; top: number }, trim: FrameBox): void => {
  const from = { left: trim.x * 2, top: (A4.height - trim.y - trim.height) * 2 };
  for (let y = 0; y < trim.height * 2; y++) {
    for (let x = 0; x < trim.width * 2; x++) {
      const place = (at.top + y) * whole.width + at.left + x;
      const grey = sheet.grey[(from.top + y) * sheet.width + from.left + x] as number;
      whole.grey[place] = Math.min(whole.grey[place] as number, grey);
    }
  }
};
