import type { Finding } from '../finding.ts';
import type { Drawing, PathDrawable } from '../formats/drawing.ts';
import type { Bounds } from '../geometry/bounds.ts';
import { EMPTY_BOUNDS, heightOfBounds, unionBounds, widthOf } from '../geometry/bounds.ts';
import type { Path } from '../geometry/path.ts';
import { pathBounds, pathLength } from '../geometry/path.ts';
import type { Segment } from '../geometry/segment.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Outline, Piece, Span } from '../pattern/piece.ts';
import type { Expected, Match } from './follow.ts';
import { matchPath } from './follow.ts';
import type { Stretch, Tracing } from './redraw.ts';
import { drawablesOf, tracings } from './redraw.ts';

/** The altered pattern with every drawn line replaced by what the written file says of it. */
export interface ReadBack {
  readonly pattern: Pattern;
  /** Largest distance between a point as altered and as written, mm. */
  readonly deviation: number;
  readonly findings: readonly Finding[];
}

/** A written line may lie this far from the altered one, mm: biarcs within 0.02 and the file's decimals. */
export const WRITTEN_TOLERANCE = 0.1;
/**
 * Measures what was written instead of what was meant: takes the lines of the altered pattern from the drawing that
 * was read again from the written bytes. A line that cannot be found there, or lies elsewhere, is an error.
 *
 * Lines that no entity draws (a seam line derived from the cutting line) stay as they were altered.
 */
export const readBack = (after: Pattern, drawing: Drawing, written: Drawing): ReadBack => {
  const drawn = drawablesOf(drawing);
  const paths = writtenPaths(written);
  const replaced = new Map<Span, readonly Segment[]>();
  const findings: Finding[] = [];
  let deviation = 0;
  for (const [id, traced] of tracings(after)) {
    const drawable = drawn.get(id);
    if (drawable?.kind !== 'path') continue;
    for (const tracing of traced) {
      const expected = wholeStretches(drawable.path, tracing);
      // A tuck has folded all of it out: the file has it no more.
      if (expected.length === 0 && !paths.byId.has(id)) continue;
      const match = findIn(paths, drawable, expected);
      if (!match) findings.push(notFound(written, drawable, tracing));
      else {
        deviation = Math.max(deviation, match.deviation);
        for (const [span, segments] of match.spans) replaced.set(span, segments);
      }
    }
  }
  findings.push(...differing(written.fileName, deviation));
  return { pattern: { ...after, pieces: after.pieces.map((p) => withSpans(p, replaced)) }, deviation, findings };
};

const wholeStretches = (path: Path, tracing: Tracing): Expected[] => {
  const traced = new Map<number, Stretch[]>();
  for (const s of tracing.stretches) {
    const beside = traced.get(s.index);
    if (beside) beside.push(s);
    else traced.set(s.index, [s]);
  }
  return path.segments.flatMap((own, i): Expected[] => traced.get(i) ?? [{ segments: [own] }]).filter(hasSegments);
};
const hasSegments = (e: Expected): boolean => e.segments.length > 0;

/** Path drawables of the written file, to be found by id first, else among those of the same layer. */
interface Written {
  readonly byId: ReadonlyMap<string, PathDrawable>;
  readonly byLayer: ReadonlyMap<string, readonly PathDrawable[]>;
}

const writtenPaths = (written: Drawing): Written => {
  const paths = written.drawables.filter((d): d is PathDrawable => d.kind === 'path');
  const byLayer = new Map<string, PathDrawable[]>();
  for (const d of paths) {
    const layer = byLayer.get(d.layer);
    if (layer) layer.push(d);
    else byLayer.set(d.layer, [d]);
  }
  return { byId: new Map(paths.map((d) => [d.id, d])), byLayer };
};

const findIn = (written: Written, drawable: PathDrawable, expected: readonly Expected[]): Match | undefined => {
  const named = written.byId.get(drawable.id);
  const match = named && matchPath(expected, named.path);
  if (match) return match;
  for (const other of written.byLayer.get(drawable.layer) ?? []) {
    const found = matchPath(expected, other.path);
    if (found) return found;
  }
  return undefined;
};

const withSpans = (piece: Piece, replaced: ReadonlyMap<Span, readonly Segment[]>): Piece => {
  const span = (s: Span): Span => {
    const segments = replaced.get(s);
    return segments ? { ...s, segments } : s;
  };
  const outline = (o: Outline): Outline => ({ ...o, spans: o.spans.map(span) });
  return {
    ...piece,
    seamLine: outline(piece.seamLine),
    ...(piece.cuttingLine ? { cuttingLine: outline(piece.cuttingLine) } : {}),
    lines: piece.lines.map((l) => ({ ...l, spans: l.spans.map(span) })),
  };
};

const notFound = (written: Drawing, drawable: PathDrawable, tracing: Tracing): Finding => ({
  code: 'job-written-line-missing',
  level: 'error',
  where: { file: written.fileName, line: drawable.line, entity: drawable.entity, piece: tracing.piece },
  message: `The ${tracing.line} of ${tracing.piece} was not found again, as it was altered, in the file that was made.`,
  try: 'Do not cut from this file. Alter the pattern in the other format (--to), and report the pattern that does this.',
});

/** The finding that a written file is not what was altered, when it is off by more than the tolerance. */
export const differing = (file: string, deviation: number): Finding[] => {
  if (deviation <= WRITTEN_TOLERANCE) return [];
  return [
    {
      code: 'job-written-differs',
      level: 'error',
      where: { file },
      message: `A line in the file that was made lies ${deviation.toFixed(3)} mm from where it should.`,
      try: 'A file of whole numbers cannot hold small changes: save the pattern with decimals and alter it again.',
    },
  ];
};

/** Shorter lines are marks, mm: a point of one format may have to be drawn as a little circle in the other. */
const LONGEST_MARK = 10;

/**
 * How much a drawing written whole in another format differs in size from the one it was made from, mm: the larger
 * of width and height, so that it may lie elsewhere on its page. Marks do not count.
 */
export const sizeDifference = (meant: Drawing, made: Drawing): number => {
  const [a, b] = [meant, made].map(boundsOfLines) as [Bounds, Bounds];
  return Math.max(Math.abs(widthOf(a) - widthOf(b)), Math.abs(heightOfBounds(a) - heightOfBounds(b)));
};

const boundsOfLines = (drawing: Drawing): Bounds =>
  drawing.drawables
    .filter((d): d is PathDrawable => d.kind === 'path' && pathLength(d.path) > LONGEST_MARK)
    .reduce((all, d) => unionBounds(all, pathBounds(d.path)), EMPTY_BOUNDS);
