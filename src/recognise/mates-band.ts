import { edgeLength } from '../pattern/edges.ts';
import type { Mates } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Context } from './context.ts';
import { waistsOnTop } from './mates-yoke.ts';
import { lengthOfSide, mates, sewn, timesCut, UNEQUAL } from './sewing.ts';

/** A waistband has its overlap on top of the waist. mm */
const OVERLAP = 120;

/** The waistband's edge to all waist edges round. */
export const bandMates = (pieces: readonly Piece[], context: Context): Mates[] => {
  const waists = waistsOnTop(pieces);
  if (waists.length === 0) return [];
  const around = waists.reduce((sum, s) => sum + timesCut(s.piece) * lengthOfSide(s), 0);
  return pieces
    .filter((p) => p.part === 'waistband')
    .flatMap((piece) => {
      const edge = piece.edges.find((e) => e.role === 'band seam');
      if (!edge) return [];
      const times = piece.half ? 2 : 1;
      const length = times * edgeLength(piece, edge);
      const over = length - around;
      const fits = over > -UNEQUAL && over < OVERLAP;
      if (!fits) tellBand(piece, length, around, context);
      const says = `it is ${Math.abs(over).toFixed(1)} mm ${over < 0 ? 'shorter' : 'longer'} than the waist edges together`;
      return [
        mates(
          'waist seam',
          [sewn({ piece, edge }, times)],
          waists.map((s) => sewn(s, timesCut(s.piece))),
          [{ says: 'the waistband is sewn to the waist', weight: 0.7 }, ...(fits ? [{ says, weight: 0.5 }] : [])],
        ),
      ];
    });
};

const tellBand = (piece: Piece, length: number, around: number, context: Context): void =>
  context.tell({
    code: 'recognise-mates-unequal',
    level: 'warning',
    where: { file: context.drawing.fileName, piece: piece.id, edge: 'band seam' },
    message: `${piece.id} is ${length.toFixed(1)} mm long where it is sewn on, the waist edges it belongs to ${around.toFixed(1)} mm together.`,
    try: 'Check the cut counts of all pieces, or state the mates in the pattern sheet.',
  });
