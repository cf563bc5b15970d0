import { sideOutAtUnderarm } from '../paper/armhole-out.ts';
import { type Garment, onPiece } from '../paper/garment.ts';
import { underarmOut } from '../paper/sleeve-underarm.ts';
import type { Division, Request } from './alteration.ts';
import type { Share } from './contract.ts';
import { sleeves } from './garment-parts.ts';
import { inches, limitFindings, missing, signed } from './shares.ts';
import { overSleeveSeams, sleevesLack } from './sleeve-shares.ts';
import { underarmSides } from './underarm-sides.ts';

/* The upper arm let out at the underarm edges of sleeve and bodice. */

/** Customary most at one underarm edge (common practice). */
export const MOST_AT_UNDERARM = inches(1 / 2);

/** Sleeve and bodice go out alike; what cap and armhole gain otherwise is left to the cap that follows. */
export const letOutAtUnderarm = (garment: Garment, shares: readonly Share[]): Garment => {
  const sided = shares
    .filter((s) => s.place === SIDE_EDGE)
    .reduce((g, s) => onPiece(g, s.piece, (t) => sideOutAtUnderarm(t, s.edge as string, s.amount)), garment);
  const seams = shares.filter((s) => s.place === SLEEVE_EDGE);
  return [...new Set(seams.map((s) => s.piece))].reduce((g, piece) => {
    const own = seams.filter((s) => s.piece === piece);
    return onPiece(g, piece, (t) => underarmOut(t, (seam) => own.find((s) => s.edge === seam)?.amount ?? 0));
  }, sided);
};

const SLEEVE_EDGE = 'sleeve seam';
const SIDE_EDGE = 'bodice side edge';

export const overUnderarmEdges = ({ pattern, amount, beyondLimits, show }: Request): Division => {
  const ofSleeve = overSleeveSeams(pattern, amount, SLEEVE_EDGE, MOST_AT_UNDERARM);
  const sides = underarmSides(pattern).map((e) => ({
    piece: e.piece.id,
    edge: e.edge.id,
    place: SIDE_EDGE,
    amount: amount / 2,
    most: MOST_AT_UNDERARM,
    cloth: e.piece.cut.cloth,
    counted: e.counted,
  }));
  const shares = [...ofSleeve, ...sides];
  const inTwo = sleeves(pattern).some((s) => s.pieces.length > 1);
  return {
    shares,
    findings: [
      ...sleevesLack(pattern, 'upper arm', ['cap', 'sleeve seam']),
      ...(inTwo ? [missing('upper arm', 'the sleeve is in two pieces', 'Choose the slash for it.')] : []),
      ...(sides.length === 0
        ? [missing('upper arm', 'no bodice side with an armhole was found', 'Choose the slash: it needs no bodice.')]
        : []),
      ...limitFindings('upper arm', shares, beyondLimits, show, 'Choose the slash, or take part of it that way.'),
    ],
    explanation: `${signed(amount, show)} round the arm: ${signed(amount / 2, show)} at each underarm edge of sleeve and bodice`,
  };
};
