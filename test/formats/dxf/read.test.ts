import { describe, expect, it } from 'vitest';
import { dxf } from '../../../src/formats/dxf/index.ts';
import { pointAt } from '../../../src/geometry/segment.ts';
import { bytesOf, codes, dxfText, pathsOf, read, tagText, the } from './tools.ts';

const LINE = tagText(0, 'LINE', 8, '7', 10, '1.0', 20, '2.0', 11, '11.0', 21, '2.0');
const block = (name: string, entities: string, base: readonly [number, number] = [0, 0]) =>
  tagText(0, 'BLOCK', 8, '0', 2, name, 70, 0, 10, base[0], 20, base[1]) + entities + tagText(0, 'ENDBLK');

describe('reading', () => {
  it.each([['\n'], ['\r\n'], ['\r']])('any line ends: %j', (end) => {
    const { drawing } = read(dxfText({ entities: LINE }).replaceAll('\n', end));
    expect(the(drawing, 'path').path.segments).toEqual([{ kind: 'line', from: { x: 1, y: 2 }, to: { x: 11, y: 2 } }]);
  });

  it('knows its own kind', () => {
    expect(dxf.sniff(bytesOf(dxfText({ entities: LINE })))).toBe(true);
    expect(dxf.sniff(bytesOf('999\nmade by hand\n0\nSECTION\n'))).toBe(true);
    expect(dxf.sniff(bytesOf('<svg xmlns="http://www.w3.org/2000/svg"/>'))).toBe(false);
    expect(dxf.sniff(bytesOf('0\n1\n2\n'))).toBe(false);
  });

  it('places a block with base point, scale, mirror and turn', () => {
    const insert = tagText(0, 'INSERT', 8, '0', 2, 'P', 10, 100, 20, 50, 41, -2, 42, 2, 50, 90);
    const { drawing } = read(dxfText({ blocks: block('P', LINE, [1, 2]), entities: insert }));
    const [s] = the(drawing, 'path').path.segments;
    expect(s?.from.x).toBeCloseTo(100, 12);
    expect(s?.from.y).toBeCloseTo(50, 12);
    expect(s?.to.x).toBeCloseTo(100, 12);
    expect(s?.to.y).toBeCloseTo(30, 12);
    expect(drawing.containers.map((c) => [c.kind, c.name, c.parent])).toEqual([
      ['root', '', undefined],
      ['block', 'P', 'root'],
    ]);
    expect(the(drawing, 'path').container).toBe(drawing.containers[1]?.id);
  });

  it('nests blocks, and gives each placing a container and a drawable of its own', () => {
    const blocks = block('IN', LINE) + block('OUT', tagText(0, 'INSERT', 8, '0', 2, 'IN', 10, 5, 20, 0));
    const insert = (x: number) => tagText(0, 'INSERT', 8, '0', 2, 'OUT', 10, x, 20, 0);
    const { drawing } = read(dxfText({ blocks, entities: insert(0) + insert(1000) }));
    const [a, b] = pathsOf(drawing);
    expect([a?.path.segments[0]?.from.x, b?.path.segments[0]?.from.x]).toEqual([6, 1006]);
    expect(a?.definition).toBe(b?.definition);
    expect(a?.id).not.toBe(b?.id);
    expect(drawing.containers.filter((c) => c.name === 'IN').map((c) => c.definition)).toEqual([
      'block:IN',
      'block:IN',
    ]);
  });

  it('takes layer 0 of a block from its insert, and keeps other layers', () => {
    const blocks = block('P', LINE + LINE.replace('  8\n7', '  8\n0'));
    const { drawing } = read(dxfText({ blocks, entities: tagText(0, 'INSERT', 8, 'front', 2, 'P', 10, 0, 20, 0) }));
    expect(pathsOf(drawing).map((p) => p.layer)).toEqual(['7', 'front']);
  });

  it('takes blocks that are nowhere placed as drawn, when nothing else is', () => {
    const style = tagText(0, 'TEXT', 8, '1', 10, 0, 20, 0, 40, 5, 1, 'Style Name: GALA');
    const { drawing, findings } = read(
      dxfText({ blocks: block('FRONT', LINE) + block('BACK', LINE) + block('*D1', LINE), entities: style }),
    );
    expect(drawing.containers.map((c) => c.name)).toEqual(['', 'FRONT', 'BACK']);
    expect(codes(findings)).toContain('dxf-blocks-unplaced');
  });

  it('sees from behind what is drawn so', () => {
    const entities = tagText(0, 'ARC', 8, '1', 10, 10, 20, 0, 40, 5, 50, 0, 51, 90, 210, 0, 220, 0, 230, -1);
    const [s] = the(read(dxfText({ entities })).drawing, 'path').path.segments;
    expect(s).toMatchObject({ kind: 'arc', from: { x: -15, y: 0 }, centre: { x: -10, y: 0 } });
    expect(s?.kind === 'arc' && s.sweep).toBeCloseTo(-Math.PI / 2, 12);
  });

  it('reads bulges as arcs, left-hand ones anticlockwise', () => {
    const entities = tagText(0, 'LWPOLYLINE', 8, '1', 90, 2, 70, 0, 10, 0, 20, 0, 42, 1, 10, 10, 20, 0);
    const [s] = the(read(dxfText({ entities })).drawing, 'path').path.segments;
    expect(s?.kind).toBe('arc');
    if (s !== undefined) expect(pointAt(s, 0.5).y).toBeCloseTo(-5, 12);
  });

  it('draws the smoothed vertices of a polyline and not its frame', () => {
    const vertex = (x: number, flags: number) => tagText(0, 'VERTEX', 8, '1', 10, x, 20, 0, 70, flags);
    const entities =
      tagText(0, 'POLYLINE', 8, '1', 66, 1, 70, 4) +
      vertex(0, 16) +
      vertex(1, 8) +
      vertex(2, 8) +
      vertex(9, 16) +
      tagText(0, 'SEQEND', 8, '1');
    expect(the(read(dxfText({ version: 'AC1009', entities })).drawing, 'path').path.segments).toEqual([
      { kind: 'line', from: { x: 1, y: 0 }, to: { x: 2, y: 0 } },
    ]);
  });

  it('passes over extended data and application groups', () => {
    const entities = tagText(
      0,
      'LINE',
      5,
      'AA',
      102,
      '{X',
      330,
      '1',
      102,
      '}',
      8,
      '1',
      10,
      0,
      20,
      0,
      11,
      5,
      21,
      0,
      1001,
      'APP',
      1010,
      77,
      1020,
      78,
      1040,
      9,
    );
    expect(the(read(dxfText({ entities })).drawing, 'path').path.segments[0]?.to).toEqual({ x: 5, y: 0 });
  });

  it('reads straight stretches of a spline as lines', () => {
    const points = [0, 0, 10, 0, 20, 0, 30, 0, 40, 10, 50, 20, 60, 0];
    const knots = [0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 2];
    const entities = tagText(
      0,
      'SPLINE',
      8,
      '1',
      70,
      8,
      71,
      3,
      72,
      11,
      73,
      7,
      ...knots.flatMap((k) => [40, k]),
      ...points.flatMap((v, i) => [i % 2 === 0 ? 10 : 20, v]),
    );
    expect(the(read(dxfText({ entities })).drawing, 'path').path.segments.map((s) => s.kind)).toEqual([
      'line',
      'cubic',
    ]);
  });

  it('gives the same ids each time', () => {
    const text = dxfText({
      blocks: block('P', LINE),
      entities: tagText(0, 'INSERT', 8, '0', 2, 'P', 10, 0, 20, 0) + LINE,
    });
    expect(read(text).drawing.drawables.map((d) => d.id)).toEqual(read(text).drawing.drawables.map((d) => d.id));
  });
});

