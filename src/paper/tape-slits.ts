import type { Point } from '../geometry/point.ts';
import { add, between, distance, scale, subtract, turn, unit } from '../geometry/point.ts';
import { type Carrier, endsAtMouth } from './carry.ts';
import { at, mouthIndex } from './runs.ts';
import { footOn, moved, type Prick, pricked, type Tracing, trace } from './tracing.ts';

/*
 * The cutting line beside a slit that was opened to a dart: it is parted opposite the slit, each part rides with its leg,
 * and between them it runs along the new mouth (or over its cap) at the old distance.
 */

/** Darts that were slits, and are open now. */
const openedSlits = (tracing: Tracing): string[] => {
  const start = trace(tracing.piece);
  const wide = (t: Tracing, id: string): number => distance(at(t, mouthIndex(t, id, 0)), at(t, mouthIndex(t, id, 1)));
  return tracing.piece.darts
    .filter(
      (d) => d.edge !== undefined && d.drawn.as === 'lines' && wide(start, d.id) < 0.01 && wide(tracing, d.id) >= 0.01,
    )
    .map((d) => d.id);
};

/**
 * The pricks of a cutting line with those put in that stand opposite opened slits, where they come to lie.
 * @param ridden the other pricks where the seam has carried them, by their place in the row; undefined where folded away
 */
export const partedAtSlits = (
  pricks: readonly Prick[],
  ridden: readonly (Prick | undefined)[],
  carrier: Carrier,
  tracing: Tracing,
): Prick[] => {
  const start = trace(tracing.piece);
  const put = openedSlits(tracing).flatMap((dart) => {
    const mouth = at(start, mouthIndex(start, dart, 0));
    const foot = nearest(pricks, mouth);
    const ends = endsAtMouth(carrier, mouth);
    if (!foot || !ends) return [];
    const next = pricks[(foot.index + 1) % pricks.length] as Prick;
    const prick = pricked(pricks[foot.index] as Prick, next, Math.min(1 - 1e-6, Math.max(1e-6, foot.t)));
    const off = subtract(prick.was, mouth);
    const to = ends.map((e) => add(add(e.was, e.by), turn(off, e.turned))) as [Point, Point];
    const places = [to[0], ...overCap(tracing, dart, off), to[1]];
    const row = places.map(
      (p, i): Prick => ({ ...moved(prick, subtract(p, prick.was)), t: prick.t + i * 1e-9, bends: true }),
    );
    return [{ ...foot, row }];
  });
  if (put.length === 0) return ridden.filter((p) => p !== undefined);
  return ridden.flatMap((p, i) => [
    ...(p ? [p] : []),
    ...put
      .filter((s) => s.index === i)
      .toSorted((a, b) => a.t - b.t)
      .flatMap((s) => s.row),
  ]);
};

const nearest = (pricks: readonly Prick[], p: Point): { index: number; t: number } | undefined => {
  let best: { index: number; t: number; away: number } | undefined;
  pricks.forEach((a, index) => {
    const b = pricks[(index + 1) % pricks.length] as Prick;
    const t = footOn(a.was, b.was, p);
    const away = distance(p, between(a.was, b.was, t));
    if (!best || away < best.away) best = { index, t, away };
  });
  return best;
};

/** Over the peak of a cap the cutting line has a peak too. */
const overCap = (tracing: Tracing, dart: string, off: Point): Point[] => {
  const [a, b] = [mouthIndex(tracing, dart, 0), mouthIndex(tracing, dart, 1)];
  const n = tracing.seam.length;
  const peak = Array.from({ length: (b - a - 1 + n) % n }, (_, k) => tracing.seam[(a + 1 + k) % n] as Prick).find(
    (p) => p.bends,
  );
  const tip = tracing.tips.get(dart)?.at;
  return peak && tip ? [add(peak.at, scale(unit(subtract(peak.at, tip)), distance(off, { x: 0, y: 0 })))] : [];
};
