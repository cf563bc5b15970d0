import { edgeLength } from '../pattern/edges.ts';
import type { Evidence } from '../pattern/evidence.ts';
import type { Mates, SewnEdge } from '../pattern/pattern.ts';
import type { Edge, EdgeRole, Piece } from '../pattern/piece.ts';
import { acrossOf } from '../pattern/upright.ts';
import type { Context } from './context.ts';
import { judge } from './judging.ts';

/** Sewn edges this much longer than their mates are told. mm */
export const UNEQUAL = 6;

/** One edge of one piece. */
export interface Side {
  readonly piece: Piece;
  readonly edge: Edge;
}

export const lengthOfSide = (s: Side): number => edgeLength(s.piece, s.edge);
export const sewn = (s: Side, times = 1): SewnEdge => ({ piece: s.piece.id, edge: s.edge.id, times });

/** How often a piece's edge occurs round the garment, on one layer of cloth. */
export const timesCut = (p: Piece): number => (p.half ? 2 : 1) * p.cut.count;

/** How often an edge occurs along its seam where nothing says so: what goes round the body as often as it is cut. */
export const usualTimes = (piece: Piece, edge: Edge): number => {
  const round = edge.role === 'waist' || edge.role === 'neck' || edge.role === 'yoke seam' || edge.role === 'band seam';
  if (!round) return 1;
  const isStrip = piece.part === 'collar' || piece.part === 'cuff' || edge.role === 'band seam';
  return isStrip ? (piece.half ? 2 : 1) : timesCut(piece);
};

export const mates = (
  id: string,
  one: readonly SewnEdge[],
  other: readonly SewnEdge[],
  evidence: readonly Evidence[],
): Mates => ({ id, one, other, ...judge(evidence) });

export const equal = (a: number, b: number): Evidence[] =>
  Math.abs(a - b) <= UNEQUAL
    ? [{ says: `they are the same length within ${Math.max(0.1, Math.abs(a - b)).toFixed(1)} mm`, weight: 0.6 }]
    : [];

/**
 * Edges of a role, from left to right as the piece is seen upright. Short ones, parted from a longer neighbour by the
 * corners of a vent or a fly, do not count.
 */
export const edgesAcross = (piece: Piece, role: EdgeRole): Side[] => {
  const { edges } = piece;
  const length = (e: Edge): number => edgeLength(piece, e);
  const isBit = (e: Edge, i: number): boolean =>
    [edges[(i + 1) % edges.length], edges[(i + edges.length - 1) % edges.length]].some(
      (o) => o !== undefined && o !== e && o.role === role && length(o) > length(e),
    );
  return edges
    .filter((e, i) => e.role === role && !(edges.length > 2 && isBit(e, i)))
    .map((edge) => ({ piece, edge }))
    .sort((a, b) => acrossStart(a) - acrossStart(b));
};

const acrossStart = ({ piece, edge }: Side): number => {
  const start = piece.seamLine.spans[edge.first]?.segments[0];
  return start ? acrossOf(piece.upright, start.from) : 0;
};

/** Two edges sewn to one another, with a finding when their lengths do not fit. */
export const pairMates = (id: string, a: Side, b: Side, says: string, context: Context): Mates => {
  const [x, y] = [lengthOfSide(a), lengthOfSide(b)];
  if (Math.abs(x - y) > UNEQUAL) tellUnequal([a], x, [b], y, context);
  return mates(id, [sewn(a)], [sewn(b)], [{ says, weight: 0.7 }, ...equal(x, y)]);
};

const nameOf = (sides: readonly Side[]): string =>
  sides.map(({ piece, edge }) => `the ${edge.id} edge of ${piece.id}`).join(' and ');

/** Edges, or rows of them, that seem to be sewn together and differ in length. */
export const tellUnequal = (
  one: readonly Side[],
  x: number,
  other: readonly Side[],
  y: number,
  context: Context,
): void => {
  const [a] = one as readonly [Side];
  const first = `${nameOf(one)} ${one.length > 1 ? 'are' : 'is'} ${x.toFixed(1)} mm long`;
  context.tell({
    code: 'recognise-mates-unequal',
    level: 'warning',
    where: { file: context.drawing.fileName, piece: a.piece.id, edge: a.edge.id },
    message: `${first.charAt(0).toUpperCase()}${first.slice(1)}, ${nameOf(other)} that ${one.length > 1 ? 'they are' : 'it is'} sewn to ${y.toFixed(1)} mm.`,
    try: 'If they are not sewn together, state the mates in the pattern sheet.',
  });
};
