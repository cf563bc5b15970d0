import { formatLength } from '../measurements/units.ts';
import { drawDart, widenDart } from '../paper/darts.ts';
import { type Garment, onPiece, waistLonger } from '../paper/garment.ts';
import { sewnLength } from '../paper/runs.ts';
import { fitWaist, outAtWaist } from '../paper/skirt-seams.ts';
import type { Tracing } from '../paper/tracing.ts';
import { edgeWithRole } from '../pattern/edges.ts';
import type { Piece } from '../pattern/piece.ts';
import { rounds } from '../pattern/round.ts';
import type { Alteration, Division } from './alteration.ts';
import type { PlannedStep, Share } from './contract.ts';
import { narrowerOrDeeper, outOrIn } from './sayings.ts';
import {
  inches,
  limitFindings,
  MOST_AT_DART,
  MOST_AT_EDGE,
  missing,
  seamCalled,
  sharedOut,
  toldByTier,
  waistUnknown,
} from './shares.ts';
import { divideRound, nothingAt } from './waist-shares.ts';

/**
 * Waist larger or smaller.
 *
 * Each side edge goes out (in) by its share at the waist, nothing at the hip, the hip curve kept, and nothing at the
 * bust of a bodice or dress; what the seams cannot take comes out of the darts (larger: narrower darts; smaller: deeper darts, another dart, or several small
 * tucks), their tips fixed. The amount is measured along the waist's own line with the darts closed.
 *
 * Share = (wearer's waist − waist drafted for) ÷ side edges on cloth in one layer (Central Washington University
 * costume text, chapter 17). Seams before darts, and the limits: common practice.
 */
export const waist: Alteration = {
  card: {
    name: 'waist',
    title: 'Waist larger, waist smaller',
    synonyms: [
      { name: 'large waist', sign: 1 },
      { name: 'thick waist', sign: 1 },
      { name: 'small waist', sign: -1 },
    ],
    plus: 'larger',
    minus: 'smaller',
    needs: ['a waist edge, or on a dress the waist level', 'side edges, or waist darts'],
    measurement: 'waist girth',
    options: [
      {
        name: 'take',
        means: 'what takes the change first; what is left goes to the other',
        values: ['side edges', 'side edges only', 'darts', 'new dart', 'tucks'],
        default: 'side edges',
      },
      { name: 'tucks', means: 'how many tucks to each waist edge', values: 'count', default: '3' },
    ],
    limits: [
      { place: 'side edge at the waist', most: MOST_AT_EDGE, source: 'common practice' },
      { place: 'waist dart', most: MOST_AT_DART, source: 'common practice' },
    ],
    moves: ['side edges between bust and hip', 'waist edge beside them', 'darts', 'cutting line', 'waistband'],
    keeps: ['hip', 'bust', 'mates', 'grain', 'fairness', 'allowances', 'corner angles'],
    additive: true,
    construction:
      'Each side edge goes out by its share at the waist, to nothing at the hip, the hip curve kept, and at the bust; what the seams cannot take comes out of the darts. Bodice and skirt each take the whole of it.',
    source: 'share: Central Washington University costume text, chapter 17; the rest: common practice',
  },
  stage: 'width',
  evenAt: 'waist',
  divide: (request) => {
    const adds = request.options.take === 'new dart' || request.options.take === 'tucks';
    if (adds && request.amount > 0) return noLargerByDarts(request.options.take as string);
    const all = rounds(request.pattern);
    const shares = all.flatMap((round) => divideRound(request, round));
    if (shares.length === 0) return adds ? noWaistEdge() : nothingToTake();
    return {
      shares,
      findings: [
        ...waistUnknown('waist', request.pattern),
        ...(adds ? all.filter((round) => !round.pieces.some(hasWaistEdge)).flatMap(() => noWaistEdge().findings) : []),
        ...limitFindings('waist', shares, request.beyondLimits, request.show, help),
      ],
      explanation: toldByTier(request.pattern, shares, (own) => {
        const sides = own.filter(isOnSeam);
        const rest = own.filter((s) => !sides.includes(s));
        return [
          sharedOut(total(sides), sides, seamCalled(...sides), request.show),
          sharedOut(total(rest), rest, rest[0]?.place ?? 'dart', request.show),
        ]
          .filter((part) => part !== '')
          .join('; ');
      }),
    };
  },
  alter: (garment, step) => piecesOf(step).reduce((g, piece) => takeAtPiece(g, step, piece), garment),
  says: (share, _step, show) => {
    if (share.dart !== undefined) return `dart ${narrowerOrDeeper(share.amount, show)}, its tip fixed`;
    if (isOnSeam(share))
      return `${seamCalled(share)} ${outOrIn(share.amount, show)} at the waist, nothing at ${nothingAt(share.place)}`;
    return `${share.place} taking ${formatLength(Math.abs(share.amount), show)}`;
  },
  examples: [
    {
      says: 'waist 1 in larger: ¼ in at each of four edges',
      amount: 1,
      share: 0.25,
      source: 'chapter 17: a quarter each',
    },
    {
      says: 'waist 3 in larger: ¾ in each, past the limit',
      amount: 3,
      share: 0.75,
      source: 'derived: 3 in over four edges',
    },
  ],
};

