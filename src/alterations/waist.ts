import { formatLength } from '../measurements/units.ts';
import { drawDart, widenDart } from '../paper/darts.ts';
import { type Garment, onPiece, waistLonger } from '../paper/garment.ts';
import { sewnLength } from '../paper/runs.ts';
import { fitWaist } from '../paper/skirt-seams.ts';
import { edgeWithRole } from '../pattern/edges.ts';
import { cloths } from '../pattern/pattern.ts';
import type { Cloth } from '../pattern/piece.ts';
import type { Alteration, Division, Request } from './alteration.ts';
import type { PlannedStep, Share } from './contract.ts';
import { narrowerOrDeeper, outOrIn } from './sayings.ts';
import {
  bodyPieces,
  counted,
  dartShare,
  edgeShare,
  inches,
  limitFindings,
  MOST_AT_DART,
  MOST_AT_EDGE,
  missing,
  NEGLIGIBLE,
  sharedOut,
  sideEdges,
  type WaistDart,
  waistDarts,
} from './shares.ts';

/**
 * Waist larger or smaller.
 *
 * Each side edge goes out (in) by its share at the waist, nothing at the hip, the hip curve kept; what the seams
 * cannot take comes out of the darts (larger: narrower darts; smaller: deeper darts, another dart, or several small
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
    needs: ['a waist edge', 'side edges, or darts in the waist edge'],
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
    moves: ['side edges above the hip', 'waist edge beside them', 'darts', 'cutting line', 'waistband'],
    keeps: ['hip', 'mates', 'grain', 'fairness', 'allowances', 'corner angles'],
    additive: true,
    construction:
      'Each side edge goes out by its share at the waist, to nothing at the hip, the hip curve kept; what the seams cannot take comes out of the darts.',
    source: 'share: Central Washington University costume text, chapter 17; the rest: common practice',
  },
  stage: 'width',
  evenAt: 'waist',
  divide: (request) => {
    const adds = request.options.take === 'new dart' || request.options.take === 'tucks';
    if (adds && request.amount > 0) return noLargerByDarts(request.options.take as string);
    const shares = cloths(request.pattern).flatMap((cloth) => divideCloth(request, cloth));
    if (shares.length === 0) return nothingToTake();
    const sides = shares.filter((s) => s.edge !== undefined && s.place.startsWith('side'));
    const rest = shares.filter((s) => !sides.includes(s));
    return {
      shares,
      findings: limitFindings('waist', shares, request.beyondLimits, request.show, help),
      explanation: [
        sharedOut(total(sides), sides, 'side edge', request.show),
        sharedOut(total(rest), rest, rest[0]?.place ?? 'dart', request.show),
      ]
        .filter((part) => part !== '')
        .join('; '),
    };
  },
  alter: (garment, step) => piecesOf(step).reduce((g, piece) => takeAtPiece(g, step, piece), garment),
  says: (share, _step, show) => {
    if (share.dart !== undefined) return `dart ${narrowerOrDeeper(share.amount, show)}, its tip fixed`;
    if (share.place.startsWith('side'))
      return `side edge ${outOrIn(share.amount, show)} at the waist, nothing at the hip`;
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

const help =
  'Seams and darts are full: take another size, or make a trial garment first and ask for it with --beyond-limits.';

const nothingToTake = (): Division => ({
  shares: [],
  findings: [missing('waist', 'no side edge and no waist dart was found', 'Name the edges in the pattern sheet.')],
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

/** One layer of cloth: the places named first are filled to their most, then the others; what is left goes to the first. */
const divideCloth = ({ pattern, amount, options }: Request, cloth: Cloth): Share[] => {
  const edges = sideEdges(pattern, cloth);
  const darts = waistDarts(bodyPieces(pattern, cloth));
  if (options.take === 'new dart' || options.take === 'tucks') return newIntake(pattern, amount, options, cloth);
  const edgeRoom = MOST_AT_EDGE * counted(edges);
  const dartRoom =
    options.take === 'side edges only' ? 0 : darts.reduce((sum, d) => sum + roomInDart(d, amount) * d.counted, 0);
  const seamsFirst = options.take !== 'darts';
  const first = seamsFirst ? edgeRoom : dartRoom;
  const second = seamsFirst ? dartRoom : edgeRoom;
  const whole = Math.abs(amount);
  const toSecond = Math.min(second, Math.max(0, whole - first));
  const leftOver = Math.max(0, whole - first - second);
  const sign = Math.sign(amount);
  const seams = seamsFirst ? Math.min(whole, first) + leftOver : toSecond + leftOver;
  const toDarts = whole - seams;
  return [
    ...(seams > NEGLIGIBLE || darts.length === 0
      ? edges.map((e) => edgeShare(e, 'side edge at the waist', (sign * seams) / counted(edges), cloth))
      : []),
    ...(toDarts > NEGLIGIBLE
      ? darts.map((d) => dartShare(d, (sign * toDarts * roomInDart(d, amount)) / dartRoom, cloth))
      : []),
  ];
};

/** What a dart can give or take, mm: it can become no narrower than nothing. */
const roomInDart = ({ dart }: WaistDart, amount: number): number => {
  const [a, b] = dart.mouth;
  const wide = Math.hypot(b.x - a.x, b.y - a.y);
  return amount > 0 ? Math.min(MOST_AT_DART, Math.max(0, wide - 1)) : MOST_AT_DART;
};

/** A smaller waist taken up by one more dart, or by tucks, in every piece alike. */
const newIntake = (pattern: Request['pattern'], amount: number, options: Request['options'], cloth: Cloth): Share[] => {
  const tucks = options.take === 'tucks' ? Math.max(1, Math.round(Number(options.tucks))) : 1;
  const pieces = bodyPieces(pattern, cloth).flatMap((piece) =>
    edgeWithRole(piece, 'waist').map((edge) => ({ piece, edge, counted: (piece.half ? 2 : 1) * piece.cut.count })),
  );
  return pieces.map((p) => ({
    ...edgeShare(p, tucks > 1 ? `set of ${tucks} tucks` : 'new waist dart', amount / counted(pieces), cloth),
    most: MOST_AT_DART * (tucks > 1 ? tucks / 2 : 1),
  }));
};

const piecesOf = (step: PlannedStep): string[] => [...new Set(step.shares.map((s) => s.piece))];

/** Depth of a new dart, and of tucks, mm (common practice: 3½ in, and 2 in). */
const DART_DEPTH = inches(3.5);
const TUCK_DEPTH = inches(2);

const takeAtPiece = (garment: Garment, step: PlannedStep, pieceId: string): Garment => {
  const shares = step.shares.filter((s) => s.piece === pieceId);
  const piece = garment.pattern.pieces.find((p) => p.id === pieceId);
  const edge = piece && edgeWithRole(piece, 'waist')[0];
  if (!edge) return garment;
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
