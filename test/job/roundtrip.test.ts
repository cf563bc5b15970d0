import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Drawing, Format } from '../../src/formats/drawing.ts';
import { pathLength } from '../../src/geometry/path.ts';
import { type Point, point, turn } from '../../src/geometry/point.ts';
import type { Segment } from '../../src/geometry/segment.ts';
import { cubic, splitAt } from '../../src/geometry/segment.ts';
import { rotation, transformSegment } from '../../src/geometry/transform.ts';
import { formatCalled, formatOf } from '../../src/job/formats.ts';
import { readBack, sizeDifference, WRITTEN_TOLERANCE } from '../../src/job/readback.ts';
import { changesBetween } from '../../src/job/redraw.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { innerLine, patternOf, pieceOf, spansOf } from './handmade.ts';

const BLOCKS = join(import.meta.dirname, '../../fixtures/blocks');
const files = readdirSync(BLOCKS).filter((f) => /\.(dxf|svg)$/.test(f));

/** The whole drawing taken for one sheet of paper, every line of it an inner line: no recognising needed. */
const everything = (drawing: Drawing): Pattern =>
  patternOf(
    pieceOf([], {
      lines: drawing.drawables.flatMap((d) => (d.kind === 'path' ? [innerLine(d.id, spansOf(d))] : [])),
      texts: drawing.drawables.flatMap((d) => (d.kind === 'text' ? [{ ...d }] : [])),
    }),
  );

const withLines = (
  pattern: Pattern,
  alter: (s: Segment) => readonly Segment[],
  move: (p: Point) => Point,
): Pattern => ({
  ...pattern,
  pieces: pattern.pieces.map((piece) => ({
    ...piece,
    lines: piece.lines.map((l) => ({
      ...l,
      spans: l.spans.map((s) => ({ ...s, segments: s.segments.flatMap((one) => [...alter(one)]) })),
    })),
    texts: piece.texts.map((t) => ({ ...t, at: move(t.at) })),
  })),
});

/** A smooth bend of the plane: shifts x by up to 12 mm, as a seam is shifted between levels. */
const bend = (p: Point): Point => point(p.x + 12 * Math.sin(p.y / 200), p.y);

const bent = (s: Segment): readonly Segment[] => {
  if (s.kind === 'line') return [{ ...s, from: bend(s.from), to: bend(s.to) }];
  if (s.kind === 'cubic') return [cubic(bend(s.from), bend(s.control1), bend(s.control2), bend(s.to))];
  return splitAt(s, 0.5).flatMap((half) => {
    if (half?.kind !== 'arc') return [];
    const k = (4 / 3) * Math.tan(half.sweep / 4);
    const handle = (end: Point, sign: number) =>
      point(end.x - sign * k * (end.y - half.centre.y), end.y + sign * k * (end.x - half.centre.x));
    return [cubic(bend(half.from), bend(handle(half.from, 1)), bend(handle(half.to, -1)), bend(half.to))];
  });
};

const writeAndRead = (format: Format, drawing: Drawing, before: Pattern, after: Pattern) => {
  const { bytes, findings } = format.patch(drawing, changesBetween(drawing, before, after));
  const { drawing: written } = format.read(bytes, { fileName: drawing.fileName });
  if (!written) throw new Error('the written file cannot be read');
  return { ...readBack(after, drawing, written), bytes, told: findings.filter((f) => f.level === 'error') };
};

describe.each(files)('%s', (name) => {
  const open = async () => {
    const bytes = readFileSync(join(BLOCKS, name));
    const format = await formatOf(bytes, name);
    const drawing = format?.read(bytes, { fileName: name }).drawing;
    if (!format || !drawing) throw new Error(`${name} cannot be read`);
    return { bytes, format, drawing, before: everything(drawing) };
  };

  it('comes back byte for byte when nothing changed', async () => {
    const { bytes, format, drawing, before } = await open();
    const same = writeAndRead(format, drawing, before, before);
    expect(Buffer.compare(Buffer.from(same.bytes), bytes)).toBe(0);
    expect(same.deviation).toBe(0);
  });

  it('says what was meant when everything is turned', async () => {
    const { format, drawing, before } = await open();
    const by = rotation(0.3);
    const after = withLines(
      before,
      (s) => transformSegment(by, s),
      (p) => turn(p, 0.3),
    );
    const { findings, deviation, told } = writeAndRead(format, drawing, before, after);
    expect([...told, ...findings]).toEqual([]);
    expect(deviation).toBeLessThan(0.01);
  });

  it('says what was meant when every line is bent', async () => {
    const { format, drawing, before } = await open();
    const { findings, deviation, told } = writeAndRead(format, drawing, before, withLines(before, bent, bend));
    expect([...told, ...findings]).toEqual([]);
    expect(deviation).toBeLessThan(WRITTEN_TOLERANCE);
  });

  it('is the same drawing when written whole in the other format', async () => {
    const { drawing } = await open();
    const other = await formatCalled(drawing.format === 'dxf' ? 'svg' : 'dxf');
    const { bytes, findings } = other.write(drawing);
    expect(findings.filter((f) => f.level === 'error')).toEqual([]);
    const { drawing: again } = other.read(bytes, { fileName: `x.${other.name}` });
    if (!again) throw new Error('the written file cannot be read');
    expect(sizeDifference(drawing, again)).toBeLessThan(0.01);
    expect(Math.abs(drawn(again) / drawn(drawing) - 1)).toBeLessThan(0.0005);
    expect(texts(again)).toEqual(texts(drawing));
  });
});

/** Length of all lines but little marks, mm: points of a DXF are drawn as small circles in SVG. */
const drawn = (drawing: Drawing): number =>
  drawing.drawables
    .map((d) => (d.kind === 'path' ? pathLength(d.path) : 0))
    .filter((length) => length > 10)
    .reduce((sum, length) => sum + length, 0);
const texts = (drawing: Drawing): string[] =>
  drawing.drawables.flatMap((d) => (d.kind === 'text' ? [d.text] : [])).sort();
