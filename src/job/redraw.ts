import type { Finding } from '../finding.ts';
import { Bug } from '../finding.ts';
import type { Addition, Drawable, Drawing, DrawingChanges, PathChange, PlaceChange } from '../formats/drawing.ts';
import type { Point } from '../geometry/point.ts';
import { same } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';
import { reversed } from '../geometry/segment.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { InnerLine, InnerLineKind, Piece, Span } from '../pattern/piece.ts';

/** One span of a line on the paper, turned into the direction in which the source draws it. */
export interface Stretch {
  /** Index of the source segment in its drawable. */
  readonly index: number;
  readonly span: Span;
  /** In the drawable's own direction. */
  readonly segments: readonly Segment[];
}

/** What one line on one piece says of one drawable: its stretches in the drawable's order. */
export interface Tracing {
  readonly piece: string;
  /** What the line is to a reader: 'seam line', 'drill hole'. */
  readonly line: string;
  readonly stretches: readonly Stretch[];
}

/** Marks that an alteration drew anew carry the id `new:<n>:<id of the drawable whose layer and style they take>`. */
const NEW_MARK = /^new:[^:]*:(.+)$/s;

/** The drawable a new mark is drawn like, or undefined for a mark that was there before. */
export const drawnLike = (id: string): string | undefined =>
  id.startsWith('new:') ? NEW_MARK.exec(id)?.[1] : undefined;

/**
 * Puts an altered pattern back into the lines of its drawing: which segment of which drawable became what.
 * Whatever did not move is the drawing's own segment object again, so that a format can leave its text alone.
 *
 * @throws Bug when a line or mark of `before` that belongs to no closed dart is missing in `after`, or a span names a drawable that is not there.
 */
export const changesBetween = (drawing: Drawing, before: Pattern, after: Pattern): DrawingChanges => {
  const drawables = drawablesOf(drawing);
  const was = tracings(before);
  const is = tracings(after);
  const closed = withClosedDarts(before, after);
  const lost = [...was.keys()].find((id) => !is.has(id) && !closed.has(id));
  if (lost !== undefined) throw new Bug(`the line ${lost} got lost while altering`);
  const paths = new Map<string, PathChange>();
  const removals = new Set(closed);
  for (const [id, traced] of is) {
    const change = pathChange(drawableCalled(drawables, id), was.get(id) ?? [], traced);
    if (change === 'vanished') {
      if (!goesOnWithout(is, id, traced)) {
        throw new Bug(`the ${traced[0]?.line} of ${traced[0]?.piece} (${id}) vanished while altering`);
      }
      removals.add(id);
    } else if (change) paths.set(id, change);
  }
  return {
    paths,
    ...placeChanges(before, after, closed),
    additions: after.pieces.flatMap(additionsOf),
    ...(removals.size > 0 ? { removals } : {}),
  };
};

/** Whether an outline is drawn in several parts and goes on without this one: the stretch across a dart that was closed. */
const goesOnWithout = (all: ReadonlyMap<string, readonly Tracing[]>, id: string, gone: readonly Tracing[]): boolean =>
  gone.every((line) =>
    [...all].some(
      ([other, traced]) => other !== id && traced.some((t) => t.piece === line.piece && t.line === line.line),
    ),
  );

/** Legs and drill holes of darts that were closed for good: they are taken out of the drawing. */
const withClosedDarts = (before: Pattern, after: Pattern): ReadonlySet<string> =>
  new Set(
    before.pieces.flatMap((piece) => {
      const now = after.pieces.find((p) => p.id === piece.id);
      if (!now || piece.darts.every((d) => now.darts.some((n) => n.id === d.id))) return [];
      const kept = new Set([...now.lines, ...now.points].map((m) => m.id));
      const drawn = [
        ...piece.lines.filter((l) => l.kind === 'dart' || l.kind === 'drill'),
        ...piece.points.filter((p) => p.kind === 'drill'),
      ];
      return drawn.filter((m) => !kept.has(m.id)).map((m) => m.id);
    }),
  );

/**
 * Lines that two pieces, or two outlines of a piece, share although they have been altered differently. The file has
 * one line there and can show only one of them.
 */
