import type { Segment } from '../geometry/segment.ts';
import { lengthOf, pointAt, tangentAt } from '../geometry/segment.ts';
import { readCorners } from './corners.ts';
import type { Shape } from './shape.ts';
import type { Trace } from './trace.ts';
import { placeWithin, rayHit } from './trace.ts';

/** The spans of the cutting line that run beside one stretch of seam line, and how far off they are (mm, median). */
export interface Beside {
  readonly allowance: number;
  readonly first: number;
  readonly last: number;
}

/** No allowance is wider. mm */
const WIDEST = 110;
const HERE = 0.05;

/** Which stretch a place of the cutting line runs beside: the first one met square inwards. */
const stretchBeside = (
  cutting: Trace,
  span: number,
  at: number,
  owner: readonly number[],
  shape: Shape,
): { stretch: number; away: number } | undefined => {
  const segment = cutting.segments[span] as Segment;
  const p = pointAt(segment, at);
  const on = placeWithin(shape.trace, p, HERE);
  if (on) return { stretch: owner[on.span] as number, away: 0 };
  const along = tangentAt(segment, at);
  const hit = rayHit(shape.trace, p, { x: -along.y, y: along.x }, WIDEST);
  return hit ? { stretch: owner[hit.span] as number, away: hit.distance } : undefined;
};

interface Vote {
  readonly span: number;
  readonly stretch: number;
  readonly hits: readonly { readonly away: number; readonly weight: number }[];
}

/** The votes of a cutting line's spans: each for the stretch most of it runs beside. */
const votesOf = (cutting: Trace, shape: Shape): (Vote | undefined)[] => {
  const owner: number[] = new Array(shape.trace.segments.length).fill(-1);
  shape.stretches.forEach((s, i) => {
    for (const span of s.spans) owner[span] = i;
  });
  return cutting.segments.map((segment, span) => {
    const length = lengthOf(segment);
    const count = Math.min(15, Math.max(1, Math.round(length / 15)));
    const hits = Array.from({ length: count }, (_, k) => stretchBeside(cutting, span, (k + 0.5) / count, owner, shape));
    const tally = new Map<number, { away: number; weight: number }[]>();
    for (const h of hits) {
      if (h) tally.set(h.stretch, [...(tally.get(h.stretch) ?? []), { away: h.away, weight: length / count }]);
    }
    const best = [...tally].sort((a, b) => b[1].length - a[1].length)[0];
    return best ? { span, stretch: best[0], hits: best[1] } : undefined;
  });
};

const median = (hits: Vote['hits']): number => {
  const sorted = [...hits].sort((a, b) => a.away - b.away);
  const total = sorted.reduce((sum, h) => sum + h.weight, 0);
  let below = 0;
  for (const h of sorted) {
    below += h.weight;
    if (below >= total / 2) return h.away;
  }
  return 0;
};

/**
 * Gives each stretch of cutting line to the seam edge it runs beside, by order along the outline; one entry for each
 * stretch of the shape, undefined where nothing runs beside it. Where two edges' stretches meet they are parted at the
 * cutting line's corner; what lies between two corners (a step, a mirrored or squared corner) belongs to neither.
 */
export const cuttingBeside = (cutting: Trace, shape: Shape): (Beside | undefined)[] => {
  const n = cutting.segments.length;
  const votes = votesOf(cutting, shape);
  const cores = shape.stretches.map((_, i) => coreOf(i, votes, n, cutting));
  const corners = new Set(readCorners(cutting).corners.map((c) => c.joint));
  const order = cores.flatMap((c, i) => (c ? [i] : []));
  const result: (Beside | undefined)[] = shape.stretches.map(() => undefined);
  order.forEach((stretch, k) => {
    const core = cores[stretch] as Core;
    const before = cores[order[(k + order.length - 1) % order.length] as number] as Core;
    const after = cores[order[(k + 1) % order.length] as number] as Core;
    const alone = order.length === 1;
    const first = alone ? core.first : (lastCorner(before.last, core.first, corners, n, cutting) ?? core.first);
    const last = alone ? core.last : (firstCorner(core.last, after.first, corners, n, cutting) ?? core.last);
    result[stretch] = { allowance: median(core.hits), first, last };
  });
  return result;
};

interface Core {
  readonly first: number;
  readonly last: number;
  readonly hits: Vote['hits'];
}

/** The longest run of spans that vote for a stretch; runs parted only by spans without a vote are one. */
const coreOf = (stretch: number, votes: readonly (Vote | undefined)[], n: number, cutting: Trace): Core | undefined => {
  const start = votes.findIndex((v) => v !== undefined && v.stretch !== stretch);
  const runs: number[][] = [];
  let open = false;
  for (let k = 0; k < n; k++) {
    const i = start < 0 ? k : (start + k) % n;
    const vote = votes[i];
    if (vote?.stretch === stretch) {
      if (!open) runs.push([]);
      runs[runs.length - 1]?.push(i);
      open = true;
    } else if (vote) open = false;
  }
  const length = (run: readonly number[]): number =>
    run.reduce((sum, i) => sum + lengthOf(cutting.segments[i] as Segment), 0);
  const best = runs.sort((a, b) => length(b) - length(a))[0];
  if (!best) return undefined;
  return {
    first: best[0] as number,
    last: best[best.length - 1] as number,
    hits: best.flatMap((i) => votes[i]?.hits ?? []),
  };
};

/** The joint nearest before `first` that is a corner, going back as far as the span after `from`; there the edge starts. */
const lastCorner = (
  from: number,
  first: number,
  corners: ReadonlySet<number>,
  n: number,
  cutting: Trace,
): number | undefined => {
  const between = (first - from - 1 + n) % n;
  for (let k = 0; k <= between; k++) {
    const joint = (first - k + n) % n;
    if (corners.has(joint)) return joint;
  }
  return between === 0 ? first : sharpestJoint((from + 1) % n, first, n, cutting);
};

const firstCorner = (
  last: number,
  to: number,
  corners: ReadonlySet<number>,
  n: number,
  cutting: Trace,
): number | undefined => {
  const between = (to - last - 1 + n) % n;
  for (let k = 0; k <= between; k++) {
    const joint = (last + 1 + k) % n;
    if (corners.has(joint)) return (joint + n - 1) % n;
  }
  return between === 0 ? last : (sharpestJoint((last + 1) % n, to, n, cutting) + n - 1) % n;
};

/** Of the joints from..to the one that turns most. */
const sharpestJoint = (from: number, to: number, n: number, cutting: Trace): number => {
  let best = { joint: from, turn: -1 };
  const count = ((to - from + n) % n) + 1;
  for (let k = 0; k < count; k++) {
    const joint = (from + k) % n;
    const a = tangentAt(cutting.segments[(joint + n - 1) % n] as Segment, 1);
    const b = tangentAt(cutting.segments[joint] as Segment, 0);
    const turn = Math.abs(a.x * b.y - a.y * b.x);
    if (turn > best.turn) best = { joint, turn };
  }
  return best.joint;
};
