import type { Point } from '../geometry/point.ts';
import { edgeWithRole } from '../pattern/edges.ts';
import { bring, plus } from './bend.ts';
import { shiftEdge, stretchEdge, withRunOf } from './carry-end.ts';
import { displaced } from './move-edge.ts';
import { at, edgeBeside, edgeRun, outwards, pointsOf, sewnLength, sewnRuns, turnOfArrival } from './runs.ts';
import { capDrop, capLength, chordOf, cornersOf, swingCap } from './sleeve-cap.ts';
import { evenSeams } from './sleeve-even.ts';
import { capHalves, sleeveHeights, upSeam } from './sleeve-lines.ts';
import { runOut, type SeamEnd, turnLowerEdge } from './sleeve-seam.ts';
import { solveFor } from './solve.ts';
import type { Tracing } from './tracing.ts';

/* Widths of a sleeve: at the biceps, where the cap gives way, and at the wrist. */

/** Solved for to this much, mm. */
const EXACT = 1e-4;

/**
 * A sleeve in one piece is slashed lengthwise and at the biceps and spread (tucked) there: the underarm points go out
 * (in) by the change, to nothing at the wrist (or the elbow); the cap keeps the length of its edge and drops (rises) for it.
 * @param change of this paper's width at the biceps, mm
 */
export const spreadAtBiceps = (tracing: Tracing, change: number, to: SeamEnd = 'wrist'): Tracing => {
  if (change === 0) return tracing;
  const halves = capHalves(tracing);
  const { drop, outs } = capDrop(
    halves.map((h) => chordOf(tracing, h)),
    change,
  );
  const corners = cornersOf(tracing, (half, i) => ({ x: half.sign * (outs[i] as number), y: 0 }));
  const swung = (d: number): Tracing => swingCap(tracing, { pivot: { x: 0, y: -d }, corners, to });
  const length = capLength(tracing);
  return evenSeams(
    tracing,
    solveFor(swung, (made) => capLength(made) - length, drop, drop * 0.98, EXACT),
  );
};

/**
 * The lower edge of a sleeve is made wider (narrower): each of its seams goes out by its part at the wrist, to nothing
 * at the elbow (halfway down the seam where none is marked); the edge meets the seams at the angles it had.
 * @param change of the sewn length of this paper's lower edge, mm
 */
export const wristOut = (tracing: Tracing, change: number): Tracing => {
  const [wrist] = edgeWithRole(tracing.piece, 'wrist');
  const seams = edgeWithRole(tracing.piece, 'sleeve seam');
  if (change === 0 || !wrist || seams.length === 0) return tracing;
  const { elbow, biceps } = sleeveHeights(tracing);
  const out = (by: number): Tracing => {
    const seamed = seams.reduce((t, { id }) => {
      const run = upSeam(t, id);
      const low = at(t, run[0] as number).y;
      const still = elbow ?? (biceps + low) / 2;
      const x = outwards(tracing, id) * by;
      return shiftEdge(t, id, (p) => ({ x: x * runOut((still - p.y) / (still - low)), y: 0 }));
    }, tracing);
    return evenSeams(tracing, lowerEdgeMapped(tracing, seamed, wrist.id));
  };
  const target = sewnLength(tracing, wrist.id) + change;
  const first = change / seams.length;
  return solveFor(out, (made) => sewnLength(made, wrist.id) - target, first, first * 0.98, EXACT);
};

/** A lower edge that gained less than this by being trued is left so, mm. */
const KEPT = 0.002;

/** The lower edge is given back the length it had, which its trueing at the corners has changed by a hair. */
export const wristKept = (before: Tracing, now: Tracing): Tracing => {
  const [wrist] = edgeWithRole(before.piece, 'wrist');
  const gained = wrist ? sewnLength(now, wrist.id) - sewnLength(before, wrist.id) : 0;
  return Math.abs(gained) < KEPT ? now : wristOut(now, -gained);
};

/** The lower edge on its new corners, at the angles to the seams that it had. */
const lowerEdgeMapped = (before: Tracing, now: Tracing, edgeId: string): Tracing => {
  const run = edgeRun(before, edgeId);
  const old = pointsOf(before, run);
  const moved = (i: number): Point => ({
    x: at(now, i).x - at(before, i).x,
    y: at(now, i).y - at(before, i).y,
  });
  const ends = { start: moved(run[0] as number), end: moved(run.at(-1) as number) };
  const sides = [edgeBeside(before, edgeId, 'before'), edgeBeside(before, edgeId, 'after')] as const;
  if (sewnRuns(before, edgeId).length > 1) {
    const stretched = stretchEdge(withRunOf(now, before, run), edgeId, ends);
    return sides.reduce((t, e) => (e.role === 'sleeve seam' ? turnLowerEdge(before, t, e.id) : t), stretched);
  }
  const [start, end] = sides.map((e) => {
    if (e.role !== 'sleeve seam') return 0;
    const down = [...upSeam(before, e.id)].reverse();
    return turnOfArrival(pointsOf(before, down), pointsOf(now, down));
  }) as [number, number];
  const placed = plus(old, bring(old, { by: ends.start, turned: start }, { by: ends.end, turned: end }));
  return {
    ...now,
    seam: displaced(
      now.seam,
      run,
      run.map((i, k) => ({ x: (placed[k] as Point).x - at(now, i).x, y: (placed[k] as Point).y - at(now, i).y })),
    ),
  };
};
