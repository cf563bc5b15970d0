import { onPiece } from '../paper/garment.ts';
import { thighOut } from '../paper/trouser-legs.ts';
import { timesOnLimb } from '../pattern/parts.ts';
import { cloths } from '../pattern/pattern.ts';
import type { Alteration, Request } from './alteration.ts';
import type { Share } from './contract.ts';
import { legs } from './garment-parts.ts';
import { kneeNotes, legsLack } from './leg-shares.ts';
import { outOrIn } from './sayings.ts';
import { edgeShare, limitFindings, MOST_AT_EDGE, sharedOut } from './shares.ts';

/**
 * Thigh larger or smaller: inseam and side of front and back go out (in) by a quarter each below the crotch, to nothing
 * at the knee; the side from nothing at the hip, the inseam with the crotch point, so that the crotch seam gains about as
 * much. Measured 1 in below the crotch, clear of the crotch curve. Common practice.
 */
export const thigh: Alteration = {
  card: {
    name: 'thigh',
    title: 'Larger thigh, smaller thigh',
    synonyms: [
      { name: 'large thigh', sign: 1 },
      { name: 'full thigh', sign: 1 },
      { name: 'small thigh', sign: -1 },
      { name: 'thin thigh', sign: -1 },
    ],
    plus: 'larger',
    minus: 'smaller',
    needs: [
      'trouser fronts and backs with crotch seam, inseam and side seam',
      'a hip level',
      'a knee level (established where none is marked)',
    ],
    measurement: 'thigh girth',
    options: [],
    limits: [{ place: 'edge at the thigh', most: MOST_AT_EDGE, source: 'common practice' }],
    moves: ['inseams above the knee', 'side seams between hip and knee', 'crotch point', 'cutting line'],
    keeps: ['waist', 'hip', 'knee', 'inside leg length', 'mates', 'grain', 'allowances', 'corner angles'],
    additive: false,
    construction:
      'Inseam and side go out by a quarter each at the thigh, to nothing at the knee; the side from nothing at the hip, the inseam with the crotch point.',
    source: 'common practice',
  },
  stage: 'width',
  evenAt: 'waist',
  divide: ({ pattern, amount, beyondLimits, show }) => {
    const shares = overLegSeams(pattern, amount);
    return {
      shares,
      findings: [
        ...legsLack(pattern, 'thigh', { edges: ['crotch', 'inseam', 'side'] }),
        ...kneeNotes(pattern, 'thigh'),
        ...limitFindings('thigh', shares, beyondLimits, show, 'Take another size, or make a trial garment first.'),
      ],
      explanation: sharedOut(amount, shares, 'edge of a leg', show),
    };
  },
  alter: (garment, step) =>
    step.shares
      .filter((s, i, all) => all.findIndex((other) => other.piece === s.piece) === i)
      .reduce((g, s) => onPiece(g, s.piece, (t) => thighOut(t, s.amount)), garment),
  says: (share, _step, show) => `inseam and side ${outOrIn(share.amount, show)} at the thigh, nothing at the knee`,
  examples: [
    { says: 'thigh 1 in larger: ¼ in at each of four edges', amount: 1, share: 0.25, source: 'common practice' },
    { says: 'thigh 1/2 in smaller: ⅛ in off each', amount: -0.5, share: -0.125, source: 'common practice' },
  ],
};

/** A change round one leg, divided over its inseam and side edges on cloth, layer by layer. */
const overLegSeams = (pattern: Request['pattern'], amount: number): Share[] =>
  cloths(pattern).flatMap((cloth) => {
    const edges = legs(pattern)
      .filter((piece) => piece.cut.cloth === cloth)
      .flatMap((piece) =>
        piece.edges
          .filter((e) => e.role === 'inseam' || e.role === 'side')
          .map((edge) => ({ piece, edge, counted: timesOnLimb(piece) })),
      );
    const n = edges.reduce((sum, e) => sum + e.counted, 0);
    return edges.map((e) => edgeShare(e, 'edge at the thigh', amount / n, cloth));
  });
