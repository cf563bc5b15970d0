import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import { ringRange } from '../pattern/edges.ts';
import type { Dart } from '../pattern/piece.ts';
import { at, mouthIndex } from './runs.ts';
import { dartHolds } from './tape-darts.ts';
import { type Prick, type Tracing, trace } from './tracing.ts';

/* A dart that was closed to nothing is not drawn again: its legs, its drill hole and its slit in the outline go. */

/** A dart narrower than this is closed, mm. */
const CLOSED = 0.01;

const width = (tracing: Tracing, dart: Dart): number =>
  distance(at(tracing, mouthIndex(tracing, dart.id, 0)), at(tracing, mouthIndex(tracing, dart.id, 1)));

/** Darts that the verbs have closed to nothing, and slits that none has opened. */
export const closedDarts = (tracing: Tracing): readonly Dart[] =>
  tracing.piece.darts.filter((d) => {
    if (d.edge === undefined || width(tracing, d) >= CLOSED) return false;
    return isNew(d) || width(trace(tracing.piece), d) >= CLOSED;
  });

const isNew = (dart: Dart): boolean =>
  dart.drawn.as === 'lines' && dart.drawn.lines.some((id) => id.startsWith('new:'));

/** Ids of lines and points that are drawn no more: legs and drill holes of closed darts. */
export const goneWith = (tracing: Tracing, closed: readonly Dart[]): ReadonlySet<string> => {
  const { piece } = tracing;
  const drills = piece.points
    .filter((p) => p.kind === 'drill')
    .map((p) => ({ id: p.id, at: tracing.marks.get(p.id)?.was }));
  const holes = piece.lines
    .filter((l) => l.kind === 'drill')
    .map((l) => ({ id: l.id, at: middle((tracing.lines.get(l.id) ?? []).map((p) => p.was)) }));
  return new Set(
    closed.flatMap((dart) => [
      ...(dart.drawn.as === 'lines' ? dart.drawn.lines : []),
      ...[...drills, ...holes].filter((m) => m.at && dartHolds(tracing, dart, m.at)).map((m) => m.id),
    ]),
  );
};

const middle = (points: readonly Point[]): Point | undefined =>
  points.length === 0
    ? undefined
    : {
        x: points.reduce((s, p) => s + p.x, 0) / points.length,
        y: points.reduce((s, p) => s + p.y, 0) / points.length,
      };

/** The seam without the legs of closed darts that were drawn in the outline. */
export const seamDrawn = (tracing: Tracing, closed: readonly Dart[]): readonly Prick[] => {
  const count = tracing.piece.seamLine.spans.length;
  const legs = new Set(
    closed.flatMap(({ drawn }) => (drawn.as === 'outline' ? ringRange(drawn.first, drawn.last, count) : [])),
  );
  return legs.size === 0 ? tracing.seam : tracing.seam.filter((p) => !legs.has(p.span));
};
