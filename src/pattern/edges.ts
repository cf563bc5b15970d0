import { Bug } from '../finding.ts';
import { nearestOnPath } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';
import { lengthOf } from '../geometry/segment.ts';
import type { Edge, EdgeRole, Outline, Piece } from './piece.ts';

type Seamed = Pick<Piece, 'seamLine' | 'darts'>;

/** Indexes first..last inclusive of a ring of `count`, going round past the end when last < first. */
export const ringRange = (first: number, last: number, count: number): number[] => {
  if (count <= 0 || first < 0 || last < 0 || first >= count || last >= count) {
    throw new Bug(`range ${first}..${last} does not lie on a ring of ${count}`);
  }
  const end = first + ((last - first + count) % count);
  const ring: number[] = [];
  for (let i = first; i <= end; i++) ring.push(i % count);
  return ring;
};

/** Span indexes of an edge on the seam line, anticlockwise, dart legs included. */
export const edgeSpans = (piece: Pick<Piece, 'seamLine'>, edge: Pick<Edge, 'first' | 'last'>): number[] =>
  ringRange(edge.first, edge.last, piece.seamLine.spans.length);

/** Span indexes of the legs of darts that are drawn in the outline and open the given edge. */
export const dartSpans = (piece: Seamed, edgeId: string): Set<number> => {
  const spans = new Set<number>();
  for (const dart of piece.darts) {
    if (dart.edge !== edgeId || dart.drawn.as !== 'outline') continue;
    for (const i of ringRange(dart.drawn.first, dart.drawn.last, piece.seamLine.spans.length)) spans.add(i);
  }
  return spans;
};

/** All segments of an outline in its direction. */
export const outlineSegments = (outline: Outline): Segment[] => outline.spans.flatMap((s) => [...s.segments]);

/** The edge in outline direction with the legs of darts in the outline left out: one run more than there are such darts. */
export const edgeRuns = (piece: Seamed, edge: Pick<Edge, 'id' | 'first' | 'last'>): Segment[][] => {
  const legs = dartSpans(piece, edge.id);
  const runs: Segment[][] = [];
  let open = false;
  for (const i of edgeSpans(piece, edge)) {
    if (legs.has(i)) {
      open = false;
      continue;
    }
    if (!open) runs.push([]);
    open = true;
    runs[runs.length - 1]?.push(...(piece.seamLine.spans[i]?.segments ?? []));
  }
  return runs.filter((run) => run.length > 0);
};

/** The edge's segments in outline direction, without dart legs. */
export const edgeSegments = (piece: Seamed, edge: Pick<Edge, 'id' | 'first' | 'last'>): Segment[] =>
  edgeRuns(piece, edge).flat();

/**
 * Length of the edge as it is sewn, mm: darts closed. Legs of darts in the outline are left out; of darts drawn as
 * inner lines what lies across the mouth is taken off.
 */
export const edgeLength = (piece: Seamed, edge: Pick<Edge, 'id' | 'first' | 'last'>): number =>
  edgeSegments(piece, edge).reduce((sum, s) => sum + lengthOf(s), 0) - lineDartMouths(piece, edge);

/** What the seam line measures across the mouths of darts drawn as inner lines on this edge, caps and all, mm. */
const lineDartMouths = (piece: Seamed, edge: Pick<Edge, 'id' | 'first' | 'last'>): number => {
  const darts = piece.darts.filter((d) => d.edge === edge.id && d.drawn.as === 'lines');
  if (darts.length === 0) return 0;
  const path = { segments: edgeSegments(piece, edge), closed: false };
  const along = (p: Point): number => nearestOnPath(path, p)?.along ?? 0;
  return darts.reduce((sum, d) => sum + Math.abs(along(d.mouth[1]) - along(d.mouth[0])), 0);
};

export const edgeWithRole = (piece: Pick<Piece, 'edges'>, role: EdgeRole): readonly Edge[] =>
  piece.edges.filter((e) => e.role === role);

/** Seams that run down the body and can be let out or taken in: side seams, seams of gores and of panels. */
export const isSeamDown = (role: EdgeRole): boolean => role === 'side' || role === 'gore seam' || role === 'panel seam';

/** The garment's centre, whether it lies on the fold or is a seam. */
export const isCentre = (role: EdgeRole): boolean => role === 'fold' || role === 'centre';

/** What stands at the garment's centre above the hip: the centre, and of trousers the crotch seam. */
export const isCentreAtWaist = (role: EdgeRole): boolean => isCentre(role) || role === 'crotch';

export const edgeCalled = (piece: Pick<Piece, 'edges'>, id: string): Edge | undefined =>
  piece.edges.find((e) => e.id === id);
