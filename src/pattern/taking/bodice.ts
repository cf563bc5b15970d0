import { distance, type Point } from '../../geometry/point.ts';
import { layersOf } from '../parts.ts';
import type { Pattern } from '../pattern.ts';
import type { Piece } from '../piece.ts';
import { hasRole, onEach, sewn, waistBelow } from './on-each.ts';
import { centreOf, corners, heightOfEdge, heightsAt, landmark, levelHeight } from './places.ts';
import { addedUp, counted, type Lack, lacking, lacksLevel, layerCalled, type Taken, together } from './taken.ts';

/* Lengths and spans of a bodice, or of the upper part of a dress. */

/** From the neck down the centre back to the waist. */
export const backNeckToWaist = (pattern: Pattern): Taken =>
  onEach(pattern, ['back'], isAtCentre, (piece) => {
    const x = centreOf(piece) as number;
    const neck = napeAt(piece, x);
    const waist = waistBelow(piece, x);
    if (neck === undefined) return lacksNeck(piece);
    return waist === undefined
      ? lacksLevel(piece, 'waist')
      : counted(piece, 'down the centre from the nape to the waist', neck - waist);
  });

/** Where the neck edge runs over the centre. */
export const neckAt = (piece: Piece, x: number): number | undefined =>
  hasRole('neck')(piece) ? (heightsAt(piece, 'neck', x).at(-1) ?? heightOfEdge(piece, 'neck', x)) : undefined;

/** The nape, which stays where it is when the neck is drawn larger; where none is known, the neck edge as it is. */
const napeAt = (piece: Piece, x: number): number | undefined => landmark(piece, 'nape')?.y ?? neckAt(piece, x);

/** Centre pieces have the neck point; side panels of a back may have none. */
const isAtCentre = (piece: Piece): boolean => hasRole('neck')(piece) && centreOf(piece) !== undefined;

const lacksNeck = (piece: Piece): Lack =>
  lacking(piece, 'no neck and shoulder edges', `Name the edges of ${piece.id} in the pattern sheet.`);

const lacksBustPoint = (piece: Piece): Lack =>
  lacking(piece, 'no bust point', `Mark the bust point, or give it for ${piece.id} in the pattern sheet.`);

/** The neck point; of the two on a whole piece the one on the side of the bust point. */
const neckPoint = (piece: Piece, bust: Point | undefined): Point | undefined =>
  corners(piece, 'neck', 'shoulder').toSorted((a, b) => (bust ? distance(a, bust) - distance(b, bust) : 0))[0];

/** From the neck point to the bust point. */
export const bustHeight = (pattern: Pattern): Taken =>
  onEach(pattern, ['front'], hasRole('neck'), (piece) => {
    const bust = landmark(piece, 'bust point');
    const neck = neckPoint(piece, bust);
    if (!neck) return lacksNeck(piece);
    return bust ? counted(piece, 'from the neck point to the bust point', distance(neck, bust)) : lacksBustPoint(piece);
  });

/** From bust point to bust point, over the centre front. */
export const bustSpan = (pattern: Pattern): Taken =>
  onEach(pattern, ['front'], hasRole('neck'), (piece) => {
    const bust = landmark(piece, 'bust point');
    const centre = centreOf(piece);
    if (!bust) return lacksBustPoint(piece);
    return counted(piece, 'from the centre to the bust point', Math.abs(bust.x - (centre ?? 0)), 2);
  });

/** From shoulder point to shoulder point, straight over the back. */
export const acrossBackShoulder = (pattern: Pattern): Taken =>
  onEach(pattern, ['back'], isAtCentre, (piece) => {
    const [tip] = shoulderTips(pattern, piece);
    if (!tip) return lacksNeck(piece);
    return counted(piece, 'from the centre to the shoulder point', Math.abs(tip.x - (centreOf(piece) as number)), 2);
  });

/** Shoulder points of front or back, whichever of its panels they lie on. */
const shoulderTips = (pattern: Pattern, piece: Piece): Point[] =>
  panelsOf(pattern, piece).flatMap((p) => corners(p, 'shoulder', 'armhole'));

/** All panels of the front or back that a piece belongs to, itself first. */
const panelsOf = (pattern: Pattern, piece: Piece): Piece[] => {
  const all = layersOf(pattern, piece.part.endsWith('front') ? 'front' : 'back')
    .filter((l) => l.cloth === piece.cut.cloth)
    .flatMap((l) => l.pieces);
  return [piece, ...all.filter((p) => p !== piece)];
};

/** From the neck point over the bust point, and from there straight down to the waist. */
export const frontWaistLength = (pattern: Pattern): Taken =>
  onEach(pattern, ['front'], hasRole('neck'), (piece) => {
    const bust = landmark(piece, 'bust point');
    const neck = neckPoint(piece, bust);
    if (!neck) return lacksNeck(piece);
    if (!bust) return lacksBustPoint(piece);
    const waist = waistBelow(piece, bust.x);
    return waist === undefined
      ? lacksLevel(piece, 'waist')
      : counted(
          piece,
          'from the neck point over the bust point down to the waist',
          distance(neck, bust) + bust.y - waist,
        );
  });

/** The shoulder seam, darts closed, on front and back each; on a whole piece one of the two. */
export const shoulderLength = (pattern: Pattern): Taken =>
  together(
    (['front', 'back'] as const).flatMap((place) =>
      layersOf(pattern, place).map(({ cloth, pieces }) =>
        addedUp(
          layerCalled(place, cloth),
          pieces.filter(hasRole('shoulder')).map((piece) => {
            const whole = corners(piece, 'neck', 'shoulder').length === 2 ? 2 : 1;
            return counted(piece, 'along the shoulder seam', sewn(piece, 'shoulder') / whole);
          }),
        ),
      ),
    ),
  );

/** How far the shoulder point lies below the neck point. */
export const shoulderDrop = (pattern: Pattern): Taken =>
  onEach(pattern, ['front', 'back'], hasRole('neck'), (piece) => {
    const [neck] = corners(piece, 'neck', 'shoulder');
    const [tip] = shoulderTips(pattern, piece);
    if (!neck || !tip) return lacksNeck(piece);
    return counted(piece, 'neck point down to shoulder point', neck.y - tip.y);
  });

/** From the neck at centre back down to the level of the underarm. */
export const armholeDepth = (pattern: Pattern): Taken =>
  onEach(pattern, ['back'], isAtCentre, (piece) => {
    const neck = napeAt(piece, centreOf(piece) as number);
    // On a back in panels the underarm lies on the side panel; heights are counted from the waist on both.
    const underarm = panelsOf(pattern, piece).flatMap((p) => levelHeight(p, 'underarm') ?? [])[0];
    if (neck === undefined) return lacksNeck(piece);
    return underarm === undefined
      ? lacksLevel(piece, 'underarm')
      : counted(piece, 'from the nape down to the underarm level', neck - underarm);
  });

/** Straight from the neck at centre back to the shoulder point. */
export const backNeckToShoulder = (pattern: Pattern): Taken =>
  onEach(pattern, ['back'], isAtCentre, (piece) => {
    const centre = centreOf(piece) as number;
    const neck = napeAt(piece, centre);
    const [tip] = shoulderTips(pattern, piece);
    if (neck === undefined || !tip) return lacksNeck(piece);
    return counted(piece, 'from the nape to the shoulder point', distance({ x: centre, y: neck }, tip));
  });
