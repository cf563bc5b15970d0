import { PDFArray, PDFDict, PDFDocument, PDFHexString, PDFName } from 'pdf-lib';
import { describe, expect, it } from 'vitest';
import { evenGlyphs } from '../../../src/formats/pdf/even-glyphs.ts';
import { FACES, fontBytes } from '../../../src/formats/pdf/font-files.ts';
import { PURPOSES } from '../../../src/formats/sheet.ts';
import { point } from '../../../src/geometry/point.ts';
import {
  bytesOf,
  everyKind,
  frame,
  line2,
  panel,
  path,
  printer,
  STROKES,
  sheetOf,
  square,
  text,
  write,
} from './samples.ts';

const MM = 72 / 25.4;
const panels = frame('1', 400, 700, [path('cut', panel(point(20, 20)))]);

describe('the document', () => {
  it('is the same for the same sheet, byte for byte, and bears no date of its own', async () => {
    const [one, two] = [await bytesOf(sheetOf(everyKind())), await bytesOf(sheetOf(everyKind()))];
    expect(Buffer.from(one).equals(Buffer.from(two))).toBe(true);
    const said = await PDFDocument.load(one, { updateMetadata: false });
    expect(said.getCreationDate()).toBeUndefined();
    expect(said.getModificationDate()).toBeUndefined();
    expect(said.getTitle()).toBe('Chorus skirt');
  });

  it('bears the date that is given', async () => {
    const bytes = await bytesOf(sheetOf(panels), printer, { date: '2024-02-29T12:00:00Z' });
    const said = await PDFDocument.load(bytes, { updateMetadata: false });
    expect(said.getCreationDate()?.toISOString()).toBe('2024-02-29T12:00:00.000Z');
  });

  it('has a page for each frame, at its size, with what is left after trimming as its trim box', async () => {
    const tile = frame('A1', 210, 297, [], { trim: { x: 15, y: 0, width: 195, height: 282 } });
    const doc = await PDFDocument.load(await bytesOf(sheetOf(panels, tile)));
    expect(doc.getPageCount()).toBe(2);
    const [first, second] = doc.getPages();
    expect(first!.getSize().width).toBeCloseTo(400 * MM, 5);
    expect(first!.getTrimBox()).toEqual(first!.getMediaBox());
    expect(second!.getCropBox()).toEqual(second!.getMediaBox());
    const trim = second!.getTrimBox();
    for (const [value, mm] of [
      [trim.x, 15],
      [trim.y, 0],
      [trim.width, 195],
      [trim.height, 282],
    ] as const)
      expect(value).toBeCloseTo(mm * MM, 5);
  });

  it('asks to be printed unscaled', async () => {
    const doc = await PDFDocument.load(await bytesOf(sheetOf(panels)));
    const viewer = doc.catalog.getViewerPreferences();
    expect(viewer?.getPrintScaling()).toBe('None');
    expect(viewer?.getPickTrayByPDFSize()).toBe(true);
  });

  it('has a layer for each purpose on it, by the name that the machine gives it', async () => {
    const doc = await PDFDocument.load(await bytesOf(sheetOf(everyKind())));
    const groups = doc.catalog.lookup(PDFName.of('OCProperties'), PDFDict).lookup(PDFName.of('OCGs'), PDFArray);
    const names = groups.asArray().map((_, i) => {
      const name = groups.lookup(i, PDFDict).lookup(PDFName.of('Name'));
      return name instanceof PDFHexString ? name.decodeText() : undefined;
    });
    expect(names).toEqual(PURPOSES.map((p) => STROKES[p].layer));
  });
});

