import { arcLeaving, radiusOf } from './arc.ts';
import { add, cross, distance, dot, type Point, scale, size, subtract, turnBetween } from './point.ts';
import {
  type ArcSegment,
  arc,
  type CubicSegment,
  type LineSegment,
  line,
  nearestOn,
  pointAt,
  type Segment,
  tangentAt,
} from './segment.ts';
import { splineThrough, tangentThrough } from './spline-through.ts';

/** Arcs and straight lines in place of free curves, for files that hold nothing else. */

export interface Biarcs {
  readonly segments: readonly (ArcSegment | LineSegment)[];
  /** Greatest distance found between samples of the given line and the result, mm. */
  readonly deviation: number;
}

/** A joint that turns by more than this, radians, is a corner and stays one. */
const CORNER = 1e-3;
/** The search stays below the tolerance by this much, since it samples more coarsely than the last measuring. */
const CAUTION = 0.96;
/** Tries for each stretch, what part of the tolerance they aim at, and from which part on a stretch is long enough. */
const SEARCHES = 16;
const AIM = 0.97;
const FILLED = 0.88;
/** An arc that rises less than this over its chord, mm, is a straight line. */
const STRAIGHT = 1e-6;

/**
 * The line as arcs and straight lines within `tolerance` mm, tangents running through at every joint that had one:
 * lines and arcs stay themselves, cubics become biarcs, each as long as the tolerance lets it. When that takes more
 * than `most` pieces in all, the tolerance gives way instead: compare `deviation`.
 * Points are first joined by a smooth spline.
 */
export const fitBiarcs = (line: readonly Segment[] | readonly Point[], tolerance: number, most = Infinity): Biarcs => {
  const segments = asSegments(line);
  const runs = smoothRuns(segments);
  const kept = segments.filter((s) => s.kind !== 'cubic').length;
  const tightest = covered(runs, tolerance * CAUTION);
  const budget = most - kept;
  const chosen = pieceCount(tightest) <= budget ? tightest : loosened(runs, tolerance, budget);
  const out: (ArcSegment | LineSegment)[] = [];
  let deviation = 0;
  for (const run of runs) {
    if (run.kind === 'kept') {
      out.push(run.segment);
      continue;
    }
    for (const cover of chosen.get(run) ?? []) {
      out.push(...cover.arcs);
      deviation = Math.max(deviation, deviationOf(run.cubics, cover, 48));
    }
  }
  return { segments: out, deviation };
};

const asSegments = (given: readonly Segment[] | readonly Point[]): readonly Segment[] => {
  const first = given[0];
  if (first === undefined) return [];
  if ('kind' in first) return given as readonly Segment[];
  const points = given as readonly Point[];
  const last = points.length - 1;
  return splineThrough(points, tangentThrough(points, 0), tangentThrough(points, last));
};

interface SmoothRun {
  readonly kind: 'smooth';
  readonly cubics: readonly CubicSegment[];
}
interface KeptRun {
  readonly kind: 'kept';
  readonly segment: LineSegment | ArcSegment;
}
type Run = SmoothRun | KeptRun;

/** Cubics that run on in one direction, taken together. */
const smoothRuns = (segments: readonly Segment[]): Run[] => {
  const runs: Run[] = [];
  let open: CubicSegment[] = [];
  const close = (): void => {
    if (open.length > 0) runs.push({ kind: 'smooth', cubics: open });
    open = [];
  };
  for (const s of segments) {
    if (s.kind !== 'cubic') {
      close();
      runs.push({ kind: 'kept', segment: s });
      continue;
    }
    const before = open[open.length - 1];
    if (before && Math.abs(turnBetween(tangentAt(before, 1), tangentAt(s, 0))) > CORNER) close();
    open.push(s);
  }
  close();
  return runs;
};

/** A stretch of a run (parameter: index of the cubic plus its t) and the arcs in its place. */
interface Cover {
  readonly from: number;
  readonly to: number;
  readonly arcs: readonly (ArcSegment | LineSegment)[];
}
type Covers = ReadonlyMap<Run, readonly Cover[]>;

