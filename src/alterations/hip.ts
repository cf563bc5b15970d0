import { type Garment, onPiece } from '../paper/garment.ts';
import { outAtHip, spreadThroughDart } from '../paper/skirt-widths.ts';
import { cloths } from '../pattern/pattern.ts';
import type { Alteration, Division, Request } from './alteration.ts';
import type { PlannedStep } from './contract.ts';
import { outOrIn, spreadOrLapped } from './sayings.ts';
import {
  bodyPieces,
  counted,
  dartShare,
  evenlyOverSides,
  limitFindings,
  MOST_AT_EDGE,
  missing,
  sharedOut,
  waistDarts,
} from './shares.ts';

/**
 * Hip larger or smaller.
 *
 * Each side edge goes out by its share at the hip line, tapering to the waist's own change above it, and runs parallel
 * below it to the hem, which widens alike. Other method: the piece is slashed from hem to waist along the grain
 * through its dart and spread; the gain at the waist goes into the dart.
 *
 * Share = (wearer's hip − hip drafted for) ÷ side edges on cloth in one layer: front and back each on the fold have
 * four, so a quarter each (Central Washington University costume text, chapter 17). The taper: common practice.
 */
export const hip: Alteration = {
  card: {
    name: 'hip',
    title: 'Hip larger, hip smaller',
    synonyms: [
      { name: 'large hip', sign: 1 },
      { name: 'wide hip', sign: 1 },
      { name: 'small hip', sign: -1 },
      { name: 'narrow hip', sign: -1 },
    ],
    plus: 'larger',
    minus: 'smaller',
    needs: ['side edges or seams of gores', 'a hip level (established down the side seam where none is marked)'],
    measurement: 'hip girth',
    options: [
      {
        name: 'method',
        means: 'let out the side edges, or slash from hem to waist through the dart and spread',
        values: ['side edges', 'slash'],
        default: 'side edges',
      },
    ],
    limits: [
      { place: 'side edge at the hip', most: MOST_AT_EDGE, source: 'common practice' },
      { place: 'slash through the dart', most: MOST_AT_EDGE, source: 'common practice' },
    ],
    moves: [
      'side edges',
      'hem width',
      'cutting line',
      'notches on the side',
      'hip line',
      'with slash: the outer part, dart',
    ],
    keeps: ['waist length', 'mates', 'grain', 'fairness', 'allowances', 'corner angles'],
    additive: true,
    construction:
      'Each side edge goes out by its share at the hip line, tapering to the waist above it, parallel below it to the hem.',
    source: 'share: Central Washington University costume text, chapter 17; taper: common practice',
  },
  stage: 'width',
  evenAt: 'waist',
  divide: (request) => (request.options.method === 'slash' ? throughDarts(request) : overSides(request)),
  alter: (garment, step) => step.shares.reduce((g, share) => takeShare(g, share), garment),
  says: (share, _step, show) =>
    share.dart !== undefined
      ? `slashed from hem to waist through the dart, ${spreadOrLapped(share.amount, show)}; the dart takes it at the waist`
      : `side edge ${outOrIn(share.amount, show)} at the hip, parallel below it to the hem, nothing at the waist`,
  examples: [
    {
      says: 'hip 2 in larger: ½ in at each of four edges',
      amount: 2,
      share: 0.5,
      source: 'derived: 2 in over four edges',
    },
    { says: 'hip 1 in smaller: ¼ in off each', amount: -1, share: -0.25, source: 'chapter 17: a quarter each' },
  ],
};

const overSides = ({ pattern, amount, beyondLimits, show }: Request): Division => {
  const shares = evenlyOverSides(pattern, amount, 'side edge at the hip');
  if (shares.length === 0) return nothingToTake();
  return {
    shares,
    findings: limitFindings('hip', shares, beyondLimits, show, help),
    explanation: sharedOut(amount, shares, 'side edge', show),
  };
};

const throughDarts = ({ pattern, amount, beyondLimits, show }: Request): Division => {
  const shares = cloths(pattern).flatMap((cloth) => {
    // One slash a piece, through the dart nearest the side, so that every half gets an equal part.
    const darts = bodyPieces(pattern, cloth).flatMap((piece) => waistDarts([piece]).slice(0, 1));
    return darts.map((d) => ({
      ...dartShare(d, amount / counted(darts), cloth),
      place: 'slash through the dart',
      most: MOST_AT_EDGE,
    }));
  });
  if (shares.length === 0) return noDart();
  return {
    shares,
    findings: limitFindings('hip', shares, beyondLimits, show, help),
    explanation: sharedOut(amount, shares, 'slash', show),
  };
};

const help = 'Take another size, or make a trial garment first and ask for it with --beyond-limits.';

const nothingToTake = (): Division => ({
  shares: [],
  findings: [missing('hip', 'no side edge was found', 'Name the side edges in the pattern sheet.')],
  explanation: '',
});

const noDart = (): Division => ({
  shares: [],
  findings: [
    missing('hip', 'no waist dart was found to slash through', 'Leave the choice out: the side edges take it.'),
  ],
  explanation: '',
});

const takeShare = (garment: Garment, share: PlannedStep['shares'][number]): Garment =>
  onPiece(garment, share.piece, (tracing) =>
    share.dart !== undefined
      ? spreadThroughDart(tracing, share.dart, share.amount)
      : outAtHip(tracing, share.edge as string, share.amount),
  );
