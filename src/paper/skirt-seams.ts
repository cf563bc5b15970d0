import { moveEdge, moveSeamOut } from './move-edge.ts';
import { at, edgeBeside, edgeRun, pointsOf, sewnLength } from './runs.ts';
import { solve } from './solve.ts';
import type { Tracing } from './tracing.ts';
import { trace } from './tracing.ts';

/* Seams that run from a waist to a hem: what their heights are, and how their upper corner is set. */

export interface SeamHeights {
  readonly waist: number;
  readonly hip: number;
  readonly hem: number;
}

/** Which end of a seam lies at a cross edge, in seam direction; undefined when neither does. */
export const endAt = (tracing: Tracing, edgeId: string, role: 'waist' | 'hem'): 'start' | 'end' | undefined => {
  if (edgeBeside(tracing, edgeId, 'before').role === role) return 'start';
  return edgeBeside(tracing, edgeId, 'after').role === role ? 'end' : undefined;
};

const cornerHeight = (tracing: Tracing, edgeId: string, end: 'start' | 'end'): number => {
  const run = edgeRun(tracing, edgeId);
  return at(tracing, (end === 'start' ? run[0] : run.at(-1)) as number).y;
};

/** Heights of the fixed levels beside a seam; its own ends where no level is known. */
export const seamHeights = (tracing: Tracing, edgeId: string): SeamHeights => {
  const points = pointsOf(tracing, edgeRun(tracing, edgeId));
  const heights = points.map((p) => p.y);
  const top = endAt(tracing, edgeId, 'waist');
  const bottom = endAt(tracing, edgeId, 'hem');
  const waist = top ? cornerHeight(tracing, edgeId, top) : Math.max(...heights);
  const hem = bottom ? cornerHeight(tracing, edgeId, bottom) : Math.min(...heights);
  return { waist, hem, hip: tracing.levels.get('hip') ?? hem };
};

/** Height on a seam that lies `depth` down it from the waist, measured along the seam. */
export const heightDownSeam = (tracing: Tracing, edgeId: string, depth: number): number => {
  const points = pointsOf(tracing, edgeRun(tracing, edgeId));
  const down = endAt(tracing, edgeId, 'waist') === 'end' ? [...points].reverse() : points;
  let left = depth;
  for (let i = 1; i < down.length; i++) {
    const a = down[i - 1] as { x: number; y: number };
    const b = down[i] as { x: number; y: number };
    const d = Math.hypot(b.x - a.x, b.y - a.y);
    if (d >= left) return a.y + ((b.y - a.y) * left) / d;
    left -= d;
  }
  return (down.at(-1) as { y: number }).y;
};

/** Seams of the piece that end at the waist edge and can be let out there. */
export const seamsAtWaist = (tracing: Tracing, waistId: string): string[] =>
  [edgeBeside(tracing, waistId, 'before'), edgeBeside(tracing, waistId, 'after')]
    .filter((e) => e.role === 'side' || e.role === 'gore seam')
    .map((e) => e.id);

/** The seam goes out at its waist corner by `by` across, to nothing at the hip. */
export const outAtWaist = (tracing: Tracing, edgeId: string, by: number): Tracing => {
  const { waist, hip } = seamHeights(tracing, edgeId);
  return moveSeamOut(tracing, edgeId, [
    { height: hip, by: 0 },
    { height: waist, by },
  ]);
};

/** What a length may miss its target by before a seam is moved for it, mm. */
const CLOSE = 0.003;

/**
 * Sets the upper corners of the given seams so that the waist edge comes to a sewn length. The corner moves across and
 * keeps its height; the old waist line is mapped onto its new end.
 */
export const fitWaist = (tracing: Tracing, waistId: string, length: number, seams: readonly string[]): Tracing => {
  if (seams.length === 0 || Math.abs(length - sewnLength(tracing, waistId)) <= CLOSE) return tracing;
  const moved = (by: number): Tracing => seams.reduce((t, id) => outAtWaist(t, id, by), tracing);
  const first = (length - sewnLength(tracing, waistId)) / seams.length;
  const by = solve((x) => sewnLength(moved(x), waistId) - length, first, first * 0.9, CLOSE / 3);
  return moved(by);
};

/**
 * Raises (lowers) the waist corner of a seam by `by`, to nothing at the hip; the hip curve goes with it.
 * @param over how much of the waist edge comes along: its last stretch up to a dart, or all of it, darts too
 */
export const raiseWaistCorner = (
  tracing: Tracing,
  edgeId: string,
  by: number,
  over: 'last stretch' | 'whole waist' = 'last stretch',
): Tracing => {
  const { waist, hip } = seamHeights(tracing, edgeId);
  return moveEdge(
    tracing,
    edgeId,
    pointsOf(tracing, edgeRun(tracing, edgeId)).map((p) => {
      const u = Math.min(1, Math.max(0, (p.y - hip) / (waist - hip)));
      return { x: 0, y: by * u * u * (2 - u) };
    }),
    over === 'whole waist' ? 'waist' : undefined,
  );
};

/** A tracing whose hip level is known: as marked, else `depth` down the side seam. */
export const withHip = (tracing: Tracing, edgeId: string, depth: number): Tracing =>
  tracing.levels.has('hip')
    ? tracing
    : { ...tracing, levels: new Map([...tracing.levels, ['hip', heightDownSeam(tracing, edgeId, depth)]]) };

/** Length of an edge as the pattern had it, mm. */
export const lengthBefore = (tracing: Tracing, edgeId: string): number => sewnLength(trace(tracing.piece), edgeId);
