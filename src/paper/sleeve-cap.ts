import { add, distance, ORIGIN, type Point, scale, subtract, turn, turnBetween } from '../geometry/point.ts';
import { bring, type EndMove, plus } from './bend.ts';
import { placedAt } from './joining.ts';
import { NoRoom } from './no-room.ts';
import { restOfCap } from './rest-of-cap.ts';
import { arrival, at, pointsOf, sewnLength } from './runs.ts';
import { type CapHalf, capEdge, capHalves } from './sleeve-lines.ts';
import { moveSeamCorner, type SeamEnd, upSeamTurn } from './sleeve-seam.ts';
import { solveFor } from './solve.ts';
import type { Tracing } from './tracing.ts';

/* The verbs of a sleeve's cap: its halves swing about its top, its underarm goes down. */

/** Lengths are solved for to this much, mm. */
const EXACT = 1e-4;
/** A cap that turns by more than this at its top has a point there, which is kept. Radians. */
const POINTED = 0.35;
/** What the corners of a cap do, by the end of the cap they lie at. */
export type Corners = Readonly<Record<'start' | 'end', Point>>;
export const STILL_CORNERS: Corners = { start: ORIGIN, end: ORIGIN };

export const cornersOf = (tracing: Tracing, by: (half: CapHalf, i: number) => Point): Corners => ({
  ...STILL_CORNERS,
  ...Object.fromEntries(capHalves(tracing).map((half, i) => [half.end, by(half, i)])),
});

/** How a cap is to be changed: what its pivot does, and its corners. */
export interface CapMove {
  readonly pivot: Point;
  readonly corners: Corners;
  /** Where the seams stay that their corners take along across: at the wrist, when it is not said. */
  readonly to?: SeamEnd;
}

/**
 * Moves the corners of a cap with the seams that meet them there, and its pivot; each half of the cap swings about the
 * pivot and is stretched to its new chord. The cap leaves its pivot as it did (a cap with a point keeps the point) and
 * meets each seam at the angle it had. The seams taper to nothing at the wrist (or the elbow) across, at the elbow up and
 * down.
 */
export const swingCap = (tracing: Tracing, move: CapMove): Tracing => {
  const halves = capHalves(tracing);
  const pointed = isPointed(tracing, halves);
  const seamed = halves.reduce((t, half) => moveSeamCorner(t, half.seam, move.corners[half.end], move.to), tracing);
  const swung = halves.reduce((t, half) => {
    const old = pointsOf(tracing, half.run);
    const turned = upSeamTurn(tracing, seamed, half.seam);
    const placed = swungHalf(old, { pivot: move.pivot, corner: move.corners[half.end], turned, pointed });
    return placedAt(t, half.run, placed);
  }, seamed);
  return restOfCap(swung, tracing, move.pivot);
};

/** Where a half of a cap (pivot first) comes to lie. */
export const swungHalf = (
  old: readonly Point[],
  move: { pivot: Point; corner: Point; turned: number; pointed: boolean },
): Point[] => {
  const [from, to] = [old[0] as Point, old.at(-1) as Point];
  const [newFrom, newTo] = [add(from, move.pivot), add(to, move.corner)];
  const [chord, newChord] = [subtract(to, from), subtract(newTo, newFrom)];
  const angle = turnBetween(chord, newChord);
  const stretch = distance(newTo, newFrom) / distance(to, from);
  if (angle === 0 && stretch === 1 && move.turned === 0) return old.map((p) => add(p, move.pivot));
  const swung = old.map((p) => add(newFrom, scale(turn(subtract(p, from), angle), stretch)));
  const start: EndMove = { by: ORIGIN, turned: move.pointed ? 0 : -angle };
  return plus(swung, bring(swung, start, { by: ORIGIN, turned: move.turned - angle }));
};

/** Whether the two halves of a cap meet in a point. */
const isPointed = (tracing: Tracing, halves: readonly CapHalf[]): boolean => {
  const [a, b] = halves.map((h) => arrival(pointsOf(tracing, h.run.slice(0, 2)).reverse()));
  return a !== undefined && b !== undefined && Math.abs(Math.abs(turnBetween(a, b)) - Math.PI) > POINTED;
};

/** Half of a cap as a triangle: across and down from the pivot to the corner, mm. */
export interface HalfChord {
  readonly across: number;
  readonly down: number;
}

/**
 * How far a cap drops when it is spread at the biceps: each half is a stiff part hinged at the cap's top and at its
 * underarm point, so its chord is kept: √(across² + down²).
 * @param change of the whole width, mm; less than 0 for a tuck, which raises the cap
 * @returns the drop, and how far each underarm point goes out, mm
 * @throws NoRoom when the cap would be flat, or no width be left
 */
export const capDrop = (
  halves: readonly HalfChord[],
  change: number,
): { readonly drop: number; readonly outs: readonly number[] } => {
  const dropped = (drop: number) => ({
    drop,
    outs: halves.map(({ across, down }) => {
      const left = across ** 2 + down ** 2 - (down - drop) ** 2;
      if (left <= 0 || (down - drop) * down <= 0) throw new NoRoom('the cap is too low for so much');
      return Math.sqrt(left) - across;
    }),
  });
  const first = change / halves.reduce((sum, h) => sum + h.down / h.across, 0);
  const gain = (outs: readonly number[]): number => outs.reduce((a, b) => a + b, 0);
  return solveFor(dropped, (made) => gain(made.outs) - change, first, first * 0.9, EXACT / 10);
};

export const chordOf = (tracing: Tracing, half: CapHalf): HalfChord => {
  const [pivot, corner] = [at(tracing, half.run[0] as number), at(tracing, half.run.at(-1) as number)];
  return { across: Math.abs(corner.x - pivot.x), down: pivot.y - corner.y };
};

/** The cap of a tracing, sewn, mm. */
export const capLength = (tracing: Tracing): number => {
  const cap = capEdge(tracing);
  return cap === undefined ? 0 : sewnLength(tracing, cap);
};
