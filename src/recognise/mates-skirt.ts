import type { Mates } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Context } from './context.ts';
import type { Side } from './sewing.ts';
import { edgesAcross, equal, lengthOfSide, mates, pairMates, sewn, UNEQUAL } from './sewing.ts';

/** What of a skirt is sewn together: sides, and gores in the order of the drawing. */
export const skirtMates = (pieces: readonly Piece[], context: Context): Mates[] => [
  ...sideMates(pieces, context),
  ...goreMates(pieces, context),
];

const sidesOf = (p: Piece): Side[] => edgesAcross(p, 'side');

/** Front to back by side seam. Whole pieces face one another: the left edge of one meets the right edge of the other. */
const sideMates = (pieces: readonly Piece[], context: Context): Mates[] => {
  const fronts = pieces.filter((p) => p.part === 'skirt front');
  const backs = pieces.filter((p) => p.part === 'skirt back');
  const middles = pieces.filter((p) => p.part === 'skirt side');
  if (middles.length > 0 || fronts.length === 0 || backs.length === 0) return alone(pieces);
  const found: Mates[] = [];
  for (const front of fronts) {
    const back = closest(front, backs);
    if (!back) continue;
    if (backs.length > 1 && ambiguous(front, backs)) tellDoubt(front, backs, context);
    const [a, b] = [sidesOf(front), sidesOf(back)];
    if (a.length === 0 || b.length === 0) continue;
    const pairs: [Side, Side][] =
      a.length === 2 && b.length === 2
        ? [
            [a[0] as Side, b[1] as Side],
            [a[1] as Side, b[0] as Side],
          ]
        : a.flatMap((s) => b.map((t): [Side, Side] => [s, t]));
    for (const [s, t] of pairs)
      found.push(pairMates('side seam', s, t, 'front and back are sewn at the side', context));
  }
  return found;
};

/** A skirt of one kind of piece: its sides are sewn to one another. */
const alone = (pieces: readonly Piece[]): Mates[] =>
  pieces
    .filter((p) => p.part === 'skirt')
    .flatMap((p) => {
      const sides = sidesOf(p);
      const [a, b] = [sides[0], sides[1] ?? sides[0]];
      return a && b && pieces.filter((q) => q.part.startsWith('skirt')).length === 1
        ? [
            mates(
              'side seam',
              [sewn(a)],
              [sewn(b)],
              [
                { says: 'the skirt has one piece, sewn to itself at the side', weight: 0.5 },
                ...equal(lengthOfSide(a), lengthOfSide(b)),
              ],
            ),
          ]
        : [];
    });

const sideLength = (p: Piece): number => (sidesOf(p)[0] ? lengthOfSide(sidesOf(p)[0] as Side) : 0);
const closest = (front: Piece, backs: readonly Piece[]): Piece | undefined =>
  [...backs].sort(
    (a, b) => Math.abs(sideLength(a) - sideLength(front)) - Math.abs(sideLength(b) - sideLength(front)),
  )[0];
const ambiguous = (front: Piece, backs: readonly Piece[]): boolean =>
  backs.filter((b) => Math.abs(sideLength(b) - sideLength(front)) <= UNEQUAL).length > 1;

const tellDoubt = (front: Piece, backs: readonly Piece[], context: Context): void => {
  const names = backs.map((b) => b.id).join(', ');
  const sheetLine = `mates:\n  - sew: [${front.id} side, ${backs[0]?.id} side]`;
  context.doubt({
    piece: front.id,
    about: 'the side seam',
    edge: 'side',
    code: 'recognise-mates-doubtful',
    message: `its side could be sewn to ${names}`,
    sheetLine,
  });
  context.tell({
    code: 'recognise-mates-doubtful',
    level: 'warning',
    where: { file: context.drawing.fileName, piece: front.id, edge: 'side' },
    message: `The side of ${front.id} could be sewn to any of ${names}.`,
    try: `State the mates in the pattern sheet, “sew: [${front.id} side, ${backs[0]?.id} side]”.`,
  });
};

/** Gores are sewn round: each one's right edge to the next one's left. */
const goreMates = (pieces: readonly Piece[], context: Context): Mates[] => {
  const gores = pieces.filter((p) => p.part === 'skirt gore');
  return gores.flatMap((p, i) => {
    const next = gores[(i + 1) % gores.length] as Piece;
    const right = edgesAcross(p, 'gore seam')[1];
    const left = edgesAcross(next, 'gore seam')[0];
    return right && left
      ? [pairMates('gore seam', right, left, 'gores are sewn round in the order of the drawing', context)]
      : [];
  });
};
