import {
  type Bounds,
  boundsOfPoints,
  EMPTY_BOUNDS,
  grown,
  heightOfBounds,
  unionBounds,
  widthOf,
} from '../geometry/bounds.ts';
import { flatten } from '../geometry/flatten.ts';
import { distance, type Point, subtract, unit } from '../geometry/point.ts';
import { boundsOf, line, pointAt, type Segment } from '../geometry/segment.ts';
import { type Affine, apply, compose, scaling } from '../geometry/transform.ts';
import type { Level, Piece } from '../pattern/piece.ts';
import { type Figure, type Mark, moved } from './figure.ts';
import { type LabelAsked, placeLabels } from './labels.ts';
import { levelEnds, levelMoves, levelsAcross } from './level-ends.ts';
import { cornerMoves, landmarkMoves, lowerTipMoves, type Move, tipMoves } from './moves.ts';
import {
  cornerDots,
  cuttingLine,
  cuttingRing,
  dartLegs,
  dot,
  edgeLines,
  innerLines,
  innerSegments,
  middleOf,
  notchStrokes,
  outlineRing,
  pointCrosses,
} from './piece-lines.ts';
import { standing } from './standing.ts';

/* One piece as it was and as it is, laid over each other as they stand, at a scale: what stayed lies on itself. */

export interface PieceShown {
  readonly before: Piece;
  readonly after: Piece;
  /** 5 draws it at a fifth of its size. */
  readonly scale: number;
  readonly title: string;
  readonly describes: string;
  /** How far a place moved, in words: '6.4 mm'. */
  readonly show: (mm: number) => string;
  /** What to say of an edge, by its id: 'side: 68.57 cm → 68.59 cm'. */
  readonly says: (edge: string) => string;
}

/** A place that moved less is not pointed at, mm: no ruler shows it. */
const TELLING = 0.8;
/** Moves that end nearer together than this are one, mm printed. */
const ONE_PLACE = 1.2;
/** Round the figure, mm printed. */
const MARGIN = 1;
/** Between the points that words are kept off, mm printed. */
const DENSE = 0.9;
const DOT = 0.75;

export const pieceFigure = (asked: PieceShown): Figure => {
  const { before, after, title } = asked;
  const m = compose(scaling(1 / asked.scale), standing(before));
  const [was, is] = [outlineRing(before, m), outlineRing(after, m)];
  const moves = movesOf(before, after, m);
  const marks = [...linesOf(asked, m, was, is), ...moves.flatMap(moveMarks)];
  const { marks: words, boxes } = placeLabels(
    labelsOf(asked, m, moves),
    [was, is, cuttingRing(after, m), innerSegments(after, m)].flatMap(dense),
  );
  const lines = marks.flatMap((k) => (k.kind === 'line' ? k.segments : []));
  const bounds = grown([...lines.map(boundsOf), ...boxes].reduce<Bounds>(unionBounds, EMPTY_BOUNDS), MARGIN);
  return {
    width: widthOf(bounds),
    height: heightOfBounds(bounds),
    marks: moved([...marks, ...words], -bounds.minX, -bounds.minY),
    title,
    describes: [asked.describes, ...movesTold(moves, asked, middleOfBox(is))].join(' '),
  };
};

const linesOf = ({ before, after, says }: PieceShown, m: Affine, was: Segment[], is: Segment[]): Mark[] => [
  { kind: 'area', look: 'paper', rings: [is] },
  { kind: 'area', look: 'change', rings: [was, is] },
  ...levelsAcross(after).flatMap((level) => levelLine(after, level, m)),
  ...innerLines(before, after, m),
  ...edgeLines(before, m, 'was', 'before', says),
  ...dartLegs(before, m, 'was'),
  ...cuttingLine(after, m),
  ...dartLegs(after, m, 'is'),
  ...edgeLines(after, m, 'is', 'after', says),
  ...pointCrosses(after, m),
  ...notchStrokes(after, m),
  ...cornerDots(after, m),
];

const levelLine = (piece: Piece, level: Level, m: Affine): Mark[] => {
  const ends = levelEnds(piece, level);
  if (!ends) return [];
  return [{ kind: 'line', look: 'level', segments: [line(apply(m, ends[0].at), apply(m, ends[1].at))], closed: false }];
};

interface Moved extends Move {
  /** Distance on the piece, mm. */
  readonly by: number;
}

