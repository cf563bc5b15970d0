import type { Finding } from '../finding.ts';
import { chain } from '../geometry/chain.ts';
import type { Path } from '../geometry/path.ts';
import { distance, type Point } from '../geometry/point.ts';
import { line, reversed, type Segment } from '../geometry/segment.ts';
import { joinNotches } from './join-notches.ts';
import { notchShape, notchStrokes } from './notch-shapes.ts';
import {
  type DrillMark,
  type Frame,
  type Machine,
  type NotchMark,
  type PathMark,
  PURPOSES,
  type Purpose,
  type SheetMark,
  type Stroke,
  type TextMark,
} from './sheet.ts';

/** One thing a tool does on a frame. */
export type ToolStroke = ToolLine | ToolText | ToolHole | ToolPoint;

interface ToolBase {
  readonly purpose: Purpose;
  readonly look: Stroke;
  readonly piece?: string;
}
export interface ToolLine extends ToolBase {
  readonly kind: 'line';
  readonly path: Path;
  /** Places of notches on the line, which must stay vertices. */
  readonly keep: readonly Point[];
}
export interface ToolText extends ToolBase {
  readonly kind: 'text';
  readonly text: TextMark;
}
export interface ToolHole extends ToolBase {
  readonly kind: 'hole';
  readonly at: Point;
  readonly diameter: number;
}
/** A notch that the machine wants as a bare point. */
export interface ToolPoint extends ToolBase {
  readonly kind: 'point';
  readonly at: Point;
  readonly inward: Point;
}

export interface ToolStrokes {
  /** In the order in which the machine works: by purpose, then as the frame has them, a piece's cutouts before its outline. */
  readonly strokes: readonly ToolStroke[];
  readonly findings: readonly Finding[];
}

/** Ends this near are one end, mm. */
const HAIR = 0.1;
/** Purposes whose loose lines are joined: arrows and other marks stay the strokes they are. */
const JOINED: readonly Purpose[] = ['cut', 'seam', 'crease'];

/**
 * What the machine's tools are to do on one frame: notches in the machine's style, each mark with its pen, what has
 * no pen left out (`leftOut` tells of it), loose lines joined.
 */
export const toolStrokes = (frame: Frame, machine: Machine): ToolStrokes => {
  const lookOf = (mark: SheetMark): Stroke | undefined => machine.strokes[toolPurpose(mark, machine)];
  const findings: Finding[] = [];
  const marks = frame.marks.filter((m) => lookOf(m) !== undefined);
  const notches = marks.filter((m): m is NotchMark => m.kind === 'notch');
  const paths = withoutFragments(
    marks.filter((m): m is PathMark => m.kind === 'path'),
    frame,
    findings,
  );
  const joined = joinNotches(paths, notches, machine.notch);
  if (joined.beside.length > 0) findings.push(notchBeside(joined.beside, frame));
  findings.push(...openCuts(joined.paths, frame));
  const own = notches.filter((n) => !joined.taken.has(n));
  const rest = marks.filter((m) => m.kind !== 'path' && m.kind !== 'notch');
  const all = [...joined.paths, ...rest, ...own].map((mark) => ({ mark, purpose: toolPurpose(mark, machine) }));
  const strokes = PURPOSES.flatMap((purpose) => all.filter((m) => m.purpose === purpose).map(({ mark }) => mark));
  return {
    strokes: cutoutsFirst(strokes).flatMap((mark) =>
      strokesOf(mark, toolPurpose(mark, machine), lookOf(mark) as Stroke, machine, own),
    ),
    findings,
  };
};

/** A notch on the seam line is not for the blade: where there is one, it goes with the seam line. */
const toolPurpose = (mark: SheetMark, machine: Machine): Purpose => {
  const cuts = machine.kind === 'knife' || machine.kind === 'laser';
  return mark.kind === 'notch' && mark.on === 'seam' && cuts ? 'seam' : mark.purpose;
};

const strokesOf = (
  mark: SheetMark,
  purpose: Purpose,
  look: Stroke,
  machine: Machine,
  notches: readonly NotchMark[],
): ToolStroke[] => {
  const base: ToolBase = { purpose, look, ...(mark.piece === undefined ? {} : { piece: mark.piece }) };
  switch (mark.kind) {
    case 'path':
      return [{ ...base, kind: 'line', path: mark.path, keep: notchesOn(mark, notches) }];
    case 'text':
      return [{ ...base, kind: 'text', text: mark }];
    case 'drill':
      return [holeOf(mark, base)];
    case 'notch':
      if (notchShape(mark, machine.notch) === 'points')
        return [{ ...base, kind: 'point', at: mark.at, inward: mark.inward }];
      return notchStrokes(mark, machine.notch).map((path) => ({ ...base, kind: 'line', path, keep: [] }));
  }
};

const holeOf = (mark: DrillMark, base: ToolBase): ToolHole => ({
  ...base,
  kind: 'hole',
  at: mark.at,
  diameter: mark.diameter,
});

const notchesOn = (mark: PathMark, notches: readonly NotchMark[]): Point[] =>
  mark.purpose === 'cut' || mark.purpose === 'seam'
    ? notches.filter((n) => n.piece === mark.piece && n.on === mark.purpose).map((n) => n.at)
    : [];

