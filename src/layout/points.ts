import type { DrillMark, PathMark } from '../formats/sheet.ts';
import { centreOf, heightOfBounds, widthOf } from '../geometry/bounds.ts';
import { pathBounds, polyline } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import type { InnerLine, Piece } from '../pattern/piece.ts';

/** A hole that no circle shows the size of, mm: what a drill or awl makes. Common practice, no source. */
const DRILL = 3;
/** A drawn circle larger than this is a line to follow, not a hole to drill, mm. */
const LARGEST_DRILL = 12;
/** Arms of the cross that marks a point, mm. */
const CROSS = 3;

/** Whether a line is the circle of a drill hole. */
export const isDrilledCircle = (line: InnerLine): boolean => {
  if (line.kind !== 'drill' || !line.closed) return false;
  const box = pathBounds({ segments: line.spans.flatMap((s) => s.segments), closed: true });
  return widthOf(box) <= LARGEST_DRILL && Math.abs(widthOf(box) - heightOfBounds(box)) <= 0.05 * widthOf(box);
};

/** Drill holes, and crosses at the places that are marked by a point; points of the outline itself are passed over. */
export const drillsOn = (piece: Piece): (DrillMark | PathMark)[] => [
  ...piece.lines.filter(isDrilledCircle).map((line): DrillMark => {
    const box = pathBounds({ segments: line.spans.flatMap((s) => s.segments), closed: true });
    return { kind: 'drill', purpose: 'drill', at: centreOf(box), diameter: widthOf(box) };
  }),
  ...piece.points.flatMap((p): (DrillMark | PathMark)[] => {
    if (p.kind === 'drill') return [{ kind: 'drill', purpose: 'drill', at: p.at, diameter: DRILL }];
    return p.kind === 'landmark' || p.kind === 'point' ? crossAt(p.at) : [];
  }),
];

const crossAt = ({ x, y }: Point): PathMark[] =>
  [
    polyline([
      { x: x - CROSS, y },
      { x: x + CROSS, y },
    ]),
    polyline([
      { x, y: y - CROSS },
      { x, y: y + CROSS },
    ]),
  ].map((path) => ({ kind: 'path', purpose: 'internal', path, inner: false }));
