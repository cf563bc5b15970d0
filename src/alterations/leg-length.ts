import { onPiece, tracingOf } from '../paper/garment.ts';
import { marksInTuck } from '../paper/skirt-lengths.ts';
import { lengthenLeg } from '../paper/trouser-lengths.ts';
import { type LegPart, lineOf } from '../paper/trouser-lines.ts';
import type { LevelName } from '../pattern/piece.ts';
import type { Alteration } from './alteration.ts';
import { legsLack, midwayNotes, wholeToLegs } from './leg-shares.ts';
import { spreadOrTucked } from './sayings.ts';
import { inches, limitFindings, signed } from './shares.ts';

/* What crotch depth and the lengths above and below the knee have in common: a level line across front and back. */

/** Customary most at one line (common practice). */
export const MOST_AT_LEG_LINE = inches(2);

interface LegLength {
  readonly name: string;
  readonly part: LegPart;
  readonly level: LevelName;
  readonly most: number;
  /** What is advised past the limit. */
  readonly help: string;
}

type Doing = Pick<Alteration, 'stage' | 'evenAt' | 'divide' | 'alter' | 'says'>;

/** Lengthening and shortening one part of trousers, front and back alike. */
export const legLength = ({ name, part, level, most, help }: LegLength): Doing => ({
  stage: 'length',
  evenAt: 'hem',
  divide: ({ pattern, amount, beyondLimits, show }) => {
    const shares = wholeToLegs(pattern, amount, `line ${part}`, most);
    const lacking = legsLack(pattern, name, { edges: ['crotch', 'inseam', 'side'], levels: [level] });
    return {
      shares,
      findings: [
        ...lacking,
        ...(lacking.length === 0 ? midwayNotes(pattern, name, part) : []),
        ...limitFindings(name, shares, beyondLimits, show, help),
      ],
      explanation: `${signed(amount, show)} ${part}, front and back alike`,
    };
  },
  alter: (garment, step) =>
    step.shares.reduce((g, share) => {
      const height = lineOf(tracingOf(g, share.piece), part) ?? 0;
      const hidden = marksInTuck(g, share.piece, height, share.amount);
      const altered = onPiece(g, share.piece, (t) => lengthenLeg(t, part, share.amount));
      return { ...altered, hidden: [...g.hidden, ...hidden] };
    }, garment),
  says: (share, _step, show) => `${spreadOrTucked(share.amount, show)} ${part}`,
});
