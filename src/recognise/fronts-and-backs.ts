import type { PartName } from '../pattern/piece.ts';
import { judge } from './judging.ts';
import { otherSide } from './part-by-shape.ts';
import type { PartReading } from './parts.ts';
import type { ReadPiece } from './piece-reading.ts';

/** Two shapes whose leaning to a front differs by less are not told apart. */
const APART = 0.05;

/**
 * Where words say of two pieces neither which is the front, their shapes are laid side by side: of a bodice the front has
 * the deeper neck, of trousers the back the longer crotch seam. Gives the part of each piece that can be told so.
 */
export const frontsAndBacks = (pieces: readonly ReadPiece[]): ReadonlyMap<ReadPiece, PartReading> => {
  const told = new Map<ReadPiece, PartReading>();
  const open = pieces.filter((p) => p.lean !== undefined && p.doubt !== undefined);
  for (const tier of ['bodice', 'dress', 'trouser'] as const) {
    const own = open.filter((p) => p.part.part.startsWith(tier));
    const [a, b] = [...own].sort((x, y) => (y.lean as number) - (x.lean as number));
    if (!a || !b || own.length !== 2 || (a.lean as number) - (b.lean as number) < APART) continue;
    const says = tier === 'trouser' ? 'of the two its crotch seam is the' : 'of the two its neck is the';
    const part = (p: ReadPiece, which: 'front' | 'back', how: string): PartReading => ({
      ...p.part,
      part: (p.part.part.endsWith(which) ? p.part.part : otherSide(p.part.part)) as PartName,
      ...judge([...p.part.evidence, { says: `${says} ${how}`, weight: 0.4 }]),
    });
    told.set(a, part(a, 'front', tier === 'trouser' ? 'shorter' : 'deeper'));
    told.set(b, part(b, 'back', tier === 'trouser' ? 'longer' : 'shallower'));
  }
  return told;
};
