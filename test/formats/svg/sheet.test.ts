import { describe, expect, it } from 'vitest';
import { type Machine, PURPOSES, type Sheet } from '../../../src/formats/sheet.ts';
import { svg } from '../../../src/formats/svg/index.ts';
import { svgSheet } from '../../../src/formats/svg/sheet.ts';
import { pathBounds, signedArea } from '../../../src/geometry/path.ts';
import { frameOf, longRoll, machineOf, pieceMarks, sheetOf, testSquare } from '../sheet-sample.ts';

const written = async (sheet: Sheet, machine: Machine = machineOf()) => {
  const { files, findings } = await svgSheet.write(sheet, machine, { name: 'skirt' });
  return { files, findings, texts: files.map((f) => new TextDecoder().decode(f.bytes)) };
};
const one = (piece = 'front') =>
  sheetOf(frameOf('1', 420.5, 594, [testSquare({ x: 10, y: 10 }), ...pieceMarks(piece, { x: 60, y: 60 })]));

describe('SVG sheets', () => {
  it('are as large in millimetres as the frame, one unit to the millimetre', async () => {
    expect((await written(one())).texts[0]).toContain('width="420.5mm" height="594mm" viewBox="0 0 420.5 594"');
    expect((await written(longRoll())).texts[0]).toContain(
      'width="12000mm" height="914.4mm" viewBox="0 0 12000 914.4"',
    );
  });

  it('have a layer to each purpose, in the order of work, with id and title', async () => {
    const text = (await written(one())).texts[0] as string;
    const layers = [...text.matchAll(/<g id="([^"]+)"[^>]*>\s*<title>([^<]+)</g)];
    expect(layers.map((m) => m[1])).toEqual(PURPOSES);
    expect(layers.every((m) => m[1] === m[2])).toBe(true);
  });

  it('keep curves, closed lines and places, y turned over', async () => {
    const { files } = await written(one());
    const { drawing } = svg.read(files[0]!.bytes, { fileName: 'skirt.svg' });
    const within = (id: string | undefined): boolean => {
      const container = drawing!.containers.find((c) => c.id === id);
      return container !== undefined && (container.name === 'cut' || within(container.parent));
    };
    const paths = drawing!.drawables.flatMap((d) => (d.kind === 'path' && within(d.container) ? [d.path] : []));
    expect(paths.map((p) => p.closed)).toEqual([true, true]);
    expect(paths[1]?.segments.map((s) => s.kind)).toEqual(['line', 'line', 'cubic', 'arc', 'line']);
    const box = pathBounds(paths[0]!);
    // The reader has y up again, from the lower edge of the page.
    expect(box.maxX - box.minX).toBeCloseTo(60, 6);
    expect(Math.abs(signedArea(paths[0]!))).toBeCloseTo(900, 3);
  });

  it('carry any letter, and nothing that could break the file', async () => {
    const piece = `<b> "Größe" & 'x' \u0007 前中心`;
    const text = (await written(one(piece))).texts[0] as string;
    const { drawing } = svg.read(new TextEncoder().encode(text), { fileName: 'a.svg' });
    expect(drawing?.drawables.flatMap((d) => (d.kind === 'text' ? [d.text] : []))).toEqual([
      piece.replace(' \u0007', ''),
    ]);
  });

  it('narrow a text to its room', async () => {
    const text = (room: number) =>
      ({
        kind: 'text',
        purpose: 'text',
        text: 'lengthen or shorten here',
        at: { x: 5, y: 5 },
        anchor: 'middle',
        angle: 0.5,
        height: 10,
        room,
      }) as const;
    const [narrow, wide] = await Promise.all(
      [60, 600].map((room) => written(sheetOf(frameOf('1', 100, 100, [text(room)])))),
    );
    expect(narrow?.texts[0]).toMatch(
      /text-anchor="middle" textLength="60" lengthAdjust="spacingAndGlyphs" transform="rotate\(-28\.64789 5 95\)"/,
    );
    expect(wide?.texts[0]).not.toContain('textLength');
  });

  it('come as a file to a frame, the same each time', async () => {
    const sheet = sheetOf(frameOf('cover', 200, 280, []), frameOf('A1', 200, 280, [testSquare({ x: 0, y: 0 })]));
    const { files, texts } = await written(sheet);
    expect(files.map((f) => f.name)).toEqual(['skirt-cover.svg', 'skirt-A1.svg']);
    expect((await written(sheet)).texts).toEqual(texts);
  });
});
