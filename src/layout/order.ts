import type { Blade, PathMark, SheetMark } from '../formats/sheet.ts';
import { PURPOSES } from '../formats/sheet.ts';
import { type Path, reversedPath } from '../geometry/path.ts';
import { distance, ORIGIN, type Point, turnBetween } from '../geometry/point.ts';
import { lengthOf, type Segment, splitAt, tangentAt } from '../geometry/segment.ts';

/** Improvements of a tour are looked for at most so often: counted, so that an order can be repeated. */
const MOST_TRIALS = 400_000;

/**
 * Marks in the order in which a machine draws them: purpose after purpose, within each the tool travels little
 * between marks (nearest next, then 2-opt), and holes are cut before the outlines round them.
 */
export const ordered = (marks: readonly SheetMark[], blade?: Blade): SheetMark[] => {
  const result: SheetMark[] = [];
  let at: Point = ORIGIN;
  for (const purpose of PURPOSES) {
    const own = marks.filter((m) => m.purpose === purpose);
    for (const inner of [true, false]) {
      const group = own.filter((m) => isInner(m) === inner);
      const tour = shortened(
        nearestFirst(
          group.map((m) => stopOf(m, blade)),
          at,
        ),
        at,
      );
      result.push(...tour.map((stop) => stop.mark));
      at = tour.at(-1)?.out ?? at;
    }
  }
  return result;
};

/** Distance that the tool travels raised, from the origin through all marks, mm. */
export const travel = (marks: readonly SheetMark[]): number => {
  let at: Point = ORIGIN;
  let sum = 0;
  for (const mark of marks) {
    const stop = stopOf(mark);
    sum += distance(at, stop.into);
    at = stop.out;
  }
  return sum;
};

const isInner = (mark: SheetMark): boolean => mark.kind === 'path' && mark.inner;

/** A mark as a place to come to and to leave from. */
interface Stop {
  readonly mark: SheetMark;
  readonly into: Point;
  readonly out: Point;
}

const stopOf = (mark: SheetMark, blade?: Blade): Stop => {
  if (mark.kind !== 'path') return { mark, into: mark.at, out: mark.at };
  const drawn = blade && mark.purpose === 'cut' && mark.path.closed ? startedFor(mark, blade) : mark;
  const first = drawn.path.segments[0]?.from ?? ORIGIN;
  return { mark: drawn, into: first, out: drawn.path.segments.at(-1)?.to ?? first };
};

/** An open line may as well be drawn from its other end. */
const turned = (stop: Stop): Stop => {
  const { mark } = stop;
  if (mark.kind !== 'path' || mark.path.closed) return stop;
  return { mark: { ...mark, path: reversedPath(mark.path) }, into: stop.out, out: stop.into };
};

const nearestFirst = (stops: readonly Stop[], from: Point): Stop[] => {
  const left = [...stops];
  const tour: Stop[] = [];
  let at = from;
  while (left.length > 0) {
    let best = 0;
    let least = Number.POSITIVE_INFINITY;
    left.forEach((stop, i) => {
      const d = Math.min(distance(at, stop.into), canTurn(stop) ? distance(at, stop.out) : Number.POSITIVE_INFINITY);
      if (d < least) [best, least] = [i, d];
    });
    const [stop] = left.splice(best, 1) as [Stop];
    const way = canTurn(stop) && distance(at, stop.out) < distance(at, stop.into) ? turned(stop) : stop;
    tour.push(way);
    at = way.out;
  }
  return tour;
};

const canTurn = ({ mark }: Stop): boolean => mark.kind === 'path' && !mark.path.closed;

/** 2-opt on an open tour: a stretch is run the other way round where that saves travel. */
const shortened = (given: readonly Stop[], from: Point): Stop[] => {
  const tour = [...given];
  let trials = 0;
  let better = true;
  while (better && trials < MOST_TRIALS) {
    better = false;
    for (let i = 0; i < tour.length - 1 && trials < MOST_TRIALS; i++) {
      for (let k = i + 1; k < tour.length && trials < MOST_TRIALS; k++) {
        trials++;
        if (gain(tour, from, i, k) <= 1e-9) continue;
        tour.splice(
          i,
          k - i + 1,
          ...tour
            .slice(i, k + 1)
            .reverse()
            .map(turned),
        );
        better = true;
      }
    }
  }
  return tour;
};

/** Travel saved by running stops i to k the other way round. */
const gain = (tour: readonly Stop[], from: Point, i: number, k: number): number => {
  const before = i === 0 ? from : (tour[i - 1] as Stop).out;
  const after = tour[k + 1]?.into;
  const first = tour[i] as Stop;
  const last = tour[k] as Stop;
  const was = distance(before, first.into) + (after ? distance(last.out, after) : 0);
  const now = distance(before, outOf(last)) + (after ? distance(intoOf(first), after) : 0);
  return was - now;
};
/** Ends as they are once the stop is turned: those that cannot turn keep theirs. */
const outOf = (stop: Stop): Point => (canTurn(stop) ? stop.out : stop.into);
const intoOf = (stop: Stop): Point => (canTurn(stop) ? stop.into : stop.out);

/** The same closed cut, started where the blade does best. */
const startedFor = (mark: PathMark, blade: Blade): PathMark => {
  const { segments } = mark.path;
  if (blade.start === 'corner') return { ...mark, path: startedAt(mark.path, sharpestCorner(segments)) };
  const longest = longestStraight(segments);
  if (longest === undefined) return mark;
  const from = startedAt(mark.path, longest);
  const [one, other] = splitAt(from.segments[0] as Segment, 0.5);
  if (!one || !other) return { ...mark, path: from };
  return { ...mark, path: { segments: [other, ...from.segments.slice(1), one], closed: true } };
};

const startedAt = ({ segments }: Path, index: number): Path => ({
  segments: [...segments.slice(index), ...segments.slice(0, index)],
  closed: true,
});

const sharpestCorner = (segments: readonly Segment[]): number => {
  let best = 0;
  let most = 0;
  segments.forEach((s, i) => {
    const before = segments[(i - 1 + segments.length) % segments.length] as Segment;
    const turn = Math.abs(turnBetween(tangentAt(before, 1), tangentAt(s, 0)));
    if (turn > most + 1e-9) [best, most] = [i, turn];
  });
  return best;
};

const longestStraight = (segments: readonly Segment[]): number | undefined => {
  let best: number | undefined;
  let most = 0;
  segments.forEach((s, i) => {
    if (s.kind === 'line' && lengthOf(s) > most) [best, most] = [i, lengthOf(s)];
  });
  return best;
};
