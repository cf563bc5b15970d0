import type { Finding } from '../finding.ts';
import { formatLength } from '../measurements/units.ts';
import { type BackSurplus, hasBackDart, roundBack as roundBackBy, shoulderGain } from '../paper/back-shape.ts';
import { type Garment, onPiece, seamEased, tracingOf } from '../paper/garment.ts';
import { NoRoom } from '../paper/no-room.ts';
import { type Tracing, trace } from '../paper/tracing.ts';
import { edgeWithRole } from '../pattern/edges.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Alteration, Division, Request } from './alteration.ts';
import { bodiceLayers, hasShoulderAtArmhole, levelNotes } from './bodice-parts.ts';
import type { PlannedStep, Share } from './contract.ts';
import { shareTo } from './length-parts.ts';
import { spreadOrLapped } from './sayings.ts';
import { inches, limitFindings, missing, signed } from './shares.ts';

/** Customary most (common practice; for the erect back ½ to ¾ in: Hertzer, Garment Cutting). */
const MOST = inches(5 / 8);

/**
 * Round back (erect back, when negative): the back is slashed from the centre to the armhole at the level of the shoulder
 * blades, hinged on the armhole seam line, and raised d at the centre, which is drawn straight again. The surplus goes
 * into the dart that the back has in its shoulder or neck; where it has none, into a new one, or is eased into the front
 * shoulder. Neck and armhole keep their lengths, and with a dart the shoulder does. An erect back overlaps on the same
 * line; its dart is made narrower, and what it cannot give is put back where the shoulder meets the armhole.
 *
 * The outer part swings until the place where it meets the inner one has risen d: sin of the swing = d ÷ its distance
 * from the hinge. Home Economics Research Report 32 lists it; erect back: E. B. Hertzer, Garment Cutting, p. 92; the
 * rest: common practice.
 */
export const roundBack: Alteration = {
  card: {
    name: 'round back',
    title: 'Round back, erect back',
    synonyms: [
      { name: 'round shoulders', sign: 1 },
      { name: 'erect back', sign: -1 },
      { name: 'straight back', sign: -1 },
    ],
    plus: 'round',
    minus: 'erect',
    needs: ['a back with a shoulder that ends at an armhole', 'a blade level, or an armhole notch'],
    options: [
      {
        name: 'surplus',
        means: 'where the surplus goes when the back has no dart in shoulder or neck',
        values: ['shoulder dart', 'neck dart', 'ease'],
        default: 'shoulder dart',
      },
    ],
    limits: [{ place: 'slash at the centre back', most: MOST, source: 'common practice' }],
    moves: ['back above the blades', 'shoulder dart or neck dart', 'armhole', 'centre back length', 'cutting line'],
    keeps: [
      'neck length',
      'armhole length',
      'shoulder length with its dart',
      'side seam',
      'waist',
      'grain',
      'allowances',
    ],
    additive: false,
    construction:
      'Slash from the centre back to the armhole seam line at the blades; raise or overlap at the centre; draw the centre straight; the surplus into a shoulder or neck dart.',
    source: 'erect back: Hertzer, Garment Cutting, p. 92; the rest: common practice',
  },
  stage: 'shape',
  evenAt: 'waist',
  divide: (request) => divide(request),
  alter: (garment, step) => step.shares.reduce((g, share) => alterBack(g, share, step), garment),
  says: (share, step, show) =>
    `${spreadOrLapped(share.amount, show)} at the centre back at the blades, hinged at the armhole; ${
      step.options.surplus === 'ease' ? 'dart or ease of the shoulder' : 'the dart'
    } takes it`,
  examples: [
    { says: 'round back 1/2 in', amount: 0.5, share: 0.5, source: 'common practice' },
    { says: 'erect back 1/2 in', amount: -0.5, share: -0.5, source: 'Hertzer, Garment Cutting: ½ to ¾ in' },
  ],
};

const surplusOf = (options: PlannedStep['options']): BackSurplus => options.surplus as BackSurplus;

const alterBack = (garment: Garment, { piece, amount }: Share, step: PlannedStep): Garment => {
  const was = tracingOf(garment, piece);
  const altered = onPiece(garment, piece, (t) => roundBackBy(t, amount, surplusOf(step.options)));
  const gain = shoulderGain(was, tracingOf(altered, piece));
  if (Math.abs(gain) < 0.01) return altered;
  return edgeWithRole(was.piece, 'shoulder').reduce((g, e) => seamEased(g, piece, e.id, gain), altered);
};

const divide = (request: Request): Division => {
  const { pattern, amount, beyondLimits, show } = request;
  const backs = bodiceLayers(pattern, ['back']).flatMap((l) => l.pieces.filter(hasShoulderAtArmhole));
  const shares = shareTo(backs, amount, 'centre back', MOST);
  return {
    shares,
    findings: [
      ...(shares.length === 0
        ? [
            missing(
              'round back',
              'no back with a shoulder that ends at an armhole was found',
              'Name the back and its edges in the pattern sheet.',
            ),
          ]
        : []),
      ...levelNotes('round back', backs),
      ...backs.flatMap((piece) => easeNote(request, piece)),
      ...limitFindings('round back', shares, beyondLimits, show, 'Take part of it, and try the back on.'),
    ],
    explanation: `centre back ${signed(amount, show)} at the shoulder blades, nothing at the armhole`,
  };
};

/** What a shoulder without a dart is to be eased. */
const easeNote = ({ amount, options, show }: Request, piece: Piece): Finding[] => {
  const tracing = trace(piece);
  if (hasBackDart(tracing) || amount <= 0 || options.surplus !== 'ease') return [];
  const gain = gainOf(tracing, amount);
  if (gain === undefined) return [];
  return [
    {
      code: 'plan-shoulder-ease',
      level: 'note',
      where: { alteration: 'round back', piece: piece.id },
      message: `${piece.name || piece.id}: the back shoulder becomes ${formatLength(gain, show)} longer, which is eased into the front shoulder.`,
      try: 'For a dart instead: --choose "round back surplus=shoulder dart".',
    },
  ];
};

const gainOf = (tracing: Tracing, amount: number): number | undefined => {
  try {
    return shoulderGain(tracing, roundBackBy(tracing, amount, 'ease'));
  } catch (fault) {
    if (fault instanceof NoRoom) return undefined;
    throw fault;
  }
};
