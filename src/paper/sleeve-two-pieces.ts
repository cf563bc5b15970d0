import { ORIGIN, type Point } from '../geometry/point.ts';
import { edgeWithRole } from '../pattern/edges.ts';
import { timesOnLimb } from '../pattern/parts.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import { type Garment, onPiece, tracingOf } from './garment.ts';
import { at, lengthOfPoints, pointsOf } from './runs.ts';
import { type Corners, capLength, chordOf, cornersOf, swingCap, swungHalf } from './sleeve-cap.ts';
import { backSeam, type CapHalf, capHalves, halfLength, sleeveHeights, upSeam } from './sleeve-lines.ts';
import { moveSeamCorner, type SeamEnd, upSeamTurn } from './sleeve-seam.ts';
import { spreadAtBiceps, wristKept } from './sleeve-widths.ts';
import { solve, solveFor } from './solve.ts';
import type { Tracing } from './tracing.ts';

/* A sleeve in two pieces, an upper and an under sleeve, spread at the biceps. */

/** Solved for to this much, mm. */
const EXACT = 1e-4;

/**
 * A sleeve is spread (tucked) at the biceps, in one piece or in two.
 * @param pieces of one sleeve in one layer of cloth
 * @param change round the arm, mm
 */
export const spreadSleeves = (garment: Garment, pieces: readonly Piece[], change: number, to: SeamEnd): Garment => {
  const upper = pieces.find((p) => p.part === 'upper sleeve');
  const under = pieces.find((p) => p.part === 'under sleeve');
  if (upper && under) {
    const two = twoPieces(garment.pattern, tracingOf(garment, upper.id), tracingOf(garment, under.id));
    const spread = spreadTwoPieces(two, change, to);
    return onPiece(
      onPiece(garment, upper.id, () => wristKept(two.upper, spread.upper)),
      under.id,
      () => wristKept(two.under, spread.under),
    );
  }
  const papers = pieces.reduce((sum, p) => sum + timesOnLimb(p), 0);
  return pieces.reduce(
    (g, { id }) => onPiece(g, id, (t) => wristKept(t, spreadAtBiceps(t, change / papers, to))),
    garment,
  );
};

/** The two pieces of a sleeve, and which end of the under sleeve's cap meets which end of the upper's. */
export interface TwoPieces {
  readonly upper: Tracing;
  readonly under: Tracing;
  readonly meets: Readonly<Record<'start' | 'end', 'start' | 'end'>>;
}

/** How the caps of upper and under sleeve meet, by the seams sewn together; where that is not known, back to back. */
export const twoPieces = (pattern: Pattern, upper: Tracing, under: Tracing): TwoPieces => {
  const sewn = (a: CapHalf, b: CapHalf): boolean =>
    pattern.mates.some((m) =>
      [
        [m.one, m.other],
        [m.other, m.one],
      ].some(
        ([x, y]) =>
          x?.some((s) => s.piece === upper.piece.id && s.edge === a.seam) &&
          y?.some((s) => s.piece === under.piece.id && s.edge === b.seam),
      ),
    );
  const [first] = capHalves(upper);
  const answering = first && capHalves(under).find((h) => sewn(first, h));
  // Seen from outside, the under sleeve lies the other way about.
  const end = answering?.end ?? (backEnd(upper) === backEnd(under) ? 'start' : 'end');
  return { upper, under, meets: end === 'start' ? { start: 'start', end: 'end' } : { start: 'end', end: 'start' } };
};

/** The end of a cap at the back: by its notches; of an under sleeve the higher one. */
const backEnd = (tracing: Tracing): 'start' | 'end' => {
  const halves = capHalves(tracing);
  const told = tracing.piece.part === 'under sleeve' ? undefined : backSeam(tracing);
  const higher = halves.reduce((a, b) => (chordOf(tracing, b).down < chordOf(tracing, a).down ? b : a));
  return halves.find((h) => h.seam === told)?.end ?? higher.end;
};

