import { between, distance, type Point, scale } from '../geometry/point.ts';
import { bring, type EndMove, plus, STILL, turnEnd } from './bend.ts';
import { displaced } from './move-edge.ts';
import { along, at, edgeRun, inDarts, mouthIndex, pointsOf, type Run, sewnRuns } from './runs.ts';
import type { Prick, Tracing } from './tracing.ts';

/* Edges that follow what happened beside them: over a stretch of their own at one end, or mapped between two ends. */

/** The last `over` mm of an edge, towards one of its ends; the corner last. All of it when it is no longer than that. */
export const lastStretch = (tracing: Tracing, edgeId: string, end: 'start' | 'end', over: number): Run => {
  const whole = edgeRun(tracing, edgeId);
  const run = end === 'end' ? whole : [...whole].reverse();
  const way = along(pointsOf(tracing, run));
  const from = (way.at(-1) as number) - over;
  const first = way.findIndex((d) => d >= from - 1e-9);
  return run.slice(Math.max(0, Math.min(first, run.length - 2)));
};

/** The last `over` mm of an edge come along with its corner; what lies before them stays. */
export const carryEnd = (
  tracing: Tracing,
  edgeId: string,
  end: 'start' | 'end',
  move: EndMove,
  over = Number.POSITIVE_INFINITY,
): Tracing => {
  const run = lastStretch(tracing, edgeId, end, over);
  return { ...tracing, seam: displaced(tracing.seam, run, bring(pointsOf(tracing, run), STILL, move)) };
};

/** Shorter stretches than this are not bent, mm. */
const LEAST_REACH = 60;
/**
 * So many times what its corner moves, an edge comes along over: over less, a hollow that is pushed in grows sharp, of the
 * armhole and of the cap alike. Out and in go over the same, so that the one undoes the other; what the underarm then
 * gives less, the crown of the sleeve makes good.
 */
const REACH = 26;

/** Over how much of it an edge comes along when its corner goes out by `by` (in, when negative), mm. */
export const cornerReach = (by: number): number => Math.max(LEAST_REACH, REACH * Math.abs(by));

/** The corner at one end of an edge keeps its place, the edge is turned there over its last `reach` mm. */
export const turnAtEnd = (
  tracing: Tracing,
  edgeId: string,
  end: 'start' | 'end',
  turned: number,
  reach: number,
): Tracing => {
  if (turned === 0) return tracing;
  const runs = sewnRuns(tracing, edgeId);
  const outer = end === 'end' ? runs.at(-1) : runs[0] && [...runs[0]].reverse();
  if (!outer) return tracing;
  return { ...tracing, seam: displaced(tracing.seam, outer, turnEnd(pointsOf(tracing, outer), turned, reach)) };
};

/**
 * Moves an edge by what each of its places says. A dart in it keeps its tip, and straight legs: its mouths go with the
 * edge.
 */
export const shiftEdge = (tracing: Tracing, edgeId: string, by: (p: Point) => Point): Tracing => {
  const run = edgeRun(tracing, edgeId);
  const darts = inDarts(tracing, edgeId);
  const moves = new Map(
    tracing.piece.darts
      .filter((d) => d.edge === edgeId)
      .map((d) => {
        const mouths = ([0, 1] as const).map((which) => at(tracing, mouthIndex(tracing, d.id, which)));
        const [a, b] = mouths.map(by) as [Point, Point];
        return [d.id, { mouths: mouths as [Point, Point], by: [a, b] as const }];
      }),
  );
  const shifts = run.map((i) => {
    const p = at(tracing, i);
    const inside = darts.get(i);
    const dart = inside && moves.get(inside.dart);
    if (!dart || inside.towardsTip === 0) return by(p);
    const nearer = distance(p, dart.mouths[0]) <= distance(p, dart.mouths[1]) ? 0 : 1;
    return scale(dart.by[nearer], 1 - inside.towardsTip);
  });
  return { ...tracing, seam: displaced(tracing.seam, run, shifts) };
};

/** Maps an edge onto new ends: each place goes by its share of the way between them, darts in it as stiff parts. */
export const stretchEdge = (tracing: Tracing, edgeId: string, ends: { start: Point; end: Point }): Tracing => {
  const runs = sewnRuns(tracing, edgeId);
  const lengths = runs.map((run) => along(pointsOf(tracing, run)));
  const whole = lengths.reduce((sum, way) => sum + (way.at(-1) as number), 0);
  let passed = 0;
  const share = new Map<number, number>();
  runs.forEach((run, r) => {
    run.forEach((i, k) => {
      share.set(i, (passed + (lengths[r]?.[k] as number)) / whole);
    });
    passed += lengths[r]?.at(-1) as number;
  });
  const edge = edgeRun(tracing, edgeId);
  let last = 0;
  const shares = edge.map((i) => {
    last = share.get(i) ?? last;
    return last;
  });
  const shifts = shares.map((u) => between(ends.start, ends.end, u));
  const tips = [...tracing.tips].map(([id, tip]) => {
    const dart = tracing.piece.darts.find((d) => d.id === id);
    const mouth = dart?.edge === edgeId ? edge.indexOf(mouthIndex(tracing, id, 0)) : -1;
    return [id, mouth < 0 ? tip : { ...tip, at: plus([tip.at], [shifts[mouth] as Point])[0] as Point }] as const;
  });
  return { ...tracing, seam: displaced(tracing.seam, edge, shifts), tips: new Map(tips) };
};

/** The seam as it is now, but for a run of it as it lies in another state of the same pricks. */
export const withRunOf = (now: Tracing, other: Tracing, run: Run): Tracing => {
  const seam = [...now.seam];
  for (const i of run) seam[i] = other.seam[i] as Prick;
  return { ...now, seam };
};