/** Cutouts of a piece before the outline about them: afterwards the piece lies loose. */
const cutoutsFirst = (marks: readonly SheetMark[]): SheetMark[] => {
  const isCut = (m: SheetMark): m is PathMark => m.kind === 'path' && m.purpose === 'cut';
  const done = new Set<SheetMark>();
  return marks.flatMap((m) => {
    if (done.has(m)) return [];
    if (!isCut(m) || m.inner) return [m];
    const before = marks.filter((o) => isCut(o) && o.inner && o.piece === m.piece && !done.has(o));
    const later = before.filter((o) => marks.indexOf(o) > marks.indexOf(m));
    for (const o of later) done.add(o);
    return [...later, m];
  });
};

/** Open lines of one purpose and piece whose ends meet become one line, in the place of the first. */
const withoutFragments = (paths: readonly PathMark[], frame: Frame, findings: Finding[]): PathMark[] => {
  const groups = new Map<string, PathMark[]>();
  for (const m of paths) {
    if (m.path.closed || !JOINED.includes(m.purpose)) continue;
    const group = JSON.stringify([m.purpose, m.piece ?? '', m.inner]);
    groups.set(group, [...(groups.get(group) ?? []), m]);
  }
  const instead = new Map<PathMark, PathMark | undefined>();
  for (const group of groups.values()) {
    const chains = chain(
      group.map((m) => ({ key: m, segments: m.path.segments })),
      HAIR,
    );
    for (const c of chains) {
      const first = c.links[0];
      if (!first || (c.links.length === 1 && !c.closed)) continue;
      for (const { key } of c.links) instead.set(key, undefined);
      const parts = c.links.map((l) =>
        l.reversed ? [...l.key.path.segments].reverse().map(reversed) : [...l.key.path.segments],
      );
      instead.set(first.key, { ...first.key, path: endToEnd(parts, c.closed) });
      const widest = Math.max(0, ...c.gaps.map((g) => g.size));
      if (c.links.length > 1 || widest > 0) findings.push(linesJoined(first.key, c.links.length, widest, frame));
    }
  }
  return paths.flatMap((m) => (instead.has(m) ? (instead.get(m) ?? []) : [m]));
};

const endToEnd = (parts: readonly (readonly Segment[])[], closed: boolean): Path => {
  const segments: Segment[] = [];
  const bridge = (to: Point): void => {
    const from = segments[segments.length - 1]?.to;
    if (from && (from.x !== to.x || from.y !== to.y)) segments.push(line(from, to));
  };
  for (const own of parts) {
    if (own[0]) bridge(own[0].from);
    segments.push(...own);
  }
  if (closed && segments[0]) bridge(segments[0].from);
  return { segments, closed };
};

const openCuts = (paths: readonly PathMark[], frame: Frame): Finding[] =>
  paths
    .filter((m) => m.purpose === 'cut' && !m.path.closed)
    .map((m) => {
      const from = m.path.segments[0]?.from as Point;
      const to = m.path.segments[m.path.segments.length - 1]?.to as Point;
      return {
        code: 'tool-cut-open',
        level: 'warning',
        where: whereOf(m.piece),
        message: `A line to be cut on ${frame.title} is open: its ends are ${distance(from, to).toFixed(2)} mm apart, at (${from.x.toFixed(1)}, ${from.y.toFixed(1)}) and (${to.x.toFixed(1)}, ${to.y.toFixed(1)}) mm.`,
        try: 'Close the outline in the drawing, unless a slit is meant here.',
      };
    });

const whereOf = (piece: string | undefined): { piece?: string } => (piece === undefined ? {} : { piece });

const linesJoined = (mark: PathMark, count: number, widest: number, frame: Frame): Finding => ({
  code: 'tool-lines-joined',
  level: 'note',
  where: whereOf(mark.piece),
  message: `${count} lines (${mark.purpose}) on ${frame.title} meet and are one line for the machine; the widest gap closed is ${widest.toFixed(3)} mm.`,
  try: 'Nothing needs doing, unless they should not meet.',
});

const notchBeside = (notches: readonly NotchMark[], frame: Frame): Finding => ({
  code: 'tool-notch-beside',
  level: 'note',
  where: whereOf(notches[0]?.piece),
  message: `${notches.length} notches on ${frame.title} stand at a corner, at the start of the cut or too near one another to be taken into the outline; they are strokes of their own.`,
  try: 'Nothing needs doing; a notch further from the corner could be part of the outline.',
});

/** What the machine has no pen or tool for, on all frames together. */
export const leftOut = (frames: readonly Frame[], machine: Machine): Finding[] => {
  const counts = new Map<Purpose, number>();
  for (const mark of frames.flatMap((f) => f.marks)) {
    const purpose = toolPurpose(mark, machine);
    if (!machine.strokes[purpose]) counts.set(purpose, (counts.get(purpose) ?? 0) + 1);
  }
  const told = (purposes: readonly Purpose[]): string =>
    purposes.map((p) => `${p} (${counts.get(p) === 1 ? '1 mark' : `${counts.get(p)} marks`})`).join(', ');
  const others = PURPOSES.filter((p) => p !== 'cut' && counts.has(p));
  const findings: Finding[] = [];
  if (counts.has('cut'))
    findings.push({ code: 'tool-cut-left-out', level: 'error', ...noTool(machine, told(['cut'])) });
  if (others.length > 0)
    findings.push({ code: 'tool-purpose-left-out', level: 'note', ...noTool(machine, told(others)) });
  return findings;
};

const noTool = ({ title }: Machine, what: string): Pick<Finding, 'where' | 'message' | 'try'> => ({
  where: {},
  message: `${title}: no pen or tool for ${what}; left out.`,
  try: 'Choose a machine that works these, or give the machine’s own row a line for them.',
});
