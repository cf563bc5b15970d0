import { boundsOfPoints, centreOf, diagonalOf } from '../geometry/bounds.ts';
import type { Point } from '../geometry/point.ts';
import { add, ORIGIN, subtract, turn } from '../geometry/point.ts';
import type { EdgeRole } from '../pattern/piece.ts';
import { NoRoom } from './no-room.ts';
import { edgeOf, edgeRun, inDarts, type Run } from './runs.ts';
import { moved, type PlacedMark, type Prick, pricked, type Tracing } from './tracing.ts';

/*
 * Cutting the paper across, and moving the parts as stiff pieces. A slash is level: square to the upright. The seam is
 * pricked on both lips of the slash; inner lines that cross it are taped straight across, texts and marks go with the
 * part they lie on.
 */

/** How a part moves: turned about a point, then shifted. */
export interface PartMove {
  readonly by: Point;
  readonly turned: number;
  readonly about: Point;
}
export const shiftBy = (by: Point): PartMove => ({ by, turned: 0, about: ORIGIN });
export const swingAbout = (about: Point, turned: number): PartMove => ({ by: ORIGIN, turned, about });

const carried = (p: Point, move: PartMove): Point =>
  add(move.turned === 0 ? p : turn(p, move.turned, move.about), move.by);

/** Where the strip that a tuck folds away begins and ends; for an opening both are the height of the slash. */
export interface Lips {
  readonly upper: number;
  readonly lower: number;
}

/**
 * The seam with pricks put on both lips wherever it crosses them, and what lies between the lips left out. For an
 * opening the two pricks lie on one place.
 * @throws NoRoom when a corner or a dart mouth lies in the folded strip
 */
export const cut = (tracing: Tracing, lips: Lips): Tracing => {
  const count = tracing.seam.length;
  const seam: Prick[] = [];
  tracing.seam.forEach((a, i) => {
    const b = tracing.seam[(i + 1) % count] as Prick;
    const inside = a.at.y < lips.upper && a.at.y > lips.lower;
    if (inside && a.corner) throw new NoRoom('a corner or a dart lies where the tuck would be folded');
    if (!inside) seam.push(a);
    const falls = b.at.y < a.at.y;
    const heights = falls ? [lips.upper, lips.lower] : [lips.lower, lips.upper];
    for (const height of heights) {
      if (!crosses(a.at.y, b.at.y, height)) continue;
      seam.push(pricked(a, b, (height - a.at.y) / (b.at.y - a.at.y)));
    }
  });
  return { ...tracing, seam };
};

/**
 * The seam with a prick wherever it crosses one of the given heights: what happens at a level then happens at one
 * certain place, however the pricks happen to fall.
 */
export const prickedAtLevels = (tracing: Tracing, heights: readonly number[]): Tracing => {
  const count = tracing.seam.length;
  const seam: Prick[] = [];
  for (let i = 0; i < count; i++) {
    const a = tracing.seam[i] as Prick;
    seam.push(a);
    const b = tracing.seam[(i + 1) % count] as Prick;
    const isMet = (h: number): boolean =>
      crosses(a.at.y, b.at.y, h) && Math.min(Math.abs(a.at.y - h), Math.abs(b.at.y - h)) > AT;
    if (!heights.some(isMet)) continue;
    const inOrder = heights.filter(isMet).sort((g, h) => (b.at.y > a.at.y ? g - h : h - g));
    for (const h of inOrder) seam.push(pricked(a, b, (h - a.at.y) / (b.at.y - a.at.y)));
  }
  return seam.length === count ? tracing : { ...tracing, seam };
};

/** A prick this near a level stands on it, mm. */
const AT = 0.01;

/** Strictly between, so that a prick that stands on the lip is not doubled by rounding. */
const crosses = (from: number, to: number, height: number): boolean => (from - height) * (to - height) < 0;

/** Marks that a tuck would hide. */
export const marksBetween = (tracing: Tracing, lips: Lips): string[] =>
  [...tracing.marks].filter(([, m]) => m.at.y < lips.upper && m.at.y > lips.lower).map(([id]) => id);

