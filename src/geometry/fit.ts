import { Bug } from '../finding.ts';
import { cubic, cubicDerivativeAt, cubicPointAt, cubicSecondDerivativeAt } from './cubic.ts';
import { add, between, distance, dot, left, type Point, scale, subtract, unit } from './point.ts';
import type { CubicSegment } from './segment.ts';
import { tangentThrough } from './spline-through.ts';

export { type Biarcs, fitBiarcs } from './biarc.ts';

/**
 * Cubics through points, by least squares.
 * P. J. Schneider, An Algorithm for Automatically Fitting Digitized Curves, Graphics Gems (1990) 612-626.
 */

export interface FitOptions {
  /** Greatest distance of a given point from the curve, mm. */
  readonly tolerance: number;
  /** Directions in which the curve leaves the first and arrives in the last point; any length. */
  readonly startTangent?: Point;
  readonly endTangent?: Point;
}

/** Rounds of bettering a fit; later ones gain next to nothing. */
const ROUNDS = 20;
/** A fit this many tolerances near is near enough. */
const ENOUGH = 0.2;
/** One further off than this many tolerances after a few rounds will not come within. */
const HOPELESS = 12;
/** A place this part as far off as the worst does as well to cut at. */
const ABOUT_AS_BAD = 0.7;

interface Piece {
  readonly first: number;
  readonly last: number;
  readonly curve: CubicSegment;
}

/**
 * As few cubics as will do, joined with a common tangent, that pass within tolerance of every point and through the
 * first and the last. The points must have no corner among them. Repeated points are passed over;
 * throws Bug for fewer than two different ones.
 */
export const fitCubics = (points: readonly Point[], options: FitOptions): CubicSegment[] => {
  const p = points.filter((q, i) => i === 0 || distance(q, points[i - 1] as Point) > 1e-12);
  if (p.length < 2) throw new Bug('A curve was to be fitted to fewer than two points');
  const tangents = p.map((_, i) => tangentThrough(p, i));
  if (options.startTangent) tangents[0] = unit(options.startTangent);
  if (options.endTangent) tangents[p.length - 1] = unit(options.endTangent);
  const pieces = fitRange(p, tangents, 0, p.length - 1, options.tolerance);
  return merged(p, tangents, pieces, options.tolerance).map((piece) => piece.curve);
};

const fitRange = (
  p: readonly Point[],
  tangents: readonly Point[],
  first: number,
  last: number,
  tolerance: number,
): Piece[] => {
  const { curve, error, worst } = fitOne(
    p.slice(first, last + 1),
    tangents[first] as Point,
    tangents[last] as Point,
    tolerance,
  );
  if (error <= tolerance || last - first < 2) return [{ first, last, curve }];
  const at = first + Math.min(Math.max(worst, 1), last - first - 1);
  return [...fitRange(p, tangents, first, at, tolerance), ...fitRange(p, tangents, at, last, tolerance)];
};

/** Neighbouring pieces that one cubic can follow as well are made one. */
const merged = (
  p: readonly Point[],
  tangents: readonly Point[],
  pieces: readonly Piece[],
  tolerance: number,
): Piece[] => {
  const out: Piece[] = [];
  for (const piece of pieces) {
    const before = out[out.length - 1];
    if (before) {
      const range = p.slice(before.first, piece.last + 1);
      const both = fitOne(range, tangents[before.first] as Point, tangents[piece.last] as Point, tolerance);
      if (both.error <= tolerance) {
        out[out.length - 1] = { first: before.first, last: piece.last, curve: both.curve };
        continue;
      }
    }
    out.push(piece);
  }
  return out;
};

interface Fitted {
  readonly curve: CubicSegment;
  /** Parameter of each given point's place on the curve. */
  readonly u: readonly number[];
  /** Greatest distance at the given points, mm. */
  readonly error: number;
  /** Sum of the squared distances, mm². */
  readonly squares: number;
  /** The point to cut at when this is not near enough. */
  readonly worst: number;
}

