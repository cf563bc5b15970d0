import type { Machine, Margins, Purpose, Stroke } from '../formats/sheet.ts';

/*
 * Machines as rows of data, by what they are and not by who makes them. Widths are the trade's usual rolls. HP-GL/2: a
 * plot unit is 0.025 mm and numbers reach to 2^30 - 1 (PCL 5 Technical Reference, chapter 17). The rest (margins, pens,
 * tolerances, overcut) is common practice without a source: a row of one's own goes into a machine file.
 */

const PRACTICE = 'common practice, no source';
const HPGL = 'HP-GL/2 as in the PCL 5 Technical Reference; the rest common practice, no source';
const GREATEST = 2 ** 30 - 1;

const stroke = (
  pen: number,
  layer: string,
  line: Stroke['line'],
  colour: string,
  colourNumber: number,
  width: number,
): Stroke => ({ pen, layer, line, colour, colourNumber, width });

/** Every purpose told apart by pen, layer, line and colour; dark enough to be told apart in grey as well. */
export const DRAWN: Readonly<Record<Purpose, Stroke>> = {
  cut: stroke(1, 'CUT', 'solid', '#000000', 7, 0.5),
  seam: stroke(2, 'SEAM', 'dashed', '#1f4e9c', 5, 0.3),
  internal: stroke(3, 'INTERNAL', 'solid', '#2f6b2f', 3, 0.25),
  notch: stroke(4, 'NOTCH', 'solid', '#b00020', 1, 0.4),
  crease: stroke(5, 'CREASE', 'dash-dot', '#7a2a8a', 6, 0.3),
  drill: stroke(6, 'DRILL', 'solid', '#a04000', 30, 0.3),
  text: stroke(7, 'TEXT', 'solid', '#333333', 8, 0.25),
  grain: stroke(8, 'GRAIN', 'solid', '#005a5a', 4, 0.35),
  guide: stroke(7, 'GUIDE', 'solid', '#666666', 9, 0.2),
};

const only = (...purposes: readonly Purpose[]): Machine['strokes'] =>
  Object.fromEntries(purposes.map((p) => [p, DRAWN[p]]));

const even = (mm: number): Margins => ({ left: mm, right: mm, top: mm, bottom: mm });

const PRINTER: Omit<Machine, 'name' | 'title'> = {
  kind: 'printer',
  source: HPGL,
  margins: even(5),
  strokes: DRAWN,
  curveTolerance: 0.05,
  leastStep: 0,
  notch: { shape: 'as drawn', joined: false },
  hpgl: { unitsPerMillimetre: 40, greatest: GREATEST, enter: true, frames: true, letters: 'strokes' },
  dxf: { version: 'R2000' },
};

/** Rolls in inches, as they are sold. */
const ROLLS: readonly number[] = [24, 36, 42, 44, 54, 60, 72];

const rollPrinters = ROLLS.map(
  (inches): Machine => ({
    ...PRINTER,
    name: `roll-printer-${inches}`,
    title: `Roll printer, ${inches} in`,
    width: inches * 25.4,
  }),
);

const KNIFE: Omit<Machine, 'name' | 'title' | 'strokes' | 'notch'> = {
  ...PRINTER,
  kind: 'knife',
  source: HPGL,
  margins: even(10),
  curveTolerance: 0.1,
  leastStep: 0.2,
  blade: { overcut: 1, start: 'corner' },
  hpgl: { ...PRINTER.hpgl, enter: false },
  dxf: { version: 'R12' },
};

export const MACHINES: readonly Machine[] = [
  { ...PRINTER, name: 'roll-printer', title: 'Roll printer of any width' },
  ...rollPrinters,
  { ...PRINTER, name: 'page-printer', title: 'Printer for single sheets', source: PRACTICE, margins: even(6.35) },
  {
    ...PRINTER,
    name: 'pen-plotter',
    title: 'Pen plotter, HP-GL/2',
    kind: 'pen plotter',
    margins: even(10),
    hpgl: { ...PRINTER.hpgl, enter: false },
  },
  {
    ...PRINTER,
    name: 'pen-plotter-short',
    title: 'Pen plotter with an old controller: coordinates to 32767 units, no frames',
    kind: 'pen plotter',
    source: PRACTICE,
    margins: even(10),
    longest: 32767 / 40,
    hpgl: { ...PRINTER.hpgl, greatest: 32767, enter: false, frames: false },
  },
  {
    ...KNIFE,
    name: 'knife-and-pen',
    title: 'Cutter with a dragged knife and a pen',
    strokes: DRAWN,
    notch: { shape: 'slit', joined: false },
  },
  {
    ...KNIFE,
    name: 'knife',
    title: 'Cutter with a dragged knife alone: cuts outlines, cutouts and notches, draws nothing',
    strokes: only('cut', 'notch', 'drill'),
    notch: { shape: 'slit', joined: false },
  },
  {
    ...KNIFE,
    name: 'knife-joined-notches',
    title: 'Cutter with a knife, V notches taken into the outline',
    strokes: only('cut', 'notch', 'drill'),
    notch: { shape: 'v', joined: true },
  },
  {
    ...KNIFE,
    name: 'knife-notch-points',
    title: 'Cutter with a tool of its own for notches and holes, which are told as points',
    strokes: only('cut', 'notch', 'drill'),
    notch: { shape: 'points', joined: false },
  },
  {
    ...KNIFE,
    name: 'laser',
    title: 'Laser cutter',
    kind: 'laser',
    source: PRACTICE,
    strokes: only('cut', 'notch', 'drill'),
    notch: { shape: 'slit', joined: false },
    blade: { overcut: 0, start: 'straight' },
    dxf: { version: 'R2000' },
  },
];

export const machineCalled = (name: string): Machine | undefined =>
  MACHINES.find((m) => m.name === name.trim().toLowerCase());
