import type { Point } from '../geometry/point.ts';
import { add, between, cross, distance, dot, ORIGIN, subtract, unit } from '../geometry/point.ts';
import type { InnerLine } from '../pattern/piece.ts';
import { edgeRun, pointsOf } from './runs.ts';
import { displacement, footOn, moved, type Prick, type Tracing, trace } from './tracing.ts';

/*
 * The bracket that says “place on fold” tells of the whole fold, not of certain places of it: where the fold grows longer
 * it stays where it is. Its arrow heads go with its ends. A mirror line that is the whole fold goes with the fold's ends.
 */

/** What ends this near the fold ends on it, what comes this near an end of the bracket is a head of it, mm. */
const TOUCHES = 1;

/** An end that is off the fold by no more than this is on it, mm. */
const NOTHING = 1e-4;

/** A line of the bracket, or a mirror line, where it now lies; undefined on a piece that has no fold. */
export const foldMark = (inner: InnerLine, tracing: Tracing): readonly Prick[] | undefined => {
  const pricks = tracing.lines.get(inner.id);
  const fold = tracing.piece.edges.find((e) => e.role === 'fold');
  if (!pricks || !fold) return undefined;
  const was = foldOf(trace(tracing.piece), fold.id);
  const now = foldOf(tracing, fold.id);
  if (pricks.every((p) => alongside(was, p.was) <= TOUCHES)) return mirrorLine(pricks, was, now);
  const isOn = (p: Prick | undefined): boolean => p !== undefined && distance(p.was, nearest(was, p.was)) <= TOUCHES;
  if (isOn(pricks[0]) || isOn(pricks.at(-1))) return onFold(pricks, now, isOn);
  const end = bracketsOf(tracing)
    .flatMap((row) => endsOf(onFold(row, now, isOn)).filter(isOn))
    .find((e) => pricks.some((p) => distance(p.was, e.was) <= TOUCHES));
  if (!end) return pricks;
  const by = displacement(end);
  return pricks.map((p) => moved(p, subtract(by, displacement(p))));
};

const endsOf = (row: readonly Prick[]): readonly Prick[] =>
  row.length < 2 ? row : [row[0] as Prick, row.at(-1) as Prick];

const bracketsOf = ({ piece, lines }: Tracing): (readonly Prick[])[] =>
  piece.lines.filter((l) => l.kind === 'fold mark').flatMap((l) => [lines.get(l.id) ?? []]);

const foldOf = (tracing: Tracing, edge: string): readonly Point[] => pointsOf(tracing, edgeRun(tracing, edge));

/** How far a point lies from the straight line that a fold goes on in past its ends, mm. */
const alongside = (fold: readonly Point[], p: Point): number => {
  const [a, b] = [fold[0] as Point, fold.at(-1) as Point];
  return Math.abs(cross(unit(subtract(b, a)), subtract(p, a)));
};

/**
 * A mirror line, drawn on the fold itself: an end that lay at an end of the fold, or past it at the cutting line, goes with
 * that end; one that lay between them stays where it is on the fold.
 */
const mirrorLine = (pricks: readonly Prick[], was: readonly Point[], now: readonly Point[]): readonly Prick[] => {
  const length = distance(was[0] as Point, was.at(-1) as Point);
  const way = unit(subtract(was.at(-1) as Point, was[0] as Point));
  const gap = (p: Prick): Point => {
    const here = dot(subtract(p.was, was[0] as Point), way);
    const end = here <= TOUCHES ? 0 : here >= length - TOUCHES ? -1 : undefined;
    const to =
      end === undefined ? nearest(now, p.at) : add(now.at(end) as Point, subtract(p.was, was.at(end) as Point));
    return distance(to, p.at) > NOTHING ? subtract(to, p.at) : ORIGIN;
  };
  return tiedAtEnds(pricks, gap);
};

/** Ends that lay on the fold are brought straight back to it; what lies abreast of an end goes with it. */
const onFold = (
  pricks: readonly Prick[],
  fold: readonly Point[],
  isOn: (p: Prick | undefined) => boolean,
): readonly Prick[] => {
  const gap = (p: Prick): Point => {
    const foot = nearest(fold, p.at);
    return isOn(p) && distance(foot, p.at) > NOTHING ? subtract(foot, p.at) : ORIGIN;
  };
  return tiedAtEnds(pricks, gap);
};

/** A line whose ends go by a gap of their own; what lies between them goes with both. */
const tiedAtEnds = (pricks: readonly Prick[], gap: (end: Prick) => Point): readonly Prick[] => {
  const [first, last] = [pricks[0], pricks.at(-1)];
  if (!first || !last) return pricks;
  const [a, b] = [gap(first), gap(last)];
  const way = subtract(last.was, first.was);
  const share = (p: Prick): number =>
    Math.min(1, Math.max(0, dot(subtract(p.was, first.was), way) / Math.max(dot(way, way), 1e-9)));
  return pricks.map((p) => moved(p, between(a, b, share(p))));
};

/** The place of a line nearest to a point. */
const nearest = (row: readonly Point[], p: Point): Point => {
  let best = row[0] ?? p;
  let least = distance(best, p);
  for (let i = 1; i < row.length; i++) {
    const [a, b] = [row[i - 1] as Point, row[i] as Point];
    const q = between(a, b, footOn(a, b, p));
    const away = distance(q, p);
    if (away >= least) continue;
    least = away;
    best = q;
  }
  return best;
};
