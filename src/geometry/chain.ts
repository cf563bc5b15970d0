import {
  type ChainItem,
  type End,
  endOf,
  type Graph,
  graphOf,
  nodeOf,
  type Step,
  startOf,
  type Walk,
} from './joints.ts';
import { outerOutlines } from './outer-outline.ts';
import { distance, type Point, same } from './point.ts';
import { lengthOf } from './segment.ts';

export type { ChainItem } from './joints.ts';

export interface ChainLink<K> {
  readonly key: K;
  readonly reversed: boolean;
}

/** A hair between the end of one link and the start of the next. */
export interface ChainGap {
  /** The gap follows the link at this place in the chain (the last one: the gap that closes it). */
  readonly after: number;
  readonly from: Point;
  readonly to: Point;
  readonly size: number;
}

export interface Chain<K> {
  readonly links: readonly ChainLink<K>[];
  readonly closed: boolean;
  /** Those that are not of size 0. */
  readonly gaps: readonly ChainGap[];
  /** Joints where more than two ends meet: another reading of the drawing may be meant there. */
  readonly branches: readonly Point[];
}

/**
 * Loose lines joined at their ends (within `tolerance` mm) into chains, each item in exactly one, in the order of
 * their first item and running its way. Where two ends meet they are joined. Where more meet, the outer outline of what
 * hangs together is followed first (dangling lines left aside), so that a line drawn across a piece does not
 * break the piece's outline; the rest is joined among itself, and the places are listed as `branches`.
 */
export const chain = <K>(items: readonly ChainItem<K>[], tolerance: number): Chain<K>[] => {
  const used = items.map((i) => i.segments.length === 0);
  const chains: { order: number; walk: Walk }[] = [];
  items.forEach((item, i) => {
    if (!used[i] && isLoop(item, tolerance)) {
      used[i] = true;
      chains.push({ order: i, walk: { steps: [{ item: i, forward: true }], closed: true } });
    }
  });
  const graph = graphOf(items, used, tolerance);
  const branches = new Map<number, Point>();
  graph.nodes.forEach((list, node) => {
    if (list.length > 2) branches.set(node, (list[0] as End).at);
  });
  for (const walk of outerOutlines(graph, branches.keys())) chains.push({ order: firstItem(walk), walk });
  items.forEach((_, i) => {
    if (!used[i]) chains.push({ order: i, walk: followBothWays(graph, i) });
  });
  chains.sort((a, b) => a.order - b.order);
  return chains.map(({ walk }) => toChain(items, asFirstRuns(walk), branches, graph));
};

const firstItem = (walk: Walk): number => Math.min(...walk.steps.map((s) => s.item));

const isLoop = (item: ChainItem<unknown>, tolerance: number): boolean =>
  distance(startOf(item), endOf(item)) <= tolerance &&
  item.segments.reduce((sum, s) => sum + lengthOf(s), 0) > 4 * tolerance;

const freeEnds = (graph: Graph, node: number): End[] => (graph.nodes[node] as End[]).filter((e) => !graph.used[e.item]);

/** From item i on, both ways, as long as exactly one other free end offers itself. */
const followBothWays = (graph: Graph, i: number): Walk => {
  graph.used[i] = true;
  const steps: Step[] = [{ item: i, forward: true }];
  const first = nodeOf(graph, i, true);
  const forward = follow(graph, nodeOf(graph, i, false));
  steps.push(...forward);
  const last = steps[steps.length - 1] as Step;
  if (nodeOf(graph, last.item, !last.forward) === first && steps.length > 1) return { steps, closed: true };
  const backward = follow(graph, first).map((s) => ({ item: s.item, forward: !s.forward }));
  return { steps: [...backward.reverse(), ...steps], closed: false };
};

const follow = (graph: Graph, from: number): Step[] => {
  const steps: Step[] = [];
  let node = from;
  for (;;) {
    const free = freeEnds(graph, node);
    if (free.length !== 1) return steps;
    const next = free[0] as End;
    graph.used[next.item] = true;
    steps.push({ item: next.item, forward: next.start });
    node = nodeOf(graph, next.item, !next.start);
  }
};

/** The walk begun with, and run in the direction of, its first item (a closed one), or turned if that ran backwards. */
const asFirstRuns = (walk: Walk): Walk => {
  const first = firstItem(walk);
  const at = walk.steps.findIndex((s) => s.item === first);
  const turned = !(walk.steps[at] as Step).forward;
  const steps = turned ? walk.steps.map((s) => ({ item: s.item, forward: !s.forward })).reverse() : walk.steps;
  if (!walk.closed) return { steps, closed: false };
  const begin = steps.findIndex((s) => s.item === first);
  return { steps: [...steps.slice(begin), ...steps.slice(0, begin)], closed: true };
};

const toChain = <K>(
  items: readonly ChainItem<K>[],
  walk: Walk,
  branches: ReadonlyMap<number, Point>,
  graph: Graph,
): Chain<K> => {
  const gaps: ChainGap[] = [];
  const met = new Map<number, Point>();
  walk.steps.forEach((step, i) => {
    const ends = graph.ends.get(step.item);
    for (const node of ends ? [ends[0].node, ends[1].node] : []) {
      const at = branches.get(node);
      if (at) met.set(node, at);
    }
    const next = walk.steps[i + 1] ?? (walk.closed ? walk.steps[0] : undefined);
    if (!next) return;
    const a = items[step.item] as ChainItem<K>;
    const b = items[next.item] as ChainItem<K>;
    const from = step.forward ? endOf(a) : startOf(a);
    const to = next.forward ? startOf(b) : endOf(b);
    if (!same(from, to)) gaps.push({ after: i, from, to, size: distance(from, to) });
  });
  return {
    links: walk.steps.map((s) => ({ key: (items[s.item] as ChainItem<K>).key, reversed: !s.forward })),
    closed: walk.closed,
    gaps,
    branches: [...met.values()],
  };
};
