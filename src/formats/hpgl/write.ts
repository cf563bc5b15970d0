import type { Finding } from '../../finding.ts';
import type { Frame, HpglHabits, Machine, Sheet, SheetFile, SheetFiles, SheetOptions } from '../sheet.ts';
import { leftOut, toolStrokes } from '../tool-strokes.ts';
import { penLines } from './pens.ts';
import { framePlot, plotSize } from './plot.ts';

/** Leaves another printer language for HP-GL/2 (HP PCL 5 Technical Reference, chapter 17). */
const ENTER = '\u001b%0B';

/**
 * The frames as HP-GL/2, each a page of its own in one file; where the machine knows no pages, a file to a frame.
 * Refused with an error when a frame is larger than the machine's coordinates: what went past them would come out
 * somewhere else.
 */
export const writeHpgl = (sheet: Sheet, machine: Machine, options: SheetOptions): SheetFiles => {
  const { hpgl } = machine;
  const tooLarge = sheet.frames.flatMap((f) => frameTooLarge(f, machine) ?? []);
  if (tooLarge.length > 0) return { files: [], findings: tooLarge };
  const findings: Finding[] = leftOut(sheet.frames, machine);
  const missing = new Set<string>();
  const plots = sheet.frames.map((frame) => {
    const tools = toolStrokes(frame, machine);
    findings.push(...tools.findings);
    const drawn = penLines(tools.strokes, frame, machine);
    for (const letter of drawn.missing) missing.add(letter);
    return framePlot(drawn.pens, frame, machine);
  });
  if (missing.size > 0) findings.push(lettersMissing([...missing], hpgl));
  if (!hpgl.frames && Object.values(machine.strokes).some((s) => s.line !== 'solid'))
    findings.push(linesSolid(machine));
  findings.push(fileNote(sheet.frames, machine));
  const file = (name: string, text: string): SheetFile => ({
    name: `${name}.plt`,
    bytes: new TextEncoder().encode((hpgl.enter ? ENTER : '') + text),
  });
  const files =
    hpgl.frames || plots.length === 1
      ? [file(options.name, plots.join(''))]
      : plots.map((text, i) => file(`${options.name}-${sheet.frames[i]?.name}`, text));
  return { files, findings: findings.map((f) => ({ ...f, where: { file: files[0]?.name ?? '', ...f.where } })) };
};

const frameTooLarge = (frame: Frame, { title, hpgl }: Machine): Finding | undefined => {
  const [length, width] = plotSize(frame, hpgl);
  if (Math.max(length, width) <= hpgl.greatest) return undefined;
  const most = hpgl.greatest / hpgl.unitsPerMillimetre;
  return {
    code: 'hpgl-frame-too-large',
    level: 'error',
    where: {},
    message: `${frame.title} is ${frame.width.toFixed(1)} × ${frame.height.toFixed(1)} mm; ${title} counts to ${hpgl.greatest} units, which is ${most.toFixed(1)} mm. No file is written.`,
    try: `Lay the pieces out in frames of at most ${Math.floor(most)} mm, or choose a machine without that limit.`,
  };
};

const fileNote = (frames: readonly Frame[], { hpgl }: Machine): Finding => {
  const boxes = frames.map(
    ({ width, height }) =>
      `${width.toFixed(1)} × ${height.toFixed(1)} mm (${(width / 25.4).toFixed(2)} × ${(height / 25.4).toFixed(2)} in)`,
  );
  const turned = hpgl.frames && frames.some((f) => f.height > f.width);
  return {
    code: 'hpgl-file',
    level: 'note',
    where: {},
    message: `${Number(hpgl.unitsPerMillimetre.toFixed(4))} plot units are one millimetre. ${boxes.length === 1 ? 'Box' : `${boxes.length} pages:`} ${[...new Set(boxes)].join(', ')}${turned ? '; what is higher than wide lies on its side, since X runs along the longer side' : ''}.`,
    try: 'Compare the box with what the machine shows, and measure the test square.',
  };
};

const lettersMissing = (letters: readonly string[], { letters: by }: HpglHabits): Finding => ({
  code: 'hpgl-letters-missing',
  level: 'warning',
  where: {},
  message:
    by === 'strokes'
      ? `The stroked alphabet has no ${letters.join(' ')}; a box stands for each.`
      : `The machine's own letters have no ${letters.join(' ')}; a question mark stands for each.`,
  try: 'Write a PDF as well, which carries all letters.',
});

const linesSolid = (machine: Machine): Finding => ({
  code: 'hpgl-lines-solid',
  level: 'note',
  where: {},
  message: `${machine.title} gets solid lines only; purposes are told apart by their pens.`,
  try: 'Nothing needs doing.',
});
