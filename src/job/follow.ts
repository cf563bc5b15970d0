import type { Path } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { add, distance, scale, subtract, unit } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';
import { lengthOf, reversed } from '../geometry/segment.ts';
import type { Span } from '../pattern/piece.ts';

/** A vertex further than this from where a stretch must end is not that vertex, mm. */
const REACH = 0.5;
/** A curve may be written as this many pieces for each of its own (biarcs, at most 8), counted as arcs in pairs. */
const MOST_PIECES = 16;

/** Shorter stretches may vanish in a file with few decimals, mm. */
const SWALLOWED = 0.01;

/** What must follow what along the written line; stretches of other lines of the same drawable keep their own segments. */
export interface Expected {
  readonly span?: Span;
  readonly segments: readonly Segment[];
}

export interface Match {
  readonly spans: readonly (readonly [Span, readonly Segment[]])[];
  readonly deviation: number;
}

/** Follows the expected stretches along a written path, either way round, from any vertex of a closed one. */
export const matchPath = (expected: readonly Expected[], path: Path): Match | undefined => {
  const first = expected[0]?.segments[0];
  if (!first) return undefined;
  const [one, other] = [path.segments, path.segments.toReversed().map(reversed)].map((segments) =>
    follow(expected, path.closed ? startingNear(segments, first.from) : segments),
  );
  return one && other ? (one.deviation <= other.deviation ? one : other) : (one ?? other);
};

const follow = (expected: readonly Expected[], segments: readonly Segment[]): Match | undefined => {
  const spans: [Span, readonly Segment[]][] = [];
  let at = 0;
  let deviation = startDeviation(expected, segments);
  if (deviation > REACH) return undefined;
  for (const stretch of expected) {
    const end = stretch.segments.at(-1)?.to as Point;
    if (isTooSmallToWrite(stretch, segments[at])) continue;
    const taken = reach(segments, at, end, stretch.segments.length);
    if (taken === undefined) return undefined;
    const own = segments.slice(at, taken + 1);
    at = taken + 1;
    deviation = Math.max(deviation, distance(own.at(-1)?.to as Point, end), lengthDifference(own, stretch.segments));
    if (stretch.span) spans.push([stretch.span, stretch.span.source?.reversed ? own.toReversed().map(reversed) : own]);
  }
  return at === segments.length ? { spans, deviation } : undefined;
};

/** A stretch that the file's decimals swallowed: two vertices became one. */
const isTooSmallToWrite = (stretch: Expected, next: Segment | undefined): boolean =>
  total(stretch.segments) < SWALLOWED && !(next && distance(next.to, stretch.segments.at(-1)?.to as Point) < SWALLOWED);

const startDeviation = (expected: readonly Expected[], segments: readonly Segment[]): number => {
  const meant = expected[0]?.segments[0];
  const has = segments[0];
  return meant && has ? distance(meant.from, has.from) : Number.POSITIVE_INFINITY;
};

/** Index of the segment, from `at` on, that ends nearest to `end`; the expected number of segments wins a tie. */
const reach = (segments: readonly Segment[], at: number, end: Point, count: number): number | undefined => {
  const likely = at + count - 1;
  const there = segments[likely];
  if (there && distance(there.to, end) < 0.002) return likely;
  let best: number | undefined;
  let least = REACH;
  for (let i = at; i < Math.min(segments.length, at + count * MOST_PIECES + 1); i++) {
    const off = distance((segments[i] as Segment).to, end);
    if (off < least - 1e-9) {
      best = i;
      least = off;
    }
  }
  return best;
};

/** A closed line told from the vertex nearest to p; a full circle, which has no vertex, from its point nearest to p. */
const startingNear = (segments: readonly Segment[], p: Point): readonly Segment[] => {
  const [only] = segments;
  if (segments.length === 1 && only?.kind === 'arc') {
    const from = add(only.centre, scale(unit(subtract(p, only.centre)), distance(only.centre, only.from)));
    return [{ ...only, from, to: from }];
  }
  const off = (s: Segment | undefined): number => (s ? distance(s.from, p) : Number.POSITIVE_INFINITY);
  const start = segments.reduce((best, s, i) => (off(s) < off(segments[best]) ? i : best), 0);
  return [...segments.slice(start), ...segments.slice(0, start)];
};

const lengthDifference = (a: readonly Segment[], b: readonly Segment[]): number => Math.abs(total(a) - total(b));
const total = (segments: readonly Segment[]): number => segments.reduce((sum, s) => sum + lengthOf(s), 0);
