import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Drawing, DrawingChanges, PathChange, PathDrawable } from '../../../src/formats/drawing.ts';
import { dxf } from '../../../src/formats/dxf/index.ts';
import { distance } from '../../../src/geometry/point.ts';
import {
  cubic,
  lengthOf,
  line,
  nearestOn,
  pointAt,
  reversed,
  type Segment,
  splitAt,
} from '../../../src/geometry/segment.ts';
import { compose, rotation, translation } from '../../../src/geometry/transform.ts';
import {
  bytesOf,
  codes,
  differingLines,
  dxfText,
  moved,
  NOTHING,
  pathsOf,
  pulled,
  read,
  tagText,
  textOf,
  the,
  unchanged,
} from './tools.ts';

const SQUARE = tagText(
  0,
  'LWPOLYLINE',
  5,
  '2A',
  330,
  '1F',
  100,
  'AcDbEntity',
  8,
  '1',
  62,
  3,
  100,
  'AcDbPolyline',
  90,
  4,
  70,
  1,
  10,
  '0.0',
  20,
  '0.0',
  10,
  '100.0',
  20,
  '0.0',
  42,
  '0.25',
  10,
  '100.0',
  20,
  '60.0',
  10,
  '0.0',
  20,
  '60.0',
  1001,
  'APP',
  1000,
  'kept',
);
const HATCH = tagText(0, 'HATCH', 5, '2B', 330, '1F', 8, '9', 10, '0.0', 20, '0.0');
const line1 = (extra: readonly (string | number)[] = []) =>
  tagText(
    0,
    'LINE',
    5,
    '2C',
    330,
    '1F',
    100,
    'AcDbEntity',
    8,
    '7',
    62,
    1,
    100,
    'AcDbLine',
    10,
    '0.0',
    20,
    '0.0',
    30,
    '0.0',
    11,
    '50.0',
    21,
    '0.0',
    31,
    '0.0',
    ...extra,
  );

const change = (
  drawing: Drawing,
  paths: readonly (readonly [PathDrawable, PathChange])[],
  rest: Partial<DrawingChanges> = {},
) => dxf.patch(drawing, { ...NOTHING, ...rest, paths: new Map(paths.map(([p, c]) => [p.id, c])) });

/** Greatest distance of samples of one line from the other. */
const apart = (a: readonly Segment[], b: readonly Segment[]): number =>
  Math.max(
    ...a.flatMap((s) =>
      [0, 0.2, 0.4, 0.6, 0.8, 1].map((t) => Math.min(...b.map((o) => nearestOn(o, pointAt(s, t)).distance))),
    ),
  );

