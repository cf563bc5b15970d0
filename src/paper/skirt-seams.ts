import { isSeamDown } from '../pattern/edges.ts';
import { BLEND, closedHeight, moveEdge, moveSeamBy, moveSeamOut } from './move-edge.ts';
import { at, edgeBeside, edgeOf, edgeRun, mouthIndex, pointsOf, sewnLength } from './runs.ts';
import { solveFor } from './solve.ts';
import type { Tracing } from './tracing.ts';
import { trace } from './tracing.ts';

/*
 * Seams that run down the body: from the waist to the hem, from the underarm to the waist, or past the waist from the
 * one to the other. What their heights are, and how their corner at the waist is set.
 */

export interface SeamHeights {
  /** Upper end: the waist itself on a skirt, else the underarm. */
  readonly top: number;
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
  const [low, high] = [Math.min(...heights), Math.max(...heights)];
  const atWaist = endAt(tracing, edgeId, 'waist');
  const bottom = endAt(tracing, edgeId, 'hem');
  const level = tracing.levels.get('waist');
  const passed = level !== undefined && level > low && level < high ? level : high;
  const waist = atWaist ? cornerHeight(tracing, edgeId, atWaist) : passed;
  const hem = bottom ? cornerHeight(tracing, edgeId, bottom) : low;
  return { top: high, waist, hem, hip: tracing.levels.get('hip') ?? hem };
};

/** Whether a seam goes on above the waist, below it, or both. */
const goesOn = (tracing: Tracing, edgeId: string): { readonly above: boolean; readonly below: boolean } => {
  const run = edgeRun(tracing, edgeId);
  const end = endAt(tracing, edgeId, 'waist');
  if (!end) {
    const { top, waist, hem } = seamHeights(tracing, edgeId);
    return { above: top > waist, below: hem < waist };
  }
  const [corner, other] = [run[0], run.at(-1)].map((i) => at(tracing, i as number).y) as [number, number];
  const above = end === 'start' ? other > corner : corner > other;
  return { above, below: !above };
};

/** Where a change at the waist has come to nothing above it: at the bust level, where it is known, else at the underarm. */
const stillAbove = (tracing: Tracing, edgeId: string): number => {
  const { top, waist } = seamHeights(tracing, edgeId);
  const shaped = edgeOf(tracing, edgeId).role === 'panel seam';
  const bust = tracing.levels.get('bust') ?? (shaped ? tracing.levels.get('underarm') : undefined);
  return bust !== undefined && bust > waist && bust < top ? bust : top;
};

/** Where a corner at the waist that is raised has come to nothing: at the hip; above it, below the darts in the seam. */
const stillHeight = (tracing: Tracing, edgeId: string): number => {
  const { waist, hip } = seamHeights(tracing, edgeId);
  if (!goesOn(tracing, edgeId).above) return hip;
  const mouths = tracing.piece.darts
    .filter((d) => d.edge === edgeId)
    .flatMap((d) => ([0, 1] as const).map((which) => at(tracing, mouthIndex(tracing, d.id, which)).y));
  return Math.min(stillAbove(tracing, edgeId), ...mouths.filter((y) => y > waist));
};

/** Height on a seam that lies `depth` down it from the waist, measured along the seam where it begins at the waist. */
export const heightDownSeam = (tracing: Tracing, edgeId: string, depth: number): number => {
  const { waist } = seamHeights(tracing, edgeId);
  if (goesOn(tracing, edgeId).above) return waist - depth;
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
    .filter((e) => isSeamDown(e.role))
    .map((e) => e.id);

/** The seam goes out at the waist by `by` across, to nothing at the hip and at the underarm, as far as it reaches. */
export const outAtWaist = (tracing: Tracing, edgeId: string, by: number): Tracing => {
  const { waist, hip } = seamHeights(tracing, edgeId);
  const { above, below } = goesOn(tracing, edgeId);
  const still = closedHeight(tracing, edgeId)(stillAbove(tracing, edgeId));
  if (above && !below) {
    return moveSeamBy(tracing, edgeId, (height) => by * slanted((still - height) / (still - waist), still - waist));
  }
  return moveSeamOut(tracing, edgeId, [
    { height: hip, by: 0 },
    { height: waist, by },
    ...(above
      ? [
          { height: still, by: 0 },
          { height: still + QUITE_STILL, by: 0 },
        ]
      : []),
  ]);
};

/** So much of a seam, beside the place where nothing moves, stays quite still, so that the corner there does, mm. */
const QUITE_STILL = 6;

/**
 * From 0 to 1 along a slant that sets in softly: a straight seam stays straight but for a blend at its still end.
 * @param u 0 at the still end, 1 at the end that moves
 * @param length of the seam between them, mm
 */
const slanted = (u: number, length: number): number => {
  const still = Math.min(QUITE_STILL / length, 0.1);
  const soft = Math.min(BLEND / length, 0.5);
  const v = Math.min(1, Math.max(0, (u - still) / (1 - still)));
  return (v < soft ? (v * v) / (2 * soft) : v - soft / 2) / (1 - soft / 2);
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
  return solveFor(moved, (made) => sewnLength(made, waistId) - length, first, first * 0.9, CLOSE / 3);
};

/** Makes a seam longer by about `by` at its corner at the waist: up from the hip, or down from the underarm. */
export const lengthenAtWaist = (tracing: Tracing, edgeId: string, by: number): Tracing =>
  raiseWaistCorner(tracing, edgeId, goesOn(tracing, edgeId).above ? -by : by);

/**
 * Raises (lowers) the waist corner of a seam by `by`, to nothing at the hip (on a bodice at the underarm); the hip curve
 * goes with it.
 * @param over how much of the waist edge comes along: its last stretch up to a dart, or all of it, darts too
 */
export const raiseWaistCorner = (
  tracing: Tracing,
  edgeId: string,
  by: number,
  over: 'last stretch' | 'whole waist' = 'last stretch',
): Tracing => {
  const { waist } = seamHeights(tracing, edgeId);
  const still = stillHeight(tracing, edgeId);
  return moveEdge(
    tracing,
    edgeId,
    pointsOf(tracing, edgeRun(tracing, edgeId)).map((p) => {
      const u = Math.min(1, Math.max(0, (p.y - still) / (waist - still)));
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
