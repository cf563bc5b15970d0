import { add, ORIGIN, type Point } from '../geometry/point.ts';
import { isCentre } from '../pattern/edges.ts';
import { displaced } from './move-edge.ts';
import { at, edgeBeside, edgeRun } from './runs.ts';
import { capEdge, sleeveHeights } from './sleeve-lines.ts';
import { moved, type Tracing } from './tracing.ts';

/** A fold is drawn out (cut short) at its upper end only, over so many times what the end moves. */
const CLOSE = 6;
const LEAST_CLOSE = 30;

/** What goes along with a cap whose top moves: the fold that ends there, and what is drawn in the cap. */
export const restOfCap = (now: Tracing, before: Tracing, by: Point): Tracing =>
  marksInCap(foldFollows(now, by), before, by);

const foldFollows = (tracing: Tracing, by: Point): Tracing => {
  const cap = capEdge(tracing);
  if (cap === undefined || by.y === 0) return tracing;
  const before = edgeBeside(tracing, cap, 'before');
  const after = edgeBeside(tracing, cap, 'after');
  const opened = isCentre(before.role) ? foldDrawnOut(tracing, before.id, 'end', by.y) : tracing;
  return isCentre(after.role) ? foldDrawnOut(opened, after.id, 'start', by.y) : opened;
};

/** The end of a fold has moved up by `by` with the cap: what lies near it is spread evenly up to there. */
const foldDrawnOut = (tracing: Tracing, fold: string, end: 'start' | 'end', by: number): Tracing => {
  const run = edgeRun(tracing, fold);
  const rest = end === 'end' ? run.slice(0, -1) : run.slice(1);
  const old = at(tracing, (end === 'end' ? run.at(-1) : run[0]) as number).y - by;
  const lowest = Math.min(...rest.map((i) => at(tracing, i).y));
  const from = Math.max(lowest, old - Math.max(LEAST_CLOSE, CLOSE * Math.abs(by)));
  const shifts = rest.map((i) => ({ x: 0, y: by * Math.max(0, (at(tracing, i).y - from) / (old - from)) }));
  return { ...tracing, seam: displaced(tracing.seam, rest, shifts) };
};

/** What lies in the cap sinks (rises) with it: at the pivot as much as the pivot, at the biceps not at all. */
const marksInCap = (now: Tracing, before: Tracing, by: Point): Tracing => {
  if (by.y === 0 || before.piece.part === 'under sleeve') return now;
  const { biceps } = sleeveHeights(before);
  const top = Math.max(...before.seam.map((p) => p.at.y));
  const shift = (p: Point): Point => (p.y <= biceps ? ORIGIN : { x: 0, y: (by.y * (p.y - biceps)) / (top - biceps) });
  const grain = new Set(before.piece.lines.filter((l) => l.kind === 'grain').map((l) => l.id));
  return {
    ...now,
    lines: new Map(
      [...now.lines].map(([id, line]) => [id, grain.has(id) ? line : line.map((p) => moved(p, shift(p.at)))]),
    ),
    marks: new Map(
      [...now.marks].map(([id, m]) => {
        const down = shift(m.at);
        return [id, down.y === 0 ? m : { ...m, at: add(m.at, down) }];
      }),
    ),
  };
};