export const contestedLines = (drawing: Drawing, after: Pattern): Finding[] => {
  const drawables = drawablesOf(drawing);
  const findings: Finding[] = [];
  for (const [id, traced] of tracings(after)) {
    if (traced.length < 2 || agree(traced)) continue;
    const drawable = drawableCalled(drawables, id);
    const owners = [...new Set(traced.map((t) => `${t.piece} (${t.line})`))].join(' and ');
    findings.push({
      code: 'job-line-shared',
      level: 'error',
      where: { file: drawing.fileName, line: drawable.line, entity: drawable.entity },
      message: `One line of the file is drawn for ${owners}, and they are altered differently.`,
      try: 'Draw the line twice in the file, once for each, so that each can be altered.',
    });
  }
  return findings;
};

const listed = new WeakMap<Drawing, ReadonlyMap<string, Drawable>>();

/** The drawables of a drawing by their ids; a drawing that is altered for many is listed once. */
export const drawablesOf = (drawing: Drawing): ReadonlyMap<string, Drawable> => {
  const known = listed.get(drawing) ?? new Map(drawing.drawables.map((d) => [d.id, d]));
  listed.set(drawing, known);
  return known;
};

const traced = new WeakMap<Pattern, ReadonlyMap<string, readonly Tracing[]>>();

/** Every line of the pattern by the drawable that draws it. Looked up once for each pattern. */
export const tracings = (pattern: Pattern): ReadonlyMap<string, readonly Tracing[]> => {
  const known = traced.get(pattern) ?? linesByDrawable(pattern);
  traced.set(pattern, known);
  return known;
};

const linesByDrawable = (pattern: Pattern): Map<string, Tracing[]> => {
  const found = new Map<string, Tracing[]>();
  for (const piece of pattern.pieces) {
    for (const [line, spans] of linesOf(piece)) {
      for (const [drawable, stretches] of stretchesOf(spans)) {
        const list = found.get(drawable) ?? [];
        list.push({ piece: piece.id, line, stretches });
        found.set(drawable, list);
      }
    }
  }
  return found;
};

const linesOf = (piece: Piece): [string, readonly Span[]][] => [
  ['seam line', piece.seamLine.spans],
  ...(piece.cuttingLine ? ([['cutting line', piece.cuttingLine.spans]] as [string, readonly Span[]][]) : []),
  ...piece.lines
    .filter((l) => !drawnLike(l.id))
    .map((l): [string, readonly Span[]] => [LINE_NAMES[l.kind] ?? `${l.kind} line`, l.spans]),
];
const LINE_NAMES: Partial<Record<InnerLineKind, string>> = {
  grain: 'grainline',
  'fold mark': 'fold mark',
  notch: 'notch',
  drill: 'drill hole',
  cutout: 'cutout',
  tuck: 'tuck',
  internal: 'inner line',
};

/** Spans of one line grouped by drawable, in the drawable's direction and order. */
const stretchesOf = (spans: readonly Span[]): Map<string, Stretch[]> => {
  const found = new Map<string, Stretch[]>();
  for (const span of spans) {
    if (!span.source) continue;
    const { drawable, index, reversed: against } = span.source;
    const segments = against ? span.segments.toReversed().map(reversed) : span.segments;
    const list = found.get(drawable) ?? [];
    // Several spans of one source segment follow each other in the line's direction, so a line that runs against
    // the drawable meets them last first.
    if (against) list.unshift({ index, span, segments });
    else list.push({ index, span, segments });
    found.set(drawable, list);
  }
  for (const list of found.values()) list.sort((a, b) => a.index - b.index);
  return found;
};

const pathChange = (
  drawable: Drawable,
  was: readonly Tracing[],
  is: readonly Tracing[],
): PathChange | 'vanished' | undefined => {
  if (drawable.kind !== 'path') throw new Bug(`${drawable.id} is drawn as a line but is a ${drawable.kind}`);
  const source = drawable.path.segments;
  const known = new Set(was.flatMap((t) => t.stretches.map((s) => s.index)));
  const traced = byIndex(is);
  const segments = source.map((own, index): readonly Segment[] => {
    const stretches = traced.get(index);
    if (!stretches) return known.has(index) ? [] : [own];
    const now = stretches.flatMap((s) => s.segments);
    return now.length === 1 && now[0] && sameSegment(now[0], own) ? [own] : now;
  });
  if (segments.every((now) => now.length === 0)) return 'vanished';
  const moved = segments.some((now, i) => now.length !== 1 || now[0] !== source[i]);
  return moved ? { segments } : undefined;
};

