import { onPiece } from '../paper/garment.ts';
import { centreOf, raiseWaistAtCentre, wedgeAtCentre } from '../paper/skirt-shape.ts';
import { spreadThroughDart } from '../paper/skirt-widths.ts';
import type { Tracing } from '../paper/tracing.ts';
import { crotchPointOut, wedgeLine } from '../paper/trouser-crotch.ts';
import type { Piece } from '../pattern/piece.ts';
import { timesRound } from '../pattern/round.ts';
import type { Alteration } from './alteration.ts';
import type { PlannedStep, Share } from './contract.ts';
import { kneeNotes } from './leg-shares.ts';
import { backPieces } from './length-parts.ts';
import { raisedOrLowered, spreadOrLapped } from './sayings.ts';
import { inches, limitFindings, missing, signed } from './shares.ts';

/** Customary most of the wedge (common practice). */
const MOST = inches(1);
/** Customary most at the waist and at the crotch point of trousers (common practice). */
const MOST_ON_TROUSERS = inches(1 / 2);

const WEDGE = 'centre back';
const RAISED = 'centre back waist and crotch point';

/**
 * Full or flat seat, on the back only.
 *
 * Skirts: slash from the centre back to the side along the hip line, hinge on the side seam line, spread (overlap) d at
 * the centre; the hem part keeps the grain, the waist part swings; the centre is filled straight, the darts deepened
 * (narrowed). Its width, where asked for, comes through a slash along the dart from hem to waist.
 *
 * Trousers: the centre back waist is raised (lowered) d along the crotch seam, to nothing at the side, and the back
 * crotch point brought out (in) until the crotch seam is longer by as much again; the inseam keeps its length. Other
 * method: the wedge, across the crotch seam on the hip line.
 *
 * The United States Department of Agriculture's Home Economics Research Report 32 lists it; raising the centre back
 * waist of trousers by ¼ to ½ in: a sewing column of 2017; construction and limits: common practice.
 */
export const seat: Alteration = {
  card: {
    name: 'seat',
    title: 'Full seat, flat seat',
    synonyms: [
      { name: 'full seat', sign: 1 },
      { name: 'large seat', sign: 1 },
      { name: 'flat seat', sign: -1 },
    ],
    plus: 'full',
    minus: 'flat',
    needs: [
      'for the wedge: a back with a waist dart, a side edge, and its centre, fold or crotch seam as an edge; a hip level',
      'on trousers: a back with waist, crotch seam and inseam',
    ],
    options: [
      { name: 'width', means: 'width added to each half of the back through its dart', values: 'mm', default: '0' },
      {
        name: 'on trousers',
        means: 'raise the centre back waist and bring the crotch point out, or open a wedge on the hip line',
        values: ['waist and crotch point', 'wedge'],
        default: 'waist and crotch point',
      },
    ],
    limits: [
      { place: 'wedge at the centre back', most: MOST, source: 'common practice' },
      { place: RAISED, most: MOST_ON_TROUSERS, source: 'common practice' },
    ],
    moves: [
      'back above the hip line, back waist, back darts, centre back length',
      'on trousers: back waist, crotch seam, inseam above the knee',
      'cutting line',
    ],
    keeps: ['waist length', 'side length', 'grain', 'mates', 'allowances'],
    additive: false,
    construction:
      'Slash along the hip line from centre back to the side seam line, swing the waist part open at the centre, fill the centre straight, deepen the darts. Trousers: raise the centre back waist to nothing at the side, and bring the back crotch point out.',
    source: 'centre back waist of trousers: a sewing column of 2017; the rest: common practice',
  },
  stage: 'shape',
  evenAt: 'waist',
  divide: ({ pattern, amount, beyondLimits, show, options }) => {
    const backs = backPieces(pattern);
    const shares = backs.map((piece) => shareOf(piece, amount, isRaised(piece, options)));
    const raised = shares.some((s) => s.place === RAISED);
    return {
      shares,
      findings: [
        ...(backs.length === 0
          ? [missing('seat', 'no back of a skirt or of trousers was found', 'Name the back in the pattern sheet.')]
          : []),
        ...backs.flatMap((piece) => lacking(piece, isRaised(piece, options))),
        ...(raised ? kneeNotes(pattern, 'seat', ['trouser back']) : []),
        ...limitFindings('seat', shares, beyondLimits, show, 'Take part of it, and try the garment on.'),
      ],
      explanation: raised
        ? `centre back waist ${signed(amount, show)}, nothing at the side, and as much at the back crotch point`
        : `centre back ${signed(amount, show)} at the hip line, nothing at the side`,
    };
  },
  alter: (garment, step) =>
    step.shares.reduce((g, share) => onPiece(g, share.piece, (t) => alterBack(t, step, share)), garment),
  says: (share, _step, show) =>
    share.place === RAISED
      ? `waist ${raisedOrLowered(share.amount, show)} at the centre back, nothing at the side; crotch point ${share.amount > 0 ? 'out' : 'in'} by as much`
      : `wedge ${spreadOrLapped(share.amount, show)} at the centre back on the hip line, hinged at the side; darts ${share.amount > 0 ? 'deepened' : 'made narrower'} to keep the waist`,
  examples: [{ says: 'full seat 1/2 in', amount: 0.5, share: 0.5, source: 'common practice' }],
};

const isRaised = (piece: Piece, options: PlannedStep['options']): boolean =>
  piece.part === 'trouser back' && options['on trousers'] !== 'wedge';

const shareOf = (piece: Piece, amount: number, raised: boolean): Share => ({
  piece: piece.id,
  place: raised ? RAISED : WEDGE,
  amount,
  most: raised ? MOST_ON_TROUSERS : MOST,
  cloth: piece.cut.cloth,
  counted: timesRound(piece),
});

const lacking = (piece: Piece, raised: boolean) => {
  const lacks = (what: string, help: string) => missing('seat', `${piece.name || piece.id} has no ${what}`, help);
  if (centreOf({ piece }) === undefined) {
    return [lacks(piece.part === 'trouser back' ? 'crotch edge' : 'centre edge', 'Use a half back with a dart.')];
  }
  if (raised) {
    const has = piece.edges.some((e) => e.role === 'inseam');
    return has ? [] : [lacks('inseam edge', `Name the inseam of ${piece.id} in the pattern sheet.`)];
  }
  return piece.darts.length > 0 ? [] : [lacks('waist dart', 'Use a half back with a dart.')];
};

const alterBack = (tracing: Tracing, step: PlannedStep, { amount, place }: Share): Tracing => {
  const width = Number(step.options.width);
  const dart = tracing.piece.darts[0];
  const wide = width === 0 || !dart ? tracing : spreadThroughDart(tracing, dart.id, width);
  return place === RAISED
    ? crotchPointOut(raiseWaistAtCentre(wide, amount), amount)
    : wedgeAtCentre(wide, amount, wedgeLine(wide, amount));
};
