import { drawnOut } from '../paper/hang-dress.ts';
import { hangFromCentre } from '../paper/waist-hang.ts';
import { edgeWithRole } from '../pattern/edges.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Alteration, Division, Request } from './alteration.ts';
import { bodiceLayers, groupsOf } from './bodice-parts.ts';
import { shareTo } from './length-parts.ts';
import { longerOrShorter, raisedOrLowered } from './sayings.ts';
import { inches, limitFindings, missing } from './shares.ts';

/** Customary most (common practice). */
const MOST = inches(5 / 8);

/**
 * Sway back on a bodice or a one-piece dress: the centre back is shortened by d above the waist, to nothing at the side.
 * A bodice's waist edge is raised d at the centre back; a dress is folded out d on a line above its waist, hinged on the
 * side seam line, the centre trued straight and the width that was lost restored. The side seam is kept. A negative
 * amount lengthens the centre back. Common practice.
 */
export const bodiceSwayBack: Alteration = {
  card: {
    name: 'bodice sway back',
    title: 'Sway back on a bodice or dress',
    synonyms: [
      { name: 'bodice swayback', sign: 1 },
      { name: 'hollow back', sign: 1 },
    ],
    plus: 'centre back shorter above the waist',
    minus: 'centre back longer above the waist',
    needs: ['a bodice or dress back with a side seam and a waist'],
    options: [],
    limits: [{ place: 'fold at the centre back', most: MOST, source: 'common practice' }],
    moves: ['back waist', 'waist dart', 'centre back length', 'cutting line', 'of a dress: all below at the centre'],
    keeps: ['waist length', 'side seam length', 'mates', 'grain', 'fairness', 'allowances', 'corner angles'],
    additive: false,
    construction:
      'Raise the waist edge at the centre back, to nothing at the side; on a dress fold it out above the waist, hinged on the side seam line, and true the centre straight, the lost width restored.',
    source: 'common practice',
  },
  stage: 'shape',
  evenAt: 'waist',
  divide: (request) => divide(request),
  alter: (garment, step) =>
    groupsOf(garment.pattern, step.shares).reduce(
      (g, pieces) =>
        hangFromCentre(g, pieces, -step.amount, foldLine(g.tracings.get(pieces[0] as string), step.amount)),
      garment,
    ),
  says: (share, _step, show) => `waist ${raisedOrLowered(share.amount, show)} at the centre back, nothing at the side`,
  examples: [{ says: 'sway back 3/8 in', amount: 0.375, share: 0.375, source: 'common practice' }],
};

/** A dress is folded out just above its waist. */
const foldLine = (tracing: { readonly levels: ReadonlyMap<string, number> } | undefined, amount: number): number =>
  (tracing?.levels.get('waist') ?? 0) + drawnOut(amount);

const reachesWaist = (piece: Piece): boolean =>
  edgeWithRole(piece, 'waist').length > 0 || piece.levels.some((l) => l.name === 'waist');

const divide = ({ pattern, amount, beyondLimits, show }: Request): Division => {
  const backs = bodiceLayers(pattern, ['back']).flatMap((l) => l.pieces.filter(reachesWaist));
  const shares = shareTo(backs, amount, 'centre back', MOST);
  return {
    shares,
    findings: [
      ...(shares.length === 0
        ? [
            missing(
              'bodice sway back',
              'no bodice or dress back with a waist was found',
              'Name the back and its waist in the pattern sheet; for a skirt ask for sway back.',
            ),
          ]
        : []),
      ...limitFindings('bodice sway back', shares, beyondLimits, show, 'Take part of it, and try the back on.'),
    ],
    explanation: `centre back ${longerOrShorter(-amount, show)} above the waist, nothing at the side`,
  };
};