/** One cubic through the first and last point with the given directions there, as near to the others as it gets. */
const fitOne = (p: readonly Point[], startTangent: Point, endTangent: Point, tolerance: number): Fitted => {
  const lengths = [0];
  for (let i = 1; i < p.length; i++) {
    lengths.push((lengths[i - 1] as number) + distance(p[i - 1] as Point, p[i] as Point));
  }
  const total = lengths[lengths.length - 1] as number;
  const problem: Problem = { p, startTangent, endTangent, total };
  let handles = leastSquares(
    problem,
    lengths.map((l) => l / total),
  );
  let best = settled(
    curveWith(problem, handles),
    p,
    lengths.map((l) => l / total),
  );
  let damping = 1e-3;
  for (let round = 0; round < ROUNDS && damping < 1e3 && best.error > tolerance * ENOUGH; round++) {
    if (round > 5 && best.error > tolerance * HOPELESS) break;
    const tried = withinReach(problem, improved(problem, handles, best, damping));
    const next = settled(curveWith(problem, tried), p, best.u);
    if (next.squares >= best.squares) {
      damping *= 8;
      continue;
    }
    const gained = 1 - next.squares / best.squares;
    damping /= 8;
    handles = tried;
    best = next;
    if (gained < 1e-3) break;
  }
  return best;
};

interface Problem {
  readonly p: readonly Point[];
  readonly startTangent: Point;
  readonly endTangent: Point;
  /** Length of the chain of points, mm. */
  readonly total: number;
}

/** Lengths of the first and the last handle, mm. */
interface Handles {
  readonly out: number;
  readonly back: number;
}

const curveWith = ({ p, startTangent, endTangent }: Problem, { out, back }: Handles): CubicSegment => {
  const from = p[0] as Point;
  const to = p[p.length - 1] as Point;
  return cubic(from, add(from, scale(startTangent, out)), subtract(to, scale(endTangent, back)), to);
};

/** Handles of no or contrary length, or longer than the line itself, make hooks. */
const withinReach = ({ total }: Problem, h: Handles): Handles => {
  const kept = (v: number): number => Math.min(total, Math.max(1e-3 * total, v));
  return { out: kept(h.out), back: kept(h.back) };
};

/** Both unknowns of the 2 × 2 normal equations; undefined when they do not tell the two apart. */
const solved = (c00: number, c01: number, c11: number, x0: number, x1: number): Handles | undefined => {
  const det = c00 * c11 - c01 * c01;
  if (!(det > 1e-12 * c00 * c11)) return undefined;
  return { out: (x0 * c11 - x1 * c01) / det, back: (c00 * x1 - c01 * x0) / det };
};

/** Handles that make the sum of squared distances least at the given parameters (Schneider's step). */
const leastSquares = (problem: Problem, u: readonly number[]): Handles => {
  const { p, startTangent, endTangent, total } = problem;
  const from = p[0] as Point;
  const to = p[p.length - 1] as Point;
  let [c00, c01, c11, x0, x1] = [0, 0, 0, 0, 0];
  p.forEach((q, i) => {
    const t = u[i] as number;
    const s = 1 - t;
    const a0 = scale(startTangent, 3 * s * s * t);
    const a1 = scale(endTangent, -3 * s * t * t);
    const rest = subtract(q, between(to, from, s * s * (s + 3 * t)));
    c00 += dot(a0, a0);
    c01 += dot(a0, a1);
    c11 += dot(a1, a1);
    x0 += dot(rest, a0);
    x1 += dot(rest, a1);
  });
  const found = solved(c00, c01, c11, x0, x1);
  const least = 1e-3 * total;
  if (found && found.out > least && found.back > least && found.out < total && found.back < total) return found;
  return { out: distance(from, to) / 3, back: distance(from, to) / 3 };
};

/**
 * The handles after a step of Levenberg and Marquardt on the distances square to the curve. Schneider's own rounds hold
 * each point at its parameter and creep; here a point may slide along the curve, and a few rounds do. Damping keeps
 * a flat curve, for which a longer first handle does much the same as a shorter last one, from throwing both about.
 */
