import { ORIGIN, type Point } from '../geometry/point.ts';
import { bring, plus } from './bend.ts';
import { carryEnd, cornerReach, lastStretch, withRunOf } from './carry-end.ts';
import { placedAt } from './joining.ts';
import { along, pointsOf } from './runs.ts';
import { STILL_CORNERS, swingCap } from './sleeve-cap.ts';
import { crownFrom } from './sleeve-crown.ts';
import { evenSeams } from './sleeve-even.ts';
import { capEdge, capHalves, halfLength } from './sleeve-lines.ts';
import { moveSeamCorner, upSeamTurn } from './sleeve-seam.ts';
import { wristKept } from './sleeve-widths.ts';
import { moved, type Prick, type Tracing } from './tracing.ts';

/* The underarm of a sleeve goes out with its seams, or down with the armhole. */

/**
 * The underarm points of a sleeve go out with its seams, to nothing at the wrist, and the cap comes along below its
 * top: it grows longer, its height stays.
 */
export const underarmOut = (tracing: Tracing, outOf: (seam: string) => number): Tracing => {
  const cap = capEdge(tracing);
  if (cap === undefined) return tracing;
  const out = capHalves(tracing).reduce((t, half) => {
    const x = half.sign * outOf(half.seam);
    if (x === 0) return t;
    const over = Math.min(halfLength(t, half), cornerReach(half.sign * x));
    const seamed = moveSeamCorner(t, half.seam, { x, y: 0 });
    const turned = upSeamTurn(t, seamed, half.seam);
    // The corner has gone with its seam: the cap is brought there from where it was.
    const carried = carryEnd(t, cap, half.end, { by: { x, y: 0 }, turned }, over);
    return withRunOf(seamed, carried, lastStretch(t, cap, half.end, over));
  }, tracing);
  return wristKept(tracing, evenSeams(tracing, out));
};

/**
 * The underarm of a sleeve goes down by `by` (up, when negative), as the armhole's does: its corners keep their width,
 * the sleeve seams are shortened above the elbow, the cap is made deeper from its notches to its corners, its top stays.
 * The level of the biceps and its line go along. On an under sleeve the hollow is made deeper between its corners; the
 * outline of an upper sleeve stays.
 */
export const lowerUnderarm = (tracing: Tracing, by: number): Tracing => {
  if (by === 0 || capEdge(tracing) === undefined) return tracing;
  const down = { x: 0, y: -by };
  return bicepsLowered(outlineLowered(tracing, down), down);
};

const outlineLowered = (tracing: Tracing, down: Point): Tracing => {
  if (tracing.piece.part === 'upper sleeve') return tracing;
  if (tracing.piece.part === 'under sleeve') return swingCap(tracing, { pivot: down, corners: STILL_CORNERS });
  return withCornersLowered(tracing, down);
};

/** A line within this of the biceps level draws it, mm. */
const ON_LEVEL = 1;

const bicepsLowered = (tracing: Tracing, down: Point): Tracing => {
  const biceps = tracing.levels.get('biceps');
  if (biceps === undefined) return tracing;
  const drawn = tracing.piece.lines.filter((l) => l.kind === 'level').map((l) => l.id);
  const isBiceps = (line: readonly Prick[]): boolean => line.every((p) => Math.abs(p.at.y - biceps) < ON_LEVEL);
  return {
    ...tracing,
    levels: new Map([...tracing.levels, ['biceps', biceps + down.y]]),
    lines: new Map(
      [...tracing.lines].map(([id, line]) => [
        id,
        drawn.includes(id) && isBiceps(line) ? line.map((p) => moved(p, down)) : line,
      ]),
    ),
  };
};

/** The cap is drawn from its notches to the corners, as the armhole is from its own. */
const withCornersLowered = (tracing: Tracing, down: Point): Tracing => {
  const crown = crownFrom(tracing);
  return capHalves(tracing).reduce((t, half) => {
    const seamed = moveSeamCorner(t, half.seam, down);
    const turned = upSeamTurn(t, seamed, half.seam);
    const way = along(pointsOf(t, half.run));
    const run = half.run.slice(way.findIndex((s) => (way.at(-1) as number) - s <= crown[half.end]));
    const old = pointsOf(t, run);
    return placedAt(seamed, run, plus(old, bring(old, { by: ORIGIN, turned: 0 }, { by: down, turned })));
  }, tracing);
};
