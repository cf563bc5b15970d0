import type { Finding } from '../finding.ts';
import { distance } from '../geometry/point.ts';
import { formatLength } from '../measurements/units.ts';
import { LEAST_DART } from '../paper/darts.ts';
import { type Pattern, pieceCalled } from '../pattern/pattern.ts';
import type { Dart } from '../pattern/piece.ts';
import type { LengthShown } from './contract.ts';

const width = ({ mouth }: Dart): number => distance(...mouth);

/** Darts that an alteration has left, or drawn, too narrow to be worth sewing. */
export const narrowDarts = (before: Pattern, after: Pattern, show: LengthShown): Finding[] =>
  after.pieces.flatMap((piece) =>
    piece.darts
      .filter((dart) => {
        const was = pieceCalled(before, piece.id)?.darts.find((d) => d.id === dart.id);
        return width(dart) < LEAST_DART && !(was && width(was) < LEAST_DART);
      })
      .map((dart) => ({
        code: 'alter-dart-narrow',
        level: 'note' as const,
        where: { piece: piece.id, ...(dart.edge === undefined ? {} : { edge: dart.edge }) },
        message: `A dart of ${piece.name || piece.id} has come to be ${formatLength(width(dart), show)} wide, which is hardly worth sewing.`,
        try: 'Sew it as drawn, or ease so much in along the seam instead.',
      })),
  );