const pieceCount = (covers: Covers): number => {
  let count = 0;
  for (const list of covers.values()) for (const cover of list) count += cover.arcs.length;
  return count;
};

const covered = (runs: readonly Run[], tolerance: number): Covers =>
  new Map(runs.flatMap((run) => (run.kind === 'smooth' ? [[run, coverRun(run.cubics, tolerance)] as const] : [])));

/** The tightest tolerance, by halving on a logarithmic scale, that needs no more than `budget` pieces. */
const loosened = (runs: readonly Run[], tolerance: number, budget: number): Covers => {
  let lo = Math.log(tolerance);
  let hi = lo + Math.log(2);
  let best = covered(runs, Math.exp(hi));
  while (pieceCount(best) > budget && hi < Math.log(1e4)) {
    lo = hi;
    hi += Math.log(4);
    best = covered(runs, Math.exp(hi));
  }
  for (let i = 0; i < 10; i++) {
    const middle = (lo + hi) / 2;
    const tried = covered(runs, Math.exp(middle));
    if (pieceCount(tried) <= budget) {
      hi = middle;
      best = tried;
    } else {
      lo = middle;
    }
  }
  return best;
};

/** From the start on, always about the longest stretch that one biarc follows within tolerance. */
const coverRun = (cubics: readonly CubicSegment[], tolerance: number): Cover[] => {
  const covers: Cover[] = [];
  for (let from = 0; from < cubics.length; ) {
    const cover = longestCover(cubics, from, tolerance);
    covers.push(cover);
    from = cover.to;
  }
  return covers;
};

/** The deviation grows with about the third power of the length: that guides the search. */
const longestCover = (cubics: readonly CubicSegment[], from: number, tolerance: number): Cover => {
  let best: Cover | undefined;
  let lo = from;
  let hi = cubics.length;
  let to = hi;
  for (let i = 0; i < SEARCHES; i++) {
    const { cover, deviation } = tryCover(cubics, from, to);
    if (deviation <= tolerance) {
      best = cover;
      lo = to;
      if (to === cubics.length || deviation > FILLED * tolerance) break;
    } else {
      hi = to;
    }
    const guess = from + (to - from) * Math.cbrt((AIM * tolerance) / Math.max(deviation, 1e-12));
    const margin = (hi - lo) / 10;
    to = Math.min(hi - margin, Math.max(lo + margin, guess));
  }
  // Nothing fits (a cusp): a stretch of next to no length is bridged straight.
  return best ?? tryCover(cubics, from, hi).cover;
};

const placeAt = (cubics: readonly CubicSegment[], u: number): { s: CubicSegment; t: number } => {
  const i = Math.min(cubics.length - 1, Math.floor(u));
  return { s: cubics[i] as CubicSegment, t: u - i };
};
const pointOf = (cubics: readonly CubicSegment[], u: number): Point => {
  const { s, t } = placeAt(cubics, u);
  return pointAt(s, t);
};
const tangentOf = (cubics: readonly CubicSegment[], u: number): Point => {
  const { s, t } = placeAt(cubics, u);
  return tangentAt(s, t);
};

const tryCover = (cubics: readonly CubicSegment[], from: number, to: number): { cover: Cover; deviation: number } => {
  const p0 = pointOf(cubics, from);
  const p1 = pointOf(cubics, to);
  const arcs = biarc(p0, tangentOf(cubics, from), p1, tangentOf(cubics, to));
  const cover = { from, to, arcs: arcs ?? [line(p0, p1)] };
  return { cover, deviation: arcs ? deviationOf(cubics, cover, 20) : Infinity };
};

