import type { Point } from '../geometry/point.ts';
import { add, distance, dot, scale, subtract, unit } from '../geometry/point.ts';
import type { Evidence } from '../pattern/evidence.ts';
import type { EdgeRole } from '../pattern/piece.ts';
import type { Claim } from './claims.ts';
import type { Grain } from './grain.ts';
import type { Stated } from './roles.ts';
import type { Shape, Stretch } from './shape.ts';
import { isStraight, turningOf } from './shape.ts';
import { skew } from './strokes.ts';
import { distanceToPolygon } from './trace.ts';

/** What is known of a skirt piece besides its outline. */
export interface SkirtFacts {
  readonly claims: readonly Claim[];
  readonly grain?: Grain;
  /** Middles of lines said to be at hip level. */
  readonly hips: readonly Point[];
  /** Places of notches. */
  readonly notches: readonly Point[];
  /** A line drawn down the middle of the piece. */
  readonly centreLine?: { readonly from: Point; readonly to: Point };
  /** Directions in which letters stand. */
  readonly letters: readonly Point[];
  readonly stated: Stated;
  readonly isGore: boolean;
  readonly isFront: boolean;
  /** Towards the waist, by the pattern sheet. */
  readonly up?: Point;
}

export type Mode = 'left is centre' | 'right is centre' | 'whole' | 'gore';

/** One way to read the outline: which stretch is the waist, which the hem, and what runs down on either side. */
export interface Reading {
  readonly waist: number;
  readonly hem: number;
  /** Stretches from waist to hem, and from hem to waist, anticlockwise: on the left and on the right when upright. */
  readonly left: readonly number[];
  readonly right: readonly number[];
  readonly mode: Mode;
  readonly score: number;
  /** Evidence for which end is up, and for the row that is the centre. */
  readonly ends: readonly Evidence[];
}

/** A skirt piece with more edges than this is not one that can be told by its shape. */
const MOST_EDGES = 14;

const rowBetween = (from: number, to: number, count: number): number[] => {
  const row: number[] = [];
  for (let i = (from + 1) % count; i !== to; i = (i + 1) % count) row.push(i);
  return row;
};

export const accepts = (role: EdgeRole, claim: EdgeRole): boolean =>
  role === claim || (role === 'centre' && claim === 'fold');

/** Claims for a role weigh for it; strong ones for another role weigh against it. */
const weigh = (claims: readonly Claim[], stretch: number, role: EdgeRole): number =>
  claims
    .filter((c) => c.stretch === stretch)
    .reduce(
      (sum, c) =>
        sum + (accepts(role, c.role) ? c.evidence.weight : c.evidence.weight >= 0.5 ? -0.7 * c.evidence.weight : 0),
      0,
    );

export const rowRole = (mode: Mode, side: 'left' | 'right'): EdgeRole => {
  if (mode === 'gore') return 'gore seam';
  return mode === `${side} is centre` ? 'centre' : 'side';
};

export const rowEnds = (shape: Shape, row: readonly number[]): { start: Point; end: Point } => ({
  start: (shape.stretches[row[0] as number] as Stretch).start,
  end: (shape.stretches[row[row.length - 1] as number] as Stretch).end,
});

/** Whether the outline is the same on both sides of the line from the middle of the hem to the middle of the waist. */
export const isSymmetric = (shape: Shape, waist: number, hem: number): boolean => {
  const foot = (shape.stretches[hem] as Stretch).middle;
  const axis = unit(subtract((shape.stretches[waist] as Stretch).middle, foot));
  const tolerance = Math.max(2, 0.006 * Math.sqrt(shape.trace.area));
  return shape.stretches.every((s) =>
    s.points.every((p, i) => {
      if (i % 4 !== 0) return true;
      const d = subtract(p, foot);
      const along = scale(axis, 2 * dot(d, axis));
      return distanceToPolygon(shape.trace.polygon, add(foot, subtract(along, d))) <= tolerance;
    }),
  );
};

/** Which of two ends something lies nearer to: 1 wholly at the first, −1 wholly at the other. */
const nearer = (p: Point, first: Point, other: Point): number => {
  const [a, b] = [distance(p, first), distance(p, other)];
  return (b - a) / (a + b);
};

