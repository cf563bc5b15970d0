import { fitBiarcs } from '../../../geometry/biarc.ts';
import { flatten } from '../../../geometry/flatten.ts';
import { distance, type Point } from '../../../geometry/point.ts';
import {
  type ArcSegment,
  arcToCubics,
  bulgeOf,
  type LineSegment,
  line,
  part,
  type Segment,
} from '../../../geometry/segment.ts';
import { whereOf } from '../tags.ts';
import { type PathShape, type PathTask, stretchBetween } from './shape.ts';

/** A vertex of a polyline and the tags that hold it. */
export interface Vertex {
  readonly at: Point;
  readonly bulge: number;
  readonly startWidth: number;
  readonly endWidth: number;
  /** First tag of the vertex, and past its last. */
  readonly first: number;
  readonly end: number;
  readonly x: number | undefined;
  readonly y: number | undefined;
  readonly bulgeTag: number | undefined;
}

/** What differs between the two kinds of polyline when vertices are written. */
export interface VertexWriting {
  /** A vertex that copies the style of `like` and is put after it. */
  insertAfter(like: Vertex, at: Point, bulge: number, places: number): void;
  addBulge(vertex: Vertex, bulge: number, places: number): void;
  remove(vertex: Vertex): void;
  /** False for polylines in space, which can have no arcs. */
  readonly arcs: boolean;
}

export const shapeOfVertices = (vertices: readonly Vertex[], closed: boolean): PathShape => {
  const stretches: Segment[][] = [];
  for (let i = 0; i < (closed ? vertices.length : vertices.length - 1); i++) {
    const from = vertices[i];
    const to = vertices[(i + 1) % vertices.length];
    if (from !== undefined && to !== undefined) stretches.push(stretchBetween(from.at, to.at, from.bulge));
  }
  const first = vertices[0];
  const last = closed ? vertices[0] : vertices.at(-1);
  const meets = first !== undefined && last !== undefined && stretches.length > 1 && distance(first.at, last.at) === 0;
  const tapers = (v: Vertex | undefined): number => (v === undefined ? 0 : v.endWidth - v.startWidth);
  return {
    kind: 'path',
    stretches,
    closed: closed || meets,
    width: Math.max(0, ...vertices.slice(0, 1).map((v) => Math.min(v.startWidth, v.endWidth))),
    arrowStart: !closed && tapers(vertices[0]) > 0 && vertices[0]?.startWidth === 0,
    arrowEnd: !closed && tapers(vertices.at(-2)) < 0 && vertices.at(-2)?.endWidth === 0,
  };
};

/** Tolerances of DESIGN: aimed at 0.005 mm with at most 8 arcs for each original, never worse than 0.02 mm. */
const AIM = 0.005;
const MOST_PIECES = 8;
const ALLOWED = 0.02;

type Piece = ArcSegment | LineSegment;
type FitTask = Pick<PathTask, 'fields' | 'scale' | 'context'>;

/** Segments as lines and arcs that bulges can hold. */
export const asPieces = (segments: readonly Segment[], task: FitTask, arcs: boolean): readonly Piece[] => {
  if (!arcs) return asLines(segments, task);
  const fitted = segments.some((s) => s.kind === 'cubic') ? fittedArcs(segments, task) : (segments as readonly Piece[]);
  return fitted.flatMap((s) => (s.kind === 'arc' && Math.abs(s.sweep) > 1.75 * Math.PI ? halves(s) : [s]));
};

const halves = (s: ArcSegment): Piece[] => [part(s, 0, 0.5) as ArcSegment, part(s, 0.5, 1) as ArcSegment];

const fittedArcs = (segments: readonly Segment[], task: FitTask): readonly Piece[] => {
  const first = fitBiarcs(segments, AIM / task.scale, MOST_PIECES);
  if (first.deviation * task.scale <= ALLOWED) return first.segments;
  const closer = fitBiarcs(segments, ALLOWED / task.scale);
  task.context.report(
    'dxf-many-arcs',
    'warning',
    whereOf(task.fields.tags, task.fields.entity.start),
    `A curve in a polyline needed ${closer.segments.length} arcs to stay within ${ALLOWED} mm; ${MOST_PIECES} are the custom.`,
    'Nothing needs doing; the line has more points than before.',
  );
  return closer.segments;
};

