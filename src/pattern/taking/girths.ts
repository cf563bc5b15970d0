import { edgeWithRole } from '../edges.ts';
import { isPartOf, layersOf, type Place } from '../parts.ts';
import type { Pattern } from '../pattern.ts';
import type { LevelName, Piece } from '../piece.ts';
import { coversHip, type Round, rounds, timesRound } from '../round.ts';
import { acrossAt, straightWidth, widthAt } from './across.ts';
import { sewn } from './on-each.ts';
import { corners, landmark, levelHeight, lowest } from './places.ts';
import { addedUp, type Counted, counted, type Lack, lacksLevel, layerCalled, type Taken, together } from './taken.ts';

/* Girths and widths of bodice, skirt and dress: what the pieces measure across, darts closed, added up round the body. */

const roundTheBody = (
  pattern: Pattern,
  takes: (round: Round) => boolean,
  part: (piece: Piece) => Counted | Lack,
): Taken =>
  together(
    rounds(pattern)
      .filter(takes)
      .map((round) => addedUp(layerCalled(round.tier, round.cloth), round.pieces.map(part))),
  );

const hasBust = ({ tier }: Round): boolean => tier === 'bodice' || tier === 'dress';

/** Each piece straight across at the level of the bust; under the armholes, where the bust lies higher. */
export const bustGirth = (pattern: Pattern): Taken =>
  together(
    rounds(pattern)
      .filter(hasBust)
      .map((round) => {
        const levels = bustHeights(round);
        const parts = round.pieces.map((piece): Counted | Lack => {
          const place = isPartOf(piece, 'front') ? 'front' : 'back';
          const height = underArmholes(round, place, levels[place]);
          return height === undefined
            ? lacksLevel(piece, 'bust')
            : counted(piece, 'straight across at the bust level', straightWidth(piece, height), timesRound(piece));
        });
        return addedUp(layerCalled(round.tier, round.cloth), parts);
      }),
  );

/** So far below the lowest place of an armhole, mm: clear of its corner. */
const CLEAR_OF_ARMHOLE = 0.5;

/** A level of front or back; where an armhole comes down below it, just under that. */
const underArmholes = ({ pieces }: Round, place: Place, height: number | undefined): number | undefined => {
  const foot = pieces.filter((p) => isPartOf(p, place)).flatMap((p) => lowest(p, 'armhole')?.y ?? []);
  return height === undefined || foot.length === 0 ? height : Math.min(height, Math.min(...foot) - CLEAR_OF_ARMHOLE);
};

/**
 * Height of the bust above the waist, on all panels of the front, and of the back. A back on which it is not drawn has
 * it as far below its underarm as the front, as they are sewn together.
 */
export const bustHeights = ({ pieces }: Round): { front: number | undefined; back: number | undefined } => {
  const fronts = pieces.filter((p) => isPartOf(p, 'front'));
  const backs = pieces.filter((p) => isPartOf(p, 'back'));
  const level = (all: readonly Piece[]): number | undefined => all.flatMap((p) => levelHeight(p, 'bust') ?? [])[0];
  const underarm = (all: readonly Piece[]): number | undefined =>
    all.flatMap((p) => corners(p, 'armhole', 'side').map((c) => c.y))[0];
  const front = level(fronts) ?? fronts.flatMap((p) => landmark(p, 'bust point')?.y ?? [])[0];
  const [a, b] = [underarm(fronts), underarm(backs)];
  const sewn = front === undefined || a === undefined || b === undefined ? undefined : b - (a - front);
  return { front, back: level(backs) ?? sewn };
};

/** Along the waist edges with the darts closed; on a dress straight across. */
export const waistGirth = (pattern: Pattern): Taken =>
  roundTheBody(
    pattern,
    () => true,
    (piece) => {
      const width = widthAt(piece, 'waist');
      const how =
        edgeWithRole(piece, 'waist').length > 0
          ? 'along the waist edge, darts closed'
          : 'straight across at the waist level';
      return width === undefined ? lacksLevel(piece, 'waist') : counted(piece, how, width, timesRound(piece));
    },
  );

export const hipGirth = (pattern: Pattern): Taken => {
  const round = (r: Round): Round => ({ ...r, pieces: r.pieces.filter(coversHip) });
  return together(
    rounds(pattern)
      .map(round)
      .map(({ tier, cloth, pieces }) =>
        addedUp(
          layerCalled(tier, cloth),
          pieces.map((piece) => acrossAt(piece, 'hip', timesRound(piece))),
        ),
      ),
  );
};

/** Whole width of front or back at a level of the armhole. */
const widthOf = (pattern: Pattern, place: 'front' | 'back', level: LevelName): Taken =>
  together(
    layersOf(pattern, place).map(({ cloth, pieces }) =>
      addedUp(
        layerCalled(place, cloth),
        pieces.filter((p) => reaches(p, level)).map((piece) => acrossAt(piece, level, timesRound(piece))),
      ),
    ),
  );

/** A side panel that ends at the armhole below the level does not cross it. */
const reaches = (piece: Piece, level: LevelName): boolean =>
  levelHeight(piece, level) !== undefined || edgeWithRole(piece, 'shoulder').length > 0;

export const chestWidth = (pattern: Pattern): Taken => widthOf(pattern, 'front', 'chest');
export const backWidth = (pattern: Pattern): Taken => widthOf(pattern, 'back', 'blade');

/** All neck edges, sewn. */
export const neckGirth = (pattern: Pattern): Taken =>
  roundTheBody(
    pattern,
    (round) => hasBust(round) && round.pieces.some(hasNeck),
    (piece) => counted(piece, 'along the neck edge', sewn(piece, 'neck'), timesRound(piece)),
  );

const hasNeck = (piece: Piece): boolean => edgeWithRole(piece, 'neck').length > 0;
