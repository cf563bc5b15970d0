import type { SewnEdge } from '../pattern/pattern.ts';
import { type Garment, onPiece, seamMates, tracingOf } from './garment.ts';
import { notchesAlong } from './notch-places.ts';
import { along, at, edgeRun, mouthIndex, pointsOf } from './runs.ts';
import { proportionally, slideAlong } from './slide.ts';
import { type Tracing, trace } from './tracing.ts';

/** Notches that have come this far apart are brought together again, mm: half of what a check would tell. */
const APART = 0.25;

/**
 * Where a change has made one of two mates longer on a stretch between notches than the other, though both are of one
 * length as wholes, the notches slide along their seams, each by half, until they meet as they did. A piece that was left
 * alone keeps its own.
 */
export const notchesMeet = (garment: Garment, touched: ReadonlySet<string>): Garment =>
  seamMates(garment.pattern).reduce((now, mates) => {
    const [a, b] = [mates.one[0], mates.other[0]];
    if (!a || !b || a.piece === b.piece || a.times !== b.times) return now;
    const one = gainedWays(now, a);
    const other = gainedWays(now, b);
    if (one.length !== other.length) return now;
    const off = one.map((gain, i) => gain - (other[i] as number));
    if (off.every((o) => Math.abs(o) < APART)) return now;
    const movable = [a, b].filter((s) => touched.has(s.piece)).length;
    return [a, b].reduce((g, s, k) => {
      if (!touched.has(s.piece)) return g;
      const by = off.map((o) => ((k === 0 ? -1 : 1) * o) / movable);
      return onPiece(g, s.piece, (t) => notchesSlid(t, s.edge, by));
    }, now);
  }, garment);

interface Way {
  /** Along the edge's run, mouths of darts with it, mm. */
  readonly along: number;
  /** As sewn, from the edge's lower end, mm. */
  readonly sewn: number;
}

/** How far each notch of an edge has come from its lower end, more than it stood, rising, mm. */
const gainedWays = (garment: Garment, { piece, edge }: SewnEdge): number[] => {
  const tracing = tracingOf(garment, piece);
  const was = waysUp(trace(tracing.piece), edge);
  return waysUp(tracing, edge).map((w, i) => w.sewn - (was[i] as Way).sewn);
};

const waysUp = (tracing: Tracing, edge: string): readonly Way[] => {
  const run = edgeRun(tracing, edge);
  const way = along(pointsOf(tracing, run));
  const mouths = mouthsAlong(tracing, edge);
  const sewnAt = (s: number): number =>
    s - mouths.reduce((sum, [from, to]) => sum + Math.min(to, Math.max(from, s)) - from, 0);
  const whole = sewnAt(way.at(-1) as number);
  const ways = notchesAlong(tracing, edge).map((n) => ({ along: n.along, sewn: sewnAt(n.along) }));
  return climbs(tracing, edge) ? ways : ways.map((w) => ({ ...w, sewn: whole - w.sewn })).reverse();
};

const climbs = (tracing: Tracing, edge: string): boolean => {
  const run = edgeRun(tracing, edge);
  return at(tracing, run.at(-1) as number).y >= at(tracing, run[0] as number).y;
};

/** Stretches of an edge's run between the mouths of its darts: folded away when it is sewn. */
const mouthsAlong = (tracing: Tracing, edge: string): (readonly [number, number])[] => {
  const run = edgeRun(tracing, edge);
  const way = along(pointsOf(tracing, run));
  return tracing.piece.darts
    .filter((d) => d.edge === edge)
    .map((d) => {
      const ends = ([0, 1] as const).map((which) => way[run.indexOf(mouthIndex(tracing, d.id, which))] ?? 0);
      return [Math.min(...ends), Math.max(...ends)] as const;
    });
};

/** Notches, from the lower one up, slide up by so much; ends and darts of the edge stay. */
const notchesSlid = (tracing: Tracing, edge: string, by: readonly number[]): Tracing => {
  const run = edgeRun(tracing, edge);
  const whole = along(pointsOf(tracing, run)).at(-1) as number;
  const up = climbs(tracing, edge) ? 1 : -1;
  const still = [0, whole, ...mouthsAlong(tracing, edge).flat()].map((w) => ({ from: w, to: w }));
  const slid = waysUp(tracing, edge).map((w, i) => ({ from: w.along, to: w.along + up * (by[i] as number) }));
  const places = [...still, ...slid].sort((p, q) => p.from - q.from);
  // Notches that would pass an end or one another stay where they are.
  if (places.some((p, i) => i > 0 && p.to < (places[i - 1] as typeof p).to)) return tracing;
  return slideAlong(tracing, run, proportionally(places));
};
