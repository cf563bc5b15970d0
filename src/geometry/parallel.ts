import { arc, radiusOf } from './arc.ts';
import { cubicIsStraight, cubicPointAt, cubicTangentAt } from './cubic.ts';
import { fitCurve } from './fit.ts';
import { add, left, type Point, scale, subtract } from './point.ts';
import { type CubicSegment, cubic, curvatureAt, line, type Segment, tangentAt } from './segment.ts';

/** Lines beside a line. Distances to the right of the way of travel: outward from an anticlockwise outline. */

/** How far fitted cubics may lie from the true parallel, mm. */
const PARALLEL_TOLERANCE = 0.005;
/** Places at which a cubic is asked whether its parallel runs backwards; its curvature turns far less often. */
const LOOKS = 48;

/** p moved `distance` mm square to the right of a direction (unit vector). */
export const beside = (p: Point, tangent: Point, distance: number): Point => add(p, scale(left(tangent), -distance));

/**
 * The parallel of a segment, `distance` mm to the right of it (negative: to the left). Lines and arcs exact, cubics
 * within 0.005 mm. Where the segment bends more sharply than the distance its parallel would run backwards: those
 * stretches are left out, so that the result may be in several parts, or empty.
 */
export const offsetSegment = (s: Segment, distance: number): Segment[] => {
  if (distance === 0) return [s];
  switch (s.kind) {
    case 'line': {
      const t = tangentAt(s, 0);
      return [line(beside(s.from, t, distance), beside(s.to, t, distance))];
    }
    case 'arc': {
      const ratio = 1 + (Math.sign(s.sweep) * distance) / radiusOf(s);
      if (ratio <= 1e-9) return [];
      const at = (p: Point): Point => add(s.centre, scale(subtract(p, s.centre), ratio));
      return [arc(at(s.from), at(s.to), s.centre, s.sweep)];
    }
    case 'cubic':
      return offsetCubic(s, distance);
  }
};

const offsetCubic = (s: CubicSegment, distance: number): Segment[] => {
  if (cubicIsStraight(s, 1e-9)) {
    const shift = scale(left(tangentAt(line(s.from, s.to), 0)), -distance);
    return [cubic(add(s.from, shift), add(s.control1, shift), add(s.control2, shift), add(s.to, shift))];
  }
  const parallel = {
    point: (t: number): Point => beside(cubicPointAt(s, t), cubicTangentAt(s, t), distance),
    tangent: (t: number): Point => cubicTangentAt(s, t),
  };
  return forwardStretches(s, distance).flatMap(([t0, t1]) => fitCurve(parallel, t0, t1, PARALLEL_TOLERANCE).segments);
};

/** Stretches of the cubic over which its parallel runs the same way: 1 + curvature × distance is positive. */
const forwardStretches = (s: CubicSegment, distance: number): [number, number][] => {
  const forward = (t: number): boolean => 1 + curvatureAt(s, t) * distance > 0;
  const cuts = [0];
  for (let i = 0; i < LOOKS; i++) {
    let lo = i / LOOKS;
    let hi = (i + 1) / LOOKS;
    const before = forward(lo);
    if (before === forward(hi)) continue;
    for (let k = 0; k < 40; k++) {
      const middle = (lo + hi) / 2;
      if (forward(middle) === before) lo = middle;
      else hi = middle;
    }
    cuts.push((lo + hi) / 2);
  }
  cuts.push(1);
  const stretches: [number, number][] = [];
  for (let i = 1; i < cuts.length; i++) {
    const t0 = cuts[i - 1] as number;
    const t1 = cuts[i] as number;
    if (t1 - t0 > 1e-9 && forward((t0 + t1) / 2)) stretches.push([t0, t1]);
  }
  return stretches;
};

/** The parallels of several segments, end on end where they were; see `offsetSegment`. */
export const offsetSegments = (segments: readonly Segment[], distance: number): Segment[] =>
  segments.flatMap((s) => offsetSegment(s, distance));
