import { layersOf, timesOnLimb } from '../pattern/parts.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Cloth, Piece } from '../pattern/piece.ts';

/* The parts of a garment that alterations are done on, whatever number of pieces they are made of. */

/** One sleeve in one layer of cloth: a piece by itself, or an upper and an under sleeve. */
export interface Sleeve {
  readonly cloth: Cloth;
  readonly pieces: readonly Piece[];
}

export const sleeves = (pattern: Pattern): readonly Sleeve[] =>
  layersOf(pattern, 'sleeve').flatMap(({ cloth, pieces }) => {
    const whole = pieces.filter((p) => p.part === 'sleeve');
    const parts = pieces.filter((p) => p.part !== 'sleeve');
    return [...whole.map((p) => [p]), ...(parts.length > 0 ? [parts] : [])].map((own) => ({ cloth, pieces: own }));
  });

/** How often the papers of a sleeve occur round one arm: a change of the arm is divided by it. */
export const papersRound = ({ pieces }: Sleeve): number => pieces.reduce((sum, p) => sum + timesOnLimb(p), 0);

/** The pieces of the legs: fronts, backs or both, every layer of cloth. */
export const legs = (pattern: Pattern, places: readonly LegPlace[] = LEG_PLACES): readonly Piece[] =>
  places.flatMap((place) => layersOf(pattern, place).flatMap((layer) => layer.pieces));

export type LegPlace = 'trouser front' | 'trouser back';
const LEG_PLACES: readonly LegPlace[] = ['trouser front', 'trouser back'];
