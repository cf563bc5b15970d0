import type { Finding } from '../finding.ts';
import { formatChange, formatLength, MM_PER_INCH } from '../measurements/units.ts';
import { isSeamDown } from '../pattern/edges.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Cloth, Dart, Edge, Piece } from '../pattern/piece.ts';
import { coversHip, type Round, rounds, tierOf, timesRound } from '../pattern/round.ts';
import { heightOf } from '../pattern/upright.ts';
import type { LengthShown, Share } from './contract.ts';

/* Sharing a change over the places that can take it: seam edges are counted on cloth, layer by layer. */

export const inches = (n: number): number => n * MM_PER_INCH;

/** Most that one side edge takes (common practice). */
export const MOST_AT_EDGE = inches(1 / 2);
/** Most that one dart takes or gives (common practice). */
export const MOST_AT_DART = inches(3 / 8);

export interface SeamEdge {
  readonly piece: Piece;
  readonly edge: Edge;
  readonly counted: number;
}

/** Seam edges that can be let out or taken in: side seams, the seams of gores and of panels. */
export const sideEdges = ({ pieces }: Round): SeamEdge[] =>
  pieces.flatMap((piece) =>
    piece.edges.filter((e) => isSeamDown(e.role)).map((edge) => ({ piece, edge, counted: timesRound(piece) })),
  );

export interface WaistDart {
  readonly piece: Piece;
  readonly dart: Piece['darts'][number];
  readonly counted: number;
}

/** Darts that open the waist edge; of a dress those that lie across the waist level. */
export const waistDarts = (pieces: readonly Piece[]): WaistDart[] =>
  pieces.flatMap((piece) => {
    const waists = new Set(piece.edges.filter((e) => e.role === 'waist').map((e) => e.id));
    const level = piece.levels.find((l) => l.name === 'waist')?.height ?? 0;
    const crosses = ({ tip, otherTip }: Dart): boolean =>
      otherTip !== undefined && heightOf(piece.upright, tip) > level && heightOf(piece.upright, otherTip) < level;
    return piece.darts
      .filter((d) => (d.edge === undefined ? crosses(d) : waists.has(d.edge)))
      .map((dart) => ({ piece, dart, counted: timesRound(piece) }));
  });

export const counted = (places: readonly { counted: number }[]): number =>
  places.reduce((sum, p) => sum + p.counted, 0);

/** An even share of a girth change for every side edge, in each round of pieces. */
export const evenlyOverSides = (among: readonly Round[], amount: number, place: string): Share[] =>
  among.flatMap((round) => {
    const edges = sideEdges(round);
    return edges.map((e) => edgeShare(e, place, amount / counted(edges), round.cloth));
  });

/** Rounds of pieces that cover hip and seat. */
export const hipRounds = (pattern: Pattern): Round[] =>
  rounds(pattern)
    .map((r) => ({ ...r, pieces: r.pieces.filter(coversHip) }))
    .filter((r) => r.pieces.length > 0);

export const edgeShare = (e: SeamEdge, place: string, amount: number, cloth: Cloth): Share => ({
  piece: e.piece.id,
  edge: e.edge.id,
  place: e.edge.role === 'gore seam' ? place.replace(SIDE_EDGE, GORE_SEAM) : place,
  amount,
  most: MOST_AT_EDGE,
  cloth,
  counted: e.counted,
});

const SIDE_EDGE = 'side edge';
const GORE_SEAM = 'gore seam';

/** What the seams are called that take these shares: a skirt of gores alone has no side edges. */
export const seamCalled = (...shares: readonly Share[]): string =>
  shares.length > 0 && shares.every((s) => s.place.startsWith(GORE_SEAM)) ? GORE_SEAM : SIDE_EDGE;

export const dartShare = (d: WaistDart, amount: number, cloth: Cloth): Share => ({
  piece: d.piece.id,
  dart: d.dart.id,
  place: 'waist dart',
  amount,
  most: MOST_AT_DART,
  cloth,
  counted: d.counted,
});

