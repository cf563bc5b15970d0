import type { Finding } from '../finding.ts';
import type { Drawing } from '../formats/drawing.ts';
import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';
import type { EdgeRole } from '../pattern/piece.ts';
import type { Shape, Stretch } from './shape.ts';
import { distanceToStretchOf } from './shape.ts';
import { CORNER_REACH, pointOfPlace } from './sheet/places.ts';
import type { FilePlace, PatternSheet, SheetEdge, SheetPiece } from './sheet/types.ts';
import type { Trace } from './trace.ts';
import { isInside } from './trace.ts';
import { normalise } from './vocabulary.ts';

/** The entry of the pattern sheet for a piece: by its id, its printed name, or a place inside it. */
export const sheetPieceFor = (
  sheet: PatternSheet | undefined,
  drawing: Drawing,
  piece: { readonly id: string; readonly name: string; readonly polygon: readonly Point[] },
): SheetPiece | undefined =>
  sheet?.pieces.find((p) => normalise(p.key) === normalise(piece.id)) ??
  sheet?.pieces.find((p) => piece.name !== '' && normalise(p.key) === normalise(piece.name)) ??
  sheet?.pieces.find((p) => p.at !== undefined && isInside(piece.polygon, pointOfPlace(drawing, p.at)));

export const placeOf = (drawing: Drawing, place: FilePlace): Point => pointOfPlace(drawing, place);

/** The joint of the outline nearest to a stated corner, within `reach` mm. */
const jointNear = (t: Trace, p: Point, reach: number): number | undefined => {
  let best: { joint: number; away: number } | undefined;
  t.segments.forEach((s: Segment, joint) => {
    const away = distance(s.from, p);
    if (away <= reach && (!best || away < best.away)) best = { joint, away };
  });
  return best?.joint;
};

/** Joints of the outline that the pattern sheet names as corners. `reach`: mm, wider where the sheet names another line's corners. */
export const statedCorners = (
  t: Trace,
  edges: readonly SheetEdge[],
  drawing: Drawing,
  reach = CORNER_REACH,
): number[] =>
  edges.flatMap((e) => [e.from, e.to].flatMap((place) => jointNear(t, pointOfPlace(drawing, place), reach) ?? []));

export interface StatedEdge {
  readonly role: EdgeRole;
  readonly id?: string;
  readonly stretches: readonly number[];
}

/** The stretches of the shape that a stated edge covers: between its corners, the shorter way or the way through its place. */
export const statedEdge = (
  shape: Shape,
  edge: SheetEdge,
  drawing: Drawing,
  reach = CORNER_REACH,
): StatedEdge | undefined => {
  const from = cornerNear(shape, pointOfPlace(drawing, edge.from), reach);
  const to = cornerNear(shape, pointOfPlace(drawing, edge.to), reach);
  if (from === undefined || to === undefined) return undefined;
  const ways = from === to ? [ring(shape, from, from)] : [ring(shape, from, to), ring(shape, to, from)];
  const through = edge.through === undefined ? undefined : pointOfPlace(drawing, edge.through);
  const cost = (way: readonly number[]): number =>
    through
      ? Math.min(...way.map((i) => distanceToStretchOf(shape.stretches[i] as Stretch, through)))
      : way.reduce((sum, i) => sum + (shape.stretches[i] as Stretch).length, 0);
  const best = ways.sort((a, b) => cost(a) - cost(b))[0];
  return best ? { role: edge.role, ...(edge.id === undefined ? {} : { id: edge.id }), stretches: best } : undefined;
};

const ring = (shape: Shape, from: number, to: number): number[] => {
  const n = shape.stretches.length;
  const way = [from];
  for (let i = (from + 1) % n; i !== to; i = (i + 1) % n) way.push(i);
  return way;
};

/** The stretch that starts at the corner nearest to p. */
const cornerNear = (shape: Shape, p: Point, reach: number): number | undefined => {
  let best: { stretch: number; away: number } | undefined;
  shape.stretches.forEach((s, stretch) => {
    const away = distance(s.start, p);
    if (away <= reach && (!best || away < best.away)) best = { stretch, away };
  });
  return best?.stretch;
};

export const placeMissing = (
  sheet: PatternSheet,
  piece: string,
  what: string,
  place: FilePlace,
  line: number,
): Finding => ({
  code: 'recognise-sheet-place-missing',
  level: 'error',
  where: { file: sheet.fileName, line, piece },
  message: `The pattern sheet names ${what} of ${piece} at [${place.x}, ${place.y}], but the drawing has none within 5 mm of it.`,
  try: 'Take the place from `retrue survey`, which prints the corners in the units of the file.',
});