/**
 * A sleeve in two pieces takes a quarter of the change at each of its four seams. The caps keep the length of their
 * edges: the hollow of the under sleeve grows flatter, its corners sink, and those of the upper sleeve with them.
 */
export const spreadTwoPieces = (
  { upper, under, meets }: TwoPieces,
  change: number,
  to: SeamEnd = 'wrist',
): TwoPieces => {
  if (change === 0) return { upper, under, meets };
  const under2 = toWidth(under, change / 2, (by) =>
    swingCap(under, { pivot: ORIGIN, corners: underCorners(under, by, to), to }),
  );
  const sunk = (end: 'start' | 'end'): number => {
    const half = capHalves(under).find((h) => h.end === meets[end]) as CapHalf;
    const corner = half.run.at(-1) as number;
    return at(under2, corner).y - at(under, corner).y;
  };
  const length = capLength(upper);
  const upper2 = toWidth(upper, change / 2, (by) => {
    const corners = cornersOf(upper, (half) => ({ x: half.sign * by * reach(upper, half), y: sunk(half.end) }));
    const swung = (d: number): Tracing => swingCap(upper, { pivot: { x: 0, y: -d }, corners, to });
    const first = -(sunk('start') + sunk('end')) / 2 + change / 8;
    return solveFor(swung, (made) => capLength(made) - length, first, first * 0.95, EXACT);
  });
  return { upper: upper2, under: under2, meets };
};

/** How much further out the corner of a seam goes than the seam does at the biceps, as it tapers to its lower end. */
const reach = (tracing: Tracing, half: CapHalf): number => {
  const low = at(tracing, upSeam(tracing, half.seam)[0] as number).y;
  return (at(tracing, half.run.at(-1) as number).y - low) / (sleeveHeights(tracing).biceps - low);
};

/** The corners of an under sleeve go out, and down until each half of the hollow is as long as it was. */
const underCorners = (tracing: Tracing, by: number, to: SeamEnd): Corners =>
  cornersOf(tracing, (half) => {
    const old = pointsOf(tracing, half.run);
    const x = half.sign * by * reach(tracing, half);
    const length = halfLength(tracing, half);
    const seamed = (down: number): Tracing => moveSeamCorner(tracing, half.seam, { x, y: -down }, to);
    const gap = (down: number): number => {
      const turned = upSeamTurn(tracing, seamed(down), half.seam);
      const swung = swungHalf(old, { pivot: ORIGIN, corner: { x, y: -down }, turned, pointed: false });
      return lengthOfPoints(swung) - length;
    };
    const { across, down } = chordOf(tracing, half);
    const first = (by * across) / Math.max(1, -down);
    return { x, y: -solve(gap, first, first * 0.9, EXACT) };
  });

/** Solves how far out each corner goes so that the width at the biceps changes by just `change`. */
const toWidth = (tracing: Tracing, change: number, moved: (by: number) => Tracing): Tracing => {
  const { biceps } = sleeveHeights(tracing);
  const before = widthAcross(tracing, biceps);
  const first = change / 2;
  return solveFor(moved, (made) => widthAcross(made, biceps) - before - change, first, first * 0.98, EXACT);
};

/** From seam to seam straight across at a height, mm; where a seam ends below it, from its upper corner. */
export const widthAcross = (tracing: Tracing, height: number): number => {
  const places = edgeWithRole(tracing.piece, 'sleeve seam').map((e) => {
    const points = pointsOf(tracing, upSeam(tracing, e.id));
    const k = points.findIndex((p) => p.y >= height);
    if (k <= 0) return (points.at(k === 0 ? 0 : -1) as Point).x;
    const [a, b] = [points[k - 1] as Point, points[k] as Point];
    return a.x + ((b.x - a.x) * (height - a.y)) / (b.y - a.y);
  });
  return Math.max(...places) - Math.min(...places);
};