const asLines = (segments: readonly Segment[], task: FitTask): Piece[] => {
  const points = flatten(segments, ALLOWED / task.scale);
  return points.slice(1).map((p, i) => line(points[i] ?? p, p));
};

/**
 * Writes the changed stretches of a polyline. Unchanged vertices are not touched; a stretch that became several gets
 * vertices, one that vanished loses its own. Gives how many vertices there are more (or fewer) than before, or
 * 'gone' when nothing is left of the line.
 */
export const writeVertices = (
  vertices: readonly Vertex[],
  closed: boolean,
  task: PathTask,
  writing: VertexWriting,
): number | 'gone' => {
  const { shape, changed, pen } = task;
  const runs: (readonly Segment[])[] = shape.stretches.map((old, k) => {
    const now = changed[k];
    return now === undefined ? old : asPieces(now, task, writing.arcs);
  });
  if (runs.every((run) => run.length === 0)) return 'gone';
  let added = 0;
  for (const [k, vertex] of vertices.entries()) {
    const old = shape.stretches[k];
    const run = runs[k] ?? [];
    if (old !== undefined && old.length > 0 && run.length === 0) {
      writing.remove(vertex);
      added -= 1;
      continue;
    }
    const at = positionOf(runs, k, closed);
    if (vertex.x !== undefined) pen.setReal(vertex.x, at.x);
    if (vertex.y !== undefined) pen.setReal(vertex.y, at.y);
    if (old !== undefined && changed[k] !== undefined) writeBulge(vertex, run[0], task, writing);
    for (const piece of run.slice(1)) {
      writing.insertAfter(vertex, piece.from, bulgeFor(piece), bulgePlaces(piece, task.scale));
      added += 1;
    }
  }
  return added;
};

/** Where vertex k lies now: at the start of the first stretch from it on that has a length, or at the very end. */
const positionOf = (runs: readonly (readonly Segment[])[], k: number, closed: boolean): Point => {
  for (let i = k; i < runs.length; i++) {
    const first = runs[i]?.[0];
    if (first !== undefined) return first.from;
  }
  if (closed) for (const run of runs) if (run[0] !== undefined) return run[0].from;
  for (let i = runs.length - 1; i >= 0; i--) {
    const last = runs[i]?.at(-1);
    if (last !== undefined) return last.to;
  }
  return { x: 0, y: 0 };
};

const bulgeFor = (s: Segment | undefined): number => (s?.kind === 'arc' ? bulgeOf(s) : 0);

/** Decimals of a bulge that keep the top of the arc within 0.0002 mm: it rises by bulge times half the chord. */
const bulgePlaces = (s: Segment | undefined, scale: number): number =>
  s === undefined ? 6 : Math.max(6, Math.ceil(Math.log10((distance(s.from, s.to) * scale) / 2 / 0.0002)));

/** A bulge whose arc rises less than this far from the old one, mm, stays as it is written. */
const SAME_RISE = 1e-6;

const writeBulge = (vertex: Vertex, piece: Segment | undefined, task: PathTask, writing: VertexWriting): void => {
  const bulge = bulgeFor(piece);
  const chord = piece === undefined ? 0 : distance(piece.from, piece.to) * task.scale;
  if (Math.abs(bulge - vertex.bulge) * (chord / 2) <= SAME_RISE) return;
  const places = bulgePlaces(piece, task.scale);
  if (vertex.bulgeTag !== undefined) task.pen.setReal(vertex.bulgeTag, bulge, places);
  else if (bulge !== 0) writing.addBulge(vertex, bulge, places);
};

/** Cubics in place of any segments: what a spline can hold. Arcs within 1e-4 mm. */
export const asCubics = (segments: readonly Segment[], scale: number) =>
  segments.flatMap((s) => {
    if (s.kind === 'cubic') return [s];
    if (s.kind === 'arc') return arcToCubics(s, 1e-4 / scale);
    const third = (t: number): Point => ({
      x: s.from.x + (s.to.x - s.from.x) * t,
      y: s.from.y + (s.to.y - s.from.y) * t,
    });
    return [{ kind: 'cubic' as const, from: s.from, control1: third(1 / 3), control2: third(2 / 3), to: s.to }];
  });
