import { type ChainItem, type End, type Graph, nodeOf, type Step, type Walk } from './joints.ts';
import { type Point, subtract, turnBetween, unit } from './point.ts';
import { lengthOf, parameterAtLength, pointAt, reversed, type Segment } from './segment.ts';

/** The outer outline of each part of the drawing that has a branch and, dangling lines taken away, goes round. */
export const outerOutlines = (graph: Graph, branches: Iterable<number>): Walk[] => {
  const seen = new Set<number>();
  const walks: Walk[] = [];
  for (const node of branches) {
    if (seen.has(node)) continue;
    const part = connected(graph, node);
    for (const n of part.nodes) seen.add(n);
    const core = withoutDangling(graph, part.items);
    if (core.size === 0) continue;
    const walk = traceOuter(graph, core);
    if (!walk) continue;
    for (const s of walk.steps) graph.used[s.item] = true;
    walks.push(walk);
  }
  return walks;
};

const connected = (graph: Graph, node: number): { nodes: Set<number>; items: Set<number> } => {
  const nodes = new Set([node]);
  const items = new Set<number>();
  const queue = [node];
  for (let n = queue.pop(); n !== undefined; n = queue.pop()) {
    for (const end of graph.nodes[n] as End[]) {
      items.add(end.item);
      const other = nodeOf(graph, end.item, !end.start);
      if (!nodes.has(other)) {
        nodes.add(other);
        queue.push(other);
      }
    }
  }
  return { nodes, items };
};

const withoutDangling = (graph: Graph, items: ReadonlySet<number>): Set<number> => {
  const kept = new Set(items);
  const degree = (node: number): number => (graph.nodes[node] as End[]).filter((e) => kept.has(e.item)).length;
  let changed = true;
  while (changed) {
    changed = false;
    for (const i of kept) {
      if (degree(nodeOf(graph, i, true)) > 1 && degree(nodeOf(graph, i, false)) > 1) continue;
      kept.delete(i);
      changed = true;
    }
  }
  return kept;
};

/** Direction in which a line leaves one of its ends, judged over its first millimetre. */
const leaving = (item: ChainItem<unknown>, start: boolean): Point => {
  const s = start ? (item.segments[0] as Segment) : reversed(item.segments[item.segments.length - 1] as Segment);
  return unit(subtract(pointAt(s, parameterAtLength(s, Math.min(1, lengthOf(s)))), s.from));
};

/** Anticlockwise round the outside: from the lowest end, always the line that turns furthest to the right. */
const traceOuter = (graph: Graph, core: ReadonlySet<number>): Walk | undefined => {
  const all = [...core].flatMap((i) => graph.ends.get(i) as readonly [End, End]);
  const lowest = all.reduce((a, b) => (b.at.y < a.at.y || (b.at.y === a.at.y && b.at.x < a.at.x) ? b : a));
  const choices = (node: number): End[] => (graph.nodes[node] as End[]).filter((e) => core.has(e.item));
  const rightmost = (node: number, arriving: Point, cameBy?: End): End | undefined =>
    choices(node)
      .filter((e) => e !== cameBy)
      .map((e) => ({ e, turn: turnBetween(arriving, leaving(graph.items[e.item] as ChainItem<unknown>, e.start)) }))
      .sort((a, b) => a.turn - b.turn)[0]?.e;
  // At the lowest point the outside lies below, and everything leaves upwards or level.
  const first = rightmost(lowest.node, { x: 0, y: 1 });
  if (!first) return undefined;
  const steps: Step[] = [];
  let end = first;
  for (;;) {
    // A line passed twice joins two loops like a bridge: there is no one outline.
    if (steps.some((s) => s.item === end.item)) return undefined;
    steps.push({ item: end.item, forward: end.start });
    const item = graph.items[end.item] as ChainItem<unknown>;
    const node = nodeOf(graph, end.item, !end.start);
    if (node === first.node) return { steps, closed: true };
    const back = leaving(item, !end.start);
    const cameBy = (graph.ends.get(end.item) as readonly [End, End])[end.start ? 1 : 0];
    const next = rightmost(node, { x: -back.x, y: -back.y }, cameBy);
    if (!next) return undefined;
    end = next;
  }
};