describe('pages past the limit', () => {
  const long = frame('1', 12_000, 914.4, [path('cut', square(point(10, 10), 100))]);

  it('are refused, with nothing written', async () => {
    const { files, findings } = await write(sheetOf(panels, long));
    expect(files).toEqual([]);
    expect(findings.map((f) => [f.code, f.level])).toEqual([['pdf-page-too-long', 'error']]);
  });

  it('state a larger unit where it is asked for, and this is told', async () => {
    const { files, findings } = await write(sheetOf(panels, long), printer, { userUnit: true });
    expect(findings.map((f) => [f.code, f.level])).toEqual([['pdf-user-unit', 'warning']]);
    const [first, second] = (await PDFDocument.load(files[0]!.bytes)).getPages();
    expect(first!.node.get(PDFName.of('UserUnit'))).toBeUndefined();
    expect(String(second!.node.get(PDFName.of('UserUnit')))).toBe('3');
    expect(second!.getWidth() * 3).toBeCloseTo(12_000 * MM, 4);
  });

  it('are not those of the limit itself', async () => {
    const most = frame('1', 5080, 914.4, []);
    const { findings } = await write(sheetOf(most));
    expect(findings).toEqual([]);
  });
});

describe('what cannot be drawn as it should', () => {
  it('letters that no font has are told by name, and a box stands for each', async () => {
    const { files, findings } = await write(sheetOf(frame('1', 200, 100, [text('Rock 🧵 ᚠ', point(10, 10))])));
    expect(files).toHaveLength(1);
    expect(findings.map((f) => f.code)).toEqual(['pdf-letters-missing']);
    expect(findings[0]?.message).toContain('🧵 (U+1F9F5)');
    expect(findings[0]?.where.excerpt).toBe('Rock 🧵 ᚠ');
  });

  it('a machine without a pen for a purpose draws the rest, and it is told', async () => {
    const { seam: _, ...strokes } = STROKES;
    const both = frame('1', 400, 700, [
      path('cut', panel(point(20, 20))),
      path('seam', panel(point(30, 30), 218, 578)),
    ]);
    const { files, findings } = await write(sheetOf(both), { ...printer, strokes });
    expect(files).toHaveLength(1);
    expect(findings.map((f) => f.code)).toEqual(['tool-purpose-left-out']);
  });

  it('a light colour is told, to a printer only', async () => {
    const strokes = { ...STROKES, cut: { ...STROKES.cut, colour: '#ffee00' } };
    expect((await write(sheetOf(panels), { ...printer, strokes })).findings.map((f) => f.code)).toEqual(['pdf-faint']);
    expect((await write(sheetOf(panels), { ...printer, strokes, kind: 'laser' })).findings).toEqual([]);
  });

  it('a number that is none is our fault', async () => {
    const broken = frame('1', 400, 700, [path('cut', line2(point(0, 0), point(Number.NaN, 5)))]);
    await expect(write(sheetOf(broken))).rejects.toThrow('NaN');
  });
});

it('pads the glyphs of the fonts to even lengths, and loses none', async () => {
  for (const face of FACES) {
    const font = await fontBytes(face);
    const even = evenGlyphs(font);
    const [before, after] = [glyphs(font), glyphs(even)];
    expect(after.length).toBe(before.length);
    expect(after.every((g) => g.length % 2 === 0)).toBe(true);
    expect(
      after.every((g, i) => g.length - before[i]!.length < 2 && before[i]!.equals(g.subarray(0, before[i]!.length))),
    ).toBe(true);
  }
});

/** The data of every glyph, by the tables of the OpenType specification. */
const glyphs = (font: Uint8Array): Buffer[] => {
  const b = Buffer.from(font);
  const at = (tag: string): number => {
    for (let entry = 12; ; entry += 16)
      if (b.toString('latin1', entry, entry + 4) === tag) return b.readUInt32BE(entry + 8);
  };
  expect(b.readInt16BE(at('head') + 50)).toBe(1);
  const start = (i: number): number => at('glyf') + b.readUInt32BE(at('loca') + 4 * i);
  return Array.from({ length: b.readUInt16BE(at('maxp') + 4) }, (_, i) => b.subarray(start(i), start(i + 1)));
};
