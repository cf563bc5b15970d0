import type { Finding } from '../finding.ts';
import { formatLength } from '../measurements/units.ts';
import { bustsOf, dartTo } from '../paper/bust-point.ts';
import { moveDart, takenOf } from '../paper/dart-moves.ts';
import { type Garment, onPiece } from '../paper/garment.ts';
import { intake } from '../paper/runs.ts';
import { trace } from '../paper/tracing.ts';
import type { EdgeRole, Piece } from '../pattern/piece.ts';
import type { Alteration, Division, Request } from './alteration.ts';
import {
  DART_EDGES,
  type DartEdge,
  frontFindings,
  noDartFindings,
  noEdgeFindings,
  plainFronts,
  shareASide,
} from './bust-parts.ts';
import type { AlterationOption, PlannedStep, Share } from './contract.ts';
import { isOver, missing, NEGLIGIBLE, signed } from './shares.ts';

/**
 * A dart moved to another edge.
 *
 * The paper between the two places is swung about the bust point until the dart is closed, or narrower by what is asked
 * for, and opens by the same **angle** where it was slashed; the width at the mouth differs with the distance. The new
 * dart ends ½ in from the bust point, or 1 in where it comes from the side. A dart that is there already takes it.
 *
 * The amount is what the dart that gives loses at its mouth, on each side of the front; it cannot be more than the dart.
 * Where less than ⅛ in of it would be left, which is not worth sewing, all of it goes.
 *
 * Pivot and angle, ½ in off the bust point: ICAR, pattern making; 1 in from the side: common practice.
 */
export const dartMove: Alteration = {
  card: {
    name: 'dart move',
    title: 'Dart moved to another edge',
    synonyms: [
      { name: 'move dart', sign: 1 },
      { name: 'dart transfer', sign: 1 },
    ],
    plus: 'from the first edge to the second',
    minus: 'back from the second edge to the first',
    needs: ['a front with a dart aimed at the bust point', 'a bust point (else where the darts are aimed)'],
    options: [
      { name: 'from', means: 'edge whose dart gives', values: DART_EDGES, default: 'side' },
      {
        name: 'to',
        means: 'edge whose dart takes; one is drawn where there is none',
        values: DART_EDGES,
        default: 'shoulder',
      },
      takeOption('moved'),
    ],
    limits: [],
    moves: ['part between the darts', 'both darts', 'seams beside them', 'cutting line', 'notches on that part'],
    keeps: ['seam lengths with darts closed', 'mates', 'grain', 'allowances', 'angle of the darts together'],
    additive: false,
    construction:
      'Slash from the new place to the bust point, swing the part between about the bust point until the old dart is closed (or narrower by the amount): the slash opens by the same angle and is the new dart, ending ½ in from the bust point.',
    source: 'ICAR, pattern making; the places of new darts: common practice',
  },
  stage: 'shape',
  evenAt: 'waist',
  divide: (request) => divide(request, 'dart move', 'to'),
  alter: (garment, step) => alterFronts(garment, step, 'to'),
  says: (share, step, show) => {
    const [from, to] = wayOf(step, share.amount, 'to');
    const much =
      step.options.take === 'all'
        ? 'all of it'
        : `${signed(Math.abs(share.amount), show).replace('+', '')} of its mouth`;
    return `${from} dart moved to the ${to}, ${much}, swung about the bust point`;
  },
  examples: [
    {
      says: '1/2 in of the side dart to the shoulder',
      amount: 0.5,
      share: 0.5,
      source: 'ICAR: swung about the bust point',
    },
    {
      says: '1/4 in back again, from the shoulder dart',
      amount: -0.25,
      share: -0.25,
      source: 'the same the other way round',
    },
  ],
};

/** How much of a dart goes: what is asked for, or the dart whole, whatever its width. */
export function takeOption(done: string): AlterationOption {
  return {
    name: 'take',
    means: `whether the amount, or all of the dart, is ${done}; the amount then only says which way`,
    values: ['the amount', 'all'],
    default: 'the amount',
  };
}

