import { distanceAlong } from '../geometry/path.ts';
import { edgeSegments } from '../pattern/edges.ts';
import type { Mates } from '../pattern/pattern.ts';
import type { EdgeRole, Piece } from '../pattern/piece.ts';
import type { Side } from './sewing.ts';
import { lengthOfSide, mates, sewn } from './sewing.ts';

/** Seams that a pocket may be set into. */
const SEAMS: ReadonlySet<EdgeRole> = new Set(['side', 'panel seam', 'gore seam', 'centre']);
/** Notches of a pocket are as far apart as its edge is long, so nearly, mm; shorter edges are none that is sewn in. */
const AS_LONG = 1.5;
const SHORTEST = 80;

/**
 * Pockets set into a seam: an edge as long as a stretch of seam between two notches. A pocket may be sewn to the front
 * and to the back. Common practice: two notches mark the opening.
 */
export const pocketsInSeams = (pieces: readonly Piece[]): Mates[] => {
  const seams = pieces
    .filter((p) => p.part !== 'pocket' && p.cut.cloth === 'shell')
    .flatMap((piece) => piece.edges.filter((e) => SEAMS.has(e.role)).map((edge): Side => ({ piece, edge })));
  return pieces
    .filter((p) => p.part === 'pocket')
    .flatMap((pocket) => {
      const found = pocket.edges.flatMap((edge) => {
        const length = lengthOfSide({ piece: pocket, edge });
        const into =
          length < SHORTEST ? [] : seams.filter((s) => betweenNotches(s).some((d) => Math.abs(d - length) <= AS_LONG));
        return into.length > 0 ? [{ edge, into, length }] : [];
      });
      // A bag may have two edges of one length; the one that says that it is a seam goes before.
      const [best] = found.sort((a, b) => Number(SEAMS.has(b.edge.role)) - Number(SEAMS.has(a.edge.role)));
      if (!best) return [];
      const says = `${best.edge.id} is as long as the seam between two notches, ${best.length.toFixed(1)} mm`;
      return [
        mates(
          'pocket seam',
          [sewn({ piece: pocket, edge: best.edge })],
          best.into.map((s) => sewn(s)),
          [{ says, weight: 0.6 }],
        ),
      ];
    });
};

/** How far apart the notches of a seam are, each pair, mm along it. */
const betweenNotches = ({ piece, edge }: Side): number[] => {
  const path = { segments: edgeSegments(piece, edge), closed: false };
  const places = piece.notches
    .filter((n) => n.edge === edge.id)
    .flatMap((n) => {
      const [own] = piece.seamLine.spans[n.at.span]?.segments ?? [];
      const i = own ? path.segments.indexOf(own) : -1;
      return i < 0 ? [] : [distanceAlong(path, i, n.at.t)];
    });
  return places.flatMap((a, i) => places.slice(i + 1).map((b) => Math.abs(a - b)));
};
