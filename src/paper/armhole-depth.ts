import type { Point } from '../geometry/point.ts';
import { subtract } from '../geometry/point.ts';
import type { Piece } from '../pattern/piece.ts';
import { type Armhole, armholesOf, partsOfArmhole, prickedAcross, runAlong, shoulderOver } from './armhole.ts';
import { bring, plus, STILL } from './bend.ts';
import { placedAt } from './joining.ts';
import { NoRoom } from './no-room.ts';
import { seamRunTo } from './run-out.ts';
import { pointsOf } from './runs.ts';
import { solveFor } from './solve.ts';
import { moved, type Tracing } from './tracing.ts';

/* The armhole made deeper (shallower) at the underarm; its upper part, above the level of widths, stays. */

/** What the depth may miss, mm. */
const EXACT = 1e-4;

/**
 * Lowers the lowest point of each armhole of a piece by `by` (raises it, when negative): the side seam is cut off (drawn
 * on) along its own line, and the armhole drawn from the level where widths are taken to its new foot, which meets the
 * side at the angle it had. Of a panel whose armhole ends at another panel nothing moves.
 */
export const deepenArmhole = (tracing: Tracing, by: number): Tracing => {
  if (by === 0) return tracing;
  const marked = prickedAcross(tracing);
  const feet = armholesOf(marked).filter((a) => a.beyond.role === 'side');
  if (feet.length === 0) return tracing;
  const lowered = feet.reduce((now, { edge }) => {
    const drop = (d: number): Tracing => footLowered(now, edge, d);
    const was = lowest(now, edge);
    return solveFor(drop, (made) => was - lowest(made, edge) - by, by, by * 1.02, EXACT);
  }, marked);
  return underarmLevelled(lowered, by);
};

const armholeCalled = (tracing: Tracing, edge: string): Armhole =>
  armholesOf(tracing).find((a) => a.edge === edge) as Armhole;

const lowest = (tracing: Tracing, edge: string): number =>
  Math.min(...pointsOf(tracing, runAlong(tracing, armholeCalled(tracing, edge))).map((p) => p.y));

const footLowered = (tracing: Tracing, edge: string, by: number): Tracing => {
  const armhole = armholeCalled(tracing, edge);
  const run = lowerPart(tracing, armhole);
  const old = pointsOf(tracing, run);
  const corner = run.at(-1) as number;
  const foot = old.at(-1) as Point;
  // The side seam lies beyond the foot: behind it in seam direction where the armhole is looked at from its end.
  const { tracing: seamed, end, turned } = seamRunTo(tracing, corner, armhole.from === 'end' ? -1 : 1, foot.y - by);
  const now = lowerPart(seamed, armholeCalled(seamed, edge));
  if (now.length !== old.length)
    throw new NoRoom('the armhole has no lower part left that could be drawn to the underarm');
  return placedAt(seamed, now, plus(old, bring(old, STILL, { by: subtract(end, foot), turned })));
};

/** From the level of widths down to the foot; on a side panel, which begins below it, the whole armhole. */
const lowerPart = (tracing: Tracing, armhole: Armhole): readonly number[] => {
  if (!shoulderOver(tracing, armhole)) return runAlong(tracing, armhole);
  const { upper, lower } = partsOfArmhole(tracing, armhole);
  return lower.length > 0 ? lower : upper;
};

/** A line drawn this near the underarm level draws it, mm. */
const ON_LEVEL = 0.5;

/** The underarm level goes down with the armhole, and the line that draws it. */
const underarmLevelled = (tracing: Tracing, by: number): Tracing => {
  const level = tracing.levels.get('underarm');
  if (level === undefined) return tracing;
  const shift = { x: 0, y: -by };
  const draws = (piece: Piece, id: string): boolean =>
    piece.levels.some((l) => l.name === 'underarm' && l.line === id) ||
    (piece.lines.some((l) => l.id === id && l.kind === 'level') &&
      ![...tracing.levels].some(([name, y]) => name !== 'underarm' && Math.abs(y - level) < ON_LEVEL) &&
      (tracing.lines.get(id) ?? []).every((p) => Math.abs(p.at.y - level) < ON_LEVEL));
  return {
    ...tracing,
    levels: new Map([...tracing.levels, ['underarm', level - by]]),
    lines: new Map(
      [...tracing.lines].map(([id, line]) => [id, draws(tracing.piece, id) ? line.map((p) => moved(p, shift)) : line]),
    ),
  };
};

/** Whether an armhole of a piece comes down to the underarm. */
export const reachesUnderarm = (tracing: Tracing): boolean => armholesOf(tracing).some((a) => a.beyond.role === 'side');
