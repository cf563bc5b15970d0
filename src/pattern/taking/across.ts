import { crossingsWithLine } from '../../geometry/intersect.ts';
import { encloses } from '../../geometry/path.ts';
import { same } from '../../geometry/point.ts';
import { line, type Segment } from '../../geometry/segment.ts';
import { dartOutlines, takesWidth } from '../dart-legs.ts';
import { edgeLength, edgeWithRole, outlineSegments, ringRange } from '../edges.ts';
import type { Dart, LevelName, Piece } from '../piece.ts';
import { acrossOf, fromPaper, rightOf, toPaper } from '../upright.ts';
import { type Counted, counted, type Lack, lacksLevel } from './taken.ts';

/* How wide one paper is across, darts closed. */

/**
 * Width of one paper at a level, mm: waist and hem along their edges with darts closed, every other level (and the
 * waist of a dress, which has no edge there) straight across. Undefined when the piece does not have that level.
 */
export const widthAt = (piece: Piece, level: LevelName): number | undefined => {
  if (level === 'waist' || level === 'hem') {
    const edges = edgeWithRole(piece, level);
    if (edges.length > 0) return edges.reduce((sum, e) => sum + edgeLength(piece, e), 0);
  }
  const height = piece.levels.find((l) => l.name === level)?.height;
  if (height === undefined) return undefined;
  return THROUGH_CORNERS.has(level) ? outermostWidth(piece, height) : straightWidth(piece, height);
};

/** Levels that run through corners: there armhole or cap may dip below the level, and that is no opening in the piece. */
const THROUGH_CORNERS: ReadonlySet<LevelName> = new Set(['underarm', 'biceps']);

const outermostWidth = (piece: Piece, height: number): number => {
  const across = crossings(piece, withoutDarts(piece), height);
  return across.length === 0 ? 0 : (across.at(-1) as number) - (across[0] as number) - intakeAt(piece, height);
};

/** The same as a part of a girth; or the level that the piece lacks. */
export const acrossAt = (piece: Piece, level: LevelName, times: number): Counted | Lack => {
  const width = widthAt(piece, level);
  return width === undefined
    ? lacksLevel(piece, level)
    : counted(piece, `straight across at the ${level} level`, width, times);
};

/**
 * Width of the piece straight across at a height, what lies outside the seam line left out, mm. Darts are closed: what
 * lies between the legs of an upright dart that the level crosses from leg to leg is left out; one that lies along the
 * level (a side dart) is passed over as if the seam ran on.
 */
export const straightWidth = (piece: Piece, height: number): number => {
  const ring = withoutDarts(piece);
  const across = crossings(piece, ring, height).filter(
    (x, i, all) => i === 0 || x - (all[i - 1] as number) > SAME_PLACE,
  );
  const stretches = across.slice(1).map((x, i) => [across[i] as number, x] as const);
  const onPaper =
    stretches.length === 1 ? stretches : stretches.filter(([a, b]) => lies(piece, ring, (a + b) / 2, height));
  return onPaper.reduce((sum, [a, b]) => sum + b - a, 0) - intakeAt(piece, height);
};

/** Whether a place lies on the paper: a level may run along a hollow edge and touch it at its lowest point. */
const lies = (piece: Piece, ring: readonly Segment[], x: number, height: number): boolean =>
  encloses({ segments: ring, closed: true }, fromPaper(piece.upright, { x, y: height }));

/** What the darts take in at a height, mm: for each the distance from leg to leg. */
export const intakeAt = (piece: Piece, height: number): number =>
  piece.darts
    .filter((d) => standsUp(piece, d))
    .reduce((sum, dart) => {
      const [one, other] = dartOutlines(piece, dart).map((legs) => crossings(piece, legs, height)[0]);
      return one === undefined || other === undefined ? sum : sum + Math.abs(other - one);
    }, 0);

const standsUp = ({ upright }: Piece, { mouth, tip }: Dart): boolean =>
  takesWidth([toPaper(upright, mouth[0]), toPaper(upright, mouth[1])], toPaper(upright, tip));

/** Two crossings nearer than this are one, mm: a level that runs through a joint meets both stretches there, whose ends a file may have a hair apart. */
const SAME_PLACE = 0.001;

/** Where a level crosses lines, across the upright, from left to right, mm. */
const crossings = (piece: Piece, lines: readonly Segment[], height: number): number[] => {
  const through = fromPaper(piece.upright, { x: 0, y: height });
  return crossingsWithLine(lines, through, rightOf(piece.upright)).map((c) => acrossOf(piece.upright, c.point));
};

/** The seam line with a straight stretch across the mouth of every dart that is drawn in it. */
const withoutDarts = (piece: Piece): readonly Segment[] => {
  const { spans } = piece.seamLine;
  const bridged = new Map<number, readonly Segment[]>();
  for (const { drawn } of piece.darts) {
    if (drawn.as !== 'outline') continue;
    const legs = ringRange(drawn.first, drawn.last, spans.length);
    const segments = legs.flatMap((i) => spans[i]?.segments ?? []);
    for (const i of legs) bridged.set(i, []);
    const [from, to] = [segments[0]?.from, segments.at(-1)?.to];
    if (from && to) bridged.set(drawn.first, [line(from, to)]);
  }
  if (bridged.size === 0) return withoutGaps(outlineSegments(piece.seamLine));
  return withoutGaps(spans.flatMap((span, i) => bridged.get(i) ?? span.segments));
};

/** The ends of drawn lines may lie a hair apart, and a level can pass between them: the gap is bridged. */
const withoutGaps = (ring: readonly Segment[]): Segment[] =>
  ring.flatMap((s, i) => {
    const next = ring[(i + 1) % ring.length] as Segment;
    return same(s.to, next.from) ? [s] : [s, line(s.to, next.from)];
  });