describe('units', () => {
  const sized = (header: string, text?: string, units?: { millimetresPerUnit: number; name: string }) => {
    const note = text === undefined ? '' : tagText(0, 'TEXT', 8, '1', 10, 0, 20, 0, 40, 5, 1, text);
    const result = dxf.read(bytesOf(dxfText({ header, entities: LINE + note })), {
      fileName: 'f',
      ...(units === undefined ? {} : { units }),
    });
    const path = result.drawing?.drawables[0];
    const length =
      path?.kind === 'path' ? (path.path.segments[0]?.to.x ?? 0) - (path.path.segments[0]?.from.x ?? 0) : 0;
    return { length, by: result.drawing?.units.statedBy, codes: codes(result.findings), findings: result.findings };
  };
  const stated = (n: number) => tagText(9, '$INSUNITS', 70, n);

  it.each([
    [1, 254],
    [2, 3048],
    [4, 10],
    [5, 100],
    [6, 10_000],
    [14, 1000],
  ])('$INSUNITS %d makes 10 units %d mm', (n, mm) => {
    expect(sized(stated(n)).length).toBeCloseTo(mm, 9);
  });

  it.each([
    ['Units: ENGLISH', 254],
    ['UNITS METRIC', 10],
    ['units = cm', 100],
    ['Unit: inches', 254],
  ])('the text %s', (text, mm) => {
    const r = sized('', text);
    expect([r.length.toFixed(6), r.by, r.codes]).toEqual([mm.toFixed(6), 'text', ['dxf-units-text']]);
  });

  it('that are not stated are millimetres and an error with the sizes in each', () => {
    const r = sized('');
    expect(r.by).toBe('unstated');
    expect(r.findings[0]?.level).toBe('error');
    expect(r.findings[0]?.try).toContain('254 × 0.0 mm if in in');
  });

  it('that contradict are an error; the option decides and is told', () => {
    expect(sized(stated(4), 'Units: ENGLISH').codes).toContain('dxf-units-contradict');
    const inch = { millimetresPerUnit: 25.4, name: 'in' };
    expect(sized(stated(4), undefined, inch)).toMatchObject({ by: 'option', codes: ['dxf-units-overruled'] });
    expect(sized('', undefined, inch).codes).toEqual([]);
    expect(sized(stated(4), 'Units: METRIC').codes).toEqual([]);
  });
});
