import { describe, expect, it } from 'vitest';
import type { Machine, NotchMark, NotchShape, PathMark, SheetMark } from '../../src/formats/sheet.ts';
import { leftOut, type ToolLine, toolStrokes } from '../../src/formats/tool-strokes.ts';
import { type Path, pathBounds, pathLength, polyline, signedArea } from '../../src/geometry/path.ts';
import { same } from '../../src/geometry/point.ts';
import { frameOf, machineOf, pieceMarks } from './sheet-sample.ts';

const lines = (marks: readonly SheetMark[], machine: Machine) => {
  const frame = frameOf('1', 1000, 1000, marks);
  const tools = toolStrokes(frame, machine);
  const done = { ...tools, findings: [...leftOut([frame], machine), ...tools.findings] };
  return { ...done, lines: done.strokes.filter((s): s is ToolLine => s.kind === 'line') };
};
const joined = (shape: Machine['notch']['shape'] = 'as drawn') => machineOf({ notch: { shape, joined: true } });
const holds = (path: Path): boolean =>
  path.segments.every((s, i) => i === 0 || same((path.segments[i - 1] as (typeof path.segments)[number]).to, s.from)) &&
  (!path.closed || same(path.segments.at(-1)!.to, path.segments[0]!.from));

const square = (side: number): Path =>
  polyline(
    [
      { x: 0, y: 0 },
      { x: side, y: 0 },
      { x: side, y: side },
      { x: 0, y: side },
    ],
    true,
  );
const cut = (path: Path, more: Partial<PathMark> = {}): PathMark => ({
  kind: 'path',
  purpose: 'cut',
  inner: false,
  path,
  piece: 'p',
  ...more,
});
const notch = (shape: NotchShape, more: Partial<NotchMark> = {}): NotchMark => ({
  ...{ kind: 'notch', purpose: 'notch', piece: 'p', at: { x: 40, y: 0 }, inward: { x: 0, y: 1 } },
  ...{ on: 'cut', shape, depth: 6, width: 4, ...more },
});

describe('what the tools do on a frame', () => {
  it('works by purpose, cutouts before the outline about them', () => {
    const { strokes } = lines(pieceMarks('front', { x: 100, y: 100 }), machineOf());
    const cuts = strokes.filter((s): s is ToolLine => s.kind === 'line' && s.purpose === 'cut');
    expect(cuts.map((s) => Math.round(Math.abs(signedArea(s.path))))).toEqual([900, expect.any(Number)]);
    expect(strokes.map((s) => s.purpose).indexOf('cut')).toBe(strokes.length - 2);
    expect(strokes[0]?.purpose).toBe('text');
  });

  it.each([
    ['v', 12],
    ['castle', 24],
    ['check', 12],
    ['u', 24 - (8 - 2 * Math.PI)],
    ['slit', 0],
    ['t', 0],
  ] as const)('takes a notch (%s) into the outline, which loses its area and stays closed', (shape, area) => {
    for (const turned of [false, true]) {
      const ring = square(100);
      const path = turned
        ? { segments: [...ring.segments].reverse().map((s) => ({ ...s, from: s.to, to: s.from })), closed: true }
        : ring;
      const { lines: out, findings } = lines([cut(path), notch(shape)], joined());
      expect(findings).toEqual([]);
      expect(out).toHaveLength(1);
      expect(out[0]!.path.closed).toBe(true);
      expect(holds(out[0]!.path)).toBe(true);
      expect(Math.abs(Math.abs(signedArea(out[0]!.path)) - (10000 - area))).toBeLessThan(0.15);
      expect(pathLength(out[0]!.path)).toBeGreaterThan(400 + 5);
      expect(pathBounds(out[0]!.path)).toEqual(pathBounds(ring));
    }
  });

  it('leaves a notch at a corner beside the outline, and says so', () => {
    const { lines: out, findings } = lines([cut(square(100)), notch('v', { at: { x: 99, y: 0 } })], joined());
    expect(out.map((l) => l.purpose)).toEqual(['notch', 'cut']);
    expect(findings.map((f) => f.code)).toEqual(['tool-notch-beside']);
  });

  it('never cuts a notch of the seam line', () => {
    const marks = [cut(square(100)), notch('slit', { on: 'seam', at: { x: 40, y: 10 } })];
    expect(lines(marks, { ...joined(), kind: 'knife' }).lines.map((l) => l.purpose)).toEqual(['seam', 'cut']);
    expect(lines(marks, machineOf()).lines.map((l) => l.purpose)).toEqual(['notch', 'cut']);
    const { seam: _, ...without } = machineOf().strokes;
    const left = lines(marks, { ...joined(), kind: 'knife', strokes: without });
    expect(left.lines.map((l) => l.purpose)).toEqual(['cut']);
    expect(left.findings.map((f) => f.code)).toEqual(['tool-purpose-left-out']);
  });

  it('marks a notch as a bare point where the machine wants that', () => {
    const { strokes } = lines([cut(square(100)), notch('v')], joined('points'));
    expect(strokes.map((s) => s.kind)).toEqual(['point', 'line']);
    expect((strokes[1] as ToolLine).keep).toEqual([{ x: 40, y: 0 }]);
  });

  it('joins loose lines into a closed outline and tells the widest gap', () => {
    const loose = [
      cut(
        polyline([
          { x: 0, y: 0 },
          { x: 100, y: 0 },
        ]),
      ),
      cut(
        polyline([
          { x: 100, y: 100 },
          { x: 100, y: 0.05 },
        ]),
      ),
      cut(
        polyline([
          { x: 100, y: 100 },
          { x: 0, y: 100 },
          { x: 0, y: 0 },
        ]),
      ),
    ];
    const { lines: out, findings } = lines(loose, machineOf());
    expect(out).toHaveLength(1);
    expect(out[0]!.path.closed && holds(out[0]!.path)).toBe(true);
    expect(findings.map((f) => [f.code, /0\.050 mm/.test(f.message)])).toEqual([['tool-lines-joined', true]]);
  });

  it('does not join lines of two pieces, and tells of a cut that stays open', () => {
    const { lines: out, findings } = lines(
      [
        cut(
          polyline([
            { x: 0, y: 0 },
            { x: 100, y: 0 },
          ]),
        ),
        cut(
          polyline([
            { x: 100, y: 0 },
            { x: 0, y: 50 },
            { x: 0, y: 0 },
          ]),
          { piece: 'q' },
        ),
      ],
      machineOf(),
    );
    expect(out).toHaveLength(2);
    expect(findings.map((f) => f.code)).toEqual(['tool-cut-open', 'tool-cut-open']);
  });

  it('tells what it leaves out, as an error when it is to be cut', () => {
    const { findings, strokes } = lines(
      pieceMarks('front', { x: 0, y: 0 }),
      machineOf({ strokes: { seam: machineOf().strokes.seam! } }),
    );
    expect(strokes.map((s) => s.purpose)).toEqual(['seam']);
    expect(findings.filter((f) => f.level === 'error').map((f) => f.code)).toEqual(['tool-cut-left-out']);
    expect(findings.map((f) => f.code)).toEqual(['tool-cut-left-out', 'tool-purpose-left-out']);
    expect(findings[1]?.message).toContain(
      'text (1 mark), grain (1 mark), internal (1 mark), crease (1 mark), drill (1 mark), notch (2 marks)',
    );
  });
});
