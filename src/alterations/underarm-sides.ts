import { edgeWithRole } from '../pattern/edges.ts';
import { isPartOf } from '../pattern/parts.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { timesRound } from '../pattern/round.ts';
import type { SeamEdge } from './shares.ts';

/** Side edges of fronts and backs that end at an armhole: where a bodice is let out at the underarm. */
export const underarmSides = (pattern: Pattern): readonly SeamEdge[] =>
  pattern.pieces
    .filter((p) => (isPartOf(p, 'front') || isPartOf(p, 'back')) && edgeWithRole(p, 'armhole').length > 0)
    .flatMap((piece) => edgeWithRole(piece, 'side').map((edge) => ({ piece, edge, counted: timesRound(piece) })));
