import { type Garment, onPiece } from '../paper/garment.ts';
import { outAtHip, spreadThroughDart } from '../paper/skirt-widths.ts';
import type { Tracing } from '../paper/tracing.ts';
import { legHeights } from '../paper/trouser-lines.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Alteration, Division, Request } from './alteration.ts';
import type { PlannedStep, Share } from './contract.ts';
import { outOrIn, spreadOrLapped } from './sayings.ts';
import {
  counted,
  dartShare,
  evenlyOverSides,
  hipRounds,
  limitFindings,
  MOST_AT_EDGE,
  missing,
  seamCalled,
  sharedOut,
  toldByTier,
  waistDarts,
  waistUnknown,
} from './shares.ts';

/**
 * Hip larger or smaller.
 *
 * Each side edge goes out by its share at the hip line, tapering to the waist's own change above it, and runs parallel
 * below it to the hem, which widens alike; on trousers it tapers below to nothing at the knee. Other method: the piece is slashed from hem to waist along the grain
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
      {
        name: 'leg',
        means: 'of trousers: where the change at the hip runs out',
        values: ['nothing at the knee', 'parallel to the hem'],
        default: 'nothing at the knee',
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
      'Each side edge goes out by its share at the hip line, tapering to the waist above it, parallel below it to the hem; on trousers to nothing at the knee.',
    source: 'share: Central Washington University costume text, chapter 17; taper: common practice',
  },
  stage: 'width',
  evenAt: 'waist',
  divide: (request) => (request.options.method === 'slash' ? throughDarts(request) : overSides(request)),
  alter: (garment, step) => step.shares.reduce((g, share) => takeShare(g, share, step), garment),
  says: (share, step, show) =>
    share.dart !== undefined
      ? `slashed from hem to waist through the dart, ${spreadOrLapped(share.amount, show)}; the dart takes it at the waist`
      : `${seamCalled(share)} ${outOrIn(share.amount, show)} at the hip, ${belowHip(share, step)}, nothing at the waist`,
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

const TROUSER_SIDE = 'trouser side edge at the hip';

const belowHip = (share: Share, { options }: PlannedStep): string =>
  share.place === TROUSER_SIDE && options.leg !== 'parallel to the hem'
    ? 'nothing at the knee'
    : 'parallel below it to the hem';

const overSides = ({ pattern, amount, beyondLimits, show }: Request): Division => {
  const shares = hipRounds(pattern).flatMap((round) =>
    evenlyOverSides([round], amount, round.tier === 'trousers' ? TROUSER_SIDE : 'side edge at the hip'),
  );
  if (shares.length === 0) return nothingToTake();
  return {
    shares,
    findings: [...waistUnknown('hip', pattern), ...limitFindings('hip', shares, beyondLimits, show, help)],
    explanation: toldByTier(pattern, shares, (own) => sharedOut(amount, own, seamCalled(...own), show)),
  };
};

const throughDarts = ({ pattern, amount, beyondLimits, show }: Request): Division => {
  const shares = hipRounds(pattern).flatMap(({ pieces, cloth }) => {
    // One slash a piece, through the dart nearest the side, so that every half gets an equal part.
    const darts = pieces.flatMap((piece) => dartsInWaist(piece).slice(0, 1));
    return darts.map((d) => ({
      ...dartShare(d, amount / counted(darts), cloth),
      place: 'slash through the dart',
      most: MOST_AT_EDGE,
    }));
  });
  if (shares.length === 0) return noDart();
  return {
    shares,
    findings: [...waistUnknown('hip', pattern), ...limitFindings('hip', shares, beyondLimits, show, help)],
    explanation: sharedOut(amount, shares, 'slash', show),
  };
};

/** Darts that open into a waist edge: one pointed at both ends is no way from hem to waist. */
const dartsInWaist = (piece: Piece) => waistDarts([piece]).filter((d) => d.dart.edge !== undefined);

const help = 'Take another size, or make a trial garment first and ask for it with --beyond-limits.';

const nothingToTake = (): Division => ({
  shares: [],
  findings: [
    missing(
      'hip',
      'no piece with a side edge that covers the hip was found',
      'Name the side edges, and the hip level of a bodice that reaches it, in the pattern sheet.',
    ),
  ],
  explanation: '',
});

const noDart = (): Division => ({
  shares: [],
  findings: [
    missing('hip', 'no waist dart was found to slash through', 'Leave the choice out: the side edges take it.'),
  ],
  explanation: '',
});

/** Of trousers the change runs out at the knee: how wide knee and hem are is a matter of style, not of the hip. */
const runsOutAt = (tracing: Tracing, step: PlannedStep): number | undefined =>
  step.options.leg === 'parallel to the hem' ? undefined : legHeights(tracing)?.knee;

const takeShare = (garment: Garment, share: Share, step: PlannedStep): Garment =>
  onPiece(garment, share.piece, (tracing) =>
    share.dart !== undefined
      ? spreadThroughDart(tracing, share.dart, share.amount)
      : outAtHip(tracing, share.edge as string, share.amount, runsOutAt(tracing, step)),
  );
