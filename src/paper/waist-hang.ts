import type { Point } from '../geometry/point.ts';
import { edgeWithRole, isCentre } from '../pattern/edges.ts';
import type { EdgeRole } from '../pattern/piece.ts';
import { step } from './bend.ts';
import { bustsOf } from './bust-point.ts';
import { type Garment, onPiece, tracingOf } from './garment.ts';
import { type FromCentre, fromCentreAt, hangDress, widthAtWaist } from './hang-dress.ts';
import { raiseEdgeBy } from './move-edge.ts';
import { edgeBeside, edgeRun, inDarts, pointsOf, sewnLength } from './runs.ts';
import { fitWaist, seamsAtWaist } from './skirt-seams.ts';
import { fitByDarts } from './skirt-shape.ts';
import { solveFor } from './solve.ts';
import type { Tracing } from './tracing.ts';

/*
 * The waist lowered (raised) at the centre, to nothing at the side: what a wedge comes to that is slashed from the centre
 * to, not through, the side seam line and trued. The centre is straight again, and the width that the swing would take is
 * put back, so that all that was upright stays so and the side seam keeps its place and its length. The waist is a
 * smooth line that meets centre and side at the angles it had. Front and back may be of several panels: they go alike at
 * the seam between them.
 */

const waistOf = (tracing: Tracing): string | undefined => edgeWithRole(tracing.piece, 'waist')[0]?.id;

/** Drawn from side to side, or the middle panel of what is. */
const isWhole = ({ piece }: Tracing): boolean => {
  const has = (role: EdgeRole): number => edgeWithRole(piece, role).length;
  if (piece.edges.some((e) => isCentre(e.role))) return false;
  return has('side') === 2 || (has('side') === 0 && has('panel seam') === 2 && has('neck') > 0);
};

/** The pieces of a front or back from the centre to the side. */
const inOrder = (garment: Garment, pieces: readonly string[]): Tracing[] => {
  const rank = (t: Tracing): number => {
    if (isWhole(t) || t.piece.edges.some((e) => isCentre(e.role))) return 0;
    return edgeWithRole(t.piece, 'side').length > 0 ? 2 : 1;
  };
  return pieces.map((id) => tracingOf(garment, id)).sort((a, b) => rank(a) - rank(b));
};

const placesOf = (row: readonly Tracing[]): FromCentre[] => {
  const widths = row.map((t) => {
    const waist = waistOf(t);
    const width = waist === undefined ? widthAtWaist(t) : sewnLength(t, waist);
    return isWhole(t) ? width / 2 : width;
  });
  const total = widths.reduce((a, b) => a + b, 0);
  let passed = 0;
  return row.map((t, i) => {
    const from = passed / total;
    passed += widths[i] as number;
    return { from, to: passed / total, whole: isWhole(t) };
  });
};

/**
 * Lowers the waist of a front or back by `by` at the centre (raises it, when negative), to nothing at the side.
 * @param pieces ids of the pieces that make up the front or the back, in one layer of cloth
 * @param line height at which a piece without a waist edge is slashed, mm
 */
export const hangFromCentre = (garment: Garment, pieces: readonly string[], by: number, line: number): Garment => {
  if (by === 0) return garment;
  const row = inOrder(garment, pieces);
  const places = placesOf(row);
  return row.reduce((g, { piece }, i) => {
    const place = places[i] as FromCentre;
    return onPiece(g, piece.id, (t) => {
      const waist = waistOf(t);
      return waist === undefined ? hangDress(t, by, place, line) : lowerWaist(t, waist, by, place);
    });
  }, garment);
};

/** As {@link hangFromCentre}, by what makes the waist `by` lower straight below the bust point, where that is known. */
export const hangBelowBust = (garment: Garment, pieces: readonly string[], by: number, line: number): Garment => {
  const [centre] = inOrder(garment, pieces);
  const waist = centre && waistOf(centre);
  const [bust] = centre ? bustsOf(centre) : [];
  if (!centre || !bust || waist === undefined || by === 0) return hangFromCentre(garment, pieces, by, line);
  const below = (g: Garment): number => waistBelow(tracingOf(g, centre.piece.id), waist, bust.at.x);
  const was = below(garment);
  const hung = (atCentre: number): Garment => hangFromCentre(garment, pieces, atCentre, line);
  return solveFor(hung, (made) => was - below(made) - by, by * 1.3, by * 1.4, 1e-4);
};

/** Height of the waist edge below a place, straight across the mouths of darts; past its ends that of the nearest. */
const waistBelow = (tracing: Tracing, waist: string, x: number): number => {
  const darts = inDarts(tracing, waist);
  const line = pointsOf(
    tracing,
    edgeRun(tracing, waist).filter((i) => !darts.has(i) || (darts.get(i)?.towardsTip === 0 && tracing.seam[i]?.corner)),
  );
  const k = line.findIndex((p, i) => i > 0 && ((line[i - 1] as Point).x - x) * (p.x - x) <= 0);
  if (k < 0) return line.reduce((best, p) => (Math.abs(p.x - x) < Math.abs(best.x - x) ? p : best)).y;
  const [a, b] = [line[k - 1], line[k]] as [Point, Point];
  return a.x === b.x ? a.y : a.y + ((b.y - a.y) * (x - a.x)) / (b.x - a.x);
};

const lowerWaist = (tracing: Tracing, waist: string, by: number, place: FromCentre): Tracing => {
  const before = edgeBeside(tracing, waist, 'before').role;
  const after = edgeBeside(tracing, waist, 'after').role;
  const startsInside = isCentre(before) || after === 'side';
  const outward = (u: number): number => (place.whole ? Math.abs(2 * u - 1) : startsInside ? u : 1 - u);
  const isEnd = (role: EdgeRole): boolean => role === 'side' || isCentre(role);
  const lowered = raiseEdgeBy(tracing, waist, (u) => -by * step(1 - fromCentreAt(place, outward(u))), {
    start: isEnd(before),
    end: isEnd(after),
  });
  // What the slant makes the waist longer goes into its darts, so that the side seam stays; without darts into its seams.
  const length = sewnLength(tracing, waist);
  const darted = fitByDarts(lowered, waist, length);
  const fitted = darted === lowered ? fitWaist(lowered, waist, length, seamsAtWaist(lowered, waist)) : darted;
  const level = tracing.levels.get('waist');
  if (level === undefined) return fitted;
  return { ...fitted, levels: new Map([...tracing.levels, ['waist', level - by * step(1 - place.from)]]) };
};
