import { between, distance, type Point } from '../geometry/point.ts';
import { line, type Segment } from '../geometry/segment.ts';
import { ringRange } from './edges.ts';
import type { Dart, Piece } from './piece.ts';

/**
 * Whether a dart takes in width: it stands more upright than level. One that lies more level takes in length, and is
 * passed over where a width or a girth is measured.
 * @param mouth upright frame, as `tip`
 */
export const takesWidth = (mouth: readonly [Point, Point], tip: Point): boolean => {
  const wide = between(mouth[0], mouth[1], 0.5);
  return Math.abs(wide.y - tip.y) >= Math.abs(wide.x - tip.x);
};

/**
 * The two sides of a dart, each from mouth to tip: as drawn in the outline, else straight. The sides of a dart that lies
 * inside run from tip to tip through its mouths.
 */
export const dartOutlines = (
  piece: Pick<Piece, 'seamLine'>,
  dart: Dart,
): readonly [readonly Segment[], readonly Segment[]] => {
  const { drawn, mouth, tip, otherTip } = dart;
  if (otherTip) {
    const side = (m: Point): Segment[] => [line(otherTip, m), line(m, tip)];
    return [side(mouth[0]), side(mouth[1])];
  }
  if (drawn.as === 'lines') return [[line(mouth[0], tip)], [line(mouth[1], tip)]];
  const legs = ringRange(drawn.first, drawn.last, piece.seamLine.spans.length).flatMap(
    (i) => piece.seamLine.spans[i]?.segments ?? [],
  );
  const nearest = legs.reduce(
    (best, s, i) => (distance(s.to, tip) < distance((legs[best] as Segment).to, tip) ? i : best),
    0,
  );
  return [legs.slice(0, nearest + 1), legs.slice(nearest + 1)];
};
