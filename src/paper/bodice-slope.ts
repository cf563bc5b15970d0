import { turn, turnBetween } from '../geometry/point.ts';
import {
  armholesOf,
  prickedAcross,
  type Shoulder,
  shoulderOver,
  shouldersOf,
  shoulderVector,
  stretchInto,
} from './armhole.ts';
import { raiseArmhole, raiseLevels, swingShoulder, swingToLift } from './bodice-shoulders.ts';
import { type Garment, onPiece, tracingOf } from './garment.ts';
import { arrival, lengthOfPoints, pointsOf, sewnLength } from './runs.ts';
import type { Tracing } from './tracing.ts';

/* The slope of the shoulders of a front or a back, in one piece or in panels. */

/**
 * Raises (lowers) the tips of the shoulders by `by`, to nothing at the neck, and the armholes with them: the shoulder
 * is swung about the neck point, so it keeps its length; the underarm goes up the side seam by as much, so the armhole
 * keeps its own.
 * @param pieces all that make up the front (or the back) in one layer of cloth
 * @param neck how far the neck is turned where it meets the shoulder, radians, outer end up
 */
export const slopeShoulders = (garment: Garment, pieces: readonly string[], by: number, neck: number): Garment => {
  if (by === 0) return garment;
  const marked = pieces.reduce((g, id) => onPiece(g, id, prickedAcross), garment);
  const stretches = fromTheNeck(marked, pieces);
  const up = swingToLift(stretches, by);
  let now = marked;
  let root = { out: 0, up: 0 };
  for (const { piece, tracing, shoulder } of stretches) {
    const at = root;
    now = onPiece(now, piece, (t) =>
      shouldersOf(t).reduce(
        (s, each) => swingShoulder(s, each, { up, root: { x: each.outward * at.out, y: at.up }, neck }),
        t,
      ),
    );
    const vector = shoulderVector(tracing, shoulder);
    const swung = turn(vector, shoulder.outward * up);
    root = { out: root.out + Math.abs(swung.x) - Math.abs(vector.x), up: root.up + swung.y - vector.y };
  }
  return raiseArmholes(now, marked, pieces, { by, up });
};

/** The stretches of one shoulder, panel by panel, that at the neck first. */
const fromTheNeck = (garment: Garment, pieces: readonly string[]) =>
  pieces
    .flatMap((piece) => {
      const tracing = tracingOf(garment, piece);
      const [shoulder] = shouldersOf(tracing);
      return shoulder ? [{ piece, tracing, shoulder }] : [];
    })
    .sort((a, b) => Number(b.shoulder.before.role === 'neck') - Number(a.shoulder.before.role === 'neck'));

/**
 * Stretches of the armhole from a shoulder go up first: where one ends above the hollow, what it came to differ by is
 * put right on the panel that has the hollow.
 */
const raiseArmholes = (
  now: Garment,
  was: Garment,
  pieces: readonly string[],
  { by, up }: { by: number; up: number },
): Garment => {
  const reaches = (id: string): number => {
    const tracing = tracingOf(was, id);
    return armholesOf(tracing).some((a) => shoulderOver(tracing, a)) ? 0 : 1;
  };
  const inOrder = [...pieces].sort((a, b) => reaches(a) - reaches(b));
  const askew = leanOfPanel(inOrder.map((id) => tracingOf(was, id)));
  let over = 0;
  return inOrder.reduce((g, id) => {
    const before = tracingOf(was, id);
    const [owed, arms] = [over, armholesOf(before)];
    const raised = onPiece(g, id, (tracing) =>
      arms.reduce(
        (t, armhole) => {
          const length = sewnLength(before, armhole.edge) - owed;
          const shouldered = shoulderOver(before, armhole) !== undefined;
          const way = turn({ x: 0, y: by }, shouldered ? 0 : armhole.outward * askew);
          const turned = shouldered ? armhole.outward * up : 0;
          return raiseArmhole(t, before, armhole, { up: way, by, turned, length });
        },
        raiseLevels(tracing, by),
      ),
    );
    const [first] = arms;
    if (first) over = sewnLength(tracingOf(raised, id), first.edge) - sewnLength(before, first.edge) + owed;
    return raised;
  }, now);
};

/**
 * How far a side panel stands askew to the panel with the shoulder, outer end up, radians: as the seam between them
 * comes to the armhole.
 */
const leanOfPanel = (tracings: readonly Tracing[]): number => {
  const arrivals = tracings.flatMap((tracing) => {
    const [armhole] = armholesOf(tracing);
    if (!armhole) return [];
    const end =
      armhole.beyond.role === 'panel seam' ? 'last' : armhole.before.role === 'panel seam' ? 'first' : undefined;
    if (end === undefined) return [];
    const way = arrival(pointsOf(tracing, stretchInto(tracing, armhole, end)));
    return [{ x: way.x * armhole.outward, y: way.y }];
  });
  const [centre, side] = arrivals;
  return centre && side && arrivals.length === 2 ? turnBetween(centre, side) : 0;
};

/**
 * How far the necks of front and back are turned where their shoulders meet, radians: together by as much as both
 * shoulders are swung, so that they still meet in a straight line; a longer neck takes more of it, by a power of its
 * length, so that neither is bent more than it need be.
 */
export const neckTurns = (garment: Garment, groups: readonly (readonly string[])[], by: number): number[] => {
  const stretches = groups.map((pieces) => fromTheNeck(garment, pieces));
  const whole = stretches.reduce((sum, s) => sum + (by === 0 || s.length === 0 ? 0 : swingToLift(s, by)), 0);
  const room = stretches.map(([first]) => (first ? neckRoom(first.tracing, first.shoulder) : 0));
  const all = room.reduce((a, b) => a + b, 0);
  return room.map((r) => (all > 0 ? (whole * r) / all : 0));
};

/** A turn bends a neck by its square; and a short one is bent sharply already. */
const NECK_ROOM = 3.7;

const neckRoom = (tracing: Tracing, shoulder: Shoulder): number =>
  shoulder.before.role === 'neck'
    ? lengthOfPoints(pointsOf(tracing, stretchInto(tracing, shoulder, 'first'))) ** NECK_ROOM
    : 0;
