import { pdf } from '../../../src/formats/pdf/index.ts';
import type {
  Frame,
  Machine,
  Purpose,
  Sheet,
  SheetFiles,
  SheetMark,
  SheetOptions,
  Stroke,
} from '../../../src/formats/sheet.ts';
import { type Path, pathOf, polyline } from '../../../src/geometry/path.ts';
import { type Point, point } from '../../../src/geometry/point.ts';
import { arcFromBulge, cubic, line } from '../../../src/geometry/segment.ts';

/* Sheets as a layout makes them, with lines whose sizes are known. */

const stroke = (pen: number, layer: string, line: Stroke['line'], colour: string, width: number): Stroke => ({
  pen,
  layer,
  line,
  colour,
  colourNumber: 7,
  width,
});

export const STROKES: Readonly<Record<Purpose, Stroke>> = {
  cut: stroke(1, 'cut', 'solid', '#000000', 0.5),
  seam: stroke(2, 'seam', 'dashed', '#1d3fa8', 0.3),
  internal: stroke(3, 'internal', 'solid', '#555555', 0.25),
  notch: stroke(1, 'notch', 'solid', '#000000', 0.4),
  crease: stroke(4, 'crease', 'dash-dot', '#7a1f5c', 0.3),
  drill: stroke(4, 'drill', 'solid', '#a02010', 0.3),
  text: stroke(5, 'text', 'solid', '#222222', 0.25),
  grain: stroke(5, 'grain', 'solid', '#0b5d3b', 0.35),
  guide: stroke(6, 'guide', 'dotted', '#666666', 0.25),
};

export const printer: Machine = {
  name: 'test-printer',
  title: 'Test printer',
  kind: 'printer',
  source: 'made for the tests',
  margins: { left: 5, right: 5, top: 5, bottom: 5 },
  strokes: STROKES,
  curveTolerance: 0.1,
  leastStep: 0,
  notch: { shape: 'as drawn', joined: false },
  hpgl: { unitsPerMillimetre: 40, greatest: 2 ** 30 - 1, enter: false, frames: true, letters: 'strokes' },
  dxf: { version: 'R2000' },
};

export const line2 = (from: Point, to: Point): Path => polyline([from, to]);

export const path = (purpose: Exclude<Purpose, 'text' | 'drill'>, p: Path, inner = false): SheetMark => ({
  kind: 'path',
  purpose,
  path: p,
  inner,
});

export const text = (
  words: string,
  at: Point,
  height = 5,
  more: { angle?: number; room?: number; anchor?: 'start' | 'middle' } = {},
): SheetMark => ({
  kind: 'text',
  purpose: 'text',
  text: words,
  at,
  anchor: 'start',
  angle: 0,
  height,
  ...more,
});

export const square = (at: Point, side: number): Path =>
  polyline([at, point(at.x + side, at.y), point(at.x + side, at.y + side), point(at.x, at.y + side)], true);

/**
 * An outline 240 mm wide and 600 mm high from `at`: a straight fold, a hollow waist, a side seam that is an arc, and
 * a hem that sags below `at` by nothing, so that the box is exact.
 */
export const panel = (at: Point, wide = 240, high = 600): Path => {
  const p = (x: number, y: number): Point => point(at.x + x, at.y + y);
  return pathOf([
    line(p(0, 0), p(wide, 0)),
    arcFromBulge(p(wide, 0), p(wide - 30, high), -0.02),
    cubic(p(wide - 30, high), p(wide - 90, high - 5), p(60, high - 30), p(0, high - 30)),
    line(p(0, high - 30), p(0, 0)),
  ]);
};

export const frame = (
  name: string,
  width: number,
  height: number,
  marks: readonly SheetMark[],
  more: Partial<Frame> = {},
): Frame => ({
  name,
  title: `Part ${name}`,
  width,
  height,
  marks,
  ...more,
});

export const sheetOf = (...frames: Frame[]): Sheet => ({ title: 'Chorus skirt', frames });

export const write = (
  sheet: Sheet,
  machine: Machine = printer,
  options: Partial<SheetOptions> = {},
): Promise<SheetFiles> => pdf.write(sheet, machine, { name: 'skirt', ...options });

export const bytesOf = async (
  sheet: Sheet,
  machine: Machine = printer,
  options: Partial<SheetOptions> = {},
): Promise<Uint8Array> => {
  const { files } = await write(sheet, machine, options);
  const only = files[0];
  if (!only || files.length !== 1) throw new Error(`${files.length} files were written`);
  return only.bytes;
};

/** Every kind of mark on one frame. */
export const everyKind = (): Frame => {
  const notches = (['slit', 'v', 't', 'castle', 'check', 'u'] as const).map(
    (shape, i): SheetMark => ({
      kind: 'notch',
      purpose: 'notch',
      at: point(60 + i * 30, 60),
      inward: point(0, 1),
      on: 'cut',
      shape,
      depth: 8,
      width: 8,
    }),
  );
  return frame('1', 420, 720, [
    path('cut', panel(point(40, 60))),
    path('seam', panel(point(50, 70), 218, 578)),
    path('internal', line2(point(60, 500), point(180, 500))),
    path('crease', line2(point(60, 90), point(240, 90))),
    path('grain', polyline([point(150, 150), point(150, 450)])),
    path('guide', square(point(300, 600), 100)),
    ...notches,
    { kind: 'drill', purpose: 'drill', at: point(120, 560), diameter: 6 },
    text('Skirt front, cut 2', point(160, 300)),
    text('Jupe devant — œuvre nº 3 ¾″', point(160, 285)),
    text('Юбка, перёд', point(160, 270)),
    text('Μπροστινό φούστας', point(160, 255)),
    text('スカート前・縫い代 裁断', point(160, 240)),
    text('חצאית קדמית 12 (א)', point(160, 225)),
    text('تنورة أمامية 34', point(160, 210)),
    text('Größe 42 חזית size', point(160, 195)),
    text('very long words in little room', point(160, 180), 5, { room: 60 }),
    text('turned and centred', point(130, 300), 6, { angle: Math.PI / 2, anchor: 'middle' }),
  ]);
};
