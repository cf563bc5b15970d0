import { isSeamDown } from '../pattern/edges.ts';
import { tierOf } from '../pattern/round.ts';
import { type Garment, onPiece, seamLonger, tracingOf } from './garment.ts';
import { lengthenAt, type Zone } from './lengthen.ts';
import { NoRoom } from './no-room.ts';
import { at, mouthIndex } from './runs.ts';
import { adjustmentLinesNow, marksInTuck } from './skirt-lengths.ts';
import { seamHeights } from './skirt-seams.ts';
import { type Tracing, trace } from './tracing.ts';

/* Bodices and dresses made longer (shorter) between underarm and waist, level across. */

/** A slash stands at least so far from a corner, a dart's mouth or the waist, mm. */
const CLEAR = 8;

/** Between which heights a length change is blended: the lowest that holds its place above, and the waist. */
const zoneOf = (tracing: Tracing): Zone | undefined => {
  const seams = tracing.piece.edges.filter((e) => isSeamDown(e.role));
  const [first] = seams;
  if (!first) return undefined;
  const heights = seams.map((e) => seamHeights(tracing, e.id));
  const waist = Math.max(...heights.map((h) => h.waist));
  const underarm = Math.min(...heights.map((h) => h.top));
  const shaped = seams.some((e) => e.role === 'panel seam');
  const bust = shaped ? (tracing.levels.get('bust') ?? tracing.levels.get('underarm')) : undefined;
  const held = [underarm, ...mouthsInSeams(tracing), ...(bust === undefined ? [] : [bust])];
  return { top: Math.min(...held.filter((y) => y > waist)), bottom: waist };
};

/** Heights of the mouths of darts in the seams that run down the piece. */
const mouthsInSeams = (tracing: Tracing): number[] => {
  const seams = new Set(tracing.piece.edges.filter((e) => isSeamDown(e.role)).map((e) => e.id));
  return tracing.piece.darts
    .filter((d) => d.edge !== undefined && seams.has(d.edge))
    .flatMap((d) => ([0, 1] as const).map((which) => at(tracing, mouthIndex(tracing, d.id, which)).y));
};

const hasWaistAndUnderarm = (piece: Tracing['piece']): boolean => {
  const tier = tierOf(piece);
  return tier === 'bodice' || tier === 'dress';
};

/** Where bodice or dress is slashed between underarm and waist, and whether a line is printed there. */
export interface WaistLine {
  readonly height: number;
  readonly printed: boolean;
}

/**
 * The line for a piece: the one printed on it between underarm and waist, else the one that another piece has there,
 * else midway on the stretch that all pieces have in common. As the pattern came: what lies above it never moves.
 */
export const waistLine = (pieces: readonly Tracing['piece'][], own: Tracing['piece']): WaistLine => {
  const ours = printedLine(own);
  if (ours !== undefined) return { height: ours, printed: true };
  const others = pieces.filter(hasWaistAndUnderarm);
  const other = others.map(printedLine).find((y) => y !== undefined && liesIn(zoneOf(trace(own)), y));
  if (other !== undefined) return { height: other, printed: false };
  const zones = [own, ...others].map((p) => zoneOf(trace(p))).filter((z) => z !== undefined);
  const top = Math.min(...zones.map((z) => z.top));
  const bottom = Math.max(...zones.map((z) => z.bottom));
  return { height: (top + bottom) / 2, printed: false };
};

const liesIn = (zone: Zone | undefined, y: number): boolean =>
  zone !== undefined && y > zone.bottom + CLEAR && y < zone.top - CLEAR;

const printedLine = (piece: Tracing['piece']): number | undefined => {
  const tracing = trace(piece);
  const zone = zoneOf(tracing);
  return adjustmentLinesNow(tracing).find((y) => liesIn(zone, y));
};

/**
 * Parts a piece at its line and spreads it by `by` (folds it out, when negative), level across: the waist and what hangs
 * below it move down. Its seams gain by just that, whatever the pieces they are sewn to do.
 * @throws NoRoom when there is no stretch between underarm and waist
 */
export const lengthenAboveWaist = (garment: Garment, pieceId: string, by: number): Garment => {
  const tracing = tracingOf(garment, pieceId);
  const zone = zoneOf(tracing);
  if (!zone) throw new NoRoom('there is no seam between underarm and waist');
  const { height } = waistLine(garment.pattern.pieces, tracing.piece);
  const hidden = marksInTuck(garment, pieceId, height, by);
  const parted = onPiece(garment, pieceId, (t) => lengthenAt(t, height, by, zone));
  const seams = tracing.piece.edges.filter((e) => isSeamDown(e.role));
  return seams.reduce<Garment>((g, e) => seamLonger(g, pieceId, e.id, by), {
    ...parted,
    hidden: [...garment.hidden, ...hidden],
  });
};
