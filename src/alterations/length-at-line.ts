import { onPiece } from '../paper/garment.ts';
import { adjustmentHeight, hasLengthLine, lengthenBelowHip, marksInTuck } from '../paper/skirt-lengths.ts';
import type { Alteration, Request } from './alteration.ts';
import type { PlannedStep } from './contract.ts';
import { lineRounds, tiersCalled, wholeToEveryPiece } from './length-parts.ts';
import { spreadOrTucked } from './sayings.ts';
import { inches, limitFindings, missing, signed } from './shares.ts';

/** Customary most at one line; past it more lines are used (common practice). */
const MOST = inches(2);

/**
 * Length at the adjustment line, longer or shorter: square to the grain, part and spread, or tuck with a fold half the
 * amount deep (Central Washington University costume text, chapter 17); every piece that crosses that level alike.
 * Keeps the sweep. A large change is spread over several lines, so that the outer edge is not thrown out of shape.
 */
export const lengthAtLine: Alteration = {
  card: {
    name: 'length at the adjustment line',
    title: 'Longer or shorter at the adjustment line',
    synonyms: [
      { name: 'longer at the line', sign: 1 },
      { name: 'shorter at the line', sign: -1 },
    ],
    plus: 'longer',
    minus: 'shorter',
    needs: ['an adjustment line on at least one piece of a skirt or dress, below the hip'],
    measurement: 'skirt length',
    options: [
      {
        name: 'lines',
        means: 'spread over this many lines; by default as many as the limit asks for',
        values: 'count',
        default: '0',
      },
    ],
    limits: [{ place: 'line', most: MOST, source: 'common practice' }],
    moves: ['all below the line', 'side edges between hip and hem', 'grainline ends', 'marks below the line'],
    keeps: ['waist', 'hip', 'sweep', 'mates', 'grain', 'allowances', 'corner angles'],
    additive: false,
    construction: 'Part the piece at the line, square to the grain, and spread; or fold a tuck half the amount deep.',
    source: 'Central Washington University costume text, chapter 17; limit: common practice',
  },
  stage: 'length',
  evenAt: 'hem',
  divide: (request) => {
    const n = lines(request.amount, request.options);
    const among = lineRounds(request.pattern);
    const shares = wholeToEveryPiece(among, request.amount / n, 'line', MOST);
    const lined = among.some((r) => r.pieces.some(hasLengthLine));
    return {
      shares,
      findings: [
        ...(shares.length === 0 || !lined
          ? [
              missing(
                'length at the adjustment line',
                'no skirt or dress has an adjustment line below the hip',
                'Give the amount as length at the hem, or name the line in the pattern sheet; bodices go by front and back waist length, trousers by length above and below the knee.',
              ),
            ]
          : []),
        ...spreadNote(request, n),
        ...limitFindings(
          'length at the adjustment line',
          shares,
          request.beyondLimits,
          request.show,
          'Use more lines.',
        ),
      ],
      explanation: `${signed(request.amount, request.show)} ${n === 1 ? 'at the line' : `over ${n} lines, ${signed(request.amount / n, request.show)} at each`}, every piece alike${tiersCalled(request.pattern, among)}`,
    };
  },
  alter: (garment, step) => step.shares.reduce((g, s) => atLines(g, step, s), garment),
  says: (share, step, show) => {
    const n = lines(step.amount, step.options as Request['options']);
    return `${spreadOrTucked(share.amount, show)} at ${n === 1 ? 'the adjustment line' : `each of ${n} level lines between hip and hem`}`;
  },
  examples: [
    {
      says: 'longer by 1 1/2 in at one line',
      amount: 1.5,
      share: 1.5,
      source: 'derived: a straight seam redrawn end to end',
    },
  ],
};

/** As many lines as asked for, else as the limit needs. */
const lines = (amount: number, options: Request['options']): number => {
  const asked = Math.round(Number(options.lines));
  return asked >= 1 ? asked : Math.max(1, Math.ceil(Math.abs(amount) / MOST - 1e-6));
};

const spreadNote = ({ amount, show }: Request, n: number) =>
  n === 1
    ? []
    : [
        {
          code: 'plan-line-spread',
          level: 'note' as const,
          where: { alteration: 'length at the adjustment line' },
          message: `${signed(amount, show)} is spread over ${n} lines between hip and hem, so that the side seam keeps its shape.`,
          try: 'To use another number of lines: --choose "length at the adjustment line lines=N".',
        },
      ];

const atLines = (garment: Parameters<typeof onPiece>[0], step: PlannedStep, share: PlannedStep['shares'][number]) => {
  const n = lines(step.amount, step.options as Request['options']);
  const height = adjustmentHeight(garment, share.piece);
  const hidden = marksInTuck(garment, share.piece, height, n === 1 ? share.amount : 0);
  const altered = onPiece(garment, share.piece, (t) => lengthenBelowHip(t, height, share.amount * n, n));
  return { ...altered, hidden: [...garment.hidden, ...hidden] };
};
