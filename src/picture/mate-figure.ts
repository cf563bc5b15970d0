import { type Bounds, EMPTY_BOUNDS, grown, heightOfBounds, unionBounds, widthOf } from '../geometry/bounds.ts';
import { polyline } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { boundsOf } from '../geometry/segment.ts';
import { type Figure, type Mark, moved, stroke } from './figure.ts';
import { lettersWide } from './labels.ts';
import { LOOKS } from './looks.ts';
import type { SeamEnds, Stub } from './seam-ends.ts';

/*
 * Two rows of edges walked: both drawn out straight, edge to edge, the one above the seam and the other below it. Notches
 * stand where the walk meets them, and at the ends the neighbouring edges leave at their true angles, so that one sees
 * whether the line goes on across the seam.
 */

/** One edge in a row, walked once. */
export interface Stretch {
  readonly name: string;
  /** mm, darts closed. */
  readonly length: number;
}

export interface Row {
  readonly stretches: readonly Stretch[];
  /** Distances of notches from the lower end, mm. Only of a row of one edge. */
  readonly notches: readonly number[];
  /** Only of a row of one edge. */
  readonly ends?: SeamEnds | undefined;
}

export interface MatesShown {
  readonly one: Row;
  readonly other: Row;
  readonly scale: number;
  readonly title: string;
  readonly describes: string;
}

/** mm, printed. */
const BAND = 5.6;
const NOTCH = 1.6;
const MARGIN = 1;
/** Differences that are drawn, mm on the piece. */
const TELLING = 0.5;

export const mateFigure = ({ one, other, scale, title, describes }: MatesShown): Figure => {
  const [a, b] = [lengthOf(one) / scale, lengthOf(other) / scale];
  const marks: Mark[] = [
    ...band(one, scale, -1),
    ...band(other, scale, 1),
    // Where a row of several meets one edge, what lies beyond its ends says nothing of the seam.
    ...(one.ends && other.ends ? [...ends(one.ends, a, scale, -1), ...ends(other.ends, b, scale, 1)] : []),
    stroke('is', 0, 0, Math.min(a, b), 0),
    ...(Math.abs(a - b) * scale < TELLING ? [] : [stroke('apart', Math.min(a, b), 0, Math.max(a, b), 0)]),
  ];
  const bounds = grown(marks.map(boxOf).reduce(unionBounds, EMPTY_BOUNDS), MARGIN);
  return {
    width: widthOf(bounds),
    height: heightOfBounds(bounds),
    marks: moved(marks, -bounds.minX, -bounds.minY),
    ...{ title, describes },
  };
};

export const lengthOf = ({ stretches }: Row): number => stretches.reduce((sum, s) => sum + s.length, 0);

/** The stretches of a row beside the seam, parted where one edge meets the next, with their names. */
const band = (row: Row, scale: number, side: 1 | -1): Mark[] => {
  let x = 0;
  const marks = row.stretches.flatMap(({ name, length }, i): Mark[] => {
    const [from, to] = [x, x + length / scale];
    x = to;
    const corners = [
      { x: from, y: 0 },
      { x: to, y: 0 },
      { x: to, y: side * BAND },
      { x: from, y: side * BAND },
    ];
    const fits = to - from > lettersWide(name, LOOKS['edge-name'].size ?? 3) + 2;
    const at = { x: (from + to) / 2, y: side * BAND * 0.62 + 1.05 };
    // Where a name has no room, its place in the row stands for it.
    const said = fits ? name : `${i + 1}`;
    return [
      { kind: 'area', look: 'paper', rings: [polyline(corners, true).segments] },
      ...(to - from > 0 ? [stroke('rule', to, 0, to, side * BAND)] : []),
      { kind: 'words', look: 'edge-name', at, anchor: 'middle', words: said },
    ];
  });
  const notches = row.notches.map((n) => stroke('notch', n / scale, 0, n / scale, side * NOTCH));
  return [...marks, stroke('rule', 0, 0, 0, side * BAND), ...notches];
};

/** The neighbours at both ends; the piece lies above the seam for the first row (y down: −1), below it for the other. */
const ends = (both: SeamEnds, length: number, scale: number, side: 1 | -1): Mark[] => {
  const way = (stub: Stub, x: number): Mark => {
    const points: Point[] = stub.map((p) => ({ x: x + p.x / scale, y: (side * p.y) / scale }));
    return { kind: 'line', look: 'is', segments: polyline(points).segments, closed: false };
  };
  return [way(both.lower, 0), way(both.upper, length)];
};

const boxOf = (mark: Mark): Bounds => {
  if (mark.kind === 'line') return mark.segments.map(boundsOf).reduce(unionBounds, EMPTY_BOUNDS);
  if (mark.kind === 'area') return mark.rings.flat().map(boundsOf).reduce(unionBounds, EMPTY_BOUNDS);
  const size = LOOKS[mark.look].size ?? 3;
  const w = lettersWide(mark.words, size);
  const from = mark.at.x - (mark.anchor === 'middle' ? w / 2 : mark.anchor === 'end' ? w : 0);
  return { minX: from, maxX: from + w, minY: mark.at.y - size, maxY: mark.at.y + size * 0.3 };
};
