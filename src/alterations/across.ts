import { shouldersOf } from '../paper/armhole.ts';
import { type ShoulderSurplus, spreadAcross, widenPanels } from '../paper/bodice-widths.ts';
import { type Garment, onPiece } from '../paper/garment.ts';
import { trace } from '../paper/tracing.ts';
import type { Place } from '../pattern/parts.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import { bodiceLayers, groupsOf, hasShoulder, hasShoulderAtArmhole, shareAt } from './bodice-parts.ts';
import type { Share } from './contract.ts';
import { MOST_AT_EDGE } from './shares.ts';

/*
 * A back or a chest made wider or narrower across: what both have in common. A half takes half of the whole change. It
 * is slashed from the shoulder to the waist; panels with a seam from the shoulder down take it at the edges of that seam.
 */

export const SLASH = 'shoulder-to-waist slash';
export const PANEL_SEAM = 'panel seam edge';

export const acrossShares = (pattern: Pattern, place: Place, amount: number): Share[] =>
  bodiceLayers(pattern, [place]).flatMap(({ pieces }) => {
    const panels = pieces.filter(meetsPanelAtShoulder);
    return panels.length > 0
      ? panels.map((p) => shareAt(p, PANEL_SEAM, amount / 4, MOST_AT_EDGE))
      : pieces.filter(hasShoulderAtArmhole).map((p) => shareAt(p, SLASH, amount / 2, MOST_AT_EDGE));
  });

/** A seam from the shoulder down joins the piece to its neighbour. */
const meetsPanelAtShoulder = (piece: Piece): boolean =>
  hasShoulder(piece) &&
  shouldersOf(trace(piece)).some((s) => s.before.role === 'panel seam' || s.beyond.role === 'panel seam');

export const alterAcross = (garment: Garment, shares: readonly Share[], surplus: ShoulderSurplus): Garment => {
  const panels = shares.filter((s) => s.place === PANEL_SEAM);
  const slashed = shares
    .filter((s) => s.place === SLASH)
    .reduce((g, s) => onPiece(g, s.piece, (t) => spreadAcross(t, s.amount, surplus)), garment);
  return groupsOf(garment.pattern, panels).reduce(
    (g, pieces) => widenPanels(g, pieces, (panels[0] as Share).amount),
    slashed,
  );
};
