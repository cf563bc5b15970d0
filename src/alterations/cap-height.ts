import type { Finding } from '../finding.ts';
import { formatLength } from '../measurements/units.ts';
import { onPiece, seamEased, tracingOf } from '../paper/garment.ts';
import { capLength } from '../paper/sleeve-cap.ts';
import { crownFor, hasCrownNotches, raiseCrown } from '../paper/sleeve-crown.ts';
import { capEdge } from '../paper/sleeve-lines.ts';
import { trace } from '../paper/tracing.ts';
import { armSeams } from '../pattern/arm-seams.ts';
import { edgeCalled, edgeLength } from '../pattern/edges.ts';
import { type Pattern, pieceCalled, type SewnEdge } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Alteration, Request } from './alteration.ts';
import type { Share } from './contract.ts';
import { raisedOrLowered } from './sayings.ts';
import { inches, limitFindings, signed } from './shares.ts';
import { sleevesLack, wholeToEverySleeve } from './sleeve-shares.ts';

/** Customary most that a crown is raised or lowered between its notches (common practice). */
const MOST = inches(3 / 4);
/** Ease that a set-in cap has over its armhole: 1 to 1⅞ in (Santa Rosa Junior College, unit 7.2). */
const EASE = { least: inches(1), most: inches(15 / 8) };

/**
 * Cap higher or lower: the crown is redrawn from notch to notch, higher (lower) by the amount at its top; below them,
 * where it lies in the armhole, it stays (a high rise begins a little lower, so that it is not too sharp). The cap grows longer by it, so its ease is checked again. Common
 * practice; ease: Santa Rosa Junior College, unit 7.2.
 */
export const capHeight: Alteration = {
  card: {
    name: 'cap height',
    title: 'Higher sleeve cap, lower sleeve cap',
    synonyms: [
      { name: 'higher cap', sign: 1 },
      { name: 'high sleeve cap', sign: 1 },
      { name: 'lower cap', sign: -1 },
      { name: 'low sleeve cap', sign: -1 },
    ],
    plus: 'higher',
    minus: 'lower',
    needs: ['a sleeve with a cap', 'the notches of the cap (its middle is taken where there are none)'],
    options: [],
    limits: [{ place: 'crown', most: MOST, source: 'common practice' }],
    moves: ['cap between its notches', 'shoulder notch', 'cutting line'],
    keeps: ['cap below its notches', 'sleeve seams', 'biceps', 'wrist', 'grain', 'allowances'],
    additive: false,
    construction:
      'Redraw the crown from notch to notch through its new top; walk it round the armhole and check its ease.',
    source: 'common practice; ease: Santa Rosa Junior College, unit 7.2',
  },
  stage: 'shape',
  evenAt: 'waist',
  divide: (request) => {
    const shares = wholeToEverySleeve(request.pattern, request.amount, 'crown', MOST).filter((s) =>
      hasCrown(pieceCalled(request.pattern, s.piece)),
    );
    return {
      shares,
      findings: [
        ...sleevesLack(request.pattern, 'cap height', ['cap']),
        ...limitFindings('cap height', shares, request.beyondLimits, request.show, 'Take part of it.'),
        ...shares.flatMap((s) => notchNote(request.pattern, s)),
        ...easeFindings(request, shares),
      ],
      explanation: `crown ${signed(request.amount, request.show)} at its top, nothing at the notches`,
    };
  },
  alter: (garment, step) =>
    step.shares.reduce((g, share) => {
      const before = tracingOf(g, share.piece);
      const raised = onPiece(g, share.piece, (t) => raiseCrown(t, share.amount, crownFor(t, share.amount)));
      const gained = capLength(tracingOf(raised, share.piece)) - capLength(before);
      return seamEased(raised, share.piece, capEdge(before) as string, gained);
    }, garment),
  says: (share, _step, show) => `crown ${raisedOrLowered(share.amount, show)} at its top, nothing at the notches`,
  examples: [
    { says: 'cap 1/2 in higher', amount: 0.5, share: 0.5, source: 'common practice' },
    { says: 'cap 1/4 in lower', amount: -0.25, share: -0.25, source: 'common practice' },
  ],
};

/** The crown of a sleeve in two pieces is on the upper one. */
const hasCrown = (piece: Piece | undefined): boolean => piece !== undefined && piece.part !== 'under sleeve';

const notchNote = (pattern: Pattern, share: Share): Finding[] => {
  const piece = pieceCalled(pattern, share.piece);
  if (!piece || capEdge({ piece }) === undefined || hasCrownNotches(trace(piece))) return [];
  return [
    {
      code: 'plan-no-notches',
      level: 'note',
      where: { alteration: 'cap height', piece: piece.id },
      message: `${piece.name || piece.id}: the cap has no notches; its crown was taken to begin a little below its middle.`,
      try: 'Mark the notches of the cap, or look at the curve before cutting.',
    },
  ];
};

/** The ease that the cap comes to have, where it leaves what is customary further than it did. */
const easeFindings = ({ pattern, show }: Request, shares: readonly Share[]): Finding[] =>
  armSeams(pattern).flatMap(({ caps, rows }) => {
    const share = shares.find((s) => caps.some((c) => c.piece === s.piece));
    const piece = share && pieceCalled(pattern, share.piece);
    const [row] = rows;
    if (!share || !piece || !row || capEdge({ piece }) === undefined) return [];
    const before = trace(piece);
    const cap = rowLength(pattern, caps);
    const armhole = rowLength(pattern, row) / Math.max(1, Math.round(rowLength(pattern, row) / cap));
    const was = cap - armhole;
    const times = caps.find((c) => c.piece === share.piece)?.times ?? 1;
    const is =
      was + times * (capLength(raiseCrown(before, share.amount, crownFor(before, share.amount))) - capLength(before));
    const off = (ease: number): number => Math.max(0, EASE.least - ease, ease - EASE.most);
    if (off(is) <= off(was)) return [];
    return [
      {
        code: 'plan-cap-ease',
        level: 'warning',
        where: { alteration: 'cap height', piece: piece.id },
        message: `The cap comes to be ${formatLength(is, show)} longer than its armhole (it was ${formatLength(was, show)}); ${formatLength(EASE.least, show)} to ${formatLength(EASE.most, show)} is usual.`,
        try:
          is > EASE.most
            ? 'Gather or dart what cannot be eased, or raise it less.'
            : 'Lower it less, or take in the armhole.',
      },
    ];
  });

const rowLength = (pattern: Pattern, row: readonly SewnEdge[]): number =>
  row.reduce((sum, s) => {
    const piece = pieceCalled(pattern, s.piece);
    const edge = piece && edgeCalled(piece, s.edge);
    return sum + (piece && edge ? s.times * edgeLength(piece, edge) : 0);
  }, 0);
