import { type Bounds, EMPTY_BOUNDS, heightOfBounds, unionBounds, widthOf } from '../geometry/bounds.ts';
import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import { boundsOf, type Segment } from '../geometry/segment.ts';
import { type Affine, apply } from '../geometry/transform.ts';
import { outlineSegments } from '../pattern/edges.ts';
import type { InnerLine, Piece, Span } from '../pattern/piece.ts';
import { cornerMoves, tipMoves } from './moves.ts';
import { escaped, pathData, written } from './path-data.ts';
import { standing, transformed } from './standing.ts';

/* One piece as it was and as it is, laid over each other as they stand: what stayed lies on itself. */

export interface Overlay {
  readonly before: Piece;
  readonly after: Piece;
}

/** A picture part in millimetres, y down, its upper left corner at the origin. */
export interface Picture {
  readonly markup: string;
  readonly width: number;
  readonly height: number;
}

/**
 * Looks that are told apart by line as well as by tone, in colour, in grey and by the colour-blind: as it was dashed,
 * as it is solid. Classes are prefixed so that a page may hold several pictures.
 */
export const OVERLAY_STYLE = [
  '.p-was{fill:none;stroke:#767676;stroke-width:1.2;stroke-dasharray:6 4}',
  '.p-is{fill:#0b4f8a;fill-opacity:.07;stroke:#0b2f52;stroke-width:1.8;stroke-linejoin:round}',
  '.p-cut{fill:none;stroke:#0b2f52;stroke-width:.7}',
  '.p-in-was{fill:none;stroke:#8a8a8a;stroke-width:.7;stroke-dasharray:3 3}',
  '.p-in{fill:none;stroke:#333;stroke-width:.8}',
  '.p-grain{fill:none;stroke:#333;stroke-width:1}',
  '.p-move{stroke:#b3261e;stroke-width:1.6;fill:none}',
  '.p-move-head{fill:#b3261e}',
  '.p-text{font:13px sans-serif;fill:#111}',
  '.p-small{font:11px sans-serif;fill:#8c1d18}',
].join('');

/** Room for lettering round a piece, mm. */
const MARGIN = 28;
/** A corner that moved less is not pointed at, mm. */
const TELLING = 1;

const segmentsOf = (spans: readonly Span[]): Segment[] => spans.flatMap((s) => [...s.segments]);

/** @param show a length in words, signed or not: '+12.7 mm' */
export const overlay = ({ before, after }: Overlay, show: (mm: number) => string): Picture => {
  const m = standing(before);
  const outline = (p: Piece): Segment[] => transformed(m, outlineSegments(p.seamLine));
  const cutting = (p: Piece): Segment[] => (p.cuttingLine ? transformed(m, outlineSegments(p.cuttingLine)) : []);
  const all = [...outline(before), ...outline(after), ...cutting(before), ...cutting(after)];
  const bounds = all.reduce<Bounds>((b, s) => unionBounds(b, boundsOf(s)), EMPTY_BOUNDS);
  const body = [
    path('p-is', outline(after), true),
    path('p-cut', cutting(after), true),
    ...innerLines(before, after, m),
    path('p-was', outline(before), true),
    ...movesOf(before, after, m, show),
    label(after, bounds),
  ];
  const shift = `translate(${written(MARGIN - bounds.minX)} ${written(MARGIN - bounds.minY)})`;
  return {
    markup: `<g transform="${shift}">${body.filter((part) => part !== '').join('')}</g>`,
    width: widthOf(bounds) + 2 * MARGIN,
    height: heightOfBounds(bounds) + 2 * MARGIN,
  };
};

const path = (look: string, segments: readonly Segment[], closed: boolean): string =>
  segments.length === 0 ? '' : `<path class="${look}" d="${pathData(segments, closed)}"/>`;

/** Lines on the paper as they are; as they were where they moved. */
const innerLines = (before: Piece, after: Piece, m: Affine): string[] => {
  const was = new Map(before.lines.map((l) => [l.id, l]));
  const draw = (look: string, l: InnerLine): string => path(look, transformed(m, segmentsOf(l.spans)), l.closed);
  return after.lines.flatMap((l) => {
    const old = was.get(l.id);
    const now = draw(l.kind === 'grain' ? 'p-grain' : 'p-in', l);
    return old && old.spans !== l.spans ? [draw('p-in-was', old), now] : [now];
  });
};

/** An arrow with the distance at every corner that moved, and at dart tips and landmarks. */
const movesOf = (before: Piece, after: Piece, m: Affine, show: (mm: number) => string): string[] =>
  [...cornerMoves(before, after), ...tipMoves(before, after)]
    .map(({ from, to }) => ({ from: apply(m, from), to: apply(m, to) }))
    .filter(({ from, to }) => distance(from, to) >= TELLING)
    .map(({ from, to }) => arrow(from, to) + text('p-small', { x: to.x + 4, y: to.y - 4 }, show(distance(from, to))));

const HEAD = 5;

/** An arrow from one place to another; as short as it may be, its head shows. */
const arrow = (from: Point, to: Point): string => {
  const length = distance(from, to);
  const [ux, uy] = [(to.x - from.x) / length, (to.y - from.y) / length];
  const base = { x: to.x - ux * HEAD, y: to.y - uy * HEAD };
  const side = (k: number): string =>
    `${written(base.x - k * uy * HEAD * 0.5)} ${written(base.y + k * ux * HEAD * 0.5)}`;
  return (
    `<path class="p-move" d="M${written(from.x)} ${written(from.y)}L${written(to.x)} ${written(to.y)}"/>` +
    `<path class="p-move-head" d="M${written(to.x)} ${written(to.y)}L${side(1)} ${side(-1)}Z"/>`
  );
};

const text = (look: string, p: Point, words: string): string =>
  `<text class="${look}" x="${written(p.x)}" y="${written(p.y)}">${escaped(words)}</text>`;

const label = (piece: Piece, bounds: Bounds): string =>
  text('p-text', { x: bounds.minX, y: bounds.maxY + MARGIN * 0.75 }, piece.name || piece.id);

/** Pictures side by side, their feet on one line. */
export const inARow = (pictures: readonly Picture[]): Picture => {
  const height = Math.max(0, ...pictures.map((p) => p.height));
  let x = 0;
  const parts = pictures.map((p) => {
    const placed = `<g transform="translate(${written(x)} ${written(height - p.height)})">${p.markup}</g>`;
    x += p.width;
    return placed;
  });
  return { markup: parts.join(''), width: x, height };
};
