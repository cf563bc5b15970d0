import { edgeLength } from '../pattern/edges.ts';
import type { Evidence } from '../pattern/evidence.ts';
import type { Mates, SewnEdge } from '../pattern/pattern.ts';
import type { Edge, Piece } from '../pattern/piece.ts';
import { acrossOf } from '../pattern/upright.ts';
import type { Context } from './context.ts';
import { judge, stated } from './judging.ts';
import type { SheetMates, SheetSewn } from './sheet/types.ts';
import { normalise } from './vocabulary.ts';

/** Sewn edges this much longer than their mates are told. A waistband has its overlap on top. mm */
const UNEQUAL = 6;
const OVERLAP = 120;

interface Side {
  readonly piece: Piece;
  readonly edge: Edge;
}

const lengthOfSide = (s: Side): number => edgeLength(s.piece, s.edge);
const sewn = (s: Side, times = 1): SewnEdge => ({ piece: s.piece.id, edge: s.edge.id, times });

/** How often a piece's edge occurs round the garment, on one layer of cloth. */
const timesCut = (p: Piece): number => (p.half ? 2 : 1) * p.cut.count;

const mates = (
  id: string,
  one: readonly SewnEdge[],
  other: readonly SewnEdge[],
  evidence: readonly Evidence[],
): Mates => ({ id, one, other, ...judge(evidence) });

const equal = (a: number, b: number): Evidence[] =>
  Math.abs(a - b) <= UNEQUAL
    ? [{ says: `they are the same length within ${Math.max(0.1, Math.abs(a - b)).toFixed(1)} mm`, weight: 0.6 }]
    : [];

/** Which edges are sewn together: by the pattern sheet, else by role and length. */
export const readMates = (pieces: readonly Piece[], context: Context): Mates[] => {
  const given = (context.sheet?.mates ?? []).flatMap((m, i) => statedMates(m, i, pieces, context));
  const taken = new Set(given.flatMap((m) => [...m.one, ...m.other].map((e) => `${e.piece}/${e.edge}`)));
  const found: Mates[] = [];
  for (const cloth of new Set(pieces.map((p) => p.cut.cloth))) {
    const own = pieces.filter((p) => p.cut.cloth === cloth);
    found.push(...sideMates(own, context), ...centreMates(own), ...goreMates(own, context), ...bandMates(own, context));
  }
  const kept = found.filter((m) => ![...m.one, ...m.other].some((e) => taken.has(`${e.piece}/${e.edge}`)));
  return numbered([...given, ...kept]);
};

const numbered = (list: readonly Mates[]): Mates[] => {
  const taken = new Map<string, number>();
  return list.map((m) => {
    const n = (taken.get(m.id) ?? 0) + 1;
    taken.set(m.id, n);
    return n === 1 ? m : { ...m, id: `${m.id}-${n}` };
  });
};

const sidesOf = (p: Piece): Side[] =>
  p.edges
    .filter((e) => e.role === 'side')
    .map((edge) => ({ piece: p, edge }))
    .sort((a, b) => acrossMiddle(a) - acrossMiddle(b));

const acrossMiddle = ({ piece, edge }: Side): number => {
  const start = piece.seamLine.spans[edge.first]?.segments[0];
  return start ? acrossOf(piece.upright, start.from) : 0;
};

/** Front to back by side seam. Whole pieces face one another: the left edge of one meets the right edge of the other. */
const sideMates = (pieces: readonly Piece[], context: Context): Mates[] => {
  const fronts = pieces.filter((p) => p.part === 'skirt front');
  const backs = pieces.filter((p) => p.part === 'skirt back');
  const middles = pieces.filter((p) => p.part === 'skirt side');
  if (middles.length > 0 || fronts.length === 0 || backs.length === 0) return alone(pieces);
  const found: Mates[] = [];
  for (const front of fronts) {
    const back = closest(front, backs);
    if (!back) continue;
    if (backs.length > 1 && ambiguous(front, backs)) tellDoubt(front, backs, context);
    const [a, b] = [sidesOf(front), sidesOf(back)];
    if (a.length === 0 || b.length === 0) continue;
    const pairs: [Side, Side][] =
      a.length === 2 && b.length === 2
        ? [
            [a[0] as Side, b[1] as Side],
            [a[1] as Side, b[0] as Side],
          ]
        : a.flatMap((s) => b.map((t): [Side, Side] => [s, t]));
    for (const [s, t] of pairs)
      found.push(pairMates('side seam', s, t, 'front and back are sewn at the side', context));
  }
  return found;
};

/** A skirt of one kind of piece: its sides are sewn to one another. */
const alone = (pieces: readonly Piece[]): Mates[] =>
  pieces
    .filter((p) => p.part === 'skirt')
    .flatMap((p) => {
      const sides = sidesOf(p);
      const [a, b] = [sides[0], sides[1] ?? sides[0]];
      return a && b && pieces.filter((q) => q.part.startsWith('skirt')).length === 1
        ? [
            mates(
              'side seam',
              [sewn(a)],
              [sewn(b)],
              [
                { says: 'the skirt has one piece, sewn to itself at the side', weight: 0.5 },
                ...equal(lengthOfSide(a), lengthOfSide(b)),
              ],
            ),
          ]
        : [];
    });

const pairMates = (id: string, a: Side, b: Side, says: string, context: Context): Mates => {
  const [x, y] = [lengthOfSide(a), lengthOfSide(b)];
  if (Math.abs(x - y) > UNEQUAL) {
    context.tell({
      code: 'recognise-mates-unequal',
      level: 'warning',
      where: { file: context.drawing.fileName, piece: a.piece.id, edge: a.edge.id },
      message: `The ${a.edge.id} edge of ${a.piece.id} is ${x.toFixed(1)} mm long, the ${b.edge.id} edge of ${b.piece.id} that it is sewn to ${y.toFixed(1)} mm.`,
      try: 'If they are not sewn together, state the mates in the pattern sheet.',
    });
  }
  return mates(id, [sewn(a)], [sewn(b)], [{ says, weight: 0.7 }, ...equal(x, y)]);
};