/** What speaks for one stretch being the waist and the other the hem, by shape and by what lies near. */
const endEvidence = (
  shape: Shape,
  waist: number,
  hem: number,
  facts: SkirtFacts,
  sides: readonly number[],
): { evidence: Evidence[]; score: number } => {
  const evidence: Evidence[] = [];
  let score = 0;
  const speak = (weight: number, says: string): void => {
    score += weight;
    if (weight > 0) evidence.push({ says, weight });
  };
  const top = shape.stretches[waist] as Stretch;
  const foot = shape.stretches[hem] as Stretch;
  const ratio = foot.length / Math.max(1, top.length);
  speak(Math.max(-0.4, Math.min(0.4, (ratio - 1) * 1.5)), 'the waist is shorter than the hem');
  for (const i of sides) {
    const s = shape.stretches[i] as Stretch;
    const [first, last] = turningOf(shape.trace, s);
    if (first + last < 0.1 || s.length < 100) continue;
    const atTop = distance(s.start, top.end) < distance(s.end, top.start) ? first - last : last - first;
    speak((0.4 / sides.length) * (atTop / (first + last)), 'the side curves near the waist');
  }
  for (const hip of facts.hips) {
    speak(
      Math.sign(nearer(hip, top.middle, foot.middle)) * (0.7 / facts.hips.length),
      'the hip line lies near the waist',
    );
  }
  for (const notch of facts.notches) {
    speak(
      (0.15 / facts.notches.length) * Math.sign(nearer(notch, top.middle, foot.middle)),
      'the notches lie near the waist',
    );
  }
  const up = unit(subtract(top.middle, foot.middle));
  const standing = facts.letters.filter((l) => Math.abs(dot(l, up)) > 0.8);
  if (standing.length > 0) {
    const mean = standing.reduce((sum, l) => sum + Math.sign(dot(l, up)), 0) / standing.length;
    speak(0.05 * mean, 'the letters stand upright');
  }
  if (facts.up) speak(3 * dot(facts.up, up), 'the pattern sheet says which way is up');
  return { evidence, score };
};

const modeScore = (
  shape: Shape,
  mode: Mode,
  left: readonly number[],
  right: readonly number[],
  symmetric: boolean,
  facts: SkirtFacts,
): number => {
  if (mode === 'gore') return facts.isGore ? 1.2 : -0.6;
  if (mode === 'whole') {
    const centred = facts.centreLine ? 0.4 : 0;
    const asked = facts.stated.onFold ? -0.8 : 0;
    return (symmetric ? 0.7 : -1) + centred + asked + (facts.isGore ? -0.6 : 0);
  }
  const centre = mode === 'left is centre' ? left : right;
  const straight = centre.every((i) => isStraight(shape.stretches[i] as Stretch, 1));
  return (
    (straight ? 0.35 : -0.4) + (symmetric ? -0.25 : 0.1) + (facts.stated.onFold ? 0.5 : 0) + (facts.isGore ? -0.6 : 0)
  );
};

export const axisOf = (shape: Shape, reading: Pick<Reading, 'waist' | 'hem' | 'left' | 'right' | 'mode'>): Point => {
  if (reading.mode === 'left is centre') {
    const { start, end } = rowEnds(shape, reading.left);
    return unit(subtract(start, end));
  }
  if (reading.mode === 'right is centre') {
    const { start, end } = rowEnds(shape, reading.right);
    return unit(subtract(end, start));
  }
  return unit(
    subtract((shape.stretches[reading.waist] as Stretch).middle, (shape.stretches[reading.hem] as Stretch).middle),
  );
};

/** How well the ends lie across the axis and the rows along it. */
const lieScore = (shape: Shape, r: Pick<Reading, 'waist' | 'hem' | 'left' | 'right' | 'mode'>): number => {
  const axis = axisOf(shape, r);
  const across = [r.waist, r.hem].reduce(
    (sum, i) => sum + skew((shape.stretches[i] as Stretch).direction, axis) - 0.7,
    0,
  );
  const rows = [r.left, r.right].reduce((sum, row) => {
    const { start, end } = rowEnds(shape, row);
    return sum + 0.7 - skew(unit(subtract(end, start)), axis);
  }, 0);
  return 0.6 * across + 0.4 * rows - 0.1 * (r.left.length + r.right.length - 2);
};

export const readings = (shape: Shape, facts: SkirtFacts): Reading[] => {
  const n = shape.stretches.length;
  const all: Reading[] = [];
  if (n > MOST_EDGES) return all;
  for (let waist = 0; waist < n; waist++) {
    for (let hem = 0; hem < n; hem++) {
      if (hem === waist) continue;
      const left = rowBetween(waist, hem, n);
      const right = rowBetween(hem, waist, n);
      if (left.length === 0 || right.length === 0) continue;
      const symmetric = isSymmetric(shape, waist, hem);
      for (const mode of ['left is centre', 'right is centre', 'whole', 'gore'] as const) {
        const rows = [
          [left, rowRole(mode, 'left')],
          [right, rowRole(mode, 'right')],
        ] as const;
        const sides = rows.filter(([, role]) => role !== 'centre').flatMap(([row]) => row);
        const ends = endEvidence(shape, waist, hem, facts, sides);
        const claimed =
          weigh(facts.claims, waist, 'waist') +
          weigh(facts.claims, hem, 'hem') +
          rows.reduce((sum, [row, role]) => sum + row.reduce((s, i) => s + weigh(facts.claims, i, role), 0), 0);
        const base = { waist, hem, left, right, mode };
        const score =
          claimed + ends.score + modeScore(shape, mode, left, right, symmetric, facts) + lieScore(shape, base);
        all.push({ ...base, score, ends: ends.evidence });
      }
    }
  }
  return all.sort((a, b) => b.score - a.score);
};
