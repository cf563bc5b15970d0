import { arcAbout, FULL_TURN } from '../../geometry/arc.ts';
import { chords } from '../../geometry/chords.ts';
import { flatten } from '../../geometry/flatten.ts';
import { add, between, distance, type Point, scale } from '../../geometry/point.ts';
import { clippedLine } from '../clip-line.ts';
import { lettering } from '../lettering.ts';
import { type Frame, type LineType, type Machine, PURPOSES } from '../sheet.ts';
import type { ToolStroke, ToolText } from '../tool-strokes.ts';

/** Something one pen draws in one go, mm. */
export type PenLine =
  | { readonly kind: 'points'; readonly line: LineType; readonly points: readonly Point[] }
  | { readonly kind: 'label'; readonly text: ToolText };

/** What a pen has to do, in order. */
export interface PenWork {
  readonly pen: number;
  /** Width of its line, mm. */
  readonly width: number;
  readonly lines: readonly PenLine[];
}

/** A notch that is only a point becomes a short line there: a pen set down and lifted is lost on many machines. mm */
const POINT = 1;
const UNWRITABLE = /[^\x20-\x7e]/gu;

/**
 * The strokes by pens. A pen is taken once; one that does several purposes comes when the last of them is due, so that
 * nothing is drawn after it has been cut loose.
 */
export const penLines = (
  strokes: readonly ToolStroke[],
  frame: Frame,
  machine: Machine,
): { readonly pens: readonly PenWork[]; readonly missing: ReadonlySet<string> } => {
  const missing = new Set<string>();
  const pens = new Map<number, { width: number; due: number; lines: PenLine[] }>();
  for (const stroke of strokes) {
    const { pen, width } = stroke.look;
    const work = pens.get(pen) ?? { width, due: 0, lines: [] };
    pens.set(pen, work);
    work.due = Math.max(work.due, PURPOSES.indexOf(stroke.purpose));
    work.lines.push(...linesOf(stroke, frame, machine, missing));
  }
  const inOrder = [...pens].sort(([, a], [, b]) => a.due - b.due);
  return { pens: inOrder.map(([pen, { width, lines }]) => ({ pen, width, lines })), missing };
};

const linesOf = (stroke: ToolStroke, frame: Frame, machine: Machine, missing: Set<string>): PenLine[] => {
  const { line } = stroke.look;
  const drawn = (points: readonly Point[], type: LineType = line): PenLine => ({ kind: 'points', line: type, points });
  switch (stroke.kind) {
    case 'line': {
      const { curveTolerance: tolerance, leastStep: least } = machine;
      const points = chords(stroke.path, { tolerance, least, keep: stroke.keep }).map((p) => p.at);
      if (!stroke.path.closed) return [drawn(points)];
      const overcut = stroke.purpose === 'cut' ? (machine.blade?.overcut ?? 0) : 0;
      return [drawn([...points, ...onwards(points, overcut)])];
    }
    case 'hole': {
      const circle = arcAbout(stroke.at, stroke.diameter / 2, 0, FULL_TURN);
      return [drawn(flatten([circle], machine.curveTolerance / 2), 'solid')];
    }
    case 'point':
      return [drawn([stroke.at, add(stroke.at, scale(stroke.inward, POINT))], 'solid')];
    case 'text':
      return textLines(stroke, frame, machine, missing);
  }
};

/** The start of a ring once more, and on from there by the overcut, mm. */
const onwards = (ring: readonly Point[], overcut: number): Point[] => {
  const again = [ring[0] as Point];
  let left = overcut;
  for (let i = 1; left > 0 && i < ring.length; i++) {
    const from = ring[i - 1] as Point;
    const to = ring[i] as Point;
    const step = distance(from, to);
    again.push(step <= left ? to : between(from, to, left / step));
    left -= step;
  }
  return again;
};

const textLines = (stroke: ToolText, frame: Frame, machine: Machine, missing: Set<string>): PenLine[] => {
  if (machine.hpgl.letters === 'labels') {
    for (const [letter] of stroke.text.text.matchAll(UNWRITABLE)) missing.add(letter);
    return [{ kind: 'label', text: stroke }];
  }
  const letters = lettering(stroke.text);
  for (const letter of letters.missing) missing.add(letter);
  return letters.strokes
    .flatMap((s) => clippedLine([...s.segments.slice(0, 1).map((x) => x.from), ...s.segments.map((x) => x.to)], frame))
    .map((points): PenLine => ({ kind: 'points', line: 'solid', points }));
};
