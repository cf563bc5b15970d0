import type { Bounds } from './bounds.ts';
import { cubicBounds, cubicInflections, cubicSplit, cubicTurns } from './cubic.ts';
import { intersections } from './intersect.ts';
import type { Path } from './path.ts';
import { distance, dot, type Point, same, size, subtract, unit } from './point.ts';
import { boundsOf, type CubicSegment, type LineSegment, type Segment } from './segment.ts';

export interface SelfCrossing {
  readonly point: Point;
  /** Segment and parameter of the earlier and of the later visit. */
  readonly first: { readonly index: number; readonly t: number };
  readonly second: { readonly index: number; readonly t: number };
}

/** Nearer than this to a shared joint, mm, a meeting of neighbours is the joint itself. */
const JOINT = 1e-6;

/**
 * Places where the path crosses or touches itself, joints of neighbours excepted, in order of the first visit.
 * A sweep over boxes sorted by x; 2,000 segments take a few milliseconds when they cross seldom.
 */
export const selfMeetings = (path: Path): SelfCrossing[] => {
  const { segments } = path;
  const boxes = segments.map((s, index) => ({ index, box: boundsOf(s) })).sort((a, b) => a.box.minX - b.box.minX);
  const found: SelfCrossing[] = segments.flatMap((s, index) => (s.kind === 'cubic' ? ownLoop(s, index) : []));
  let open: { index: number; box: Bounds }[] = [];
  for (const here of boxes) {
    open = open.filter((o) => o.box.maxX >= here.box.minX);
    for (const other of open) {
      if (other.box.minY > here.box.maxY || here.box.minY > other.box.maxY) continue;
      const i = Math.min(here.index, other.index);
      const j = Math.max(here.index, other.index);
      found.push(...meetingsOf(path, i, j));
    }
    open.push(here);
  }
  return found.sort((a, b) => a.first.index - b.first.index || a.first.t - b.first.t);
};

const meetingsOf = (path: Path, i: number, j: number): SelfCrossing[] => {
  const a = path.segments[i] as Segment;
  const b = path.segments[j] as Segment;
  const isNext = j === i + 1;
  const isLast = i === 0 && j === path.segments.length - 1 && path.closed;
  if (isNext !== isLast && (isNext ? partAtJoint(a, b) : partAtJoint(b, a))) return [];
  const joints: Point[] = [];
  if (isNext) joints.push(a.to);
  if (isLast) joints.push(a.from);
  return intersections(a, b)
    .filter((m) => !joints.some((p) => distance(p, m.point) <= JOINT))
    .map((m) => ({ point: m.point, first: { index: i, t: m.ta }, second: { index: j, t: m.tb } }));
};

/** Cosine of half the angle of the two cones of {@link partAtJoint}. */
const AHEAD = 0.2;

/**
 * Whether b goes on where a ends, and the two lie in opposite cones about that joint, by their control points: then they
 * meet nowhere else. Arcs are not looked at.
 */
const partAtJoint = (a: Segment, b: Segment): boolean => {
  if (a.kind === 'arc' || b.kind === 'arc' || !same(a.to, b.from)) return false;
  const [before, after] = [controls(a), controls(b)];
  const [last, next] = [before.at(-2) as Point, after[1] as Point];
  const way = unit(subtract(next, last));
  const isAhead = (p: Point, sign: 1 | -1): boolean => {
    const from = subtract(p, a.to);
    return sign * dot(from, way) >= AHEAD * size(from);
  };
  return before.every((p) => isAhead(p, -1)) && after.every((p) => isAhead(p, 1));
};

const controls = (s: LineSegment | CubicSegment): readonly Point[] =>
  s.kind === 'line' ? [s.from, s.to] : [s.from, s.control1, s.control2, s.to];

/** A cubic crosses itself at most once, and then both its coordinates turn: its parts between the turns are checked. */
const ownLoop = (s: CubicSegment, index: number): SelfCrossing[] => {
  const turned = [...cubicTurns(s, 'x'), ...cubicTurns(s, 'y')];
  if (turned.length < 2) return [];
  const turns = [...turned, ...cubicInflections(s)].sort((a, b) => a - b);
  const parts: { from: number; width: number; curve: CubicSegment; box: Bounds }[] = [];
  let rest = s;
  let from = 0;
  for (const t of [...turns.filter((u, i) => u - (turns[i - 1] ?? 0) > 1e-9), 1]) {
    const [head, tail] = t === 1 ? [rest, rest] : cubicSplit(rest, (t - from) / (1 - from));
    parts.push({ from, width: t - from, curve: head, box: cubicBounds(head) });
    rest = tail;
    from = t;
  }
  for (let i = 0; i < parts.length; i++) {
    for (let j = i + 1; j < parts.length; j++) {
      const p = parts[i] as (typeof parts)[number];
      const q = parts[j] as (typeof parts)[number];
      for (const m of intersections(p.curve, q.curve)) {
        const t0 = p.from + m.ta * p.width;
        const t1 = q.from + m.tb * q.width;
        if (t1 - t0 > 1e-4) return [{ point: m.point, first: { index, t: t0 }, second: { index, t: t1 } }];
      }
    }
  }
  return [];
};

/** The points of `selfMeetings`, each place once. Empty for a simple path. */
export const selfCrossings = (path: Path): Point[] => {
  const points: Point[] = [];
  for (const { point } of selfMeetings(path)) {
    if (!points.some((p) => distance(p, point) <= JOINT)) points.push(point);
  }
  return points;
};
