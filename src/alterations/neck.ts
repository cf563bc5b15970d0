import { type Garment, onPiece, tracingOf } from '../paper/garment.ts';
import { neckLength, widenNeck } from '../paper/neck.ts';
import { solveFor } from '../paper/solve.ts';
import { cloths } from '../pattern/pattern.ts';
import { rounds, timesRound } from '../pattern/round.ts';
import type { Alteration, Division, Request } from './alteration.ts';
import type { PlannedStep } from './contract.ts';
import { largerOrSmaller } from './sayings.ts';
import { missing, signed } from './shares.ts';

/**
 * Larger or smaller neck: the neck edge is redrawn all round until it is longer by just the change. On a full circle the
 * radius would be larger by the change ÷ 2π, and from there the search starts; front and back laid flat turn through
 * less than a circle, by the slope of their shoulders, so they take a little more. At the shoulder the neck point goes
 * along the shoulder, so front and back shoulders still match; at the centre it goes down along the centre. A collar or
 * facing follows by the difference measured. Common practice; the share is the circumference of a circle.
 */
export const neck: Alteration = {
  card: {
    name: 'neck',
    title: 'Larger neck, smaller neck',
    synonyms: [
      { name: 'larger neck', sign: 1 },
      { name: 'smaller neck', sign: -1 },
    ],
    plus: 'larger',
    minus: 'smaller',
    needs: ['fronts and backs with a neck edge'],
    measurement: 'neck base girth',
    options: [],
    limits: [],
    moves: ['neck edge', 'shoulder at the neck', 'centre at the neck', 'cutting line', 'collar', 'facings'],
    keeps: ['armhole length', 'mates', 'grain', 'fairness', 'allowances', 'corner angles'],
    additive: false,
    construction:
      'Redraw the neck edge all round, its radius larger or smaller by the change divided by 2π; the collar by the measured difference, at centre back.',
    source: 'derived: circumference of a circle; the rest: common practice',
  },
  stage: 'width',
  evenAt: 'waist',
  divide: (request) => divide(request),
  alter: (garment, step) => cloths(garment.pattern).reduce((g, cloth) => alterLayer(g, step, cloth), garment),
  says: (share, step, show) =>
    `neck edge redrawn all round, the radius ${largerOrSmaller(share.amount, show)} and what the slope of the shoulders asks more, until the whole neck is ${largerOrSmaller(step.amount, show)}`,
  examples: [
    {
      says: 'neck 1 in larger: radius 0.159 in larger',
      amount: 1,
      share: 1 / (2 * Math.PI),
      source: 'derived: 1 ÷ 2π',
    },
    { says: 'neck 1/2 in smaller', amount: -0.5, share: -0.5 / (2 * Math.PI), source: 'derived: ½ ÷ 2π' },
  ],
};

const divide = ({ pattern, amount, show }: Request): Division => {
  const radius = amount / (2 * Math.PI);
  const necked = rounds(pattern).flatMap((r) => r.pieces.filter((p) => p.edges.some((e) => e.role === 'neck')));
  return {
    shares: necked.map((piece) => ({
      piece: piece.id,
      place: 'neck edge',
      amount: radius,
      most: Number.POSITIVE_INFINITY,
      cloth: piece.cut.cloth,
      counted: timesRound(piece),
    })),
    findings:
      necked.length === 0
        ? [missing('neck', 'no front or back with a neck edge was found', 'Name the neck edges in the pattern sheet.')]
        : [],
    explanation: `${signed(amount, show)} ÷ 2π = ${signed(radius, show)} in radius`,
  };
};

/** One layer of cloth: one radius for all its pieces, such that the whole neck edge comes out. */
const alterLayer = (garment: Garment, step: PlannedStep, cloth: string): Garment => {
  const shares = step.shares.filter((s) => s.cloth === cloth);
  if (shares.length === 0) return garment;
  const wider = (radius: number): Garment =>
    shares.reduce((g, s) => onPiece(g, s.piece, (t) => widenNeck(t, radius)), garment);
  const length = (g: Garment): number =>
    shares.reduce((sum, s) => sum + s.counted * neckLength(tracingOf(g, s.piece)), 0);
  const target = length(garment) + step.amount;
  const first = (shares[0] as (typeof shares)[number]).amount;
  return solveFor(wider, (made) => length(made) - target, first, first * 1.02, 5e-4);
};
