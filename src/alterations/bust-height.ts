import { type DartMove, dropFor, lowerBust } from '../paper/bust-height.ts';
import { lowerPanels } from '../paper/bust-panels.ts';
import { bustsOf } from '../paper/bust-point.ts';
import { type Garment, onPiece, tracingOf } from '../paper/garment.ts';
import { trace } from '../paper/tracing.ts';
import type { Piece } from '../pattern/piece.ts';
import { timesRound } from '../pattern/round.ts';
import type { Alteration, Division, Request } from './alteration.ts';
import {
  frontFindings,
  lacksBustPoint,
  panelledFronts,
  panelSeams,
  plainFronts,
  shareASide,
  unmatchedPanels,
} from './bust-parts.ts';
import type { PlannedStep, Share } from './contract.ts';
import { told } from './sayings.ts';
import { inches, limitFindings, signed } from './shares.ts';

/** Customary most (common practice). */
const MOST = inches(1.5);

/**
 * Bust lower or higher than the pattern's.
 *
 * The side dart is boxed and moved along the grain as a whole, the seam beside it redrawn; or only its tip is moved, and
 * its legs are made equal at the mouth, half added and half trimmed. Darts in other edges keep their mouths; their tips
 * follow the bust point along their middle lines. The bust level goes along, the waist keeps its length. The amount is
 * that from the neck point to the bust point, measured straight.
 *
 * A front of panels: the panel seams are slid along the grain at the bust, to nothing at their ends, both edges alike, so
 * that the fullness lies lower and the waist stays.
 *
 * Construction and limit: common practice.
 */
export const bustHeight: Alteration = {
  card: {
    name: 'bust height',
    title: 'Low bust, high bust',
    synonyms: [
      { name: 'low bust', sign: 1 },
      { name: 'high bust', sign: -1 },
    ],
    plus: 'lower',
    minus: 'higher',
    needs: ['a front with darts, or panels', 'a bust point (else where the darts are aimed)'],
    measurement: 'bust height',
    options: [
      {
        name: 'method',
        means: 'move the whole side dart along the grain, or its tip alone',
        values: ['whole dart', 'tip only'],
        default: 'whole dart',
      },
    ],
    limits: [{ place: 'bust point', most: MOST, source: 'common practice' }],
    moves: ['side dart', 'side seam beside it', 'tips of the other darts', 'bust point', 'bust level', 'panel seams'],
    keeps: ['waist length', 'armhole length', 'side length with its dart closed', 'mates', 'grain', 'allowances'],
    additive: false,
    construction:
      'Box the side dart and move it along the grain, or move its tip and make its legs equal; the tips of the other darts follow the bust point.',
    source: 'common practice',
  },
  stage: 'shape',
  evenAt: 'waist',
  divide: (request) => divide(request),
  alter: (garment, step) => {
    const layers = panelledFronts(garment.pattern);
    const isPanel = (id: string): boolean => layers.some((pieces) => pieces.some((p) => p.id === id));
    const plain = step.shares.filter((s) => !isPanel(s.piece));
    const how = step.options.method as DartMove;
    const lowered = plain.reduce((g, s) => onPiece(g, s.piece, (t) => lowerBust(t, s.amount, how)), garment);
    return layers.reduce((g, pieces) => alterPanels(g, pieces, step), lowered);
  },
  says: (share, step, show) =>
    share.place === AT_PANEL
      ? `panel seam slid ${told('down', 'up')(share.amount, show)} at the bust, nothing at its ends`
      : `bust point ${told('lowered', 'raised')(share.amount, show)}; ${step.options.method === 'tip only' ? 'the tips of its darts follow it' : 'the side dart goes with it, the tips of the others follow it'}`,
  examples: [
    { says: 'bust 1/2 in lower', amount: 0.5, share: 0.5, source: 'common practice' },
    { says: 'bust 3/8 in higher', amount: -0.375, share: -0.375, source: 'common practice' },
  ],
};

const AT_PANEL = 'panel at the bust';

const divide = ({ pattern, amount, beyondLimits, show }: Request): Division => {
  const fronts = plainFronts(pattern);
  const layers = panelledFronts(pattern);
  const onPanels = layers.flatMap((pieces) => pieces.map((p): Share => panelShare(p, amount)));
  const shares = [...shareASide(fronts, 'bust point', () => amount, MOST), ...onPanels];
  return {
    shares,
    findings: [
      ...(layers.length > 0 && fronts.length === 0 ? [] : frontFindings('bust height', pattern, fronts)),
      ...layers.filter((l) => !l.some(hasBustPoint)).map((l) => lacksBustPoint('bust height', l[0] as Piece)),
      ...unmatchedPanels('bust height', pattern),
      ...limitFindings('bust height', shares, beyondLimits, show, 'Make a trial garment first.'),
    ],
    explanation: `${signed(amount, show)} from the neck point to the bust point`,
  };
};

const panelShare = (piece: Piece, amount: number): Share => ({
  piece: piece.id,
  place: AT_PANEL,
  amount,
  most: MOST,
  cloth: piece.cut.cloth,
  counted: timesRound(piece),
});

const hasBustPoint = (piece: Piece): boolean =>
  piece.landmarks.some((l) => l.name === 'bust point') && bustsOf(trace(piece)).length > 0;

/** All panels of a front alike: the drop is that of the panel which shows the bust point. */
const alterPanels = (garment: Garment, pieces: readonly Piece[], step: PlannedStep): Garment => {
  const marked = pieces.find(hasBustPoint);
  const amount = step.shares.find((s) => s.piece === marked?.id)?.amount;
  const seams = panelSeams(garment.pattern, pieces);
  if (!marked || amount === undefined || seams.length === 0) return garment;
  const tracing = tracingOf(garment, marked.id);
  const [bust] = bustsOf(tracing);
  return bust ? lowerPanels(garment, seams, dropFor(tracing, bust, amount), bust.at.y) : garment;
};
