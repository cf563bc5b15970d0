import { type Bounds, containsBounds, containsPoint, overlap } from '../geometry/bounds.ts';
import { intersections } from '../geometry/intersect.ts';
import type { Path } from '../geometry/path.ts';
import { same } from '../geometry/point.ts';
import { boundsOf, isDegenerate, type LineSegment, line, part, pointAt, type Segment } from '../geometry/segment.ts';

/**
 * The parts of a path inside a box, its rim included, in the path's own direction: exact pieces of its own segments,
 * nothing drawn along the rim. A path that lies inside comes back as it is.
 */
export const clipPath = (path: Path, box: Bounds): Path[] => {
  const kept = path.segments.map((s) => inside(s, box));
  if (kept.every((parts, i) => parts.length === 1 && parts[0] === path.segments[i])) return [path];
  const runs: Segment[][] = [];
  for (const segment of kept.flat()) {
    const run = runs.at(-1);
    const last = run?.at(-1);
    if (run && last && same(last.to, segment.from)) run.push(segment);
    else runs.push([segment]);
  }
  const first = runs[0];
  const last = runs.at(-1);
  // A closed path that starts inside is one stretch across its start.
  if (path.closed && first && last && first !== last && same(last.at(-1)?.to ?? NOWHERE, first[0]?.from ?? NOWHERE)) {
    runs[0] = [...(runs.pop() as Segment[]), ...first];
  }
  return runs.map((segments) => ({ segments, closed: false }));
};
const NOWHERE = { x: Number.NaN, y: Number.NaN };

const inside = (s: Segment, box: Bounds): Segment[] => {
  const own = boundsOf(s);
  if (containsBounds(box, own)) return [s];
  if (!overlap(box, own)) return [];
  const cuts = [...new Set([0, 1, ...sides(box).flatMap((side) => intersections(s, side).map((m) => m.ta))])].sort(
    (a, b) => a - b,
  );
  const parts: Segment[] = [];
  cuts.slice(1).forEach((to, i) => {
    const from = cuts[i] as number;
    if (to - from < 1e-12 || !containsPoint(box, pointAt(s, (from + to) / 2))) return;
    const piece = part(s, from, to);
    if (!isDegenerate(piece)) parts.push(piece);
  });
  return parts;
};

const sides = ({ minX, minY, maxX, maxY }: Bounds): LineSegment[] => {
  const [a, b, c, d] = [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ];
  return [line(a, b), line(b, c), line(c, d), line(d, a)];
};