describe('patching', () => {
  it('with no change, or segments equal to the old, gives the very bytes', () => {
    const bytes = bytesOf(dxfText({ entities: SQUARE + HATCH + line1() }));
    const { drawing } = read(bytes);
    expect(dxf.patch(drawing, NOTHING).bytes).toBe(bytes);
    const same = pathsOf(drawing).map((p) => [p, { segments: unchanged(p) }] as const);
    expect(change(drawing, same).bytes).toBe(bytes);
    const copied = pathsOf(drawing).map((p) => [p, { segments: p.path.segments.map((s) => [{ ...s }]) }] as const);
    expect(change(drawing, copied).bytes).toBe(bytes);
  });

  it('a moved vertex changes its two numbers and nothing else', () => {
    const text = dxfText({ entities: SQUARE + HATCH + line1() });
    const { drawing } = read(text);
    const p = the(drawing, 'path');
    const { bytes } = change(drawing, [[p, pulled(p, 0, 2.25, -1.5)]]);
    expect(differingLines(text, textOf(bytes))).toEqual([
      ['0.0', '2.25'],
      ['0.0', '-1.5'],
    ]);
  });

  it('keeps line ends, padding, notation and what follows the end', () => {
    const text = `${dxfText({ entities: SQUARE.replaceAll('100.0', '   1.0000E+02') }).replaceAll('\n', '\r\n')}after the end\r\n`;
    const { drawing } = read(text);
    const p = the(drawing, 'path');
    const { bytes } = change(drawing, [[p, pulled(p, 2, 5, 0)]]);
    expect(differingLines(text, textOf(bytes))).toEqual([
      ['0.25\r', '0.00\r'],
      ['   1.0000E+02\r', '   1.0500E+02\r'],
    ]);
  });

  it('vertices come and go with their segments, and the count follows', () => {
    const { drawing } = read(dxfText({ entities: SQUARE }));
    const p = the(drawing, 'path');
    const [a, b, c, d] = p.path.segments as [Segment, Segment, Segment, Segment];
    const halves = splitAt(a, 0.4) as [Segment, Segment];
    const more = change(drawing, [[p, { segments: [halves, [b], [c], [d]] }]]);
    expect(more.addedVertices.get(p.id)).toBe(1);
    expect(textOf(more.bytes)).toContain(' 90\n5\n');
    expect(the(read(more.bytes).drawing, 'path').path.segments.length).toBe(5);
    const fewer = change(drawing, [[p, { segments: [[line(a.from, c.from)], [], [c], [d]] }]]);
    expect(fewer.addedVertices.get(p.id)).toBe(-1);
    expect(the(read(fewer.bytes).drawing, 'path').path.segments).toEqual([line(a.from, c.from), c, d]);
  });

  it('bulges are added, changed and set to nothing', () => {
    const { drawing } = read(dxfText({ entities: SQUARE }));
    const p = the(drawing, 'path');
    const [a, b, c, d] = p.path.segments as [Segment, Segment, Segment, Segment];
    const bent = reversed(b);
    const arc = {
      kind: 'arc',
      from: a.from,
      to: a.to,
      centre: { x: 50, y: 80 },
      sweep: 2 * Math.atan(50 / 80),
    } as const;
    expect(bent.kind).toBe('arc');
    const { bytes } = change(drawing, [[p, { segments: [[arc], [line(b.from, b.to)], [c], [d]] }]]);
    const now = the(read(bytes).drawing, 'path').path.segments;
    expect(now.map((s) => s.kind)).toEqual(['arc', 'line', 'line', 'line']);
    expect(apart([arc], now.slice(0, 1))).toBeLessThan(0.001);
  });

  it('a curve in a polyline becomes at most eight arcs within 0.02 mm', () => {
    const { drawing } = read(dxfText({ entities: SQUARE }));
    const p = the(drawing, 'path');
    const [a, b, c, d] = p.path.segments as [Segment, Segment, Segment, Segment];
    const curve = cubic(a.from, { x: 30, y: -4 }, { x: 60, y: 3 }, a.to);
    const { bytes, addedVertices } = change(drawing, [[p, { segments: [[curve], [b], [c], [d]] }]]);
    const now = the(read(bytes).drawing, 'path').path.segments;
    expect(addedVertices.get(p.id)).toBeLessThanOrEqual(7);
    expect(now.length).toBe(4 + (addedVertices.get(p.id) ?? 0));
    expect(apart([curve], now)).toBeLessThan(0.02);
  });

  it('a curve that takes more than eight arcs gets them, and says so', () => {
    const { drawing } = read(dxfText({ entities: SQUARE }));
    const p = the(drawing, 'path');
    const [a, b, c, d] = p.path.segments as [Segment, Segment, Segment, Segment];
    const curve = cubic(a.from, { x: 30, y: -90 }, { x: 60, y: 90 }, a.to);
    const { bytes, findings } = change(drawing, [[p, { segments: [[curve], [b], [c], [d]] }]]);
    expect(codes(findings)).toContain('dxf-many-arcs');
    expect(apart([curve], the(read(bytes).drawing, 'path').path.segments)).toBeLessThan(0.021);
  });

  it('a line stays a line when straight, becomes a polyline with a corner and a spline with a curve', () => {
    const text = dxfText({ entities: line1([1001, 'APP', 1000, 'kept']) + HATCH });
    const { drawing } = read(text);
    const p = the(drawing, 'path');
    const mid = { x: 20, y: 0 };
    const straight = textOf(
      change(drawing, [[p, { segments: [[line({ x: -5, y: 0 }, mid), line(mid, { x: 50, y: 0 })]] }]]).bytes,
    );
    expect(differingLines(text, straight)).toEqual([['0.0', '-5.0']]);
    const corner = read(
      change(drawing, [
        [p, { segments: [[line({ x: 0, y: 0 }, { x: 20, y: 9 }), line({ x: 20, y: 9 }, { x: 50, y: 0 })]] }],
      ]).bytes,
    );
    expect(the(corner.drawing, 'path')).toMatchObject({ entity: 'LWPOLYLINE', layer: '7', id: '2C' });
    const curve = cubic({ x: 0, y: 0 }, { x: 10, y: 9 }, { x: 40, y: -9 }, { x: 50, y: 0 });
    const bent = change(drawing, [[p, { segments: [[curve]] }]]);
    const after = the(read(bent.bytes).drawing, 'path');
    expect(after).toMatchObject({ entity: 'SPLINE', layer: '7', id: '2C' });
    expect(apart([curve], after.path.segments)).toBeLessThan(1e-5);
    expect(textOf(bent.bytes)).toContain(HATCH);
    expect(textOf(bent.bytes)).toContain('1001\nAPP\n1000\nkept\n');
    expect(textOf(bent.bytes)).toContain(' 62\n1\n');
  });

  it('in R12 a bent line becomes a POLYLINE with handles of its own', () => {
    const header = tagText(9, '$HANDSEED', 5, '30', 9, '$INSUNITS', 70, 4);
    const entities = tagText(0, 'LINE', 5, '2C', 8, '7', 62, 1, 10, '0.0', 20, '0.0', 11, '50.0', 21, '0.0');
    const { drawing } = read(dxfText({ version: 'AC1009', header, entities }));
    const p = the(drawing, 'path');
    const curve = cubic({ x: 0, y: 0 }, { x: 15, y: 3 }, { x: 35, y: 4 }, { x: 50, y: 0 });
    const { bytes } = change(drawing, [[p, { segments: [[curve]] }]]);
    const after = the(read(bytes).drawing, 'path');
    expect(after).toMatchObject({ entity: 'POLYLINE', layer: '7', id: '2C' });
    expect(after.path.segments.length).toBeLessThanOrEqual(8);
    expect(apart([curve], after.path.segments)).toBeLessThan(0.02);
    const handles = [...textOf(bytes).matchAll(/^ {2}5\n(\w+)$/gm)].map((m) => Number.parseInt(m[1] ?? '', 16));
    expect(new Set(handles).size).toBe(handles.length);
    expect(Number.parseInt(/HANDSEED\n {2}5\n(\w+)/.exec(textOf(bytes))?.[1] ?? '', 16)).toBe(Math.max(...handles));
  });

  it('arcs and circles that move stay what they are', () => {
    const entities = tagText(
      0,
      'ARC',
      8,
      '1',
      10,
      '10.0',
      20,
      '0.0',
      40,
      '5.0',
      50,
      '30.0',
      51,
      '90.0',
      210,
      '0.0',
      220,
      '0.0',
      230,
      '-1.0',
      0,
      'CIRCLE',
      8,
      '1',
      10,
      '1.0',
      20,
      '1.0',
      40,
      '4.0',
    );
    const { drawing } = read(dxfText({ entities }));
    const m = compose(translation({ x: 3, y: 4 }), rotation(0.5));
    const { bytes } = change(
      drawing,
      pathsOf(drawing).map((p) => [p, moved(p, m)] as const),
    );
    const now = pathsOf(read(bytes).drawing);
    expect(now.map((p) => p.entity)).toEqual(['ARC', 'CIRCLE']);
    for (const [i, p] of pathsOf(drawing).entries()) {
      expect(apart(moved(p, m).segments.flat(), now[i]?.path.segments ?? [])).toBeLessThan(0.0015);
    }
  });

  it('texts move with both their points and turn, and keep their letters', () => {
    const entities = tagText(
      0,
      'TEXT',
      8,
      '1',
      10,
      '1.0',
      20,
      '2.0',
      40,
      '5.0',
      1,
      'Front',
      72,
      1,
      11,
      '9.0',
      21,
      '2.0',
      0,
      'MTEXT',
      8,
      '1',
      10,
      '5.0',
      20,
      '5.0',
      40,
      '3.0',
      1,
      'Back',
      11,
      '1.0',
      21,
      '0.0',
    );
    const text = dxfText({ entities });
    const { drawing } = read(text);
    const [t, m] = [the(drawing, 'text', 0), the(drawing, 'text', 1)];
    expect(t.at).toEqual({ x: 9, y: 2 });
    const straight = dxf.patch(drawing, { ...NOTHING, texts: new Map([[t.id, { at: { x: 12, y: 1 } }]]) });
    expect(differingLines(text, textOf(straight.bytes))).toEqual([
      ['1.0', '4.0'],
      ['2.0', '1.0'],
      ['9.0', '12.0'],
      ['2.0', '1.0'],
    ]);
    const turned = dxf.patch(drawing, {
      ...NOTHING,
      texts: new Map([
        [t.id, { at: { x: 12, y: 1 }, angle: 1 }],
        [m.id, { at: m.at, angle: -0.5 }],
      ]),
    });
    const now = read(turned.bytes).drawing;
    expect(the(now, 'text', 0)).toMatchObject({ at: { x: 12, y: 1 }, text: 'Front' });
    expect(the(now, 'text', 0).angle).toBeCloseTo(1, 5);
    expect(the(now, 'text', 1).angle).toBeCloseTo(-0.5, 5);
  });

  it('a change that needs more decimals says so once', () => {
    const { drawing } = read(dxfText({ entities: SQUARE }));
    const p = the(drawing, 'path');
    const { findings } = change(drawing, [[p, pulled(p, 0, 0.12345, 0.12345)]]);
    expect(codes(findings)).toEqual(['dxf-more-decimals']);
  });

  it('integers in hundredths of a millimetre stay integers; in millimetres they get decimals', () => {
    const whole = SQUARE.replaceAll('.0\n', '\n').replace(' 42\n0.25\n', '');
    const pull = (units: number) => {
      const { drawing } = dxf.read(bytesOf(dxfText({ header: tagText(9, '$INSUNITS', 70, 4), entities: whole })), {
        fileName: 'f',
        units: { millimetresPerUnit: units, name: 'u' },
      });
      const p = the(drawing as Drawing, 'path');
      return textOf(change(drawing as Drawing, [[p, pulled(p, 0, 7.123 * units, 0)]]).bytes);
    };
    expect(pull(0.01)).toContain(' 10\n7\n');
    expect(pull(1)).toContain(' 10\n7.123\n');
  });

  const placed = (inserts: string, content = SQUARE) =>
    dxfText({
      blocks: tagText(0, 'BLOCK', 8, '0', 2, 'P', 70, 0, 10, '0.0', 20, '0.0') + content + tagText(0, 'ENDBLK'),
      entities: inserts,
    });
  const insert = (...tags: readonly (string | number)[]) => tagText(0, 'INSERT', 8, '0', 2, 'P', ...tags);

  it('a line in a placed block is changed in the block’s own coordinates', () => {
    const text = placed(insert(10, '10.0', 20, '20.0', 41, '-2.0', 42, '2.0', 50, '90.0'));
    const { drawing } = read(text);
    const p = the(drawing, 'path');
    const { bytes } = change(drawing, [[p, pulled(p, 0, 4, 6)]]);
    // Turned by 90° and mirrored: a move by (4, 6) is one by (−3, −2) in the block.
    expect(differingLines(text, textOf(bytes))).toEqual([
      ['0.0', '-3.0'],
      ['0.0', '-2.0'],
    ]);
  });

  it('a block placed twice changes once when the placings agree, not when they contradict', () => {
    const text = placed(insert(10, '0.0', 20, '0.0') + insert(10, '500.0', 20, '0.0', 41, '-1.0'));
    const { drawing } = read(text);
    const [a, b] = pathsOf(drawing) as [PathDrawable, PathDrawable];
    const one = change(drawing, [[a, pulled(a, 0, 5, 3)]]);
    expect(codes(one.findings)).toEqual(['dxf-drawn-twice']);
    const both = change(drawing, [
      [a, pulled(a, 0, 5, 3)],
      [b, pulled(b, 0, -5, 3)],
    ]);
    expect(both.findings).toEqual([]);
    expect(Buffer.compare(one.bytes, both.bytes)).toBe(0);
    const against = change(drawing, [
      [a, pulled(a, 0, 5, 3)],
      [b, pulled(b, 0, 5, 3)],
    ]);
    expect(against.findings.map((f) => [f.code, f.level])).toEqual([['dxf-shared-shape', 'error']]);
    expect(textOf(against.bytes)).toBe(text);
  });

  it('what is added lies in the block of what it is like, once, and past its attributes', () => {
    const text = placed(
      insert(66, 1, 10, '0.0', 20, '0.0') +
        tagText(
          0,
          'ATTRIB',
          8,
          '0',
          10,
          '1.0',
          20,
          '1.0',
          40,
          '2.0',
          1,
          'Front',
          2,
          'NAME',
          70,
          0,
          0,
          'SEQEND',
          8,
          '0',
        ) +
        insert(10, '500.0', 20, '0.0'),
    );
    const { drawing } = read(text);
    const [a, b] = pathsOf(drawing) as [PathDrawable, PathDrawable];
    const attribute = the(drawing, 'text');
    const segments = [line({ x: 1, y: 1 }, { x: 2, y: 2 })];
    const there = [line({ x: 501, y: 1 }, { x: 502, y: 2 })];
    const { bytes } = dxf.patch(drawing, {
      ...NOTHING,
      additions: [
        { kind: 'path', like: a.id, path: { segments, closed: false } },
        { kind: 'path', like: b.id, path: { segments: there, closed: false } },
        { kind: 'point', like: attribute.id, at: { x: 7, y: 7 } },
      ],
    });
    const now = read(bytes).drawing;
    expect(pathsOf(now).map((p) => [p.entity, p.layer, p.container])).toEqual([
      ['LWPOLYLINE', '1', a.container],
      ['LINE', '1', a.container],
      ['LWPOLYLINE', '1', b.container],
      ['LINE', '1', b.container],
    ]);
    expect(the(now, 'point').at).toEqual({ x: 7, y: 7 });
    expect(now.drawables.filter((d) => d.kind === 'text').length).toBe(1);
  });

  it('nothing left of a line takes its entity out', () => {
    const { drawing } = read(dxfText({ entities: SQUARE + line1() }));
    const p = the(drawing, 'path', 1);
    const { bytes, findings } = change(drawing, [[p, { segments: [[]] }]]);
    expect(textOf(bytes)).toBe(dxfText({ entities: SQUARE }));
    expect(codes(findings)).toEqual(['dxf-entity-vanished']);
  });

  it('reading what was patched gives the changed path, whatever moved', () => {
    const number = fc.double({ min: -30, max: 30, noNaN: true });
    const scale = fc.constantFrom(['1.0', '1.0'], ['-1.0', '1.0'], ['2.0', '2.0'], ['0.5', '1.5']);
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat({ max: 3 }), number, number), { minLength: 1, maxLength: 3 }),
        scale,
        fc.integer({ min: 0, max: 359 }),
        fc.constantFrom(1, 4, 5),
        (pulls, [sx, sy], angle, units) => {
          const header = tagText(9, '$INSUNITS', 70, units);
          const base = placed(
            insert(10, '10.0', 20, '20.0', 41, sx as string, 42, sy as string, 50, `${angle}.0`),
          ).replace(tagText(9, '$INSUNITS', 70, 4), header);
          const { drawing } = read(base);
          const p = the(drawing, 'path');
          // Where the block is stretched unevenly its arc comes as curves: only straight ends are pulled there.
          const at = p.path.segments.length - 1;
          let wanted = p;
          for (const [, dx, dy] of pulls) {
            wanted = { ...wanted, path: { ...wanted.path, segments: pulled(wanted, at, dx, dy).segments.flat() } };
          }
          const { bytes } = change(drawing, [[p, { segments: wanted.path.segments.map((s) => [s]) }]]);
          const now = the(read(bytes).drawing, 'path');
          expect(now.path.closed).toBe(true);
          expect(now.path.segments.length).toBe(wanted.path.segments.length);
          for (const [i, s] of now.path.segments.entries()) {
            expect(distance(s.from, (wanted.path.segments[i] as Segment).from)).toBeLessThan(0.0015);
            expect(Math.abs(lengthOf(s) - lengthOf(wanted.path.segments[i] as Segment))).toBeLessThan(0.003);
          }
        },
      ),
      { numRuns: 60 },
    );
  });
});
