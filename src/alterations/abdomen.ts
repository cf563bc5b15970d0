import { onPiece } from '../paper/garment.ts';
import { belowWaist, centreOf, raiseTillStraight, raiseWaistAtCentre, wedgeAtCentre } from '../paper/skirt-shape.ts';
import type { Alteration, Division, Request } from './alteration.ts';
import type { PlannedStep } from './contract.ts';
import { frontPieces, shareTo } from './length-parts.ts';
import { raisedOrLowered, spreadOrLapped } from './sayings.ts';
import { inches, limitFindings, missing, signed } from './shares.ts';

/** Customary most of the wedge (common practice). */
const MOST = inches(1);
/** Level of the wedge below the waist: 3 to 4 in (New Mexico State University, Guide C-209). */
const DEPTH = inches(3.5);

/**
 * Full or flat abdomen, on the front only.
 *
 * Wedge: slash from the centre to the side 3 to 4 in below the waist, hinge on the side seam line, spread (overlap) d
 * at the centre; the hem part stays and keeps the grain, the waist part swings; the centre is filled straight, the
 * darts deepened (narrowed) by what the waist gained. Side length does not change. The swing is 2·asin(d / 2r).
 *
 * Other method: the waist is raised at the centre, to nothing at the side, at most until the waist edge is straight.
 *
 * Level: New Mexico State University, Guide C-209. Construction and limit: common practice.
 */
export const abdomen: Alteration = {
  card: {
    name: 'abdomen',
    title: 'Full abdomen, flat abdomen',
    synonyms: [
      { name: 'full abdomen', sign: 1 },
      { name: 'large abdomen', sign: 1 },
      { name: 'flat abdomen', sign: -1 },
    ],
    plus: 'full',
    minus: 'flat',
    needs: ['a front with a waist edge and a side edge', 'for the wedge: its centre or fold as an edge, a waist dart'],
    options: [
      {
        name: 'method',
        means: 'swing a wedge open at the centre, or raise the waist at the centre',
        values: ['wedge', 'raise the waist'],
        default: 'wedge',
      },
      { name: 'depth', means: 'level of the wedge below the waist', values: 'mm', default: String(DEPTH) },
    ],
    limits: [{ place: 'wedge at the centre front', most: MOST, source: 'common practice' }],
    moves: ['front above the wedge', 'front waist', 'front darts', 'cutting line', 'centre front length'],
    keeps: ['waist length', 'side length', 'grain', 'mates', 'allowances'],
    additive: false,
    construction:
      'Slash from centre front to the side seam line, swing the waist part open at the centre, fill the centre straight, deepen the darts.',
    source: 'level: New Mexico State University, Guide C-209; the rest: common practice',
  },
  stage: 'shape',
  evenAt: 'waist',
  divide: (request) => {
    const fronts = frontPieces(request.pattern);
    const shares = shareTo(fronts, request.amount, 'centre front', MOST);
    return {
      shares,
      findings: [
        ...(fronts.length === 0
          ? [missing('abdomen', 'no front of a skirt or of trousers was found', 'Name the front in the pattern sheet.')]
          : []),
        ...cannot(request),
        ...limitFindings(
          'abdomen',
          shares,
          request.beyondLimits,
          request.show,
          'Take part of it, and try the skirt on.',
        ),
      ],
      explanation: `centre front ${signed(request.amount, request.show)}, nothing at the side`,
    };
  },
  alter: (garment, step) =>
    step.shares.reduce((g, share) => onPiece(g, share.piece, (t) => alterFront(t, step, share.amount)), garment),
  says: (share, step, show) =>
    step.options.method === 'wedge'
      ? `wedge ${spreadOrLapped(share.amount, show)} at the centre front, hinged at the side; darts ${share.amount > 0 ? 'deepened' : 'made narrower'} to keep the waist`
      : `waist ${raisedOrLowered(share.amount, show)} at the centre front, nothing at the side`,
  examples: [
    {
      says: 'wedge of 1 in, 9 in from its hinge: 6.369 degrees',
      amount: 1,
      share: 1,
      source: 'derived: 2·asin(½ ÷ 9)',
    },
    { says: 'flat by 1/2 in', amount: -0.5, share: -0.5, source: 'common practice' },
  ],
};

const alterFront = (tracing: Parameters<typeof wedgeAtCentre>[0], step: PlannedStep, amount: number) =>
  step.options.method === 'wedge'
    ? wedgeAtCentre(tracing, amount, belowWaist(tracing, Number(step.options.depth)))
    : raiseWaistAtCentre(tracing, amount);

/** What keeps a front from being altered by the method chosen. */
const cannot = ({ pattern, options, amount, beyondLimits }: Request): Division['findings'] =>
  frontPieces(pattern).flatMap((piece) => {
    if (options.method === 'wedge') {
      const lacks =
        centreOf({ piece }) === undefined
          ? 'the front is drawn whole, and a wedge opens at a centre edge'
          : piece.darts.length === 0
            ? 'the front has no waist dart to take what the waist gains'
            : undefined;
      return lacks === undefined
        ? []
        : [missing('abdomen', lacks, 'Choose the other method: --choose "abdomen method=raise the waist".')];
    }
    const most = raiseTillStraight(piece);
    return amount <= most || beyondLimits
      ? []
      : [
          {
            code: 'plan-past-limit',
            level: 'error' as const,
            where: { alteration: 'abdomen', piece: piece.id },
            message: `abdomen: the waist edge would be hollow upwards: it is straight when raised ${most.toFixed(0)} mm.`,
            try: 'Ask for less, or choose the wedge: --choose "abdomen method=wedge".',
          },
        ];
  });
