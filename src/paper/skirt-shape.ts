import type { Point } from '../geometry/point.ts';
import { edgeWithRole, isCentre, isCentreAtWaist } from '../pattern/edges.ts';
import { widenDart } from './darts.ts';
import { raiseEdge } from './move-edge.ts';
import { arrival, edgeBeside, edgeOf, edgeRun, pointsOf, sewnLength } from './runs.ts';
import { raiseWaistCorner, seamHeights, seamsAtWaist } from './skirt-seams.ts';
import { solveFor } from './solve.ts';
import { type Tracing, trace } from './tracing.ts';
import { openWedge } from './wedge.ts';

/* Changes of shape on one skirt piece, in the trade's words. */

const waistOf = (tracing: Tracing): string | undefined => edgeWithRole(tracing.piece, 'waist')[0]?.id;

/** The edge at the garment's centre: a fold or a seam, of trousers the crotch seam. Absent on a piece that is drawn whole. */
export const centreOf = (tracing: Pick<Tracing, 'piece'>): string | undefined =>
  tracing.piece.edges.find((e) => isCentreAtWaist(e.role))?.id;

/** Raises (lowers) the waist at the centre by `by`, to nothing at the side. */
export const raiseWaistAtCentre = (tracing: Tracing, by: number): Tracing => {
  const waist = waistOf(tracing);
  if (waist === undefined) return tracing;
  const centre = centreOf(tracing);
  const place = centre === undefined ? 'middle' : edgeBeside(tracing, waist, 'before').id === centre ? 'start' : 'end';
  return raiseEdge(tracing, waist, place, alongCentre(tracing, centre, place, by));
};

/** The way up by `by` along the centre as it comes to the waist: straight up but on trousers, whose crotch seam leans. */
const alongCentre = (
  tracing: Tracing,
  centre: string | undefined,
  place: 'start' | 'middle' | 'end',
  by: number,
): Point => {
  if (centre === undefined || isCentre(edgeOf(tracing, centre).role)) return { x: 0, y: by };
  const points = pointsOf(tracing, edgeRun(tracing, centre));
  const up = arrival(place === 'start' ? points : points.toReversed());
  return { x: (up.x / up.y) * by, y: by };
};

/** Raises (lowers) the waist at the side by `by`, to nothing at the centre; the hip curve moves with it. */
export const raiseWaistAtSide = (tracing: Tracing, by: number): Tracing => {
  const waist = waistOf(tracing);
  if (waist === undefined) return tracing;
  return seamsAtWaist(tracing, waist).reduce((t, seam) => raiseWaistCorner(t, seam, by, 'whole waist'), tracing);
};

/** Raises (lowers) the waist at one side of a piece that is drawn whole, to nothing at its middle; darts there go along. */
export const raiseWaistOnOneSide = (tracing: Tracing, seam: string, by: number): Tracing =>
  raiseWaistCorner(tracing, seam, by, 'whole waist');

/**
 * Opens (closes) a wedge at the centre, hinged on the side seam `depth` below the waist, the hem part keeping the
 * grain; then the darts are deepened (made narrower) until the waist is what it was.
 */
export const wedgeAtCentre = (tracing: Tracing, by: number, height: number): Tracing => {
  const waist = waistOf(tracing);
  const centre = centreOf(tracing);
  const seam = waist === undefined ? undefined : seamsAtWaist(tracing, waist)[0];
  if (waist === undefined || centre === undefined || seam === undefined) return tracing;
  const length = sewnLength(tracing, waist);
  const kept = new Set(tracing.piece.lines.filter((l) => l.kind === 'grain').map((l) => l.id));
  const pinned = Math.abs(height - hipHeight(tracing)) < 1;
  const opened = openWedge(tracing, by, { height, opensAt: centre, hingesAt: seam, kept, pinned });
  return fitByDarts(opened, waist, length);
};

/** Height `depth` below the waist at the side. */
export const belowWaist = (tracing: Tracing, depth: number): number => {
  const waist = waistOf(tracing);
  const seam = waist === undefined ? undefined : seamsAtWaist(tracing, waist)[0];
  return seam === undefined ? 0 : seamHeights(tracing, seam).waist - depth;
};

/** Height of the hip level. */
export const hipHeight = (tracing: Tracing): number => tracing.levels.get('hip') ?? 0;

/** Makes the darts of a waist edge wider or narrower, all alike, until the edge has the sewn length asked for. */
export const fitByDarts = (tracing: Tracing, waist: string, length: number): Tracing => {
  const darts = tracing.piece.darts.filter((d) => d.edge === waist);
  if (darts.length === 0) return tracing;
  const widened = (by: number): Tracing => darts.reduce((t, d) => widenDart(t, d.id, by), tracing);
  const first = (sewnLength(tracing, waist) - length) / darts.length;
  if (Math.abs(first) < 0.003) return tracing;
  return solveFor(widened, (made) => sewnLength(made, waist) - length, first, first * 0.95, 0.001);
};

/** How far the waist can be raised at the centre until the waist edge is straight: its rise at the side, mm. */
export const raiseTillStraight = (piece: Tracing['piece']): number => {
  const tracing = trace(piece);
  const waist = waistOf(tracing);
  const seam = waist === undefined ? undefined : seamsAtWaist(tracing, waist)[0];
  const centre = centreOf(tracing);
  if (seam === undefined || centre === undefined) return Number.POSITIVE_INFINITY;
  const top = Math.max(...pointsOf(tracing, edgeRun(tracing, centre)).map((p) => p.y));
  return Math.max(0, seamHeights(tracing, seam).waist - top);
};
