import { convexParts } from './convex.ts';
import { cosSin, type NestItem, type NestPlacement, type NestStrip } from './item.ts';
import { mirroredRing, movedRing, type Ring, ringArea, ringBounds, ringOf, turnedRing } from './ring.ts';

export interface Overlap {
  /** Indexes into the placements. */
  readonly first: number;
  readonly second: number;
  /** Area in common ÷ area of the smaller piece. */
  readonly share: number;
}

/** Pairs whose outlines, not simplified, have more than `allowed` of the smaller one's area in common. */
export const overlaps = (
  items: readonly NestItem[],
  placements: readonly NestPlacement[],
  allowed: number,
): Overlap[] => {
  const laid = placements.map((p) => laidOut((items[p.item] as NestItem).outline, p));
  const found: Overlap[] = [];
  laid.forEach((a, first) => {
    for (let second = first + 1; second < laid.length; second++) {
      const b = laid[second] as Laid;
      if (!boundsMeet(a.bounds, b.bounds)) continue;
      const share = commonArea(a, b) / Math.min(a.area, b.area);
      if (share > allowed) found.push({ first, second, share });
    }
  });
  return found;
};

/** Indexes of placements that reach over the margins by more than `tolerance` mm. */
export const outside = (
  items: readonly NestItem[],
  placements: readonly NestPlacement[],
  strip: NestStrip,
  length: number,
  tolerance: number,
): number[] => {
  const { start = 0, end = 0, low = 0, high = 0 } = strip.margins ?? {};
  return placements.flatMap((p, i) => {
    const [x0, y0, x1, y1] = laidOut((items[p.item] as NestItem).outline, p).bounds;
    const over = Math.max(start - x0, low - y0, x1 - (length - end), y1 - (strip.height - high));
    return over > tolerance ? [i] : [];
  });
};

type Box = readonly [number, number, number, number];

interface Laid {
  readonly parts: readonly { readonly ring: Ring; readonly bounds: Box }[];
  readonly bounds: Box;
  readonly area: number;
}

const laidOut = (outline: NestItem['outline'], { turn, mirror, offset }: NestPlacement): Laid => {
  const { cos, sin } = cosSin(turn);
  const own = ringOf(outline);
  const ring = movedRing(turnedRing(mirror ? mirroredRing(own) : own, cos, sin), offset.x, offset.y);
  const parts = convexParts(ring).map((part) => ({ ring: part, bounds: ringBounds(part) }));
  return { parts, bounds: ringBounds(ring), area: ringArea(ring) };
};

const boundsMeet = (a: Box, b: Box): boolean => a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];

/** The convex parts of one shape do not overlap, so the areas that pairs of them have in common add up. */
const commonArea = (a: Laid, b: Laid): number => {
  let sum = 0;
  for (const p of a.parts) {
    for (const q of b.parts) if (boundsMeet(p.bounds, q.bounds)) sum += Math.max(0, ringArea(clipped(p.ring, q.ring)));
  }
  return sum;
};

/** What of one convex ring lies in another (Sutherland and Hodgman 1974). */
const clipped = (ring: Ring, by: Ring): Ring => {
  let rest = Array.from(ring);
  for (let i = 0, j = by.length - 2; i < by.length && rest.length > 0; j = i, i += 2) {
    const ax = by[j] as number;
    const ay = by[j + 1] as number;
    const ex = (by[i] as number) - ax;
    const ey = (by[i + 1] as number) - ay;
    const kept: number[] = [];
    for (let k = 0, m = rest.length - 2; k < rest.length; m = k, k += 2) {
      const [px, py] = [rest[m] as number, rest[m + 1] as number];
      const [qx, qy] = [rest[k] as number, rest[k + 1] as number];
      const dp = ex * (py - ay) - ey * (px - ax);
      const dq = ex * (qy - ay) - ey * (qx - ax);
      if (dp < 0 !== dq < 0) kept.push(px + (dp / (dp - dq)) * (qx - px), py + (dp / (dp - dq)) * (qy - py));
      if (dq >= 0) kept.push(qx, qy);
    }
    rest = kept;
  }
  return Float64Array.from(rest);
};
