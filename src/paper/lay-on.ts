import { cross, distance, dot, type Point, subtract } from '../geometry/point.ts';
import { footOn } from './tracing.ts';

/* One piece of paper laid on another: rows of points along edges, and the turn and shift that bring one on another. */

/** A row of points with their distances along it. */
export interface Row {
  readonly points: readonly Point[];
  readonly along: readonly number[];
}

export const alongRow = (points: readonly Point[]): number[] => {
  const out: number[] = [0];
  points.slice(1).forEach((p, k) => {
    out.push((out[k] as number) + distance(points[k] as Point, p));
  });
  return out;
};

export const rowOf = (points: readonly Point[]): Row => ({ points, along: alongRow(points) });

export interface RowFoot {
  readonly k: number;
  readonly t: number;
  readonly at: Point;
  readonly along: number;
  readonly away: number;
}

/** The place of a row nearest to p. */
export const footOnRow = ({ points, along }: Row, p: Point): RowFoot => {
  let best: RowFoot = { k: 0, t: 0, at: points[0] as Point, along: 0, away: Number.POSITIVE_INFINITY };
  for (let k = 0; k + 1 < points.length; k++) {
    const [a, b] = [points[k] as Point, points[k + 1] as Point];
    const t = footOn(a, b, p);
    const at = { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t };
    const away = distance(at, p);
    if (away < best.away) best = { k, t, at, along: (along[k] as number) + distance(a, at), away };
  }
  return best;
};

/** The place so far along a row; past its ends the row goes on straight. */
export const placeAt = ({ points, along }: Row, s: number): Point => {
  let k = along.findIndex(
    (_, i) => i > 0 && (along[i] as number) >= s && (along[i] as number) > (along[i - 1] as number),
  );
  if (k < 0) k = along.length - 1;
  while (k > 1 && (along[k] as number) === (along[k - 1] as number)) k--;
  const [a, b] = [points[k - 1] as Point, points[k] as Point];
  const from = along[k - 1] as number;
  const t = (s - from) / ((along[k] as number) - from || 1);
  return { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t };
};

/** The part of a row between two places along it, its ends put in. */
export const partOfRow = (row: Row, from: number, to: number): Point[] => [
  placeAt(row, from),
  ...row.points.filter((_, k) => (row.along[k] as number) > from + ONE && (row.along[k] as number) < to - ONE),
  placeAt(row, to),
];

/** Nearer along a row than this two places are one, mm. */
const ONE = 1e-6;

/** How a piece lies on another: from its own upright frame to that of the other, and back. */
export interface Laid {
  readonly on: (p: Point) => Point;
  readonly back: (p: Point) => Point;
  /** Turned over. */
  readonly mirrored: boolean;
  /** The furthest that its row lies from the other, mm. */
  readonly off: number;
}

const turnedOver = (p: Point): Point => ({ x: -p.x, y: p.y });

/** The turn and shift that bring points, turned over when `mirrored`, nearest to their targets (least squares). */
export const layPoints = (own: readonly Point[], targets: readonly Point[], mirrored = false): Laid => {
  const points = mirrored ? own.map(turnedOver) : own;
  const [c, d] = [middle(points), middle(targets)];
  let [sin, cos] = [0, 0];
  points.forEach((p, i) => {
    const [u, v] = [subtract(p, c), subtract(targets[i] as Point, d)];
    sin += cross(u, v);
    cos += dot(u, v);
  });
  const n = Math.hypot(sin, cos) || 1;
  const [s, k] = [sin / n, cos / n];
  const put = (p: Point): Point => {
    const u = subtract(p, c);
    return { x: d.x + k * u.x - s * u.y, y: d.y + s * u.x + k * u.y };
  };
  const take = (p: Point): Point => {
    const v = subtract(p, d);
    return { x: c.x + k * v.x + s * v.y, y: c.y - s * v.x + k * v.y };
  };
  return {
    on: (p) => put(mirrored ? turnedOver(p) : p),
    back: (p) => (mirrored ? turnedOver(take(p)) : take(p)),
    mirrored,
    off: Math.max(...points.map((p, i) => distance(put(p), targets[i] as Point))),
  };
};

const middle = (points: readonly Point[]): Point => ({
  x: points.reduce((s, p) => s + p.x, 0) / points.length,
  y: points.reduce((s, p) => s + p.y, 0) / points.length,
});
