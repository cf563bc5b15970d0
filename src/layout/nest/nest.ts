import { Bug } from '../../finding.ts';
import {
  cosSin,
  EFFORTS,
  type NestItem,
  type Nesting,
  type NestOptions,
  type NestPlacement,
  type NestStrip,
} from './item.ts';
import { type Layout, layoutOf, type Snapshot } from './layout.ts';
import { randomFrom } from './random.ts';
import { hullOf, pointsOf, ringBounds, ringOf, turnedRing } from './ring.ts';
import { search } from './search.ts';
import type { Lie } from './shapes.ts';
import { outside, overlaps } from './verify.ts';

/** What a layout may be off by: mm over a margin, and the share of the smaller piece in common with another. */
const OVER = 1e-3;
const ALLOWED = 1e-4;

/**
 * One search from one seed. Poses in which an item is higher than the strip are passed over.
 * Throws a Bug when an item has no other pose or no area, or when what was found is no layout.
 */
export const nestOnce = (items: readonly NestItem[], strip: NestStrip, options: NestOptions, seed: number): Nesting => {
  const { effort = 'usual' } = options;
  const of = typeof effort === 'number' ? effort : EFFORTS[effort];
  const { start = 0, end = 0 } = strip.margins ?? {};
  const layout = layoutOf(
    items.map((item) => ({ ...item, poses: fittingPoses(item, strip) })),
    strip,
  );
  const budget = { used: 0, of };
  const best = search(layout, randomFrom(seed), budget, (placed, length) => {
    options.onProgress?.({ placed, iterations: budget.used, of, length: length + start + end });
  });
  const placements = placementsOf(layout, best, strip);
  const length = best.length + start + end;
  verify(items, placements, strip, length, layout.shapes.hulled);
  const area = layout.areas.reduce((a, b) => a + b, 0);
  const density = best.length > 0 ? area / (layout.height * best.length) : 0;
  return { placements, length, density, iterations: budget.used, seed, hulled: layout.shapes.hulled };
};

const fittingPoses = (item: NestItem, strip: NestStrip): NestItem['poses'] => {
  const { low = 0, high = 0 } = strip.margins ?? {};
  const ring = ringOf(item.outline);
  if (ring.length < 6) throw new Bug(`nest: ${item.name} has no area`);
  const poses = item.poses.filter(({ turn, mirror }) => {
    const { cos, sin } = cosSin(turn);
    // Mirrored left to right and turned by t is as high as it is turned by −t.
    const [, minY, , maxY] = ringBounds(turnedRing(ring, cos, mirror ? -sin : sin));
    return maxY - minY <= strip.height - low - high + OVER / 2;
  });
  if (poses.length === 0) throw new Bug(`nest: ${item.name} does not fit on the strip in any pose`);
  return poses;
};

const placementsOf = (layout: Layout, best: Snapshot, strip: NestStrip): NestPlacement[] => {
  const { start = 0, low = 0 } = strip.margins ?? {};
  return Array.from(layout.itemOf, (item, i) => {
    const lie = layout.shapes.lies[best.lie[i] as number] as Lie;
    const middle = layout.shapes.middles[item] as { readonly x: number; readonly y: number };
    const mx = lie.mirror ? -middle.x : middle.x;
    const x = start + (best.x[i] as number) - (lie.cos * mx - lie.sin * middle.y);
    const y = low + (best.y[i] as number) - (lie.sin * mx + lie.cos * middle.y);
    return { item, copy: layout.copyOf[i] as number, turn: lie.turn, mirror: lie.mirror, offset: { x, y } };
  });
};

/** The search keeps simplified outlines apart; this looks at the given ones, by another way. */
const verify = (
  given: readonly NestItem[],
  placements: readonly NestPlacement[],
  strip: NestStrip,
  length: number,
  hulled: readonly number[],
): void => {
  const items = given.map((item, i) =>
    hulled.includes(i) ? { ...item, outline: pointsOf(hullOf(ringOf(item.outline))) } : item,
  );
  const nameOf = (k: number): string => (items[(placements[k] as NestPlacement).item] as NestItem).name;
  const pair = overlaps(items, placements, ALLOWED)[0];
  if (pair) {
    throw new Bug(`nest: ${nameOf(pair.first)} and ${nameOf(pair.second)} overlap by ${pair.share} of the smaller`);
  }
  const over = outside(items, placements, strip, length, OVER)[0];
  if (over !== undefined) throw new Bug(`nest: ${nameOf(over)} reaches over a margin`);
};
