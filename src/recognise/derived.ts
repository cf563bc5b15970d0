import { grown, overlap } from '../geometry/bounds.ts';
import { intersections, linesMeet } from '../geometry/intersect.ts';
import { offsetSegment } from '../geometry/offset.ts';
import { selfCrossings } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { add, distance, dot, scale, subtract } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';
import {
  boundsOf,
  lengthBetween,
  lengthOf,
  line,
  nearestOn,
  reversed,
  splitAt,
  tangentAt,
  withEnds,
} from '../geometry/segment.ts';
import type { Beside } from './allowances.ts';
import type { Shape, Stretch } from './shape.ts';
import { shapeFrom } from './shape.ts';
import { trace } from './trace.ts';

/** A seam line drawn inside a cutting line, edge by edge. */
export interface Derived {
  readonly shape: Shape;
  /** For each stretch of the shape, the cutting line's spans beside it. */
  readonly beside: readonly Beside[];
}

/** What is shorter is rounding, and left out. mm */
const DUST = 1e-4;
/** Ends this near count as touching. mm */
const TOUCH = 0.02;

/**
 * The seam line inside a cutting line whose stretches have the given allowances (mm). Its stretches are those of the
 * cutting line, in the same order: each is drawn beside its own, whole, and neighbours are cut off (or gone on with)
 * where they meet. Undefined when the allowances leave no simple outline with all edges.
 */
export const seamInside = (cutting: Shape, allowances: readonly number[]): Derived | undefined => {
  const n = cutting.stretches.length;
  if (n < 3 || cutting.darts.length > 0) return undefined;
  const edges = cutting.stretches.map((s, i) =>
    besideEdge(
      s.spans.map((k) => cutting.trace.segments[k] as Segment),
      allowances[i] ?? 0,
    ),
  );
  if (edges.some((e) => e.length === 0)) return undefined;
  for (let i = 0; i < n; i++) {
    const next = (i + 1) % n;
    const reach = 3 * Math.max(allowances[i] ?? 0, allowances[next] ?? 0) + 5;
    const met = meeting(edges[i] as Segment[], edges[next] as Segment[], reach);
    if (!met || met.before.length === 0 || met.after.length === 0) return undefined;
    edges[i] = met.before;
    edges[next] = met.after;
  }
  const segments = edges.flat();
  if (crossesItself(segments)) return undefined;
  const t = trace(segments.map((segment) => ({ segments: [segment] })));
  if (t.segments[0] !== segments[0]) return undefined;
  let joint = 0;
  const corners = edges.map((edge, i) => {
    const corner = {
      joint,
      at: (edge[0] as Segment).from,
      along: t.starts[joint] as number,
      turn: (cutting.stretches[i] as Stretch).startTurn,
    };
    joint += edge.length;
    return corner;
  });
  return {
    shape: shapeFrom(t, { corners, darts: [], notches: [] }),
    beside: cutting.stretches.map((s, i) => ({ allowance: allowances[i] ?? 0, first: s.first, last: s.last })),
  };
};

/** Crossings a hair from a joint are rounding. */
const crossesItself = (segments: readonly Segment[]): boolean =>
  selfCrossings({ segments, closed: true }).some((p) => segments.every((s) => distance(s.from, p) > TOUCH));

/** The line beside an edge, inwards; its own bends are kept as bends. */
const besideEdge = (segments: readonly Segment[], allowance: number): Segment[] => {
  const raw = segments.flatMap((s) => (allowance === 0 ? [s] : offsetSegment(s, -allowance)));
  const joined: Segment[] = [];
  for (const s of raw) {
    const before = joined[joined.length - 1];
    if (!before) {
      joined.push(s);
      continue;
    }
    const meets = bend(before, s);
    joined[joined.length - 1] = meets.before;
    joined.push(...meets.between, meets.after);
  }
  return joined.filter((s) => lengthOf(s) > DUST);
};

/** Two parallels of neighbours in one edge, made to meet: at the mitre of lines, by a hair for curves, else by a line between. */
const bend = (a: Segment, b: Segment): { before: Segment; between: Segment[]; after: Segment } => {
  const [u, v] = [tangentAt(a, 1), tangentAt(b, 0)];
  if (a.kind === 'line' && b.kind === 'line') {
    const m = linesMeet(a.to, u, b.from, v);
    const isAhead = m !== undefined && dot(subtract(m, a.from), u) > 0 && dot(subtract(b.to, m), v) > 0;
    if (m && isAhead) return { before: line(a.from, m), between: [], after: line(m, b.to) };
  }
  if (distance(a.to, b.from) <= 0.02) return { before: a, between: [], after: withEnds(b, a.to, b.to) };
  return { before: a, between: [line(a.to, b.from)], after: b };
};

