import type { Point } from '../geometry/point.ts';
import { isPartOf, layersOf, type PlaceInCloth } from '../pattern/parts.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Landmark, Level, LevelName, Piece } from '../pattern/piece.ts';
import { neckAt } from '../pattern/taking/bodice.ts';
import { centreOf } from '../pattern/taking/places.ts';
import { fromPaper } from '../pattern/upright.ts';
import { hasWidthLevel, shoulderedArmholes, shouldersOf, widthLevel } from './armhole.ts';
import { trace } from './tracing.ts';

/* Places that measurements are taken from and that a pattern need not mark: they go along with the paper. */

/** The pattern with all of them. */
export const withMeasuredPlaces = (pattern: Pattern): Pattern => withNapes(withWidthLevels(pattern));

/**
 * The nape on every back: on the centre, where the neck edge meets it as drafted. It is a place of the body, so lengths
 * from it are what they were when the neck edge is drawn lower for a larger neck.
 */
const withNapes = (pattern: Pattern): Pattern => {
  const pieces = pattern.pieces.map((piece) => {
    const at = isPartOf(piece, 'back') && !piece.landmarks.some((l) => l.name === 'nape') && napeOn(piece);
    if (!at) return piece;
    const says = 'taken where the neck edge meets the centre back';
    const nape: Landmark = { name: 'nape', at, marks: [], evidence: [{ says, weight: 0.5 }], confidence: 0.5 };
    return { ...piece, landmarks: [...piece.landmarks, nape] };
  });
  return pieces.every((p, i) => p === pattern.pieces[i]) ? pattern : { ...pattern, pieces };
};

const napeOn = (piece: Piece): Point | undefined => {
  const x = centreOf(piece);
  const y = x === undefined ? undefined : neckAt(piece, x);
  return x === undefined || y === undefined ? undefined : fromPaper(piece.upright, { x, y });
};

/**
 * The pattern with a chest level on every front, and a blade level on every back, that has a shoulder. Where none is
 * marked it lies at the armhole notch, else halfway up the armhole; on panels where it lies on the one beside the armhole.
 */
const withWidthLevels = (pattern: Pattern): Pattern => {
  const added = new Map<Piece, Level>();
  for (const layer of [...layersOf(pattern, 'front'), ...layersOf(pattern, 'back')]) {
    const level = levelOf(layer);
    for (const piece of level ? layer.pieces.filter((p) => lacks(p, level.name)) : []) added.set(piece, level as Level);
  }
  if (added.size === 0) return pattern;
  const withLevel = (piece: Piece): Piece => {
    const level = added.get(piece);
    return level ? { ...piece, levels: [...piece.levels, level] } : piece;
  };
  return { ...pattern, pieces: pattern.pieces.map(withLevel) };
};

const lacks = (piece: Piece, name: LevelName): boolean =>
  shouldersOf(trace(piece)).length > 0 && !piece.levels.some((l) => l.name === name);

const levelOf = ({ pieces }: PlaceInCloth): Level | undefined => {
  const beside = pieces.find((p) => shoulderedArmholes(trace(p)).length > 0);
  if (!beside) return undefined;
  const [{ armhole }] = shoulderedArmholes(trace(beside)) as [ReturnType<typeof shoulderedArmholes>[number]];
  const where = hasWidthLevel(trace(beside), armhole) ? 'where its armhole is marked' : 'halfway up the armhole';
  return {
    name: isPartOf(beside, 'front') ? 'chest' : 'blade',
    height: widthLevel(trace(beside), armhole),
    evidence: [{ says: `no such line is marked; taken ${where}`, weight: 0.5 }],
    confidence: 0.5,
  };
};
