import type { Point } from '../geometry/point.ts';
import { dot, subtract, unit } from '../geometry/point.ts';
import type { Evidence } from '../pattern/evidence.ts';
import type { EdgeRole } from '../pattern/piece.ts';
import type { Claim } from './claims.ts';
import { judge } from './judging.ts';
import type { NotchFound } from './notches.ts';
import type { RoleReading } from './roles.ts';
import type { Shape, Stretch } from './shape.ts';
import { isStraight } from './shape.ts';

/** Long and narrow with two long straight edges facing one another: index of each. */
export const longEdges = (shape: Shape): readonly [number, number] | undefined => {
  const order = shape.stretches.map((_, i) => i).sort((a, b) => lengthAt(shape, b) - lengthAt(shape, a));
  const [a, b] = order;
  if (a === undefined || b === undefined || shape.stretches.length < 4 || shape.stretches.length > 8) return undefined;
  const [s, t] = [shape.stretches[a] as Stretch, shape.stretches[b] as Stretch];
  if (!isStraight(s, 2) || !isStraight(t, 2) || dot(s.direction, t.direction) > -0.99) return undefined;
  if (lengthAt(shape, b) < 0.8 * lengthAt(shape, a)) return undefined;
  return [a, b];
};
const lengthAt = (shape: Shape, i: number): number => shape.stretches[i]?.length ?? 0;

/** Whether the outline is that of a straight band: at least four times as long as wide. */
export const isBandShaped = (shape: Shape): boolean => {
  const long = longEdges(shape);
  if (!long) return false;
  const length = lengthAt(shape, long[0]);
  return shape.trace.area > 0 && length * length >= 4 * shape.trace.area;
};

/** The edge sewn to the waist, of the two long ones: by label, by notches, by how the letters stand. */
const seamEvidence = (
  i: number,
  shape: Shape,
  other: number,
  claims: readonly Claim[],
  notches: readonly NotchFound[],
  letters: readonly Point[],
): Evidence[] => {
  const evidence: Evidence[] = claims.filter((c) => c.stretch === i && c.role === 'waist').map((c) => c.evidence);
  const own = notches.filter((n) => n.stretch === i).length;
  const theirs = notches.filter((n) => n.stretch === other).length;
  if (own > theirs) evidence.push({ says: `${own} notches stand on it`, weight: 0.6 });
  const up = unit(subtract((shape.stretches[other] as Stretch).middle, (shape.stretches[i] as Stretch).middle));
  const standing = letters.reduce((sum, l) => sum + (Math.abs(dot(l, up)) > 0.8 ? Math.sign(dot(l, up)) : 0), 0);
  if (standing > 0) evidence.push({ says: 'the letters stand with this edge down', weight: 0.2 });
  return evidence;
};

/** Reads an outline as a straight waistband. */
export const readBand = (
  shape: Shape,
  claims: readonly Claim[],
  notches: readonly NotchFound[],
  letters: readonly Point[],
  onFold: boolean | undefined,
  sheetUp: Point | undefined,
): RoleReading | undefined => {
  const long = longEdges(shape);
  if (!long) return undefined;
  const [a, b] = long;
  const [forA, forB] = [
    seamEvidence(a, shape, b, claims, notches, letters),
    seamEvidence(b, shape, a, claims, notches, letters),
  ];
  const towards = (i: number, other: number): number =>
    sheetUp
      ? dot(sheetUp, unit(subtract((shape.stretches[other] as Stretch).middle, (shape.stretches[i] as Stretch).middle)))
      : 0;
  const seam = towards(a, b) * 10 + judge(forA).confidence >= towards(b, a) * 10 + judge(forB).confidence ? a : b;
  const top = seam === a ? b : a;
  const own = seam === a ? forA : forB;
  const alike: Evidence = { says: 'it is one of two long edges that are alike', weight: 0.5 };
  const ends = shape.stretches.map((_, i) => i).filter((i) => i !== seam && i !== top);
  const folded = onFold === false ? undefined : foldEnd(ends, claims, onFold === true);
  const roles = shape.stretches.map((_, i): { role: EdgeRole } & ReturnType<typeof judge> => {
    if (i === seam) return { role: 'band seam', ...judge([...own, alike]) };
    if (i === top)
      return {
        role: 'band top',
        ...judge([{ says: 'it lies opposite the edge sewn to the waist', weight: 0.6 }, alike]),
      };
    if (i === folded)
      return {
        role: 'fold',
        ...judge(claims.filter((c) => c.stretch === i && c.role === 'fold').map((c) => c.evidence)),
      };
    return { role: 'end', ...judge([{ says: 'it is a short end of the band', weight: 0.9 }]) };
  });
  const s = shape.stretches[seam] as Stretch;
  return {
    roles,
    up: { x: -s.direction.y, y: s.direction.x },
    origin: [{ stretch: seam, at: 'start' }],
    upright: judge([{ says: 'up runs square to the edge sewn to the waist', weight: 0.9 }]),
    half: folded !== undefined,
    doubts: [],
  };
};

/** The end that lies on the fold: by a fold mark or label beside it, the strongest. */
const foldEnd = (ends: readonly number[], claims: readonly Claim[], asked: boolean): number | undefined => {
  const weights = ends.map((i) => ({
    i,
    weight: judge(claims.filter((c) => c.stretch === i && c.role === 'fold').map((c) => c.evidence)).confidence,
  }));
  const best = weights.sort((x, y) => y.weight - x.weight)[0];
  return best && best.weight > (asked ? 0 : 0.65) ? best.i : undefined;
};
