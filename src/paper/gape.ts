import { distance, subtract, turnBetween } from '../geometry/point.ts';
import type { EdgeRole } from '../pattern/piece.ts';
import { type Bust, bustsOf, dartTo, edgeOn, partWay } from './bust-point.ts';
import { opening } from './dart-moves.ts';
import { swingBetween } from './dart-swing.ts';
import { inProportion } from './in-proportion.ts';
import { placedAt } from './joining.ts';
import { besideMouth } from './mouth-runs.ts';
import { NoRoom } from './no-room.ts';
import { along, at, pointsOf, type Run, sewnLength } from './runs.ts';
import { slit, withoutSlit } from './slit.ts';
import { solveFor } from './solve.ts';
import type { Prick, Tracing } from './tracing.ts';

/* A neck or armhole that gapes: a wedge folded out towards the bust point, or, where it binds, opened there. */

/** The edge is drawn anew over so much of it on either side of the wedge, mm; the neck over all of it. */
const REDRAWN: Readonly<Record<'neck' | 'armhole', number>> = { neck: Number.POSITIVE_INFINITY, armhole: 110 };

/** What the edge may miss its length by, mm. */
const WITHIN = 0.001;

/**
 * Takes `by` out of a gaping neck or armhole on each side of a front: a wedge as wide as that at the middle of the edge
 * and nothing at the bust point is folded out, and the dart of the edge named opens for it; the edge is drawn smooth from
 * where its parts now lie, and comes out shorter by just the amount. Negative: the edge is slashed and spread, and the
 * dart gives.
 * @throws NoRoom when the dart cannot give what is spread
 */
export const closeGape = (tracing: Tracing, role: 'neck' | 'armhole', by: number, into: EdgeRole): Tracing =>
  by === 0 ? tracing : bustsOf(tracing).reduce((t, bust) => closeGapeAbout(t, bust, role, by, into), tracing);

const closeGapeAbout = (
  tracing: Tracing,
  bust: Bust,
  role: 'neck' | 'armhole',
  by: number,
  into: EdgeRole,
): Tracing => {
  const edge = edgeOn(tracing, bust, role);
  if (!edge) throw new NoRoom(`the front has no ${role} edge`);
  if (by < 0 && !dartTo(tracing, bust, into)) throw new NoRoom(`the front has no ${into} dart to give what is spread`);
  const place = partWay(tracing, edge.id, bust.side, 0.5);
  const cut = slit(tracing, edge.id, place, bust.at);
  const taking = opening(cut.tracing, bust, into);
  const done = (wide: number): Tracing => {
    const angle = 2 * Math.asin(Math.abs(wide) / (2 * distance(place, bust.at)));
    const swung = swingBetween(
      taking.tracing,
      wide > 0
        ? { about: bust.at, closes: cut.dart, opens: taking.dart, angle, laps: true }
        : { about: bust.at, closes: taking.dart, opens: cut.dart, angle },
    );
    return redrawn(swung, taking.tracing, cut.dart, REDRAWN[role]);
  };
  const target = sewnLength(tracing, edge.id) - by;
  return solveFor(done, (made) => sewnLength(made, edge.id) - target, by, by * 0.97, WITHIN);
};

/** The edge on either side of a slit drawn anew between its ends as they lie now, the slit gone. */
const redrawn = (now: Tracing, was: Tracing, dartId: string, reach: number): Tracing => {
  const before = within(was, besideMouth(was, dartId, 'before'), reach);
  const after = within(was, besideMouth(was, dartId, 'after'), reach).reverse();
  const [first, last] = [before.slice(0, 2), after.slice(-2)] as [[number, number], [number, number]];
  const old = [...before.slice(0, -1), ...after.slice(1)];
  const places = inProportion(pointsOf(was, old), {
    from: at(now, first[0]),
    to: at(now, last[1]),
    start: turnOfChord(was, now, first),
    end: turnOfChord(was, now, last),
  });
  const pricks = old.map((i) => now.seam[i] as Prick);
  const plain = withoutSlit(now, dartId);
  return placedAt(
    plain,
    pricks.map((p) => plain.seam.indexOf(p)),
    places,
  );
};

const turnOfChord = (was: Tracing, now: Tracing, [a, b]: readonly [number, number]): number =>
  turnBetween(subtract(at(was, b), at(was, a)), subtract(at(now, b), at(now, a)));

/** The end of a run towards its last prick, no more of it than `reach`. */
const within = (tracing: Tracing, run: Run, reach: number): number[] => {
  const way = along(pointsOf(tracing, run));
  const from = (way.at(-1) as number) - reach;
  return run.filter((_, k) => (way[k] as number) >= from);
};
