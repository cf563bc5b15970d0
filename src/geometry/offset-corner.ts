import { intersections, linesMeet } from './intersect.ts';
import { beside } from './parallel.ts';
import { add, cross, distance, dot, type Point, same, scale, subtract } from './point.ts';
import { line, type Segment, splitAt, withEnds } from './segment.ts';

/**
 * How two edges' allowances meet outside a corner: both go on straight until they meet, or the first edge's allowance
 * is cut off square to its seam, in the place where that seam line, gone on with, leaves the second edge's allowance.
 */
export type CornerStyle = 'mitre' | 'square';

/** A stretch of the line beside an outline, and the outline's segment it belongs to. */
export interface Piece {
  readonly segment: Segment;
  readonly source: number;
}

/** A joint of the given outline: the directions in which it is reached and left, and the distances on either side. */
export interface Joint {
  readonly corner: Point;
  readonly arriving: Point;
  readonly leaving: Point;
  readonly before: number;
  readonly after: number;
  readonly style: CornerStyle;
}

/** What becomes of the parallels on both sides of a joint, and what goes between them. */
export interface Meeting {
  readonly before: Segment;
  readonly between: readonly { readonly segment: Segment; readonly of: 'before' | 'after' }[];
  readonly after: Segment;
}

/** A corner reaches at most this many allowances past the seam's; then it is cut off. */
const REACH = 6;
/** A square end may lie this many of the second edge's allowances past the corner: a turn of 30°, sin 30° = 1/2. */
const SQUARED = 2;
/** Ends this near, mm, are one point. */
const TOGETHER = 1e-7;

/** The parallels a (before the joint) and b (after it), made to meet. */
export const meet = (a: Segment, b: Segment, joint: Joint): Meeting => {
  if (same(a.to, b.from)) return { before: a, between: [], after: b };
  if (distance(a.to, b.from) <= TOGETHER) return { before: a, between: [], after: withEnds(b, a.to, b.to) };
  return (joint.style === 'square' ? squared(a, b, joint) : undefined) ?? mitred(a, b, joint) ?? bridged(a, b);
};

/** Straight across: a step where distances differ, a bevel where a corner is too sharp, or a loop still to be trimmed. */
const bridged = (a: Segment, b: Segment): Meeting => ({
  before: a,
  between: [{ segment: line(a.to, b.from), of: 'before' }],
  after: b,
});

/** Both gone on with, or cut back, to where they meet. */
const mitred = (a: Segment, b: Segment, joint: Joint): Meeting | undefined => {
  const m = linesMeet(a.to, joint.arriving, b.from, joint.leaving);
  const longest = REACH * Math.max(Math.abs(joint.before), Math.abs(joint.after));
  const onA = m ? dot(subtract(m, a.to), joint.arriving) : 0;
  const onB = m ? dot(subtract(b.from, m), joint.leaving) : 0;
  if (m && onA >= -TOGETHER && onB >= -TOGETHER) {
    if (Math.max(onA, onB) > longest) return undefined;
    const head = endedAt(a, m);
    const tail = startedAt(b, m);
    return { before: head.segment, between: [...head.rest, ...tail.rest], after: tail.segment };
  }
  // Outside a corner a wide allowance is not cut back to a narrow neighbour: there is a step.
  if (joint.before >= 0 && joint.after >= 0 && cross(joint.arriving, joint.leaving) > 0 && onA * onB < 0)
    return undefined;
  // Cut back: against the other itself or, when that one must go on to be reached, against its straight continuation.
  const reachA = m && onA > 0 && onA <= longest ? line(a.to, add(m, scale(joint.arriving, 1))) : undefined;
  const reachB = m && onB > 0 && onB <= longest ? line(subtract(m, scale(joint.leaving, 1)), b.from) : undefined;
  if (reachB) return trimmedBefore(a, reachB, b);
  if (reachA) return trimmedAfter(a, reachA, b);
  const met = intersections(a, b)
    .filter((i) => i.ta > 0 && i.tb < 1)
    .sort((p, q) => q.ta - q.tb - (p.ta - p.tb))[0];
  if (!met) return undefined;
  return { before: headOf(a, met.ta, met.point), between: [], after: tailOf(b, met.tb, met.point) };
};

const trimmedBefore = (a: Segment, reach: Segment, b: Segment): Meeting | undefined => {
  const met = intersections(a, reach)
    .filter((i) => i.ta > 0)
    .sort((p, q) => q.ta - p.ta)[0];
  if (!met) return undefined;
  const tail = startedAt(b, met.point);
  return { before: headOf(a, met.ta, met.point), between: tail.rest, after: tail.segment };
};

const trimmedAfter = (a: Segment, reach: Segment, b: Segment): Meeting | undefined => {
  const met = intersections(b, reach)
    .filter((i) => i.ta < 1)
    .sort((p, q) => p.ta - q.ta)[0];
  if (!met) return undefined;
  const head = endedAt(a, met.point);
  return { before: head.segment, between: head.rest, after: tailOf(b, met.ta, met.point) };
};

/** The first edge's allowance ended square to its seam. Only outside a corner that has an allowance on both sides. */
const squared = (a: Segment, b: Segment, joint: Joint): Meeting | undefined => {
  const { corner, arriving, leaving, before, after } = joint;
  if (!(before > 0 && after > 0 && cross(arriving, leaving) > 0)) return undefined;
  const seam = line(corner, add(corner, scale(arriving, SQUARED * after)));
  const on = intersections(b, seam).sort((p, q) => p.ta - q.ta)[0];
  const inner = on?.point ?? linesMeet(corner, arriving, b.from, leaving);
  if (!inner || dot(subtract(inner, corner), arriving) > SQUARED * after) return undefined;
  // Not on the second parallel, nor on its straight continuation back: the corner is no corner.
  if (!on && dot(subtract(b.from, inner), leaving) < 0) return undefined;
  if (on && on.ta >= 1) return undefined;
  const outer = beside(inner, arriving, before);
  const head = endedAt(a, outer);
  const tail = on ? { segment: tailOf(b, on.ta, inner), rest: [] } : startedAt(b, inner);
  const end = { segment: line(outer, inner), of: 'before' as const };
  return { before: head.segment, between: [...head.rest, end, ...tail.rest], after: tail.segment };
};

type Rest = Meeting['between'];

/** a gone on with straight to p: a line grows, a curve is followed by one. */
const endedAt = (a: Segment, p: Point): { segment: Segment; rest: Rest } => {
  if (a.kind === 'line') return { segment: line(a.from, p), rest: [] };
  return { segment: a, rest: same(a.to, p) ? [] : [{ segment: line(a.to, p), of: 'before' }] };
};

const startedAt = (b: Segment, p: Point): { segment: Segment; rest: Rest } => {
  if (b.kind === 'line') return { segment: line(p, b.to), rest: [] };
  return { segment: b, rest: same(b.from, p) ? [] : [{ segment: line(p, b.from), of: 'after' }] };
};

const headOf = (a: Segment, t: number, end: Point): Segment => {
  const head = splitAt(a, t)[0] ?? a;
  return withEnds(head, head.from, end);
};

const tailOf = (b: Segment, t: number, start: Point): Segment => {
  const tail = splitAt(b, t)[1] ?? b;
  return withEnds(tail, start, tail.to);
};
