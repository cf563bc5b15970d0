import type { Point } from '../geometry/point.ts';
import { edgeWithRole } from '../pattern/edges.ts';
import { shiftEdge, stretchEdge, withRunOf } from './carry-end.ts';
import { at, edgeBeside, edgeRun, sewnLength } from './runs.ts';
import { sleeveHeights, upSeam } from './sleeve-lines.ts';
import type { Tracing } from './tracing.ts';

/** The two seams of a sleeve in one piece have changed by lengths that differ by less than this, mm. */
const EVEN = 0.02;

/**
 * The two seams of a sleeve in one piece are sewn together: what they have come to differ by is put right at the wrist,
 * half added and half trimmed, to nothing at the elbow.
 */
export const evenSeams = (before: Tracing, now: Tracing): Tracing => {
  const [a, b] = edgeWithRole(before.piece, 'sleeve seam');
  const [wrist] = edgeWithRole(before.piece, 'wrist');
  if (!a || !b || !wrist || before.piece.part !== 'sleeve') return now;
  const change = (id: string): number => sewnLength(now, id) - sewnLength(before, id);
  const uneven = change(a.id) - change(b.id);
  if (Math.abs(uneven) < EVEN) return now;
  const lowered = [
    { id: a.id, by: uneven / 2 },
    { id: b.id, by: -uneven / 2 },
  ].reduce((t, { id, by }) => {
    const low = at(t, upSeam(t, id)[0] as number).y;
    const still = sleeveHeights(t).elbow ?? (sleeveHeights(t).biceps + low) / 2;
    return shiftEdge(t, id, (p) => ({ x: 0, y: by * Math.max(0, (still - p.y) / (still - low)) }));
  }, now);
  const moved = (side: 'before' | 'after'): Point => {
    const beside = edgeBeside(before, wrist.id, side).id;
    return { x: 0, y: beside === a.id ? uneven / 2 : beside === b.id ? -uneven / 2 : 0 };
  };
  const ends = { start: moved('before'), end: moved('after') };
  // The corners have gone with the seams: the edge is mapped from where it was.
  return withRunOf(lowered, stretchEdge(now, wrist.id, ends), edgeRun(now, wrist.id));
};
