import { onPiece } from '../paper/garment.ts';
import { centreOf, hipHeight, wedgeAtCentre } from '../paper/skirt-shape.ts';
import { spreadThroughDart } from '../paper/skirt-widths.ts';
import type { Tracing } from '../paper/tracing.ts';
import type { Alteration } from './alteration.ts';
import type { PlannedStep } from './contract.ts';
import { backPieces, shareTo } from './length-parts.ts';
import { spreadOrLapped } from './sayings.ts';
import { inches, limitFindings, missing, signed } from './shares.ts';

/** Customary most of the wedge (common practice). */
const MOST = inches(1);

/**
 * Full or flat seat, on the back only.
 *
 * Slash from the centre back to the side along the hip line, hinge on the side seam line, spread (overlap) d at the
 * centre; the hem part keeps the grain, the waist part swings; the centre is filled straight, the darts deepened
 * (narrowed). Its width, where asked for, comes through a slash along the dart from hem to waist.
 *
 * The United States Department of Agriculture's Home Economics Research Report 32 lists it; construction and limit:
 * common practice.
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
    needs: ['a back with a waist dart, a side edge, and its centre or fold as an edge', 'a hip level'],
    options: [
      { name: 'width', means: 'width added to each half of the back through its dart', values: 'mm', default: '0' },
    ],
    limits: [{ place: 'wedge at the centre back', most: MOST, source: 'common practice' }],
    moves: ['back above the hip line', 'back waist', 'back darts', 'cutting line', 'centre back length'],
    keeps: ['waist length', 'side length', 'grain', 'mates', 'allowances'],
    additive: false,
    construction:
      'Slash along the hip line from centre back to the side seam line, swing the waist part open at the centre, fill the centre straight, deepen the darts.',
    source: 'common practice',
  },
  stage: 'shape',
  evenAt: 'waist',
  divide: ({ pattern, amount, beyondLimits, show }) => {
    const backs = backPieces(pattern);
    const shares = shareTo(backs, amount, 'centre back', MOST);
    const lacking = backs.filter((piece) => centreOf({ piece }) === undefined || piece.darts.length === 0);
    return {
      shares,
      findings: [
        ...(backs.length === 0
          ? [missing('seat', 'no skirt back was found', 'Name the back in the pattern sheet.')]
          : []),
        ...lacking.map((p) =>
          missing(
            'seat',
            `${p.name} has no ${p.darts.length === 0 ? 'waist dart' : 'centre edge'}`,
            'Use a half back with a dart.',
          ),
        ),
        ...limitFindings('seat', shares, beyondLimits, show, 'Take part of it, and try the skirt on.'),
      ],
      explanation: `centre back ${signed(amount, show)} at the hip line, nothing at the side`,
    };
  },
  alter: (garment, step) =>
    step.shares.reduce((g, share) => onPiece(g, share.piece, (t) => alterBack(t, step, share.amount)), garment),
  says: (share, _step, show) =>
    `wedge ${spreadOrLapped(share.amount, show)} at the centre back on the hip line, hinged at the side; darts ${share.amount > 0 ? 'deepened' : 'made narrower'} to keep the waist`,
  examples: [{ says: 'full seat 1/2 in', amount: 0.5, share: 0.5, source: 'common practice' }],
};

const alterBack = (tracing: Tracing, step: PlannedStep, amount: number): Tracing => {
  const width = Number(step.options.width);
  const dart = tracing.piece.darts[0];
  const wide = width === 0 || !dart ? tracing : spreadThroughDart(tracing, dart.id, width);
  return wedgeAtCentre(wide, amount, hipHeight(wide));
};