/** Which pricks of the cut seam belong to the upper part: on or above the upper lip. */
const isUpper = (height: number, lips: Lips): boolean => height >= (lips.upper + lips.lower) / 2;

/**
 * Moves the parts above and below a slash. Inner lines named in `kept` stay as they are (a grainline that must come
 * out straight). The seam has to be cut first.
 */
export const moveParts = (
  tracing: Tracing,
  lips: Lips,
  parts: { readonly upper?: PartMove; readonly lower?: PartMove },
  kept: ReadonlySet<string> = new Set(),
): Tracing => {
  const moveAt = (height: number): PartMove | undefined => (isUpper(height, lips) ? parts.upper : parts.lower);
  const shifted = (p: Point): Point => {
    const move = moveAt(p.y);
    const folded = p.y < lips.upper && p.y > lips.lower;
    // What a tuck hides comes to lie on the line that the fold leaves.
    return folded ? foldedPlace(p, lips, parts) : move ? carried(p, move) : p;
  };
  const partAt = (p: Point): string =>
    p.y < lips.upper && p.y > lips.lower ? 'folded' : isUpper(p.y, lips) ? 'upper' : 'lower';
  return {
    ...tracing,
    seam: seamParts(tracing.seam, lips, parts),
    lines: new Map([...tracing.lines].map(([id, line]) => [id, kept.has(id) ? line : taped(line, shifted, partAt)])),
    marks: new Map([...tracing.marks].map(([id, m]) => [id, markMoved(m, shifted(m.at), moveAt(m.at.y)?.turned ?? 0)])),
    tips: new Map([...tracing.tips].map(([id, tip]) => [id, { ...tip, at: shifted(tip.at) }])),
    landmarks: new Map([...tracing.landmarks].map(([name, l]) => [name, { ...l, at: shifted(l.at) }])),
    levels: new Map([...tracing.levels].map(([name, height]) => [name, shifted({ x: 0, y: height }).y])),
    drawn: tracing.drawn.map((d) => ({ ...d, points: d.points.map(shifted) })),
  };
};

const foldedPlace = (p: Point, lips: Lips, parts: { upper?: PartMove; lower?: PartMove }): Point => {
  const upperLine = lips.upper + (parts.upper?.by.y ?? 0);
  return { x: p.x, y: upperLine };
};

const markMoved = (mark: PlacedMark, to: Point, turned: number): PlacedMark =>
  to.x === mark.at.x && to.y === mark.at.y ? mark : { ...mark, at: to, turned: mark.turned + turned };

/** Pricks on a lip belong to the part they border; where both lips are one, the first met going up is the lower. */
const seamParts = (
  seam: readonly Prick[],
  lips: Lips,
  parts: { readonly upper?: PartMove; readonly lower?: PartMove },
): Prick[] => {
  const above = partsOfRing(seam, lips);
  return seam.map((p, i) => {
    const move = above[i] ? parts.upper : parts.lower;
    return move ? moved(p, subtract(carried(p.at, move), p.at)) : p;
  });
};

/** For each prick whether it belongs to the upper part. Two pricks at the height of one lip are told apart by their neighbours. */
const partsOfRing = (seam: readonly Prick[], lips: Lips): boolean[] => {
  const count = seam.length;
  const onLip = (p: Prick): boolean => lips.upper === lips.lower && Math.abs(p.at.y - lips.upper) < 1e-9;
  const plain = (i: number): boolean | undefined => {
    const p = seam[(i + count) % count] as Prick;
    return onLip(p) ? undefined : isUpper(p.at.y, lips);
  };
  return seam.map((p, i) => {
    if (!onLip(p)) return isUpper(p.at.y, lips);
    // The nearer neighbour off the lip decides: the twin of a doubled prick has its own.
    return plain(i - 1) ?? plain(i + 1) ?? true;
  });
};

/** A mark no larger than this is not drawn out of shape: it goes with the part its middle lies on. mm */
const SMALL_MARK = 30;

