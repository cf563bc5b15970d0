import { carryEnd, cornerReach, lastStretch, shiftEdge, withRunOf } from './carry-end.ts';
import { NoRoom } from './no-room.ts';
import { at, edgeBeside, edgeRun, outwards, pointsOf, turnOfArrival } from './runs.ts';
import { turnLowerEdge } from './sleeve-seam.ts';
import type { Tracing } from './tracing.ts';

/**
 * The side of a bodice goes out by `by` at the underarm, to nothing at the waist, as its sleeve does; the armhole comes
 * along and meets the side at the angle it had, and so does the edge below.
 * @throws NoRoom when the side does not meet an armhole
 */
export const sideOutAtUnderarm = (tracing: Tracing, side: string, by: number): Tracing => {
  if (by === 0) return tracing;
  const meeting = (['before', 'after'] as const).find((s) => edgeBeside(tracing, side, s).role === 'armhole');
  if (!meeting) throw new NoRoom('the side seam does not meet an armhole');
  const armhole = edgeBeside(tracing, side, meeting).id;
  const whole = edgeRun(tracing, side);
  const up = meeting === 'after' ? whole : [...whole].reverse();
  const x = outwards(tracing, side) * by;
  const share = sharesUp(tracing, up);
  const sided = shiftEdge(tracing, side, (p) => ({ x: x * share(p.y), y: 0 }));
  const turned = turnOfArrival(pointsOf(tracing, up), pointsOf(sided, up));
  const end = meeting === 'after' ? 'start' : 'end';
  // The corner has gone with the side: the armhole is brought there from where it was.
  const carried = carryEnd(tracing, armhole, end, { by: { x, y: 0 }, turned }, cornerReach(by));
  const along = withRunOf(sided, carried, lastStretch(tracing, armhole, end, cornerReach(by)));
  return turnLowerEdge(tracing, along, side);
};

/** How much of the move the side takes at a height: evenly up from the waist edge; where the side runs on below a waist level, smoothly. */
const sharesUp = (tracing: Tracing, up: readonly number[]): ((y: number) => number) => {
  const [low, high] = [at(tracing, up[0] as number).y, at(tracing, up.at(-1) as number).y];
  const waist = tracing.piece.edges.some((e) => e.role === 'waist') ? undefined : tracing.levels.get('waist');
  const from = waist ?? low;
  return (y) => {
    const u = Math.max(0, (y - from) / (high - from));
    return waist === undefined ? u : (u * u * (3 - u)) / 2;
  };
};
