import type { Finding } from '../../finding.ts';
import { chords } from '../../geometry/chords.ts';
import { letteringWidth } from '../lettering.ts';
import {
  type Frame,
  type Machine,
  PURPOSES,
  type Sheet,
  type SheetFiles,
  type SheetOptions,
  type SheetWriter,
  type Stroke,
} from '../sheet.ts';
import { leftOut, type ToolStroke, toolStrokes } from '../tool-strokes.ts';
import {
  circleEntity,
  type EntitySpelling,
  isEscaped,
  lineEntity,
  pointEntity,
  textEntity,
} from './cutter-entities.ts';
import { cutterFile } from './cutter-file.ts';
import type { NewTag } from './edits.ts';

/** Chords further from their curve show on cloth, mm. */
const COARSEST = 0.25;
/** Lettering of the unit and the box: small, in the lower left corner, mm. */
const SMALL_PRINT = 2.5;

/**
 * DXF for cutters, a file to a frame: millimetres, curves as chords, closed outlines as closed polylines, a layer to
 * each purpose as the machine's row has it. R12 has no unit of its own, so a text of the drawing and a comment state
 * it; R2000 says `$INSUNITS` 4.
 */
const write = (sheet: Sheet, machine: Machine, options: SheetOptions): SheetFiles => {
  const findings = leftOut(sheet.frames, machine);
  if (machine.curveTolerance > COARSEST) findings.push(coarse(machine));
  const files = sheet.frames.map((frame) => {
    const name = sheet.frames.length === 1 ? `${options.name}.dxf` : `${options.name}-${frame.name}.dxf`;
    const tools = toolStrokes(frame, machine);
    const own = [...tools.findings, fileNote(frame, machine)];
    if (tools.strokes.some((s) => s.kind === 'text' && isEscaped(s.text.text))) own.push(escaped());
    findings.push(...own.map((f) => ({ ...f, where: { file: name, ...f.where } })));
    const looks = PURPOSES.flatMap((p) => machine.strokes[p] ?? []);
    const bytes = cutterFile(machine.dxf.version, looks, frame, `Units: mm. ${boxOf(frame)}`, (spelling) => [
      ...unitTexts(frame, machine, spelling),
      ...tools.strokes.flatMap((s) => entityOf(s, machine, spelling)),
    ]);
    return { name, bytes };
  });
  return { files, findings };
};

export const dxfSheet: SheetWriter = { name: 'dxf', extension: 'dxf', write: async (...given) => write(...given) };

const entityOf = (stroke: ToolStroke, machine: Machine, spelling: EntitySpelling): NewTag[] => {
  const { layer } = stroke.look;
  switch (stroke.kind) {
    case 'line': {
      const { curveTolerance: tolerance, leastStep: least } = machine;
      const points = chords(stroke.path, { tolerance, least, keep: stroke.keep });
      return lineEntity(points, stroke.path.closed, layer, spelling);
    }
    case 'hole':
      return circleEntity(stroke.at, stroke.diameter, layer, spelling);
    case 'point':
      return pointEntity(stroke.at, stroke.inward, layer, spelling);
    case 'text': {
      const { room, text, height } = stroke.text;
      const width = letteringWidth(text, height);
      return textEntity(stroke.text, room === undefined || width <= room ? 1 : room / width, layer, spelling);
    }
  }
};

/** How small print is drawn; not at all by a tool that only cuts. */
const lettersLook = ({ strokes }: Machine): Stroke | undefined => {
  const look = strokes.text ?? strokes.guide;
  return look?.layer === strokes.cut?.layer ? undefined : look;
};

/** Where a tool draws or letters, the unit stands on the sheet; a tool that cuts must not be given it. */
const unitTexts = (frame: Frame, machine: Machine, spelling: EntitySpelling): NewTag[] => {
  const look = lettersLook(machine);
  if (!look) return [];
  return ['Units: mm', boxOf(frame)].flatMap((text, i) =>
    textEntity(
      { text, at: { x: 2, y: 2 + 1.6 * SMALL_PRINT * (1 - i) }, angle: 0, height: SMALL_PRINT, anchor: 'start' },
      1,
      look.layer,
      spelling,
    ),
  );
};

const boxOf = ({ width, height }: Frame): string =>
  `Box ${width.toFixed(1)} x ${height.toFixed(1)} mm = ${(width / 25.4).toFixed(2)} x ${(height / 25.4).toFixed(2)} in`;

const fileNote = (frame: Frame, machine: Machine): Finding => ({
  code: 'dxf-cutter-file',
  level: 'note',
  where: {},
  message: `One unit is one millimetre (${whoSays(machine)}). ${boxOf(frame)}.`,
  try: 'Compare the box with what the cutter shows, and measure the test square, before anything is cut.',
});

const whoSays = (machine: Machine): string => {
  if (machine.dxf.version === 'R2000') return '$INSUNITS is 4';
  return `R12 has no unit: ${lettersLook(machine) ? 'a text in the drawing and ' : ''}a comment in the file says so`;
};

const coarse = (machine: Machine): Finding => ({
  code: 'dxf-cutter-coarse',
  level: 'warning',
  where: {},
  message: `${machine.title} asks for chords up to ${machine.curveTolerance} mm off their curves; more than ${COARSEST} mm shows on cloth.`,
  try: 'Give the machine a curve tolerance of 0.1 mm.',
});

const escaped = (): Finding => ({
  code: 'dxf-letters-escaped',
  level: 'note',
  where: {},
  message: 'Letters beyond ASCII are written as codes (\\U+00C4); a machine that does not know them shows the codes.',
  try: 'If the labels come out as codes, letter the pieces in plain letters in the pattern sheet.',
});
