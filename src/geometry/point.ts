/** Points and vectors in the plane: millimetres, y up. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

export const ORIGIN: Point = { x: 0, y: 0 };

export const point = (x: number, y: number): Point => ({ x, y });
export const add = (a: Point, b: Point): Point => ({ x: a.x + b.x, y: a.y + b.y });
export const subtract = (a: Point, b: Point): Point => ({ x: a.x - b.x, y: a.y - b.y });
export const scale = (a: Point, k: number): Point => ({ x: a.x * k, y: a.y * k });
export const dot = (a: Point, b: Point): number => a.x * b.x + a.y * b.y;
/** z of the cross product: positive when b lies anticlockwise of a. */
export const cross = (a: Point, b: Point): number => a.x * b.y - a.y * b.x;
// Math.hypot guards against overflow, which millimetres never meet, and costs several times as much as this.
export const size = (a: Point): number => Math.sqrt(a.x * a.x + a.y * a.y);
export const distance = (a: Point, b: Point): number => {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  return Math.sqrt(dx * dx + dy * dy);
};
/** Unit vector along a; the zero vector stays zero. */
export const unit = (a: Point): Point => {
  const n = size(a);
  return n === 0 ? ORIGIN : { x: a.x / n, y: a.y / n };
};
/** a turned a quarter anticlockwise. */
export const left = (a: Point): Point => ({ x: -a.y, y: a.x });
export const between = (a: Point, b: Point, t: number): Point => ({
  x: a.x + (b.x - a.x) * t,
  y: a.y + (b.y - a.y) * t,
});
/** Direction of a in radians, anticlockwise from +x, in (−π, π]. */
export const angleOf = (a: Point): number => Math.atan2(a.y, a.x);
/** p turned about `centre` by `angle` radians, anticlockwise. */
export const turn = (p: Point, angle: number, centre: Point = ORIGIN): Point => {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const dx = p.x - centre.x;
  const dy = p.y - centre.y;
  return { x: centre.x + c * dx - s * dy, y: centre.y + s * dx + c * dy };
};
/** Angle from direction a to direction b, radians in (−π, π], anticlockwise positive. */
export const turnBetween = (a: Point, b: Point): number => Math.atan2(cross(a, b), dot(a, b));
/** Turn at b of the way from a over b to c, radians in (−π, π], anticlockwise positive. */
export const turnOver = (a: Point, b: Point, c: Point): number => {
  const inX = b.x - a.x;
  const inY = b.y - a.y;
  const outX = c.x - b.x;
  const outY = c.y - b.y;
  return Math.atan2(inX * outY - inY * outX, inX * outX + inY * outY);
};
export const same = (a: Point, b: Point): boolean => a.x === b.x && a.y === b.y;
export const near = (a: Point, b: Point, tolerance: number): boolean => distance(a, b) <= tolerance;