/** From which edge to which: back again for a negative amount. */
export const wayOf = (
  step: Pick<PlannedStep, 'options'>,
  amount: number,
  second: 'to' | 'into',
): [DartEdge, DartEdge] => {
  const [from, to] = [step.options.from, step.options[second]] as [DartEdge, DartEdge];
  return amount >= 0 ? [from, to] : [to, from];
};

/** Shares and findings of a dart that is moved, or laid to another (which then has to be there). */
export const divide = ({ pattern, amount, options, show }: Request, name: string, second: 'to' | 'into'): Division => {
  const fronts = plainFronts(pattern);
  const [from, to] = wayOf({ options }, amount, second);
  const whole = options.take === 'all';
  const shares = shareASide(fronts, `${from} dart`, () => amount, Number.POSITIVE_INFINITY).map((s) =>
    whole
      ? s
      : worthSewing(
          s,
          dartWidth(
            fronts.find((p) => p.id === s.piece),
            from,
          ),
        ),
  );
  const all = shares.filter((s) => Math.abs(s.amount) > Math.abs(amount) + NEGLIGIBLE);
  const same =
    from === to ? [missing(name, `the ${from} dart cannot be moved to where it is`, 'Choose two edges.')] : [];
  const taken = whole ? 'all of the dart' : `${signed(Math.abs(amount), show).replace('+', '')} of the mouth`;
  return {
    shares,
    findings: [
      ...frontFindings(name, pattern, fronts),
      ...same,
      ...noDartFindings(name, fronts, from),
      ...(second === 'into' ? noDartFindings(name, fronts, to) : noEdgeFindings(name, fronts, to)),
      ...shares.filter(isOver).map((s) => noWider(name, s, show)),
      ...all.map((s) => allOfIt(name, s, amount, show)),
    ],
    explanation: `${taken} on each side, from the ${from} to the ${to} about the bust point`,
  };
};

/** A share of a dart so wide: all of it where too little to sew would be left. */
const worthSewing = (share: Share, width: number): Share => {
  const by = Math.abs(share.amount);
  return { ...share, most: width, amount: Math.sign(share.amount) * (by > width ? by : takenOf(width, by)) };
};

const allOfIt = (name: string, share: Share, amount: number, show: Request['show']): Finding => ({
  code: 'plan-dart-whole',
  level: 'note',
  where: { alteration: name, piece: share.piece },
  message: `${name}: all ${formatLength(Math.abs(share.amount), show)} of the ${share.place} are taken; a dart of ${formatLength(Math.abs(share.amount) - Math.abs(amount), show)} would not be worth sewing.`,
  try: 'Ask for less, so that at least ⅛ in is left, if the dart is to stay.',
});

/** Width of a dart at its mouth, mm: no more than that can be moved. */
const dartWidth = (piece: Piece | undefined, role: EdgeRole): number => {
  if (!piece) return Number.POSITIVE_INFINITY;
  const tracing = trace(piece);
  const darts = bustsOf(tracing).flatMap((bust) => dartTo(tracing, bust, role) ?? []);
  return Math.min(...darts.map((d) => intake(tracing, d.id)));
};

const noWider = (name: string, share: Share, show: Request['show']): Finding => ({
  code: 'plan-past-limit',
  level: 'error',
  where: { alteration: name, piece: share.piece },
  message: `${name}: the ${share.place} is ${formatLength(share.most, show)} wide at its mouth; no more than that can be moved.`,
  try: `Ask for less, or for all of it: --choose '${name} take=all'.`,
});

export const alterFronts = (garment: Garment, step: PlannedStep, second: 'to' | 'into'): Garment =>
  step.shares.reduce((g, share: Share) => {
    const [from, to] = wayOf(step, share.amount, second);
    const by = step.options.take === 'all' ? 'all' : Math.abs(share.amount);
    return onPiece(g, share.piece, (t) => moveDart(t, from, to, by));
  }, garment);
