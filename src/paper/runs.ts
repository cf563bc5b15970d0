import { Bug } from '../finding.ts';
import type { Point } from '../geometry/point.ts';
import { distance, subtract, turnBetween, turnOver, unit } from '../geometry/point.ts';
import { edgeCalled, isSeamDown } from '../pattern/edges.ts';
import type { Dart, Edge } from '../pattern/piece.ts';
import { innerPlace, type Prick, type Tracing } from './tracing.ts';

/* Finding one's way along the pricked seam line: edges, runs between corners, lengths, directions. */

/** Indexes into the seam, in the direction of the seam line unless said otherwise. */
export type Run = readonly number[];

const joints = new WeakMap<readonly Prick[], Map<number, number>>();
const edgeRuns = new WeakMap<readonly Prick[], Map<number, Run>>();
/** Index of the prick at which a span begins. */
const jointOf = (seam: readonly Prick[], span: number): number => {
  let map = joints.get(seam);
  if (!map) {
    map = new Map();
    seam.forEach((p, i) => {
      if (p.t === 0) map?.set(p.span, i);
    });
    joints.set(seam, map);
  }
  const index = map.get(span);
  if (index === undefined) throw new Bug(`the corner at span ${span} is gone from the seam line`);
  return index;
};

/** All indexes from `from` to `to` inclusive, going round the ring. */
const walkRound = (count: number, from: number, to: number): number[] => {
  const last = from + ((to - from + count) % count);
  const run: number[] = [];
  for (let i = from; i <= last; i++) run.push(i % count);
  return run;
};

export const edgeOf = (tracing: Tracing, id: string): Edge => {
  const edge = edgeCalled(tracing.piece, id);
  if (!edge) throw new Bug(`piece ${tracing.piece.id} has no edge ${id}`);
  return edge;
};

const spanCount = (tracing: Tracing): number => tracing.piece.seamLine.spans.length;

/** The whole edge, corner to corner, dart legs included. */
export const edgeRun = (tracing: Tracing, id: string): Run => {
  const { seam } = tracing;
  const edge = edgeOf(tracing, id);
  const count = spanCount(tracing);
  const known = edgeRuns.get(seam) ?? new Map<number, Run>();
  const key = edge.first * count + edge.last;
  const before = known.get(key);
  if (before) return before;
  const walked = walkRound(seam.length, jointOf(seam, edge.first), jointOf(seam, (edge.last + 1) % count));
  const run = walked.length > 1 ? walked : [...Array(seam.length).keys(), 0];
  edgeRuns.set(seam, known.set(key, run));
  return run;
};

/** The two runs of a dart drawn in the outline: first leg (mouth to tip), second leg (tip to mouth). */
export const dartLegs = (tracing: Tracing, dart: Dart): readonly [Run, Run] => {
  if (dart.drawn.as !== 'outline') throw new Bug(`dart ${dart.id} is not drawn in the outline`);
  const from = jointOf(tracing.seam, dart.drawn.first);
  const to = jointOf(tracing.seam, (dart.drawn.last + 1) % spanCount(tracing));
  const whole = walkRound(tracing.seam.length, from, to);
  const tip = whole.findIndex((i, k) => k > 0 && tracing.seam[i]?.corner);
  return [whole.slice(0, tip + 1), whole.slice(tip)];
};

const dartsIn = (tracing: Tracing, edgeId: string): Dart[] => tracing.piece.darts.filter((d) => d.edge === edgeId);

/** Where each prick of a dart stands on its way: by index the dart and how far towards its tip (0 mouth, 1 tip). */
export const inDarts = (tracing: Tracing, edgeId: string): Map<number, { dart: string; towardsTip: number }> => {
  const places = new Map<number, { dart: string; towardsTip: number }>();
  for (const dart of dartsIn(tracing, edgeId)) {
    if (dart.drawn.as === 'lines') {
      for (const i of stretchBetweenMouths(tracing, dart.id)) places.set(i, { dart: dart.id, towardsTip: 0 });
      continue;
    }
    const [first, second] = dartLegs(tracing, dart);
    const down = along(pointsOf(tracing, first));
    const up = along(pointsOf(tracing, second));
    first.forEach((i, k) => {
      places.set(i, { dart: dart.id, towardsTip: (down[k] as number) / (down.at(-1) as number) });
    });
    second.slice(1).forEach((i, k) => {
      places.set(i, { dart: dart.id, towardsTip: 1 - (up[k + 1] as number) / (up.at(-1) as number) });
    });
  }
  return places;
};

