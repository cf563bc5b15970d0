import type { Finding } from '../finding.ts';
import { formatLength } from '../measurements/units.ts';
import { armholesOf, hasWidthLevel, shoulderedArmholes, shouldersOf } from '../paper/armhole.ts';
import { trace } from '../paper/tracing.ts';
import { layersOf, type Place, type PlaceInCloth } from '../pattern/parts.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import { timesRound } from '../pattern/round.ts';
import type { LengthShown, Share } from './contract.ts';

/* Which pieces of a bodice or dress carry its shoulders and armholes, and what is told of them. */

export const hasShoulderAtArmhole = (piece: Piece): boolean => shoulderedArmholes(trace(piece)).length > 0;
export const hasShoulder = (piece: Piece): boolean => shouldersOf(trace(piece)).length > 0;
export const hasArmhole = (piece: Piece): boolean => armholesOf(trace(piece)).length > 0;

/** How often the armholes of a piece occur on cloth: once for each half. */
const armholesOnCloth = (piece: Piece): number =>
  Math.max(
    timesRound(piece),
    piece.edges.filter((e) => e.role === 'armhole' || e.role === 'shoulder').length > 2 ? 2 : 1,
  );

export const shareAt = (piece: Piece, place: string, amount: number, most: number): Share => ({
  piece: piece.id,
  place,
  amount,
  most,
  cloth: piece.cut.cloth,
  counted: armholesOnCloth(piece),
});

/** Fronts and backs, layer by layer. */
export const bodiceLayers = (pattern: Pattern, places: readonly Place[] = ['front', 'back']): PlaceInCloth[] =>
  places.flatMap((place) => layersOf(pattern, place));

/** The pieces of a step, by front or back and layer of cloth. */
export const groupsOf = (pattern: Pattern, shares: readonly Share[]): string[][] =>
  bodiceLayers(pattern)
    .map(({ pieces }) => pieces.map((p) => p.id).filter((id) => shares.some((s) => s.piece === id)))
    .filter((ids) => ids.length > 0);

/** Pieces on which nothing marks where widths are taken. */
export const levelNotes = (alteration: string, pieces: readonly Piece[]): Finding[] =>
  pieces
    .filter((piece) => armholesOf(trace(piece)).some((a) => !hasWidthLevel(trace(piece), a)))
    .map((piece) => ({
      code: 'plan-armhole-level',
      level: 'note',
      where: { alteration, piece: piece.id },
      message: `${piece.name || piece.id}: neither a chest or blade level nor an armhole notch is marked; halfway up the armhole was taken.`,
      try: 'Mark the armhole notch, or give "levels: chest" (or blade) in the pattern sheet.',
    }));

/** What a shoulder that reaches further over the arm asks of the sleeve. */
export const capNote = (pattern: Pattern, alteration: string, by: number, show: LengthShown): Finding[] =>
  by === 0 || !pattern.pieces.some((p) => p.part === 'sleeve' || p.part === 'upper sleeve')
    ? []
    : [
        {
          code: 'plan-cap-height',
          level: 'note',
          where: { alteration },
          message: `The shoulder reaches ${formatLength(Math.abs(by), show)} ${by > 0 ? 'further' : 'less far'} over the arm; a sleeve that is to hang as before ${by > 0 ? 'loses' : 'gains'} as much at the top of its cap. The armhole keeps its length.`,
          try: `If the sleeve is to follow, ask for it as well: cap height=${(-by).toFixed(1)}mm.`,
        },
      ];