/** Greatest distance of samples of the run from the arcs, each from the arc on its side of their joint. */
const deviationOf = (cubics: readonly CubicSegment[], cover: Cover, samples: number): number => {
  const count = Math.ceil(samples * Math.max(1, cover.to - cover.from));
  const [first, second = first] = cover.arcs as readonly [ArcSegment | LineSegment, (ArcSegment | LineSegment)?];
  const joint = first.to;
  const onwards = tangentAt(first, 1);
  let worst = 0;
  for (let i = 1; i < count; i++) {
    const p = pointOf(cubics, cover.from + ((cover.to - cover.from) * i) / count);
    const side = dot(subtract(p, joint), onwards) < 0 ? first : second;
    worst = Math.max(worst, besideSector(side, p) ? nearestOn(side, p).distance : offCircle(side, p));
  }
  return worst;
};

/** Whether p lies past an end of the segment, where its circle or line is nearer than itself. */
const besideSector = (s: ArcSegment | LineSegment, p: Point): boolean =>
  (s.kind === 'arc' && Math.abs(s.sweep) > 3) ||
  dot(subtract(p, s.from), tangentAt(s, 0)) < 0 ||
  dot(subtract(p, s.to), tangentAt(s, 1)) > 0;

/** Distance from the whole circle or line. */
const offCircle = (s: ArcSegment | LineSegment, p: Point): number =>
  s.kind === 'arc'
    ? Math.abs(distance(p, s.centre) - radiusOf(s))
    : Math.abs(cross(tangentAt(s, 0), subtract(p, s.from)));

/**
 * Two arcs from p0, leaving along t0, to p1, arriving along t1, that join in one direction; with equal lengths of
 * tangent on both sides. K. M. Bolton, Biarc curves, Computer-Aided Design 7 (1975) 89-92.
 * Fewer pieces when they make one arc or one straight line. Undefined when there is no such pair.
 */
export const biarc = (p0: Point, t0: Point, p1: Point, t1: Point): (ArcSegment | LineSegment)[] | undefined => {
  const v = subtract(p1, p0);
  if (size(v) === 0) return undefined;
  const t = add(t0, t1);
  const vt = dot(v, t);
  const vv = dot(v, v);
  // d solves 2(1 − t0·t1) d² + 2 (v·t) d − v·v = 0; in this form it holds for parallel tangents too.
  const root = vt + Math.sqrt(vt * vt + 2 * (1 - dot(t0, t1)) * vv);
  if (!(root > 1e-12 * size(v))) return undefined;
  const d = vv / root;
  if (d > 1e3 * size(v)) return undefined;
  const joint = scale(add(add(p0, p1), scale(subtract(t0, t1), d)), 0.5);
  const first = leaving(p0, t0, joint);
  const second = arriving(joint, t1, p1);
  if (!first || !second) return undefined;
  return joined(first, second);
};

const leaving = (from: Point, direction: Point, to: Point): ArcSegment | LineSegment | undefined => {
  const chord = subtract(to, from);
  if (dot(direction, chord) <= 0 && Math.abs(cross(direction, chord)) < STRAIGHT) return undefined;
  const found = arcLeaving(from, direction, to);
  return found && Math.abs(riseOf(found)) > STRAIGHT ? found : line(from, to);
};

const arriving = (from: Point, direction: Point, to: Point): ArcSegment | LineSegment | undefined => {
  const back = leaving(to, scale(direction, -1), from);
  if (!back) return undefined;
  return back.kind === 'line' ? line(from, to) : arc(from, to, back.centre, -back.sweep);
};

const riseOf = (s: ArcSegment): number => radiusOf(s) * (1 - Math.cos(s.sweep / 2));

const joined = (a: ArcSegment | LineSegment, b: ArcSegment | LineSegment): (ArcSegment | LineSegment)[] => {
  if (a.kind === 'line' && b.kind === 'line') return [line(a.from, b.to)];
  if (a.kind === 'arc' && b.kind === 'arc' && Math.sign(a.sweep) === Math.sign(b.sweep)) {
    const apart = distance(a.centre, b.centre);
    if (apart <= STRAIGHT && Math.abs(a.sweep + b.sweep) < 2 * Math.PI)
      return [arc(a.from, b.to, a.centre, a.sweep + b.sweep)];
  }
  return [a, b];
};