/** Index of a mouth of a dart. */
export const mouthIndex = (tracing: Tracing, dartId: string, which: 0 | 1): number => {
  const dart = tracing.piece.darts.find((d) => d.id === dartId);
  if (dart?.drawn.as === 'outline') {
    const legs = dartLegs(tracing, dart);
    return (which === 0 ? legs[0][0] : legs[1].at(-1)) as number;
  }
  const index = tracing.seam.findIndex((p) => p.mouth?.dart === dartId && p.mouth.which === which);
  if (index < 0) throw new Bug(`no dart ${dartId} on ${tracing.piece.id}`);
  return index;
};

/** The seam across the mouth of a dart drawn as lines. */
export const stretchBetweenMouths = (tracing: Tracing, dartId: string): Run =>
  walkRound(tracing.seam.length, mouthIndex(tracing, dartId, 0), mouthIndex(tracing, dartId, 1));

/** The edge as it is sewn: the runs between its dart mouths. */
export const sewnRuns = (tracing: Tracing, id: string): Run[] =>
  partedBy(edgeRun(tracing, id), inDarts(tracing, id)).filter((run) => run.length > 1);

/** A run parted where two pricks that follow each other belong to one dart. */
const partedBy = (run: Run, darts: ReadonlyMap<number, { dart: string }>): number[][] => {
  const runs: number[][] = [[]];
  run.forEach((index, k) => {
    const previous = run[k - 1];
    const inside = previous !== undefined && darts.has(index) && darts.get(index)?.dart === darts.get(previous)?.dart;
    if (inside) runs.push([index]);
    else runs.at(-1)?.push(index);
  });
  return runs;
};

/** A run of an edge as it lies on the paper; `mouth` when it lies across a dart that is drawn as lines. */
export interface PaperRun {
  readonly edge: string;
  readonly run: Run;
  readonly mouth: boolean;
}

/** The edge as it lies on the paper: parted by darts cut into the outline, and at the mouths of darts drawn as lines. */
export const paperRuns = (tracing: Tracing, id: string): PaperRun[] => {
  const cut = new Map([...inDarts(tracing, id)].filter(([, d]) => isCut(tracing, d.dart)));
  return partedBy(edgeRun(tracing, id), cut)
    .flatMap((run) => partedAtMouths(tracing, run))
    .filter(({ run }) => run.length > 1)
    .map((r) => ({ edge: id, ...r }));
};

const sewn = new WeakMap<Tracing, readonly PaperRun[]>();

/** All edges of a piece as they lie on the paper, in ring order. Found once for each tracing. */
export const sewnOnPaper = (tracing: Tracing): readonly PaperRun[] => {
  const known = sewn.get(tracing);
  if (known) return known;
  const runs = tracing.piece.edges.flatMap((e) => paperRuns(tracing, e.id));
  sewn.set(tracing, runs);
  return runs;
};

const isCut = (tracing: Tracing, dartId: string): boolean =>
  tracing.piece.darts.some((d) => d.id === dartId && d.drawn.as === 'outline');

/** A run parted at each mouth, which belongs to both its parts. */
const partedAtMouths = (tracing: Tracing, run: Run): { run: number[]; mouth: boolean }[] => {
  const parts: { run: number[]; mouth: boolean }[] = [{ run: [], mouth: false }];
  for (const index of run) {
    parts.at(-1)?.run.push(index);
    const mouth = tracing.seam[index]?.mouth;
    if (mouth) parts.push({ run: [index], mouth: mouth.which === 0 });
  }
  return parts;
};

export const at = (tracing: Tracing, index: number): Point => {
  const prick = tracing.seam[index];
  if (!prick) throw new Bug(`no prick ${index}`);
  return prick.at;
};

export const pointsOf = (tracing: Tracing, run: Run): Point[] => run.map((i) => at(tracing, i));

/** Distances along a row of points, from its first. */
export const along = (points: readonly Point[]): number[] => {
  const out = [0];
  for (let i = 1; i < points.length; i++) {
    out.push((out[i - 1] as number) + distance(points[i - 1] as Point, points[i] as Point));
  }
  return out;
};

export const lengthOfPoints = (points: readonly Point[]): number => along(points).at(-1) ?? 0;

