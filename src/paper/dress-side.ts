import { edgeWithRole } from '../pattern/edges.ts';
import { step } from './bend.ts';
import { moveEdge } from './move-edge.ts';
import { edgeRun, pointsOf } from './runs.ts';
import { seamHeights } from './skirt-seams.ts';
import { raiseWaistOnOneSide } from './skirt-shape.ts';
import type { Tracing } from './tracing.ts';

/**
 * A side seam made longer (shorter) by `by` over the hip, to nothing at the middle of the piece. On a skirt the waist is
 * raised there and what lies below stays; a dress that runs on over the waist hangs from the shoulder, so there the hip
 * and all below go down instead, the hem with them.
 */
export const longerOverHip = (tracing: Tracing, seam: string, by: number): Tracing => {
  if (edgeWithRole(tracing.piece, 'waist').length > 0) return raiseWaistOnOneSide(tracing, seam, by);
  const { waist, hip } = seamHeights(tracing, seam);
  const down = pointsOf(tracing, edgeRun(tracing, seam)).map((p) => ({
    x: 0,
    y: -by * step((waist - p.y) / (waist - hip)),
  }));
  return moveEdge(tracing, seam, down);
};