const improved = (
  { p, startTangent, endTangent }: Problem,
  handles: Handles,
  from: Fitted,
  damping: number,
): Handles => {
  let [c00, c01, c11, x0, x1] = [0, 0, 0, 0, 0];
  p.forEach((q, i) => {
    const t = from.u[i] as number;
    const s = 1 - t;
    const normal = left(unit(cubicDerivativeAt(from.curve, t)));
    const off = dot(subtract(q, cubicPointAt(from.curve, t)), normal);
    const a0 = 3 * s * s * t * dot(startTangent, normal);
    const a1 = -3 * s * t * t * dot(endTangent, normal);
    c00 += a0 * a0;
    c01 += a0 * a1;
    c11 += a1 * a1;
    x0 += off * a0;
    x1 += off * a1;
  });
  const step = solved(c00 * (1 + damping), c01, c11 * (1 + damping), x0, x1) ?? { out: 0, back: 0 };
  return { out: handles.out + step.out, back: handles.back + step.back };
};

/** How near the curve comes, once each point has moved along it from the given parameter to its own place. */
const settled = (curve: CubicSegment, p: readonly Point[], guess: readonly number[]): Fitted => {
  const u = guess.map((t, i) => (i === 0 || i === p.length - 1 ? t : placeNear(curve, p[i] as Point, t)));
  const off = p.map((q, i) => distance(q, cubicPointAt(curve, u[i] as number)));
  const error = Math.max(...off);
  // Of several places about equally bad the one nearest the middle: even halves need the fewest pieces.
  const middle = (p.length - 1) / 2;
  let worst = 0;
  off.forEach((d, i) => {
    if (d >= ABOUT_AS_BAD * error && Math.abs(i - middle) < Math.abs(worst - middle)) worst = i;
  });
  return { curve, u, error, squares: off.reduce((sum, d) => sum + d * d, 0), worst };
};

/** Two steps of Newton from t towards the parameter nearest to q. */
const placeNear = (curve: CubicSegment, q: Point, t: number): number => closer(curve, q, closer(curve, q, t));

/** One step of Newton towards the parameter nearest to q. */
const closer = (curve: CubicSegment, q: Point, t: number): number => {
  const p = cubicPointAt(curve, t);
  const [offX, offY] = [p.x - q.x, p.y - q.y];
  const d1 = cubicDerivativeAt(curve, t);
  const d2 = cubicSecondDerivativeAt(curve, t);
  const slope = dot(d1, d1) + (offX * d2.x + offY * d2.y);
  if (slope <= 0) return t;
  return Math.min(1, Math.max(0, t - (offX * d1.x + offY * d1.y) / slope));
};

/** A smooth curve that can be asked for places and directions. */
export interface SmoothCurve {
  point(t: number): Point;
  /** Direction of travel, any length but 0. */
  tangent(t: number): Point;
}

const SAMPLES = 16;

/**
 * Cubics with common tangents that follow a smooth curve from t0 to t1 within `tolerance` mm, halved until they do.
 * `deviation` is the greatest distance found between samples of the curve and the result.
 */
export const fitCurve = (
  curve: SmoothCurve,
  t0: number,
  t1: number,
  tolerance: number,
  depth = 0,
): { segments: CubicSegment[]; deviation: number } => {
  const at = (i: number, of: number): Point => curve.point(i === of ? t1 : t0 + ((t1 - t0) * i) / of);
  const points = Array.from({ length: SAMPLES + 1 }, (_, i) => at(i, SAMPLES));
  const one = fitOne(points, unit(curve.tangent(t0)), unit(curve.tangent(t1)), tolerance);
  if (one.error <= tolerance || depth >= 12) {
    const deviation = deviationBetween(one, at);
    if (deviation <= tolerance || depth >= 12) return { segments: [one.curve], deviation };
  }
  const middle = (t0 + t1) / 2;
  const first = fitCurve(curve, t0, middle, tolerance, depth + 1);
  const second = fitCurve(curve, middle, t1, tolerance, depth + 1);
  return {
    segments: [...first.segments, ...second.segments],
    deviation: Math.max(first.deviation, second.deviation),
  };
};

/** Greatest distance halfway between the places that were fitted. Never less than the true one at those places. */
const deviationBetween = ({ curve, u, error }: Fitted, at: (i: number, of: number) => Point): number => {
  let deviation = error;
  for (let i = 0; i < SAMPLES; i++) {
    const q = at(2 * i + 1, 2 * SAMPLES);
    const t = placeNear(curve, q, ((u[i] as number) + (u[i + 1] as number)) / 2);
    deviation = Math.max(deviation, distance(q, cubicPointAt(curve, t)));
  }
  return deviation;
};