/** Width of a new dart or tuck: between the first and the last of its points. */
const drawnIntake = (points: readonly Point[]): number => distance(points[0] as Point, points.at(-1) as Point);

/** Width of a dart's mouth, mm. */
export const intake = (tracing: Tracing, dartId: string): number => {
  const [a, b] = innerMouths(tracing, dartId) ?? [
    at(tracing, mouthIndex(tracing, dartId, 0)),
    at(tracing, mouthIndex(tracing, dartId, 1)),
  ];
  return distance(a, b);
};

/** Where a dart that lies inside is widest now; undefined for a dart in an edge. */
export const innerMouths = (tracing: Tracing, dartId: string): readonly [Point, Point] | undefined => {
  const [a, b] = (['mouth 0', 'mouth 1'] as const).map((place) => tracing.tips.get(innerPlace(dartId, place))?.at);
  return a && b ? [a, b] : undefined;
};

/** What new darts and tucks take from the edge, mm. */
const drawnOn = (tracing: Tracing, id: string): number =>
  tracing.drawn.filter((d) => d.edge === id).reduce((sum, d) => sum + drawnIntake(d.points), 0);

/** Length of an edge as it is sewn, darts closed, mm. */
export const sewnLength = (tracing: Tracing, id: string): number =>
  sewnRuns(tracing, id).reduce((sum, run) => sum + lengthOfPoints(pointsOf(tracing, run)), 0) - drawnOn(tracing, id);

/** The run that leaves the edge's end and goes on along its neighbour, from the neighbour's next corner to the shared one. */
export const neighbourRun = (tracing: Tracing, corner: number, side: 'before' | 'after'): Run => {
  const count = tracing.seam.length;
  const step = side === 'before' ? -1 : 1;
  const run = [corner];
  let i = corner;
  do {
    i = (i + step + count) % count;
    run.unshift(i);
  } while (!tracing.seam[i]?.corner && i !== corner);
  return run;
};

/**
 * A run that goes over the middle of an edge from side to side, cut off there: on a piece that is drawn whole, what
 * happens on one side ends in the middle. Its last prick is kept.
 */
export const toMiddle = (tracing: Tracing, edgeId: string, run: Run): Run => {
  const sides = (['before', 'after'] as const).map((side) => edgeBeside(tracing, edgeId, side).role);
  if (!sides.every(isSeamDown)) return run;
  const edge = edgeRun(tracing, edgeId);
  const middle = (at(tracing, edge[0] as number).x + at(tracing, edge.at(-1) as number).x) / 2;
  const own = Math.sign(at(tracing, run.at(-1) as number).x - middle);
  const first = run.findLastIndex((i) => (at(tracing, i).x - middle) * own <= 0);
  return first <= 0 ? run : run.slice(first);
};

/** Edge that shares the corner at the given end of `id`, in seam direction. */
export const edgeBeside = (tracing: Tracing, id: string, side: 'before' | 'after'): Edge => {
  const edge = edgeOf(tracing, id);
  const beside = tracing.piece.edges.find((e) =>
    side === 'before'
      ? (e.last + 1) % spanCount(tracing) === edge.first
      : e.first === (edge.last + 1) % spanCount(tracing),
  );
  if (!beside) throw new Bug(`the edges of ${tracing.piece.id} do not meet`);
  return beside;
};

/** Unit direction in which a run arrives at its last prick. */
export const arrival = (points: readonly Point[]): Point =>
  unit(subtract(points.at(-1) as Point, points.at(-2) as Point));

/** How far the direction of arrival was turned between two states of one run, radians. */
export const turnOfArrival = (before: readonly Point[], after: readonly Point[]): number => {
  const a = arrival(before);
  const b = arrival(after);
  return a.x === b.x && a.y === b.y ? 0 : turnBetween(a, b);
};

/** +1 when the outside of the edge lies towards +x (right of the upright), −1 when towards −x. */
export const outwards = (tracing: Tracing, id: string): 1 | -1 => {
  const points = pointsOf(tracing, edgeRun(tracing, id));
  // Anticlockwise: the outside lies to the right of the way along the edge, so an edge that climbs has it at +x.
  return (points.at(-1) as Point).y >= (points[0] as Point).y ? 1 : -1;
};

/** Turn of a row of points at one of them, radians. */
export const turnAt = (points: readonly Point[], k: number): number =>
  turnOver(points[k - 1] as Point, points[k] as Point, points[k + 1] as Point);