/** The stretches of each source index, from the first line that has any: others that draw it too must agree. */
const byIndex = (traced: readonly Tracing[]): Map<number, Stretch[]> => {
  const found = new Map<number, Stretch[]>();
  for (const tracing of traced) {
    const own = groupByIndex(tracing.stretches);
    for (const [index, stretches] of own) if (!found.has(index)) found.set(index, stretches);
  }
  return found;
};

const agree = (traced: readonly Tracing[]): boolean => {
  const first = new Map<number, readonly Segment[]>();
  for (const tracing of traced) {
    for (const [index, stretches] of groupByIndex(tracing.stretches)) {
      const segments = stretches.flatMap((s) => s.segments);
      const other = first.get(index);
      if (!other) first.set(index, segments);
      else if (other.length !== segments.length || !other.every((s, i) => sameSegment(s, segments[i] as Segment))) {
        return false;
      }
    }
  }
  return true;
};

const groupByIndex = (stretches: readonly Stretch[]): Map<number, Stretch[]> => {
  const groups = new Map<number, Stretch[]>();
  for (const stretch of stretches) {
    const group = groups.get(stretch.index);
    if (group) group.push(stretch);
    else groups.set(stretch.index, [stretch]);
  }
  return groups;
};

/** Whether two segments are the same to the last bit. */
export const sameSegment = (a: Segment, b: Segment): boolean => {
  if (a === b) return true;
  if (!same(a.from, b.from) || !same(a.to, b.to)) return false;
  if (a.kind === 'line') return b.kind === 'line';
  if (a.kind === 'arc') return b.kind === 'arc' && same(a.centre, b.centre) && a.sweep === b.sweep;
  return b.kind === 'cubic' && same(a.control1, b.control1) && same(a.control2, b.control2);
};

interface Placed {
  readonly id: string;
  readonly at: Point;
  readonly angle?: number;
}

const placeChanges = (
  before: Pattern,
  after: Pattern,
  closed: ReadonlySet<string>,
): Pick<DrawingChanges, 'texts' | 'points'> => ({
  texts: movedPlaces(
    before.pieces.flatMap((p) => p.texts),
    after.pieces.flatMap((p) => p.texts),
  ),
  points: movedPlaces(
    before.pieces.flatMap((p) => p.points).filter((p) => !closed.has(p.id)),
    after.pieces.flatMap((p) => p.points),
  ),
});

const movedPlaces = (was: readonly Placed[], is: readonly Placed[]): Map<string, PlaceChange> => {
  const now = new Map(is.map((p) => [p.id, p]));
  const changes = new Map<string, PlaceChange>();
  for (const old of was) {
    const place = now.get(old.id);
    if (!place) throw new Bug(`the mark ${old.id} got lost while altering`);
    const turned = place.angle !== undefined && place.angle !== old.angle;
    if (same(place.at, old.at) && !turned) continue;
    changes.set(old.id, turned && place.angle !== undefined ? { at: place.at, angle: place.angle } : { at: place.at });
  }
  return changes;
};

const additionsOf = (piece: Piece): Addition[] => [
  ...piece.lines.flatMap(addedLine),
  ...piece.points.flatMap((p): Addition[] => {
    const like = drawnLike(p.id);
    return like === undefined ? [] : [{ kind: 'point', like, at: p.at }];
  }),
  ...piece.texts.flatMap((t): Addition[] => {
    const like = drawnLike(t.id);
    if (like === undefined) return [];
    return [{ kind: 'text', like, text: t.text, at: t.at, angle: t.angle, height: t.height }];
  }),
];

const addedLine = (line: InnerLine): Addition[] => {
  const like = drawnLike(line.id);
  const segments = line.spans.flatMap((s) => s.segments);
  if (like === undefined || segments.length === 0) return [];
  return [{ kind: 'path', like, path: { segments, closed: line.closed } }];
};

const drawableCalled = (drawables: ReadonlyMap<string, Drawable>, id: string): Drawable => {
  const drawable = drawables.get(id);
  if (!drawable) throw new Bug(`the pattern names the drawable ${id}, which is not in the drawing`);
  return drawable;
};
