import { describe, expect, it } from 'vitest';
import { dxfSheet } from '../../../src/formats/dxf/sheet.ts';
import type { Machine, Sheet } from '../../../src/formats/sheet.ts';
import { signedArea } from '../../../src/geometry/path.ts';
import { frameOf, longRoll, machineOf, pieceMarks, sheetOf, testSquare } from '../sheet-sample.ts';
import { pathsOf, read, textOf } from './tools.ts';

const written = async (sheet: Sheet, machine: Machine = machineOf()) => {
  const { files, findings } = await dxfSheet.write(sheet, machine, { name: 'skirt' });
  return { files, findings, texts: files.map((f) => textOf(f.bytes)) };
};
const one = () =>
  sheetOf(frameOf('1', 420, 594, [testSquare({ x: 10, y: 10 }), ...pieceMarks('front', { x: 60, y: 60 })]));
const versions = ['R12', 'R2000'] as const;

describe.each(versions)('DXF for cutters, %s', (version) => {
  const machine = machineOf({ dxf: { version } });

  it('states its unit and its box', async () => {
    const { texts, findings } = await written(one(), machine);
    const { drawing } = read(texts[0] as string);
    expect(drawing.units).toMatchObject({ millimetresPerUnit: 1, statedBy: version === 'R12' ? 'text' : 'file' });
    expect(
      drawing.drawables.some((d) => d.kind === 'text' && d.text === 'Box 420.0 x 594.0 mm = 16.54 x 23.39 in'),
    ).toBe(true);
    expect(findings.map((f) => f.code)).toEqual(['dxf-cutter-file']);
  });

  it('closes outlines, cutouts first, on the layers of the machine', async () => {
    const { texts } = await written(one(), machine);
    const cuts = pathsOf(read(texts[0] as string).drawing).filter((d) => d.layer === 'cut');
    expect(cuts.map((d) => d.path.closed)).toEqual([true, true]);
    const [pocket, outline] = cuts.map((d) => Math.abs(signedArea(d.path)));
    expect(pocket).toBeCloseTo(900, 3);
    expect(outline).toBeGreaterThan(130000);
    expect(cuts.every((d) => d.path.segments.every((s) => s.kind === 'line'))).toBe(true);
  });

  it('has a vertex where a notch stands beside its outline', async () => {
    const { texts } = await written(one(), machine);
    const outline = pathsOf(read(texts[0] as string).drawing).filter((d) => d.layer === 'cut')[1];
    const corners = outline?.path.segments.map((s) => s.from) ?? [];
    for (const at of [
      { x: 60, y: 360 },
      { x: 180, y: 60 },
    ])
      expect(corners).toContainEqual(at);
  });

  it('marks notches as points with their direction where the machine wants points', async () => {
    const points = machineOf({ dxf: { version }, notch: { shape: 'points', joined: false } });
    const { texts } = await written(one(), points);
    const found = read(texts[0] as string).drawing.drawables.filter((d) => d.layer === 'notch');
    expect(found.map((d) => d.kind)).toEqual(['point', 'point']);
    expect(found.map((d) => (d.kind === 'point' ? Math.round(((d.angle ?? -1) * 180) / Math.PI) : -1))).toEqual([
      0, 90,
    ]);
  });

  it('writes a file to a frame, the same each time', async () => {
    const sheet = sheetOf(frameOf('A1', 200, 280, [testSquare({ x: 0, y: 0 })]), frameOf('A2', 200, 280, []));
    const { files, texts } = await written(sheet, machine);
    expect(files.map((f) => f.name)).toEqual(['skirt-A1.dxf', 'skirt-A2.dxf']);
    expect((await written(sheet, machine)).texts).toEqual(texts);
  });

  it('is 7-bit, with codes for other letters, which is told', async () => {
    const { texts, findings } = await written(
      sheetOf(frameOf('1', 400, 600, pieceMarks('Rückenteil 後ろ', { x: 10, y: 10 }))),
      machine,
    );
    expect(/^[\x20-\x7e\n]*$/.test(texts[0] as string)).toBe(true);
    expect(findings.map((f) => f.code)).toContain('dxf-letters-escaped');
    expect(
      read(texts[0] as string).drawing.drawables.some((d) => d.kind === 'text' && d.text === 'Rückenteil 後ろ'),
    ).toBe(true);
  });
});

describe('DXF for cutters', () => {
  it('warns of chords that show', async () => {
    expect((await written(longRoll(), machineOf({ curveTolerance: 0.5 }))).findings.map((f) => f.code)).toContain(
      'dxf-cutter-coarse',
    );
  });

  it('letters nothing with a tool that only cuts', async () => {
    const { cut } = machineOf().strokes;
    const { texts } = await written(one(), machineOf({ kind: 'laser', strokes: { cut: cut! } }));
    expect(texts[0]).not.toContain('\nTEXT\n');
    expect(texts[0]?.startsWith('999\nUnits: mm.')).toBe(true);
  });

  it('has only entities that cutters take', async () => {
    for (const version of versions) {
      const { texts } = await written(one(), machineOf({ dxf: { version } }));
      const entities = /\nENTITIES\n([\s\S]*?)\nENDSEC/.exec(texts[0] as string)?.[1] ?? '';
      const names = new Set([...entities.matchAll(/(?:^|\n)0\n([A-Z]+)/g)].map((m) => m[1]));
      const known = ['LINE', 'POLYLINE', 'VERTEX', 'SEQEND', 'LWPOLYLINE', 'CIRCLE', 'POINT', 'TEXT', 'ENDSEC'];
      expect([...names].filter((n) => !known.includes(n as string))).toEqual([]);
      expect(names.has('SPLINE') || names.has('ARC')).toBe(false);
    }
  });
});
