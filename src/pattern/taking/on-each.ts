import { edgeLength, edgeWithRole } from '../edges.ts';
import { layersOf, type Place } from '../parts.ts';
import type { Pattern } from '../pattern.ts';
import type { EdgeRole, Piece } from '../piece.ts';
import { heightOfEdge, levelHeight } from './places.ts';
import { addedUp, type Counted, type Lack, layerCalled, type Taken, together } from './taken.ts';

/* What the measures of several parts of a garment have in common. */

/** Each place, layer by layer, with the pieces that show the length there. */
export const onEach = (
  pattern: Pattern,
  places: readonly Place[],
  shows: (piece: Piece) => boolean,
  take: (piece: Piece) => Counted | Lack,
): Taken =>
  together(
    places.flatMap((place) =>
      layersOf(pattern, place).map(({ cloth, pieces }) =>
        addedUp(layerCalled(place, cloth), pieces.filter(shows).slice(0, 1).map(take)),
      ),
    ),
  );

export const hasRole =
  (role: EdgeRole) =>
  (piece: Piece): boolean =>
    edgeWithRole(piece, role).length > 0;

/** Where the waist lies below a place of a bodice or dress: its edge, or its level. */
export const waistBelow = (piece: Piece, x: number): number | undefined =>
  hasRole('waist')(piece) ? heightOfEdge(piece, 'waist', x) : levelHeight(piece, 'waist');

/** Length of all edges of a role as they are sewn, mm. */
export const sewn = (piece: Piece, role: EdgeRole): number =>
  edgeWithRole(piece, role).reduce((sum, e) => sum + edgeLength(piece, e), 0);
