import { radiusOf } from './arc.ts';
import type { Path } from './path.ts';
import { type Point, size, subtract } from './point.ts';
import { pointAt, type Segment } from './segment.ts';

/** Chords needed to stay within `tolerance` mm of the segment. */
const chordsFor = (s: Segment, tolerance: number): number => {
  if (s.kind === 'line') return 1;
  if (s.kind === 'arc') {
    const widest = 2 * Math.acos(Math.max(0, 1 - tolerance / radiusOf(s)));
    // Three at least on a circle, lest it collapse to a line there and back.
    return Math.max(Math.ceil(Math.abs(s.sweep) / widest), Math.ceil(Math.abs(s.sweep) / 2.1));
  }
  // A chord over a step h of t is off by at most h²/8 times the greatest second derivative, which is at an end.
  const bend = Math.max(
    size({ x: s.from.x - 2 * s.control1.x + s.control2.x, y: s.from.y - 2 * s.control1.y + s.control2.y }),
    size({ x: s.control1.x - 2 * s.control2.x + s.to.x, y: s.control1.y - 2 * s.control2.y + s.to.y }),
  );
  const loops = size(subtract(s.to, s.from)) === 0 ? 3 : 1;
  return Math.max(loops, Math.ceil(Math.sqrt((6 * bend) / (8 * tolerance))));
};

/** First point of the first segment, then chord ends; consecutive segments share theirs. */
const flattenSegments = (segments: readonly Segment[], tolerance: number): Point[] => {
  const points: Point[] = [];
  for (const s of segments) {
    if (points.length === 0) points.push(s.from);
    const chords = chordsFor(s, tolerance);
    for (let i = 1; i < chords; i++) points.push(pointAt(s, i / chords));
    points.push(s.to);
  }
  return points;
};

/**
 * Points of a chain of chords that stays within `tolerance` mm of the line. A closed path gives a ring that does not
 * repeat its first point; segments, or an open path, give both ends.
 */
export const flatten = (what: Path | readonly Segment[], tolerance: number): Point[] => {
  if (!('segments' in what)) return flattenSegments(what, tolerance);
  const points = flattenSegments(what.segments, tolerance);
  return what.closed ? points.slice(0, -1) : points;
};
