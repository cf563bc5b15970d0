import { isPartOf, layersOf, type PlaceInCloth } from '../pattern/parts.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Level, LevelName, Piece } from '../pattern/piece.ts';
import { hasWidthLevel, shoulderedArmholes, shouldersOf, widthLevel } from './armhole.ts';
import { trace } from './tracing.ts';

/* Widths of chest and back are measured again where they are altered, marked or not. */

/**
 * The pattern with a chest level on every front, and a blade level on every back, that has a shoulder. Where none is
 * marked it lies at the armhole notch, else halfway up the armhole; on panels where it lies on the one beside the armhole.
 */
export const withWidthLevels = (pattern: Pattern): Pattern => {
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
