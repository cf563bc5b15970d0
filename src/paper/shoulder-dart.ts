import type { Point } from '../geometry/point.ts';
import { add, between, dot, scale, subtract, unit } from '../geometry/point.ts';
import type { Dart } from '../pattern/piece.ts';
import { runAlong, type Shoulder } from './armhole.ts';
import { drawDart, LEAST_DART } from './darts.ts';
import { evenly, type Prior, placedAt, priorOf } from './joining.ts';
import {
  at,
  dartLegs,
  inDarts,
  intake,
  mouthIndex,
  neighbourRun,
  pointsOf,
  sewnLength,
  stretchBetweenMouths,
} from './runs.ts';
import { solveFor } from './solve.ts';
import type { Prick, Tracing } from './tracing.ts';

/* What a shoulder has too much or too little of, taken by a dart in it. */

/** What is left of a dart that is closed, mm. */
const CLOSED = 0.1;
/** How deep a new dart in the shoulder is, mm: 3 in (common practice). */
const DART_DEPTH = 76.2;

/** A dart in the shoulder is made wider or narrower; where there is none, one is drawn for what is worth sewing. */
export const intoDart = (tracing: Tracing, shoulder: Shoulder, length: number): Tracing => {
  const over = sewnLength(tracing, shoulder.edge) - length;
  const dart = tracing.piece.darts.find((d) => d.edge === shoulder.edge);
  if (dart) {
    // A dart that is cut into the outline is not closed up: its legs would lie on each other.
    const least = dart.drawn.as === 'outline' ? LEAST_DART : CLOSED;
    const by = Math.max(over, Math.min(0, least - intake(tracing, dart.id)));
    const target = sewnLength(tracing, shoulder.edge) - by;
    const parted = (x: number): Tracing => partMouths(tracing, dart, x);
    return solveFor(parted, (made) => sewnLength(made, shoulder.edge) - target, by, by * 0.98, 5e-4);
  }
  const like =
    tracing.piece.lines.find((l) => l.kind === 'dart') ?? tracing.piece.lines.find((l) => l.kind === 'grain');
  if (over < LEAST_DART || !like) return tracing;
  return drawDart(tracing, shoulder.edge, like.id, { intake: over, depth: DART_DEPTH }, 0.5, 'dart');
};

/**
 * The mouths of a dart go apart along the line between them, half each, its tip stays: a seam that is drawn straight
 * across the mouth stays so.
 */
const partMouths = (tracing: Tracing, dart: Dart, by: number): Tracing => {
  if (by === 0) return tracing;
  const prior = priorOf(tracing);
  const mouths = ([0, 1] as const).map((which) => mouthIndex(tracing, dart.id, which)) as [number, number];
  const [a, b] = pointsOf(tracing, mouths) as [Point, Point];
  const half = scale(unit(subtract(b, a)), by / 2);
  const parted = placedAt(tracing, mouths, [subtract(a, half), add(b, half)]);
  const inside = dart.drawn.as === 'outline' ? dartLegs(tracing, dart) : [stretchBetweenMouths(tracing, dart.id)];
  const beside = [neighbourRun(tracing, mouths[0], 'before'), neighbourRun(tracing, mouths[1], 'after')];
  return [...inside, ...beside].reduce((t, run) => evenly(t, prior, run), parted);
};

/**
 * A shoulder drawn through between its ends, where they are now: what was straight stays straight, across a dart too,
 * which goes along with the place that it stands at.
 * @param prior where the pricks of the edge lay when its ends had not moved; the tips of its darts lie there still
 */
export const drawnBetweenEnds = (now: Tracing, prior: Prior, shoulder: Shoulder): Tracing => {
  const run = runAlong(now, shoulder);
  const old = run.map((i) => prior(now.seam[i] as Prick));
  const [a, b] = [old[0] as Point, old.at(-1) as Point];
  const [first, last] = [subtract(at(now, run[0] as number), a), subtract(at(now, run.at(-1) as number), b)];
  const way = subtract(b, a);
  const shift = (p: Point): Point => between(first, last, dot(subtract(p, a), way) / dot(way, way));
  const darts = now.piece.darts.filter((d) => d.edge === shoulder.edge);
  const stand = new Map(
    darts.map((d) => {
      const mouths = ([0, 1] as const).map((which) => prior(now.seam[mouthIndex(now, d.id, which)] as Prick));
      return [d.id, shift(between(mouths[0] as Point, mouths[1] as Point, 0.5))] as const;
    }),
  );
  const within = inDarts(now, shoulder.edge);
  const moves = run.map((i, k) => {
    const dart = within.get(i);
    const own = shift(old[k] as Point);
    return dart ? between(own, stand.get(dart.dart) as Point, dart.towardsTip) : own;
  });
  const drawn = placedAt(
    now,
    run,
    old.map((p, k) => add(p, moves[k] as Point)),
  );
  const tips = [...now.tips].map(([id, t]) => {
    const by = stand.get(id);
    return [id, by ? { ...t, at: add(t.at, by) } : t] as const;
  });
  return { ...drawn, tips: new Map(tips) };
};
