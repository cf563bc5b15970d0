import { layersOf, type Place, type PlaceInCloth, timesOnLimb } from '../parts.ts';
import type { Pattern } from '../pattern.ts';
import type { EdgeRole, LevelName, Piece } from '../piece.ts';
import { acrossAt, straightWidth } from './across.ts';
import { hasRole, onEach, sewn } from './on-each.ts';
import { corners, levelHeight } from './places.ts';
import {
  addedUp,
  type Counted,
  counted,
  type Lack,
  lacking,
  lacksLevel,
  layerCalled,
  type Taken,
  together,
} from './taken.ts';

/* Trousers: the crotch seam, and one leg round and down. */

const always = (): boolean => true;

const bothTrousers = ['trouser front', 'trouser back'] as const;

/** From the waist at the side straight down to a level. */
const downTheSide =
  (level: LevelName) =>
  (pattern: Pattern): Taken =>
    onEach(pattern, bothTrousers, always, (piece) => {
      const [waist] = corners(piece, 'side', 'waist');
      const height = levelHeight(piece, level);
      if (!waist)
        return lacking(piece, 'no side and waist edges', `Name the edges of ${piece.id} in the pattern sheet.`);
      return height === undefined
        ? lacksLevel(piece, level)
        : counted(piece, `from the waist at the side down to the ${level} level`, waist.y - height);
    });

export const crotchDepth = downTheSide('crotch');

export const waistToKnee = downTheSide('knee');

const along =
  (places: readonly Place[], role: EdgeRole, seam: string) =>
  (pattern: Pattern): Taken =>
    onEach(pattern, places, always, (piece) =>
      hasRole(role)(piece)
        ? counted(piece, `along the ${seam}`, sewn(piece, role))
        : lacking(piece, `no ${seam}`, `Name the ${role} edge of ${piece.id} in the pattern sheet.`),
    );

export const frontCrotchLength = along(['trouser front'], 'crotch', 'crotch seam');

export const backCrotchLength = along(['trouser back'], 'crotch', 'crotch seam');

export const insideLegLength = along(bothTrousers, 'inseam', 'inseam');

export const outsideLegLength = along(bothTrousers, 'side', 'side seam');

/** Front and back crotch seam together, in each layer of cloth. */
export const crotchLength = (pattern: Pattern): Taken => {
  const [front, back] = [frontCrotchLength(pattern), backCrotchLength(pattern)];
  const lacks = [...front.lacks, ...back.lacks];
  const takings = front.takings.flatMap((f) => {
    const b = back.takings.find((t) => t.of.replace('back', 'front') === f.of);
    return b
      ? [{ of: f.of.replace('trouser front', 'crotch'), mm: f.mm + b.mm, counted: [...f.counted, ...b.counted] }]
      : [];
  });
  return { takings, lacks };
};

/** Front and back of one leg together, by layer of cloth. */
const roundTheLeg = (pattern: Pattern, part: (piece: Piece) => Counted | Lack): Taken => {
  const fronts = layersOf(pattern, 'trouser front');
  const backs = layersOf(pattern, 'trouser back');
  const leg = (front: PlaceInCloth): readonly Piece[] => [
    ...front.pieces,
    ...backs.filter((b) => b.cloth === front.cloth).flatMap((b) => b.pieces),
  ];
  return together(fronts.map((f) => addedUp(layerCalled('leg', f.cloth), leg(f).map(part))));
};

/** The thigh is taken so far below the crotch, mm: 1 in, clear of the crotch curve (common practice). */
export const THIGH_BELOW_CROTCH = 25.4;

export const thighGirth = (pattern: Pattern): Taken =>
  roundTheLeg(pattern, (piece) => {
    const crotch = levelHeight(piece, 'crotch');
    return crotch === undefined
      ? lacksLevel(piece, 'crotch')
      : counted(
          piece,
          'straight across 1 in below the crotch',
          straightWidth(piece, crotch - THIGH_BELOW_CROTCH),
          timesOnLimb(piece),
        );
  });

export const kneeGirth = (pattern: Pattern): Taken =>
  roundTheLeg(pattern, (piece) => acrossAt(piece, 'knee', timesOnLimb(piece)));
