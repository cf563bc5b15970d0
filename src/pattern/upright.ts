import type { Point } from '../geometry/point.ts';
import { add, dot, scale, subtract } from '../geometry/point.ts';
import type { Upright } from './piece.ts';

/** Unit vector across the piece: `up` turned clockwise, so that it points right when the piece stands upright. */
export const rightOf = (upright: Upright): Point => ({ x: upright.up.y, y: -upright.up.x });

/** Height of p along the upright from its origin, mm. */
export const heightOf = (upright: Upright, p: Point): number => dot(subtract(p, upright.origin), upright.up);

/** Distance of p across the upright from its origin, mm, positive to the right. */
export const acrossOf = (upright: Upright, p: Point): number => dot(subtract(p, upright.origin), rightOf(upright));

/** p in the piece's own frame: x across, y height. A turn and a shift, so areas, lengths and handedness stay. */
export const toPaper = (upright: Upright, p: Point): Point => ({ x: acrossOf(upright, p), y: heightOf(upright, p) });

/** The inverse of {@link toPaper}. */
export const fromPaper = (upright: Upright, p: Point): Point =>
  add(upright.origin, add(scale(rightOf(upright), p.x), scale(upright.up, p.y)));