/** Changes smaller than this are not worth a cut, mm. */
export const NOTHING = 1e-6;
/** Rounding that is not worth a refusal, mm. */
export const NEGLIGIBLE = 0.005;

/** Mosts are named to the sixteenth; what a tape does not tell from one is within it, mm: 1/64 in. */
const HAIR = MM_PER_INCH / 64;

const isPastMost = (share: Share): boolean => Math.abs(share.amount) > share.most + HAIR;

export const isOver = (share: Share): boolean => Math.abs(share.amount) > share.most + NEGLIGIBLE;

/** A refusal (or, when asked for, a warning) for shares past their customary most. */
export const limitFindings = (
  alteration: string,
  shares: readonly Share[],
  beyondLimits: boolean,
  show: LengthShown,
  help: string,
): Finding[] => {
  const over = shares.filter(isPastMost);
  const worst = over.reduce<Share | undefined>(
    (w, s) => (!w || Math.abs(s.amount) > Math.abs(w.amount) ? s : w),
    undefined,
  );
  if (!worst) return [];
  const each = formatLength(Math.abs(worst.amount), show);
  const most = formatLength(worst.most, show);
  return [
    {
      code: beyondLimits ? 'plan-beyond-limit' : 'plan-past-limit',
      level: beyondLimits ? 'warning' : 'error',
      where: { alteration, piece: worst.piece, ...(worst.edge ? { edge: worst.edge } : {}) },
      message: `${alteration}: ${each} at each ${worst.place}, where ${most} is the customary most.`,
      try: beyondLimits ? 'Make a trial garment before cutting the cloth.' : help,
    },
  ];
};

export const missing = (alteration: string, what: string, hint: string): Finding => ({
  code: 'plan-missing-piece',
  level: 'error',
  where: { alteration },
  message: `${alteration}: ${what}.`,
  try: hint,
});

/** Dresses in one piece whose waist is not known: heights on them would be counted from nowhere. */
export const waistUnknown = (alteration: string, pattern: Pattern): Finding[] =>
  pattern.pieces
    .filter((p) => p.part.startsWith('dress') && !p.levels.some((l) => l.name === 'waist'))
    .map((p) => ({
      ...missing(
        alteration,
        `nothing says where the waist of ${p.name || p.id} lies`,
        `In the pattern sheet, under ${p.id}, write “levels: { waist: [x, y] }”, a place that it runs through.`,
      ),
      where: { alteration, piece: p.id },
    }));

/** Told for each part of the garment that goes round the body by itself: 'bodice: …; skirt: …'. */
export const toldByTier = (
  pattern: Pattern,
  shares: readonly Share[],
  tell: (own: readonly Share[]) => string,
): string => {
  const tierAt = (s: Share) => pattern.pieces.filter((p) => p.id === s.piece).map(tierOf)[0];
  const tiers = [...new Set(shares.map(tierAt))];
  if (tiers.length < 2) return tell(shares);
  return tiers.map((tier) => `${tier}: ${tell(shares.filter((s) => tierAt(s) === tier))}`).join('; ');
};

/** '1 in over 4 side edges: ¼ in each' */
export const sharedOut = (amount: number, shares: readonly Share[], place: string, show: LengthShown): string => {
  const one = shares[0];
  if (!one) return '';
  const layers = new Set(shares.map((s) => s.cloth)).size;
  const n = counted(shares.filter((s) => s.cloth === one.cloth));
  const each = `${signed(amount, show)} over ${n} ${n === 1 ? place : severalOf(place)}: ${signed(one.amount, show)} each`;
  return layers > 1 ? `${each}, on each layer of cloth` : each;
};

/** 'side edge' → 'side edges', 'slash' → 'slashes', 'set of 3 tucks' → 'sets of 3 tucks'. */
const severalOf = (place: string): string => {
  const [first, ...rest] = place.split(' of ');
  const many = /(s|sh|ch)$/.test(first as string) ? `${first}es` : `${first}s`;
  return [many, ...rest].join(' of ');
};

export const signed = (mm: number, show: LengthShown): string => formatChange(mm, show);
