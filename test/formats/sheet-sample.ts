import type {
  Frame,
  Machine,
  NotchMark,
  PathMark,
  Purpose,
  Sheet,
  SheetMark,
  Stroke,
} from '../../src/formats/sheet.ts';
import { PURPOSES } from '../../src/formats/sheet.ts';
import { type Path, pathOf, polyline } from '../../src/geometry/path.ts';
import { add, type Point, turn } from '../../src/geometry/point.ts';
import { arcFromBulge, cubic, line, type Segment } from '../../src/geometry/segment.ts';
import { compose, rotation, transformSegment, translation } from '../../src/geometry/transform.ts';

/* A sheet for machines with one of everything, drawn by hand: no layout is needed to test a writer. */

/** Test squares are 100 mm; this piece is 300 mm wide, 500 high, with a curved side and a cutout. */
export const PIECE_WIDTH = 300;
export const PIECE_HEIGHT = 500;

const outline = (): Segment[] => [
  line({ x: 0, y: 0 }, { x: 280, y: 0 }),
  line({ x: 280, y: 0 }, { x: 300, y: 320 }),
  cubic({ x: 300, y: 320 }, { x: 298, y: 390 }, { x: 275, y: 450 }, { x: 260, y: 500 }),
  arcFromBulge({ x: 260, y: 500 }, { x: 0, y: 490 }, -0.05),
  line({ x: 0, y: 490 }, { x: 0, y: 0 }),
];

const placed = (segments: readonly Segment[], at: Point, angle: number): Segment[] => {
  const map = compose(translation(at), rotation(angle));
  return segments.flatMap((s) => transformSegment(map, s));
};

/** The piece with its lower left corner at `at`, turned about it. */
export const pieceMarks = (piece: string, at: Point, angle = 0): SheetMark[] => {
  const to = (p: Point): Point => add(at, turn(p, angle));
  const path = (segments: readonly Segment[]): Path => pathOf(placed(segments, at, angle));
  const cut = (segments: readonly Segment[], inner: boolean): PathMark => ({
    kind: 'path',
    purpose: 'cut',
    piece,
    inner,
    path: path(segments),
  });
  const open = (purpose: PathMark['purpose'], ...points: readonly Point[]): PathMark => ({
    kind: 'path',
    purpose,
    piece,
    inner: false,
    path: polyline(points.map(to)),
  });
  const notch = (p: Point, inward: Point, shape: NotchMark['shape']): NotchMark => ({
    kind: 'notch',
    purpose: 'notch',
    piece,
    at: to(p),
    inward: turn(inward, angle),
    on: 'cut',
    shape,
    depth: 6,
    width: 4,
  });
  const pocket = polyline(
    [
      { x: 100, y: 250 },
      { x: 160, y: 250 },
      { x: 160, y: 265 },
      { x: 100, y: 265 },
    ],
    true,
  );
  return [
    { kind: 'text', purpose: 'text', piece, text: piece, at: to({ x: 60, y: 200 }), anchor: 'start', angle, height: 8 },
    open('grain', { x: 40, y: 60 }, { x: 40, y: 420 }),
    open('internal', { x: 10, y: 320 }, { x: 290, y: 320 }),
    {
      ...open('seam'),
      path: path([line({ x: 15, y: 40 }, { x: 265, y: 40 }), line({ x: 265, y: 40 }, { x: 280, y: 310 })]),
    },
    open('crease', { x: 20, y: 120 }, { x: 270, y: 120 }),
    { kind: 'drill', purpose: 'drill', piece, at: to({ x: 130, y: 380 }), diameter: 3 },
    notch({ x: 0, y: 300 }, { x: 1, y: 0 }, 'v'),
    notch({ x: 120, y: 0 }, { x: 0, y: 1 }, 'unstated'),
    cut(outline(), false),
    cut(pocket.segments, true),
  ];
};

export const testSquare = (at: Point, side = 100): PathMark => ({
  kind: 'path',
  purpose: 'guide',
  inner: false,
  path: polyline([at, add(at, { x: side, y: 0 }), add(at, { x: side, y: side }), add(at, { x: 0, y: side })], true),
});

export const frameOf = (name: string, width: number, height: number, marks: readonly SheetMark[]): Frame => ({
  name,
  title: `Roll, part ${name}`,
  width,
  height,
  marks,
});

export const sheetOf = (...frames: readonly Frame[]): Sheet => ({ title: 'Page costume, act two', frames });

/** A roll 12 m long and 36 in wide: a test square at its start, pieces at its start, middle and very end. */
export const longRoll = (): Sheet =>
  sheetOf(
    frameOf('1', 12000, 914.4, [
      testSquare({ x: 10, y: 10 }),
      ...pieceMarks('skirt front 1', { x: 150, y: 100 }),
      ...pieceMarks('skirt front 2', { x: 6600, y: 80 }, Math.PI / 2),
      ...pieceMarks('skirt back', { x: 12000 - 520, y: 820 }, -Math.PI / 2),
      testSquare({ x: 11890, y: 10 }),
    ]),
  );

const stroke = (pen: number, layer: string, more: Partial<Stroke> = {}): Stroke => ({
  pen,
  layer,
  line: 'solid',
  colour: '#000000',
  colourNumber: 7,
  width: 0.3,
  ...more,
});

const strokes: Readonly<Record<Purpose, Stroke>> = {
  guide: stroke(1, 'guide', { colour: '#808080', colourNumber: 8 }),
  text: stroke(1, 'text'),
  grain: stroke(1, 'grain', { line: 'dash-dot', colour: '#0000ff', colourNumber: 5 }),
  internal: stroke(1, 'internal'),
  seam: stroke(2, 'seam', { line: 'dashed', colour: '#00ff00', colourNumber: 3 }),
  crease: stroke(2, 'crease', { line: 'dotted' }),
  drill: stroke(3, 'drill'),
  notch: stroke(3, 'notch', { colour: '#ff00ff', colourNumber: 6 }),
  cut: stroke(4, 'cut', { colour: '#ff0000', colourNumber: 1, width: 0.5 }),
};

/** Every purpose on a solid line of its own, so that other readers see whole lines. */
export const solid = (machine: Machine): Machine => ({
  ...machine,
  strokes: Object.fromEntries(
    PURPOSES.flatMap((p) => (machine.strokes[p] ? [[p, { ...machine.strokes[p], line: 'solid' as const }]] : [])),
  ),
});

export const machineOf = (more: Partial<Machine> = {}): Machine => ({
  name: 'test-roll-36',
  title: 'a roll of 36 in',
  kind: 'printer',
  source: 'made for these tests',
  margins: { left: 0, right: 0, top: 0, bottom: 0 },
  strokes,
  curveTolerance: 0.1,
  leastStep: 0.2,
  notch: { shape: 'as drawn', joined: false },
  hpgl: { unitsPerMillimetre: 40, greatest: 2 ** 30 - 1, enter: false, frames: true, letters: 'strokes' },
  dxf: { version: 'R12' },
  ...more,
});
