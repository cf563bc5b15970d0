import type { Finding } from '../finding.ts';
import { onPiece, tracingOf } from '../paper/garment.ts';
import { marksInTuck } from '../paper/skirt-lengths.ts';
import { hasLine, lengthenSleeve, lineOf, type SleevePart } from '../paper/sleeve-lengths.ts';
import { trace } from '../paper/tracing.ts';
import { pieceCalled } from '../pattern/pattern.ts';
import type { Alteration, Request } from './alteration.ts';
import type { Share } from './contract.ts';
import { spreadOrTucked } from './sayings.ts';
import { inches, limitFindings, missing, signed } from './shares.ts';
import { sleevesLack, wholeToEverySleeve } from './sleeve-shares.ts';

/* What length above and below the elbow have in common. */

/** Customary most at one line (common practice). */
export const MOST_AT_LINE = inches(2);

type Doing = Pick<Alteration, 'stage' | 'evenAt' | 'divide' | 'alter' | 'says'>;

/** Lengthening and shortening one part of a sleeve. */
export const lengthOf = (part: SleevePart): Doing => {
  const name = `length ${part}`;
  return {
    stage: 'length',
    evenAt: 'waist',
    divide: (request) => {
      const shares = wholeToEverySleeve(request.pattern, request.amount, `line ${part}`, MOST_AT_LINE);
      return {
        shares,
        findings: [
          ...sleevesLack(request.pattern, name, ['sleeve seam']),
          ...shares.flatMap((s) => lineFindings(request, s, part)),
          ...limitFindings(name, shares, request.beyondLimits, request.show, 'Share it over both parts of the sleeve.'),
        ],
        explanation: `${signed(request.amount, request.show)} ${part}, every piece of the sleeve alike`,
      };
    },
    alter: (garment, step) =>
      step.shares.reduce((g, share) => {
        const height = lineOf(tracingOf(g, share.piece), part) ?? 0;
        const hidden = marksInTuck(g, share.piece, height, share.amount);
        const altered = onPiece(g, share.piece, (t) => lengthenSleeve(t, part, share.amount));
        return { ...altered, hidden: [...g.hidden, ...hidden] };
      }, garment),
    says: (share, _step, show) => `${spreadOrTucked(share.amount, show)} ${part}`,
  };
};

const lineFindings = ({ pattern }: Request, share: Share, part: SleevePart): Finding[] => {
  const piece = pieceCalled(pattern, share.piece);
  if (!piece) return [];
  const tracing = trace(piece);
  const called = piece.name || piece.id;
  if (lineOf(tracing, part) === undefined) {
    return [
      missing(
        `length ${part}`,
        `${called} has no elbow level`,
        `Draw the elbow line, or give it under “levels” of ${piece.id} in the pattern sheet.`,
      ),
    ];
  }
  if (hasLine(tracing, part)) return [];
  return [
    {
      code: 'plan-line-midway',
      level: 'note',
      where: { alteration: `length ${part}`, piece: piece.id },
      message: `${called}: no adjustment line is printed ${part}; the level midway was taken.`,
      try: 'Draw the line where the sleeve is to be parted, or name it in the pattern sheet.',
    },
  ];
};