interface Crossing {
  readonly i: number;
  readonly j: number;
  readonly ta: number;
  readonly tb: number;
  readonly point: Point;
  /** How much line is cut off or added, mm. */
  readonly cost: number;
}

/**
 * Ends of neighbouring edges cut off where they cross, or gone on with straight until they do, up to `reach` mm. The
 * straight continuations lap back a hair, so that ends which only just touch are seen to cross.
 */
const meeting = (
  a: readonly Segment[],
  b: readonly Segment[],
  reach: number,
): { before: Segment[]; after: Segment[] } | undefined => {
  const [end, start] = [a[a.length - 1] as Segment, b[0] as Segment];
  const [u, v] = [tangentAt(end, 1), tangentAt(start, 0)];
  const longA = [...a, line(add(end.to, scale(u, -TOUCH)), add(end.to, scale(u, reach)))];
  const longB = [line(add(start.from, scale(v, -reach)), add(start.from, scale(v, TOUCH))), ...b];
  const best = crossingsOf(longA, longB).reduce<Crossing | undefined>(
    (x, y) => (x && x.cost <= y.cost ? x : y),
    undefined,
  );
  if (!best) return undefined;
  const before = best.i === a.length ? goneOn(a, best.point, u) : cutAfter(a, best.i, best.ta, best.point);
  const after =
    best.j === 0
      ? turnedRound(goneOn(turnedRound(b), best.point, scale(v, -1)))
      : turnedRound(cutAfter(turnedRound(b), b.length - best.j, 1 - best.tb, best.point));
  return { before, after };
};

const turnedRound = (edge: readonly Segment[]): Segment[] => [...edge].reverse().map(reversed);

/** The edge as far as parameter t of its segment i. */
const cutAfter = (edge: readonly Segment[], i: number, t: number, point: Point): Segment[] => {
  const head = splitAt(edge[i] as Segment, t)[0];
  return endingAt([...edge.slice(0, i), ...(head && lengthOf(head) > DUST ? [head] : [])], point);
};

/** The edge with a straight line to the point, where that lies ahead. */
const goneOn = (edge: readonly Segment[], point: Point, way: Point): Segment[] => {
  const end = (edge[edge.length - 1] as Segment).to;
  return dot(subtract(point, end), way) > TOUCH ? [...edge, line(end, point)] : endingAt(edge, point);
};

const endingAt = (edge: readonly Segment[], point: Point): Segment[] => {
  const last = edge[edge.length - 1];
  return last ? [...edge.slice(0, -1), withEnds(last, last.from, point)] : [];
};

/** Joints of one edge that all but touch the other, where rounding keeps the lines from crossing. */
const touching = (s: Segment, r: Segment): { ta: number; tb: number; point: Point }[] => {
  const ends = [0, 1] as const;
  const onR = ends.flatMap((ta) => {
    const near = nearestOn(r, ta === 0 ? s.from : s.to);
    return near.distance <= TOUCH ? [{ ta, tb: near.t, point: near.point }] : [];
  });
  const onS = ends.flatMap((tb) => {
    const near = nearestOn(s, tb === 0 ? r.from : r.to);
    return near.distance <= TOUCH ? [{ ta: near.t, tb, point: near.point }] : [];
  });
  return [...onR, ...onS];
};

/** All crossings of two edges, the last segment of the first and the first of the second being continuations. */
const crossingsOf = (a: readonly Segment[], b: readonly Segment[]): Crossing[] => {
  const boxes = b.map(boundsOf);
  const last = a.length - 1;
  const found: Crossing[] = [];
  let cutA = a.slice(0, last).reduce((sum, s) => sum + lengthOf(s), 0);
  a.forEach((s, i) => {
    const box = boundsOf(s);
    let cutB = 0;
    b.forEach((r, j) => {
      if (overlap(grown(box, TOUCH), boxes[j] as (typeof boxes)[number])) {
        for (const { ta, tb, point } of [...intersections(s, r), ...touching(s, r)]) {
          const offA = i === last ? lengthBetween(s, 0, ta) : cutA - lengthBetween(s, 0, ta);
          const offB = j === 0 ? lengthBetween(r, tb, 1) : cutB + lengthBetween(r, 0, tb);
          found.push({ i, j, ta, tb, point, cost: offA + offB });
        }
      }
      if (j > 0) cutB += lengthOf(r);
    });
    cutA -= lengthOf(s);
  });
  return found;
};