/** What moved, in the figure: corners, dart tips, landmarks, and where the levels leave the piece. Each place once. */
const movesOf = (before: Piece, after: Piece, m: Affine): Moved[] => {
  const all = [
    ...cornerMoves(before, after),
    ...tipMoves(before, after),
    ...lowerTipMoves(before, after),
    ...landmarkMoves(before, after),
    ...levelMoves(before, after),
  ];
  return all
    .map(({ from, to }) => ({ from: apply(m, from), to: apply(m, to), by: distance(from, to) }))
    .filter(({ by }) => by >= TELLING)
    .filter((move, i, moves) => moves.findIndex((o) => distance(o.to, move.to) < ONE_PLACE) === i);
};

/** From where it was, a stroke in true scale; a dot where it is. */
const moveMarks = ({ from, to }: Moved): Mark[] => [
  { kind: 'line', look: 'move', segments: [line(from, to)], closed: false },
  dot('move-end', to, DOT),
];

/** Arrows by the eighth of a turn, y down. */
const ARROWS = ['→', '↘', '↓', '↙', '←', '↖', '↑', '↗'];
const eighthOf = ({ from, to }: Move): number =>
  (Math.round(Math.atan2(to.y - from.y, to.x - from.x) / (Math.PI / 4)) + 8) % 8;
const arrowFor = (move: Move): string => ARROWS[eighthOf(move)] as string;

const WAYS = [
  ...['to the right', 'down and to the right', 'down', 'down and to the left', 'to the left'],
  ...['up and to the left', 'up', 'up and to the right'],
];

/** The moves for those who hear the picture: 'Moved: at the upper right ¼ in to the right; at the lower left 1 in up.' */
const movesTold = (moves: readonly Moved[], { show }: PieceShown, centre: Point): string[] => {
  const told = moves.map(
    (move) =>
      `at the ${move.to.y < centre.y ? 'upper' : 'lower'} ${move.to.x < centre.x ? 'left' : 'right'} ${show(move.by)} ${WAYS[eighthOf(move)]}`,
  );
  return [told.length === 0 ? 'No place moved.' : `Moved: ${told.join('; ')}.`];
};

/** Amounts first, as they matter most and have to stand nearest; then levels and edges by name. */
const labelsOf = ({ after, show }: PieceShown, m: Affine, moves: readonly Moved[]): LabelAsked[] => {
  const centre = middleOfBox(outlineRing(after, m));
  return [
    ...moves.map(
      (move): LabelAsked => ({
        at: move.to,
        words: `${arrowFor(move)} ${show(move.by)}`,
        look: 'amount',
        toward: outward(centre, move.to),
        leader: 'leader',
      }),
    ),
    ...levelsAcross(after).flatMap((level): LabelAsked[] => {
      const ends = levelEnds(after, level);
      if (!ends) return [];
      const [a, b] = ends.map((e) => apply(m, e.at)) as [Point, Point];
      const at = a.x > b.x ? a : b;
      return [{ at, words: level.name, look: 'level-name', toward: { x: 1, y: 0 } }];
    }),
    ...after.edges.flatMap((edge): LabelAsked[] => {
      const middle = middleOf(after, edge, m);
      return middle ? [{ at: middle.at, words: edgeWords(edge.id), look: 'edge-name', toward: middle.out }] : [];
    }),
  ];
};

/** An edge's id as a person reads it: 'sleeve seam 2'. */
export const edgeWords = (id: string): string => id.replaceAll('-', ' ');

const outward = (centre: Point, p: Point): Point => {
  const way = unit(subtract(p, centre));
  return way.x === 0 && way.y === 0 ? { x: 1, y: 0 } : way;
};

const middleOfBox = (segments: readonly Segment[]): Point => {
  const { minX, minY, maxX, maxY } = segments.map(boundsOf).reduce<Bounds>(unionBounds, EMPTY_BOUNDS);
  return { x: (minX + maxX) / 2, y: (minY + maxY) / 2 };
};

/** Points on the line, close together. */
const dense = (segments: readonly Segment[]): Point[] => {
  const spread: Point[] = [];
  for (const s of segments) {
    const steps = Math.max(1, Math.ceil(distance(s.from, s.to) / DENSE));
    for (let k = 0; k < steps; k++) spread.push(pointAt(s, k / steps));
  }
  return spread;
};

/** The box of a piece as it stands, in the drawing's millimetres: what a figure of it takes at scale 1, words apart. */
export const standingBox = (piece: Piece): { readonly width: number; readonly height: number } => {
  const ring = outlineRing(piece, standing(piece));
  const box = boundsOfPoints(flatten(ring, 0.5));
  return { width: widthOf(box), height: heightOfBounds(box) };
};