const sideLength = (p: Piece): number => (sidesOf(p)[0] ? lengthOfSide(sidesOf(p)[0] as Side) : 0);
const closest = (front: Piece, backs: readonly Piece[]): Piece | undefined =>
  [...backs].sort(
    (a, b) => Math.abs(sideLength(a) - sideLength(front)) - Math.abs(sideLength(b) - sideLength(front)),
  )[0];
const ambiguous = (front: Piece, backs: readonly Piece[]): boolean =>
  backs.filter((b) => Math.abs(sideLength(b) - sideLength(front)) <= UNEQUAL).length > 1;

const tellDoubt = (front: Piece, backs: readonly Piece[], context: Context): void => {
  const names = backs.map((b) => b.id).join(', ');
  const sheetLine = `mates:\n  - sew: [${front.id} side, ${backs[0]?.id} side]`;
  context.doubt({
    piece: front.id,
    about: 'the side seam',
    edge: 'side',
    code: 'recognise-mates-doubtful',
    message: `its side could be sewn to ${names}`,
    sheetLine,
  });
  context.tell({
    code: 'recognise-mates-doubtful',
    level: 'warning',
    where: { file: context.drawing.fileName, piece: front.id, edge: 'side' },
    message: `The side of ${front.id} could be sewn to any of ${names}.`,
    try: `State the mates in the pattern sheet, “sew: [${front.id} side, ${backs[0]?.id} side]”.`,
  });
};

/** A centre seam joins a piece to its own mirror image. */
const centreMates = (pieces: readonly Piece[]): Mates[] =>
  pieces.flatMap((piece) =>
    piece.edges
      .filter((e) => e.role === 'centre')
      .map((edge) => {
        const side = { piece, edge };
        return mates(
          'centre seam',
          [sewn(side)],
          [sewn(side)],
          [{ says: 'a piece cut as a pair is sewn to itself along the centre', weight: 0.8 }],
        );
      }),
  );

/** Gores are sewn round: each one's right edge to the next one's left. */
const goreMates = (pieces: readonly Piece[], context: Context): Mates[] => {
  const gores = pieces.filter((p) => p.part === 'skirt gore');
  const sides = (p: Piece): Side[] =>
    p.edges
      .filter((e) => e.role === 'gore seam')
      .map((edge) => ({ piece: p, edge }))
      .sort((a, b) => acrossMiddle(a) - acrossMiddle(b));
  return gores.flatMap((p, i) => {
    const next = gores[(i + 1) % gores.length] as Piece;
    const right = sides(p)[1];
    const left = sides(next)[0];
    return right && left
      ? [pairMates('gore seam', right, left, 'gores are sewn round in the order of the drawing', context)]
      : [];
  });
};

const isPanel = (p: Piece): boolean => p.part === 'skirt' || p.part.startsWith('skirt ');

/** The waistband's edge to all waist edges round. */
const bandMates = (pieces: readonly Piece[], context: Context): Mates[] => {
  const waists = pieces
    .filter(isPanel)
    .flatMap((piece) => piece.edges.filter((e) => e.role === 'waist').map((edge) => ({ piece, edge })));
  if (waists.length === 0) return [];
  const around = waists.reduce((sum, s) => sum + timesCut(s.piece) * lengthOfSide(s), 0);
  return pieces
    .filter((p) => p.part === 'waistband')
    .flatMap((piece) => {
      const edge = piece.edges.find((e) => e.role === 'band seam');
      if (!edge) return [];
      const times = piece.half ? 2 : 1;
      const length = times * edgeLength(piece, edge);
      const over = length - around;
      const fits = over > -UNEQUAL && over < OVERLAP;
      if (!fits) tellBand(piece, length, around, context);
      const says = `it is ${Math.abs(over).toFixed(1)} mm ${over < 0 ? 'shorter' : 'longer'} than the waist edges together`;
      return [
        mates(
          'waist seam',
          [sewn({ piece, edge }, times)],
          waists.map((s) => sewn(s, timesCut(s.piece))),
          [{ says: 'the waistband is sewn to the waist', weight: 0.7 }, ...(fits ? [{ says, weight: 0.5 }] : [])],
        ),
      ];
    });
};

const tellBand = (piece: Piece, length: number, around: number, context: Context): void =>
  context.tell({
    code: 'recognise-mates-unequal',
    level: 'warning',
    where: { file: context.drawing.fileName, piece: piece.id, edge: 'band seam' },
    message: `${piece.id} is ${length.toFixed(1)} mm long where it is sewn on, the waist edges it belongs to ${around.toFixed(1)} mm together.`,
    try: 'Check the cut counts of all pieces, or state the mates in the pattern sheet.',
  });

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
      try: `The pieces and edges are: ${pieces.flatMap((p) => p.edges.map((e) => `${p.id} ${e.id}`)).join(', ')}.`,
    });
    return undefined;
  };
  const [one, other] = [row(m.one), row(m.other)];
  return one && other ? [{ id: `sewn ${i + 1}`, one, other, ...stated('the pattern sheet says so') }] : [];
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
  const usual = edge.role === 'waist' ? timesCut(piece) : edge.role === 'band seam' && piece.half ? 2 : 1;
  return { piece: piece.id, edge: edge.id, times: s.times ?? usual };
};
const onlyOne = <T>(list: readonly T[]): T | undefined => (list.length === 1 ? list[0] : undefined);
