import type { Mates, SewnEdge } from '../pattern/pattern.ts';
import type { Edge, Piece } from '../pattern/piece.ts';
import { handOf } from '../pattern/wearer-side.ts';
import type { Context } from './context.ts';
import { stated } from './judging.ts';
import { bandMates } from './mates-band.ts';
import { garmentMates } from './mates-garment.ts';
import { pocketsInSeams } from './mates-pocket.ts';
import { skirtMates } from './mates-skirt.ts';
import { trimMates } from './mates-trim.ts';
import { yokeMates } from './mates-yoke.ts';
import { edgesAcross, mates, sewn, usualTimes } from './sewing.ts';
import type { SheetMates, SheetSewn } from './sheet/types.ts';
import { normalise } from './vocabulary.ts';

/** Which edges are sewn together: by the pattern sheet, else by role and length. */
export const readMates = (
  pieces: readonly Piece[],
  context: Context,
): { readonly whole: Mates[]; readonly within: Mates[] } => {
  const stated = (context.sheet?.mates ?? []).flatMap((m, i) => statedMates(m, i, pieces, context));
  const isPocket = (s: SewnEdge): boolean => pieces.find((p) => p.id === s.piece)?.part === 'pocket';
  const inSeams = stated.flatMap((m): Mates[] =>
    m.one.every(isPocket) ? [m] : m.other.every(isPocket) ? [{ ...m, one: m.other, other: m.one }] : [],
  );
  const given = stated.filter((m) => ![...m.one, ...m.other].some(isPocket));
  const pockets = new Set(inSeams.flatMap((m) => m.one.map((s) => s.piece)));
  const within = [...inSeams, ...pocketsInSeams(pieces.filter((p) => !pockets.has(p.id)))];
  const taken = new Set(given.flatMap((m) => [...m.one, ...m.other].map((e) => `${e.piece}/${e.edge}`)));
  const found: Mates[] = [];
  for (const cloth of new Set(pieces.map((p) => p.cut.cloth))) {
    const own = pieces.filter((p) => p.cut.cloth === cloth);
    found.push(
      ...skirtMates(own, context),
      ...centreMates(own),
      ...bandMates(own, context),
      ...yokeMates(own, context),
      ...garmentMates(own, context),
    );
  }
  found.push(...trimMates(pieces, context));
  const kept = found.filter((m) => ![...m.one, ...m.other].some((e) => taken.has(`${e.piece}/${e.edge}`)));
  return { whole: numbered([...given, ...kept]), within: numbered(within) };
};

const numbered = (list: readonly Mates[]): Mates[] => {
  const taken = new Map<string, number>();
  return list.map((m) => {
    const n = (taken.get(m.id) ?? 0) + 1;
    taken.set(m.id, n);
    return n === 1 ? m : { ...m, id: `${m.id}-${n}` };
  });
};

/** A centre seam joins a piece to its own mirror image, or the left piece to the right one where both are drawn. */
const centreMates = (pieces: readonly Piece[]): Mates[] =>
  pieces.flatMap((piece) => {
    const other = otherHand(piece, pieces);
    return piece.edges.flatMap((edge): Mates[] => {
      if (edge.role !== 'centre' && edge.role !== 'crotch') return [];
      const id = edge.role === 'crotch' ? 'crotch seam' : 'centre seam';
      const twin = other && mirroredEdge(piece, edge, other);
      if (other && twin) {
        if (handOf(piece) === 'right') return [];
        const says = 'a left and a right piece are sewn together along the centre';
        return [mates(id, [sewn({ piece, edge })], [sewn({ piece: other, edge: twin })], [{ says, weight: 0.7 }])];
      }
      if (edge.role === 'crotch' && piece.cut.count === 1) return [];
      const says = 'a piece cut as a pair is sewn to itself along the centre';
      return [mates(id, [sewn({ piece, edge })], [sewn({ piece, edge })], [{ says, weight: 0.8 }])];
    });
  });

/** The one piece of the same part for the other side of the body. */
const otherHand = (piece: Piece, pieces: readonly Piece[]): Piece | undefined => {
  const hand = handOf(piece);
  if (hand === undefined) return undefined;
  const handed = pieces.filter((p) => p.part === piece.part && handOf(p) !== undefined);
  return handed.length === 2 ? handed.find((p) => handOf(p) !== hand) : undefined;
};

/** Of a role the edges of a mirror image run the other way round. */
const mirroredEdge = (piece: Piece, edge: Edge, other: Piece): Edge | undefined => {
  const [own, theirs] = [edgesAcross(piece, edge.role), edgesAcross(other, edge.role)];
  const at = own.findIndex((s) => s.edge === edge);
  return at >= 0 && own.length === theirs.length ? theirs[own.length - 1 - at]?.edge : undefined;
};

const statedMates = (m: SheetMates, i: number, pieces: readonly Piece[], context: Context): Mates[] => {
  const row = (list: readonly SheetSewn[]): SewnEdge[] | undefined => {
    const edges = list.map((s) => sewnBySheet(s, pieces));
    if (edges.every((e) => e !== undefined)) return edges;
    const missing = list[edges.indexOf(undefined)] as SheetSewn;
    context.tell({
      code: 'recognise-sheet-edge-missing',
      level: 'error',
      where: { file: context.sheet?.fileName ?? '', line: m.line },
      message: `The pattern sheet sews “${missing.piece} ${missing.edge}”, but there is no such edge.`,
      try: `Correct it or take it out of the mates. The pieces and edges are: ${pieces.flatMap((p) => p.edges.map((e) => `${p.id} ${e.id}`)).join(', ')}.`,
    });
    return undefined;
  };
  const [one, other] = [row(m.one), row(m.other)];
  return one && other ? [{ id: m.name ?? `sewn ${i + 1}`, one, other, ...stated('the pattern sheet says so') }] : [];
};

const sewnBySheet = (s: SheetSewn, pieces: readonly Piece[]): SewnEdge | undefined => {
  const key = normalise(s.piece);
  const piece =
    pieces.find((p) => normalise(p.id) === key) ??
    pieces.find((p) => normalise(p.name) === key) ??
    onlyOne(
      pieces.filter((p) => normalise(p.id).split(' ').includes(key) || normalise(p.part).split(' ').includes(key)),
    );
  const edge =
    piece?.edges.find((e) => e.id === s.edge) ??
    piece?.edges.find((e) => normalise(e.id) === normalise(s.edge)) ??
    piece?.edges.find((e) => e.role === normalise(s.edge));
  if (!piece || !edge) return undefined;
  return { piece: piece.id, edge: edge.id, times: s.times ?? usualTimes(piece, edge) };
};
const onlyOne = <T>(list: readonly T[]): T | undefined => (list.length === 1 ? list[0] : undefined);
