import { describe, expect, it } from 'vitest';
import type { Drawable, Drawing, LineStyle } from '../../../src/formats/drawing.ts';
import { dxf } from '../../../src/formats/dxf/index.ts';
import { arcAbout, cubic, line, pointAt } from '../../../src/geometry/segment.ts';
import { pathsOf, read, textOf } from './tools.ts';

const style: LineStyle = { width: 0, dashed: false, filled: false, arrowStart: false, arrowEnd: false };
const base = { entity: 'path', definition: 'd', line: 1, labels: [], style };

const curve = cubic({ x: 0, y: 0 }, { x: 10, y: 20 }, { x: 30, y: 20 }, { x: 40, y: 0 });
const drawables: Drawable[] = [
  {
    ...base,
    kind: 'path',
    id: 'a',
    layer: 'cut line',
    container: 'front',
    path: { segments: [curve, line({ x: 40, y: 0 }, { x: 0, y: 0 })], closed: true },
  },
  {
    ...base,
    kind: 'path',
    id: 'b',
    layer: 'Ärmel',
    container: 'inner',
    path: { segments: [arcAbout({ x: 5, y: 5 }, 3, 1, -2)], closed: false },
    style: { ...style, dashed: true, width: 0.35 },
  },
  {
    ...base,
    kind: 'text',
    id: 'c',
    layer: 'cut line',
    container: 'front',
    text: 'Vorne ⅜ "x"',
    at: { x: 1, y: 2 },
    angle: 0.3,
    height: 4,
    mirrored: false,
  },
  {
    ...base,
    kind: 'text',
    id: 'e',
    layer: '',
    container: 'notes',
    text: 'two\nlines {a}',
    at: { x: 1, y: 2 },
    angle: 0,
    height: 4,
    mirrored: false,
  },
  { ...base, kind: 'point', id: 'f', layer: '', container: 'root', at: { x: 9, y: 8 }, angle: 1 },
];
const drawing: Drawing = {
  format: 'svg',
  fileName: 'x.svg',
  units: { millimetresPerUnit: 1, statedBy: 'file', name: 'mm' },
  containers: [
    { id: 'root', kind: 'root', name: '', label: '', definition: 'root' },
    { id: 'front', kind: 'group', name: 'front/1', label: 'Front piece', parent: 'root', definition: 'front' },
    { id: 'inner', kind: 'group', name: 'inner', label: '', parent: 'front', definition: 'inner' },
    { id: 'notes', kind: 'group', name: 'notes', label: '', parent: 'root', definition: 'notes' },
  ],
  drawables,
  document: undefined,
};

describe('a whole new file', () => {
  const { bytes } = dxf.write(drawing);
  const again = read(bytes);

  it('is the same each time', () => expect(textOf(dxf.write(drawing).bytes)).toBe(textOf(bytes)));

  it('has a block for each group that holds lines, and says what it is', () => {
    expect(again.drawing.containers.map((c) => [c.kind, c.name, c.label])).toEqual([
      ['root', '', ''],
      ['block', 'front_1', 'Front piece'],
    ]);
    expect(again.drawing.units).toMatchObject({ name: 'mm', statedBy: 'file' });
    expect(again.findings).toEqual([]);
  });

  it('keeps layers, dashes, widths, texts and points', () => {
    const paths = pathsOf(again.drawing);
    expect(paths.map((p) => [p.layer, p.entity, p.style.dashed, p.style.width])).toEqual(
      [
        ['cut line', 'SPLINE', false, 0],
        ['Ärmel', 'ARC', true, 0.35],
      ].sort(),
    );
    expect(again.drawing.drawables.flatMap((d) => (d.kind === 'text' ? [d.text] : [])).sort()).toEqual([
      'Vorne ⅜ "x"',
      'two\nlines {a}',
    ]);
    expect(again.drawing.drawables.find((d) => d.kind === 'point')).toMatchObject({ at: { x: 9, y: 8 } });
  });

  it('keeps curves exactly and straight stretches straight', () => {
    const spline = pathsOf(again.drawing).find((p) => p.entity === 'SPLINE');
    expect(spline?.path.closed).toBe(true);
    expect(spline?.path.segments.map((s) => s.kind)).toEqual(['cubic', 'line']);
    const first = spline?.path.segments[0];
    if (first !== undefined) expect(pointAt(first, 0.3).y).toBeCloseTo(pointAt(curve, 0.3).y, 5);
  });

  it('has no handle twice', () => {
    const lines = textOf(bytes).split('\n');
    const handles = lines.filter((_, i) => i % 2 === 1 && ['5', '105'].includes(lines[i - 1] ?? ''));
    const own = handles.slice(1);
    expect(own.length).toBeGreaterThan(30);
    expect(new Set(own).size).toBe(own.length);
  });
});