/** Taken by a seam that runs down the body, not by the waist edge itself. */
const isOnSeam = ({ edge, place }: Share): boolean => edge !== undefined && /^(side edge|gore seam)/.test(place);

const help =
  'Seams and darts are full: take another size, or make a trial garment first and ask for it with --beyond-limits.';

const nothingToTake = (): Division => ({
  shares: [],
  findings: [missing('waist', 'no side edge and no waist dart was found', 'Name the edges in the pattern sheet.')],
  explanation: '',
});

const hasWaistEdge = (piece: Piece): boolean => edgeWithRole(piece, 'waist').length > 0;

/** A dart or a tuck is drawn into an edge. */
const noWaistEdge = (): Division => ({
  shares: [],
  findings: [
    missing(
      'waist',
      'a new dart or a tuck is drawn into a waist edge, and a dress in one piece has none',
      'Leave the choice out: the side edges and the darts that are there take it.',
    ),
  ],
  explanation: '',
});

const noLargerByDarts = (take: string): Division => ({
  shares: [],
  findings: [
    missing(
      'waist',
      `a waist is made smaller by ${take === 'tucks' ? 'tucks' : 'a new dart'}, not larger`,
      'Leave the choice out: the side edges take it.',
    ),
  ],
  explanation: '',
});

/** Whole change of one layer of cloth that the shares make up. */
const total = (shares: readonly Share[]): number => {
  const one = shares[0]?.cloth;
  return shares.filter((s) => s.cloth === one).reduce((sum, s) => sum + s.amount * s.counted, 0);
};

const piecesOf = (step: PlannedStep): string[] => [...new Set(step.shares.map((s) => s.piece))];

/** Depth of a new dart, and of tucks, mm (common practice: 3½ in, and 2 in). */
const DART_DEPTH = inches(3.5);
const TUCK_DEPTH = inches(2);

const takeAtPiece = (garment: Garment, step: PlannedStep, pieceId: string): Garment => {
  const shares = step.shares.filter((s) => s.piece === pieceId);
  const piece = garment.pattern.pieces.find((p) => p.id === pieceId);
  const edge = piece && edgeWithRole(piece, 'waist')[0];
  if (!edge) return onPiece(garment, pieceId, (tracing) => shares.reduce(takeAtLevel, tracing));
  const drawn = shares.filter((s) => s.place.includes('tuck') || s.place.includes('new'));
  const byDarts = shares.filter((s) => s.dart !== undefined);
  const bySides = shares.filter((s) => s.edge !== undefined && !drawn.includes(s));
  const change = shares.reduce((sum, s) => sum + s.amount, 0);
  const sideChange = bySides.reduce((sum, s) => sum + s.amount, 0);
  return onPiece(waistLonger(garment, pieceId, edge.id, change), pieceId, (tracing) => {
    const darted = byDarts.reduce((t, s) => widenDart(t, s.dart as string, -s.amount), tracing);
    const taken = drawn.reduce((t, s) => drawIntake(t, edge.id, s, step), darted);
    const length = sewnLength(taken, edge.id) + sideChange;
    return bySides.length === 0
      ? taken
      : fitWaist(
          taken,
          edge.id,
          length,
          bySides.map((s) => s.edge as string),
        );
  });
};

/** On a dress the waist is a level: each seam goes out there, each dart is made narrower (deeper). */
const takeAtLevel = (tracing: Tracing, { edge, dart, amount }: Share): Tracing =>
  dart !== undefined
    ? widenDart(tracing, dart, -amount)
    : edge !== undefined
      ? outAtWaist(tracing, edge, amount)
      : tracing;

/** Draws what a share asks for: a dart in the middle of the longest plain stretch, or tucks evenly over it. */
const drawIntake = (tracing: Parameters<typeof drawDart>[0], edgeId: string, share: Share, step: PlannedStep) => {
  // A dart that is there already shows how darts are drawn in this pattern.
  const like =
    tracing.piece.lines.find((l) => l.kind === 'dart')?.id ??
    tracing.piece.seamLine.spans.find((s) => s.source)?.source?.drawable ??
    '';
  const n = share.place.includes('tuck') ? Math.max(1, Math.round(Number(step.options.tucks))) : 1;
  const size = { intake: -share.amount / n, depth: n > 1 ? TUCK_DEPTH : DART_DEPTH };
  return Array.from({ length: n }).reduce<typeof tracing>(
    (t, _, i) => drawDart(t, edgeId, like, size, (i + 1) / (n + 1), n > 1 ? 'tuck' : 'dart'),
    tracing,
  );
};
