import { bustsOf, dartTo } from '../paper/bust-point.ts';
import { closeGape } from '../paper/gape.ts';
import { type Garment, onPiece, tracingOf } from '../paper/garment.ts';
import { type Tracing, trace } from '../paper/tracing.ts';
import type { Alteration, Division, Request } from './alteration.ts';
import { frontFindings, noDartFindings, noEdgeFindings, plainFronts, shareASide } from './bust-parts.ts';
import type { AlterationCard, AlterationOption, PlannedStep } from './contract.ts';
import { told } from './sayings.ts';
import { inches, limitFindings } from './shares.ts';

/* A neckline or armhole that stands off the body: a wedge folded out towards the bust point, which opens a dart. */

/** Customary most on each side (common practice). */
export const MOST_AT_GAPE = inches(1 / 2);

export const gapeOption: AlterationOption = {
  name: 'into',
  means:
    'dart that takes what is folded out (gives what is spread); the side dart, else the waist dart, else a new side dart',
  values: ['as there', 'side', 'waist'],
  default: 'as there',
};

export const gapeLimits = (edge: string): AlterationCard['limits'] => [
  { place: `${edge} on each side`, most: MOST_AT_GAPE, source: 'common practice' },
];

const foldedOrSpread = told('folded out', 'spread');

/** What is published alike of both. */
export const gapeAlteration = (
  edge: 'neck' | 'armhole',
  card: AlterationCard,
  examples: Alteration['examples'],
): Alteration => ({
  card,
  stage: 'shape',
  evenAt: 'waist',
  divide: (request) => divide(request, card.name, edge),
  alter: (garment, step) => alterFronts(garment, step, edge),
  says: (share, _step, show) =>
    `${foldedOrSpread(share.amount, show)} at the ${edge} on each side, to nothing at the bust point; the dart ${share.amount > 0 ? 'takes' : 'gives'} it`,
  examples,
});

const divide = (
  { pattern, amount, options, beyondLimits, show }: Request,
  name: string,
  edge: 'neck' | 'armhole',
): Division => {
  const fronts = plainFronts(pattern);
  const shares = shareASide(fronts, `${edge} on each side`, () => amount, MOST_AT_GAPE);
  const gives = options.into === 'as there' ? undefined : (options.into as 'side' | 'waist');
  return {
    shares,
    findings: [
      ...frontFindings(name, pattern, fronts),
      ...noEdgeFindings(name, fronts, edge),
      ...(amount < 0
        ? fronts.flatMap((p) => noDartFindings(name, [p], gives ?? dartThere(trace(p))))
        : gives
          ? noEdgeFindings(name, fronts, gives)
          : []),
      ...limitFindings(name, shares, beyondLimits, show, 'Fold out what is customary, and try it on.'),
    ],
    explanation: `${foldedOrSpread(amount, show)} at the ${edge} on each side`,
  };
};

/** The side dart, else the waist dart, else a new one from the side. */
const dartThere = (tracing: Tracing): 'side' | 'waist' => {
  const busts = bustsOf(tracing);
  const has = (role: 'side' | 'waist'): boolean => busts.length > 0 && busts.every((b) => dartTo(tracing, b, role));
  return !has('side') && has('waist') ? 'waist' : 'side';
};

const alterFronts = (garment: Garment, step: PlannedStep, edge: 'neck' | 'armhole'): Garment =>
  step.shares.reduce((g, { piece, amount }) => {
    const chosen = step.options.into as 'as there' | 'side' | 'waist';
    const into = chosen === 'as there' ? dartThere(tracingOf(g, piece)) : chosen;
    return onPiece(g, piece, (t) => closeGape(t, edge, amount, into));
  }, garment);
