import { distance, type Point } from './point.ts';
import type { Segment } from './segment.ts';

/** Loose lines as a graph: their ends gathered into joints. */

/** A loose stretch of line, itself end to end. */
export interface ChainItem<K> {
  readonly key: K;
  readonly segments: readonly Segment[];
}

/** One end of an item, and the joint it belongs to. */
export interface End {
  readonly item: number;
  readonly start: boolean;
  readonly at: Point;
  node: number;
}

export interface Graph {
  readonly items: readonly ChainItem<unknown>[];
  /** Start and end of each item that is to be chained. */
  readonly ends: ReadonlyMap<number, readonly [End, End]>;
  readonly nodes: readonly (readonly End[])[];
  /** Items already in a chain. */
  readonly used: boolean[];
}

export interface Step {
  readonly item: number;
  readonly forward: boolean;
}

/** Items one after the other, from joint to joint. */
export interface Walk {
  readonly steps: readonly Step[];
  readonly closed: boolean;
}

/** The joint at the start or the end of an item. */
export const nodeOf = (graph: Graph, item: number, start: boolean): number =>
  (graph.ends.get(item) as readonly [End, End])[start ? 0 : 1].node;

export const startOf = (item: ChainItem<unknown>): Point => (item.segments[0] as Segment).from;
export const endOf = (item: ChainItem<unknown>): Point => (item.segments[item.segments.length - 1] as Segment).to;

/** The graph of all items not yet used. */
export const graphOf = (items: readonly ChainItem<unknown>[], used: boolean[], tolerance: number): Graph => {
  const ends = endsOf(items, used);
  return { items, ends, nodes: cluster(ends, tolerance), used };
};

const endsOf = (items: readonly ChainItem<unknown>[], used: readonly boolean[]): Map<number, readonly [End, End]> => {
  const ends = new Map<number, readonly [End, End]>();
  items.forEach((item, i) => {
    if (used[i]) return;
    ends.set(i, [
      { item: i, start: true, at: startOf(item), node: -1 },
      { item: i, start: false, at: endOf(item), node: -1 },
    ]);
  });
  return ends;
};

/**
 * Ends gathered into joints: those in exactly one place first; then each end left alone goes to the nearest joint
 * within tolerance, the closest pairs first. The ends of one item are not joined to each other.
 */
const cluster = (ends: ReadonlyMap<number, readonly [End, End]>, tolerance: number): End[][] => {
  const exact = new Map<string, End[]>();
  for (const end of [...ends.values()].flat()) {
    const key = `${end.at.x + 0},${end.at.y + 0}`;
    const list = exact.get(key);
    if (list) list.push(end);
    else exact.set(key, [end]);
  }
  const nodes = [...exact.values()];
  for (const { lone, other } of nearPairs(nodes, tolerance)) {
    const moving = nodes[lone] as End[];
    const staying = nodes[other] as End[];
    if (moving.length !== 1 || staying.length === 0) continue;
    if (staying.length === 1 && staying[0]?.item === moving[0]?.item) continue;
    staying.push(moving.pop() as End);
  }
  const kept = nodes.filter((list) => list.length > 0);
  kept.forEach((list, node) => {
    for (const end of list) end.node = node;
  });
  return kept;
};

/** Lone joints, each with every joint within tolerance, by distance; found through a grid of that width. */
const nearPairs = (nodes: readonly End[][], tolerance: number): { lone: number; other: number; apart: number }[] => {
  const cell = Math.max(tolerance, 1e-9);
  const cellOf = (p: Point): [number, number] => [Math.floor(p.x / cell), Math.floor(p.y / cell)];
  const grid = new Map<string, number[]>();
  const placeOf = (node: number): Point => ((nodes[node] as readonly End[])[0] as End).at;
  nodes.forEach((_, node) => {
    const key = cellOf(placeOf(node)).join();
    grid.set(key, [...(grid.get(key) ?? []), node]);
  });
  const pairs: { lone: number; other: number; apart: number }[] = [];
  nodes.forEach((list, lone) => {
    if (list.length !== 1) return;
    const [cx, cy] = cellOf(placeOf(lone));
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        for (const other of grid.get(`${cx + dx},${cy + dy}`) ?? []) {
          const apart = distance(placeOf(lone), placeOf(other));
          if (other !== lone && apart <= tolerance) pairs.push({ lone, other, apart });
        }
      }
    }
  });
  return pairs.sort((a, b) => a.apart - b.apart || a.lone - b.lone || a.other - b.other);
};