/** Displacement that a small mark (drill hole, cross, arrow head) takes as a whole; undefined for a line. */
export const stiffMove = (line: readonly Prick[], shifted: (p: Point) => Point): Point | undefined => {
  const box = boundsOfPoints(line.map((p) => p.at));
  if (line.length === 0 || diagonalOf(box) > SMALL_MARK) return undefined;
  const middle = centreOf(box);
  return subtract(shifted(middle), middle);
};

/** An inner line: a small mark goes as a whole, any other is taped across. */
const taped = (
  line: readonly Prick[],
  shifted: (p: Point) => Point,
  partAt: (p: Point) => unknown,
): readonly Prick[] => {
  const moves = line.map((p) => subtract(shifted(p.at), p.at));
  const alike = moves.every((m) => sameMove(m, moves[0] as Point));
  const stiff = alike ? undefined : stiffMove(line, shifted);
  return stiff ? line.map((p) => moved(p, stiff)) : tapedAcross(line, shifted, partAt);
};

/**
 * A line's joints go with their parts; a stretch between joints of different parts is taped across evenly.
 * @param partAt tells on which part a place lies
 */
export const tapedAcross = (
  line: readonly Prick[],
  shifted: (p: Point) => Point,
  partAt: (p: Point) => unknown,
): readonly Prick[] => {
  const by = line.map((p) => subtract(shifted(p.at), p.at));
  if (by.every((b) => sameMove(b, by[0] as Point))) return line.map((p, i) => moved(p, by[i] as Point));
  const joints = line.map((p, i) => (p.t === 0 || i === line.length - 1 ? i : -1)).filter((i) => i >= 0);
  const next = line.map((p) => p);
  joints.forEach((from, k) => {
    const to = joints[k + 1] ?? from;
    const a = by[from] as Point;
    const b = by[to] as Point;
    const part = partAt((line[from] as Prick).at);
    const rigid = line.slice(from, to + 1).every((p) => partAt(p.at) === part);
    for (let i = from; i <= to; i++) {
      const u = to === from ? 0 : (i - from) / (to - from);
      const mix = rigid ? a : { x: a.x + (b.x - a.x) * u, y: a.y + (b.y - a.y) * u };
      next[i] = moved(line[i] as Prick, rigid ? (by[i] as Point) : mix);
    }
  });
  return next;
};

const sameMove = (a: Point, b: Point): boolean => a.x === b.x && a.y === b.y;

/** Ends of the seam at a slash, edge by edge: index of the prick on the upper and on the lower lip. */
export const lipsOf = (
  tracing: Tracing,
  lips: Lips,
): { edge: string; role: EdgeRole; upper: number; lower: number }[] =>
  tracing.piece.edges.flatMap((e) => {
    const run = edgeRun(tracing, e.id);
    const legs = inDarts(tracing, e.id);
    const hit = lipIndexes(tracing, run, lips, (index) => (legs.get(index)?.towardsTip ?? 0) > 0);
    return hit ? [{ edge: e.id, role: edgeOf(tracing, e.id).role, ...hit }] : [];
  });

/** @param inDart whether a prick stands on the leg of a dart: legs are drawn again by themselves */
const lipIndexes = (
  tracing: Tracing,
  run: Run,
  lips: Lips,
  inDart: (index: number) => boolean,
): { upper: number; lower: number } | undefined => {
  const height = (k: number): number =>
    (tracing.seam[run[Math.min(Math.max(k, 0), run.length - 1)] as number] as Prick).at.y;
  for (let k = 1; k < run.length; k++) {
    const falls = height(k - 2) > height(k + 1);
    const [first, second] = falls ? [lips.upper, lips.lower] : [lips.lower, lips.upper];
    if (!near(height(k - 1), first) || !near(height(k), second)) continue;
    const [i, j] = [run[k - 1] as number, run[k] as number];
    if (inDart(i) && inDart(j)) continue;
    return falls ? { upper: i, lower: j } : { upper: j, lower: i };
  }
  return undefined;
};
const near = (a: number, b: number): boolean => Math.abs(a - b) < 1e-6;
