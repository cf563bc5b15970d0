import type { Finding } from '../finding.ts';
import { edgeWithRole } from '../pattern/edges.ts';
import { timesOnLimb } from '../pattern/parts.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { EdgeRole, Piece } from '../pattern/piece.ts';
import type { Share } from './contract.ts';
import { papersRound, type Sleeve, sleeves } from './garment-parts.ts';
import { missing } from './shares.ts';

/* Sharing a change of the arm over the pieces and seams of each sleeve. */

/** Every piece of every sleeve takes the whole amount. */
export const wholeToEverySleeve = (pattern: Pattern, amount: number, place: string, most: number): Share[] =>
  sleeves(pattern).flatMap((sleeve) => sleeve.pieces.map((p) => pieceShare(sleeve, p, amount, place, most)));

/** A change round the arm, divided over the papers that go round it. */
export const roundTheArm = (pattern: Pattern, amount: number, place: string, most: number): Share[] =>
  sleeves(pattern).flatMap((sleeve) => {
    const n = papersRound(sleeve);
    return sleeve.pieces.map((p) => pieceShare(sleeve, p, amount / n, place, most / n));
  });

/** A change round the arm, divided over the sleeve seams: half an edge on a sleeve in one piece, a quarter on two. */
export const overSleeveSeams = (pattern: Pattern, amount: number, place: string, most: number): Share[] =>
  sleeves(pattern).flatMap((sleeve) => {
    const edges = sleeve.pieces.flatMap((piece) =>
      edgeWithRole(piece, 'sleeve seam').map((edge) => ({ piece, edge, times: timesOnLimb(piece) })),
    );
    const n = edges.reduce((sum, e) => sum + e.times, 0);
    return edges.map(({ piece, edge, times }) => ({
      ...pieceShare(sleeve, piece, amount / n, place, most),
      edge: edge.id,
      counted: times,
    }));
  });

const pieceShare = (sleeve: Sleeve, piece: Piece, amount: number, place: string, most: number): Share => ({
  piece: piece.id,
  place,
  amount,
  most,
  cloth: sleeve.cloth,
  counted: timesOnLimb(piece),
});

/** What the sleeves lack of the edges that an alteration needs. */
export const sleevesLack = (pattern: Pattern, alteration: string, roles: readonly EdgeRole[]): Finding[] => {
  const all = sleeves(pattern).flatMap((s) => s.pieces);
  if (all.length === 0) return [missing(alteration, 'no sleeve was found', 'Name the sleeve in the pattern sheet.')];
  return all.flatMap((piece) =>
    roles
      .filter((role) => edgeWithRole(piece, role).length === 0)
      .map((role) =>
        missing(
          alteration,
          `${piece.name || piece.id} has no ${role} edge`,
          `Name the edge of ${piece.id} that is the ${role} in the pattern sheet.`,
        ),
      ),
  );
};
