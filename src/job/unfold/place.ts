import type { Addition, Drawable, Drawing, PathChange, PlaceChange } from '../../formats/drawing.ts';
import { type Bounds, EMPTY_BOUNDS, overlap, unionBounds } from '../../geometry/bounds.ts';
import { add, ORIGIN, type Point } from '../../geometry/point.ts';
import { boundsOf, type Segment } from '../../geometry/segment.ts';
import { transformPath, transformSegment, translation } from '../../geometry/transform.ts';
import type { Piece } from '../../pattern/piece.ts';

/* An opened piece is twice as wide: where it would lie over its neighbours it is laid beside all the rest. */

/** What becomes of one piece's drawables. */
export interface Opened {
  readonly texts?: Map<string, PlaceChange>;
  readonly points?: Map<string, PlaceChange>;
  readonly paths: Map<string, PathChange>;
  readonly additions: Addition[];
  readonly removals: Set<string>;
}

/** Between pieces, mm. */
export const GAP = 30;

/** Keeps account of the room to the right of a drawing. */
export const roomBeside = (drawing: Drawing): { place: (paper: Drawing, piece: Piece, parts: Opened) => Opened } => {
  let right = drawing.drawables.reduce((x, d) => Math.max(x, boundsOfDrawable(d).maxX), Number.NEGATIVE_INFINITY);
  const left = drawing.drawables.reduce((x, d) => Math.min(x, boundsOfDrawable(d).minX), Number.POSITIVE_INFINITY);
  const opened: Bounds[] = [];
  return {
    place: (paper, piece, parts) => {
      const own = idsOf(piece);
      const now = boundsOpened(paper, own, parts);
      const others = paper.drawables.filter((d) => d.kind === 'path' && !own.has(d.id)).map(boundsOfDrawable);
      const free = now.minX >= left && ![...others, ...opened].some((b) => overlap(b, now));
      const by = free ? ORIGIN : { x: right + GAP - now.minX, y: 0 };
      right = Math.max(right, now.maxX + by.x);
      opened.push({ ...now, minX: now.minX + by.x, maxX: now.maxX + by.x });
      return free ? parts : shifted(paper, own, parts, by);
    },
  };
};

/** The drawables that draw a piece and all that is on it. */
export const idsOf = (piece: Piece): ReadonlySet<string> =>
  new Set([
    ...[...piece.seamLine.spans, ...(piece.cuttingLine?.spans ?? [])].flatMap((s) => s.source?.drawable ?? []),
    ...[...piece.lines, ...piece.points, ...piece.texts].map((m) => m.id),
  ]);

const boundsOfSegments = (segments: readonly Segment[]): Bounds =>
  segments.reduce<Bounds>((b, s) => unionBounds(b, boundsOf(s)), EMPTY_BOUNDS);

const boundsOfDrawable = (d: Drawable): Bounds =>
  d.kind === 'path' ? boundsOfSegments(d.path.segments) : { minX: d.at.x, maxX: d.at.x, minY: d.at.y, maxY: d.at.y };

const boundsOpened = (drawing: Drawing, own: ReadonlySet<string>, opened: Opened): Bounds => {
  const stays = drawing.drawables.filter((d) => own.has(d.id) && !opened.removals.has(d.id)).map(boundsOfDrawable);
  const changed = [...opened.paths.values()].map((c) => boundsOfSegments(c.segments.flat()));
  const added = opened.additions.flatMap((a) => (a.kind === 'path' ? [boundsOfSegments(a.path.segments)] : []));
  return [...stays, ...changed, ...added].reduce(unionBounds, EMPTY_BOUNDS);
};

/** The whole piece, with what was changed and added, carried along. */
const shifted = (drawing: Drawing, own: ReadonlySet<string>, opened: Opened, by: Point): Opened => {
  const move = translation(by);
  const paths = new Map<string, PathChange>();
  const texts = new Map<string, PlaceChange>();
  const points = new Map<string, PlaceChange>();
  for (const d of drawing.drawables) {
    if (!own.has(d.id) || opened.removals.has(d.id)) continue;
    if (d.kind === 'text') texts.set(d.id, { at: add(d.at, by) });
    else if (d.kind === 'point') points.set(d.id, { at: add(d.at, by) });
    else {
      const now = opened.paths.get(d.id)?.segments ?? d.path.segments.map((s) => [s]);
      paths.set(d.id, { segments: now.map((row) => row.flatMap((s) => transformSegment(move, s))) });
    }
  }
  const additions = opened.additions.map(
    (a): Addition => (a.kind === 'path' ? { ...a, path: transformPath(move, a.path) } : { ...a, at: add(a.at, by) }),
  );
  return { ...opened, paths, texts, points, additions };
};
