import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import type { Evidence } from '../pattern/evidence.ts';
import type { Hints } from './hints.ts';
import type { Shape, Stretch } from './shape.ts';
import { distanceToStretchOf, isStraight } from './shape.ts';
import type { Stroke } from './strokes.ts';
import { directionOf, middleOfStroke, skew } from './strokes.ts';

/** A mark that a piece lies on the fold with one edge: a mirror line on it, or a bracket that stands on it. */
export interface FoldMark {
  readonly stretch: number;
  /** The mirror line, or the bracket's long side, first. */
  readonly strokes: readonly Stroke[];
  readonly evidence: Evidence;
}

/** A bracket stands this far off its edge. mm */
const STANDS = [4, 80] as const;
const ON_EDGE = 1.5;
const SHORT_BRACKET = 8;

/** Mirror lines and brackets among the lines of a piece; brackets in one line or of three, arrow heads included. */
export const readFolds = (shape: Shape, strokes: readonly Stroke[], hints: Hints): FoldMark[] =>
  strokes.flatMap(
    (s) => mirrorLine(s, shape, hints) ?? bracket(s, shape, strokes) ?? looseBracket(s, shape, strokes) ?? [],
  );

const onStretch = (shape: Shape, i: number, p: Point): boolean =>
  distanceToStretchOf(shape.stretches[i] as Stretch, p) <= ON_EDGE;

const stretchUnder = (shape: Shape, points: readonly Point[]): number | undefined => {
  const i = shape.stretches.findIndex((e, k) => isStraight(e, 1) && points.every((p) => onStretch(shape, k, p)));
  return i < 0 ? undefined : i;
};

const mirrorLine = (s: Stroke, shape: Shape, hints: Hints): FoldMark | undefined => {
  const hint = hints.says(s.drawable, 'fold');
  if (!s.straight || !hint) return undefined;
  // It may run on to the ends of the cutting line.
  const stretch = stretchUnder(shape, [middleOfStroke(s)]);
  const isAlong = stretch !== undefined && skew(directionOf(s), (shape.stretches[stretch] as Stretch).direction) < 0.01;
  return !isAlong
    ? undefined
    : { stretch, strokes: [s], evidence: { says: `a line on it: ${hint.says}`, weight: hint.weight } };
};

/** Whether a shaft runs along a straight stretch, standing off it as a bracket does. */
const runsAlong = (side: Pick<Stroke, 'from' | 'to'>, shape: Shape, i: number): boolean => {
  const stretch = shape.stretches[i] as Stretch;
  const off = distanceToStretchOf(stretch, side.from);
  return off >= STANDS[0] && off <= STANDS[1] && skew(directionOf(side), stretch.direction) < 0.05;
};

const bracketOn = (
  stretch: number,
  parts: readonly Stroke[],
  feet: readonly Point[],
  strokes: readonly Stroke[],
): FoldMark => {
  const heads = strokes.filter(
    (h) => !parts.includes(h) && h.length < 50 && h.points.some((p) => feet.some((f) => distance(p, f) <= 1)),
  );
  const arrows = heads.length > 0 ? ' with arrow heads' : '';
  return {
    stretch,
    strokes: [...parts, ...heads],
    evidence: { says: `a bracket${arrows} stands on it`, weight: 0.85 },
  };
};

const bracket = (s: Stroke, shape: Shape, strokes: readonly Stroke[]): FoldMark | undefined => {
  if (s.closed || s.points.length < 4) return undefined;
  const stretch = stretchUnder(shape, [s.from, s.to]);
  // On a short fold the legs are longer than the side between them.
  const side = { from: s.points[1] as Point, to: s.points[s.points.length - 2] as Point };
  return stretch !== undefined && runsAlong(s.points.length === 4 ? side : s.shaft, shape, stretch)
    ? bracketOn(stretch, [s], [s.from, s.to], strokes)
    : undefined;
};

/** Three lines: one along the edge, and one from each of its ends to the edge. */
const looseBracket = (s: Stroke, shape: Shape, strokes: readonly Stroke[]): FoldMark | undefined => {
  if (!s.straight || s.length < SHORT_BRACKET) return undefined;
  const leg = (end: Point): { stroke: Stroke; foot: Point; stretch: number } | undefined => {
    for (const l of strokes) {
      if (l === s || !l.straight || l.length > STANDS[1] + 5 || l.length < STANDS[0]) continue;
      const foot = distance(l.from, end) <= 1 ? l.to : distance(l.to, end) <= 1 ? l.from : undefined;
      const stretch = foot && stretchUnder(shape, [foot]);
      if (foot && stretch !== undefined && skew(directionOf(l), directionOf(s)) > 0.9)
        return { stroke: l, foot, stretch };
    }
    return undefined;
  };
  const [a, b] = [leg(s.from), leg(s.to)];
  if (!a || !b || a.stretch !== b.stretch || a.stroke === b.stroke || !runsAlong(s.shaft, shape, a.stretch))
    return undefined;
  // On a short fold it is as short as a notch is wide, but it stands off further than a notch is deep.
  if (s.length < 30 && Math.min(a.stroke.length, b.stroke.length) < 12) return undefined;
  return bracketOn(a.stretch, [s, a.stroke, b.stroke], [a.foot, b.foot], strokes);
};
