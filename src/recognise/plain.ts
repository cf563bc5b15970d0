import type { Point } from '../geometry/point.ts';
import { add, dot, scale, size, subtract, unit } from '../geometry/point.ts';
import type { Claim } from './claims.ts';
import type { Grain } from './grain.ts';
import { judge } from './judging.ts';
import type { RoleReading, Stated } from './roles.ts';
import { unknownRole } from './roles.ts';
import type { Shape, Stretch } from './shape.ts';
import { isStraight } from './shape.ts';
import { directionOf } from './strokes.ts';

/** An edge of a piece whose kind is not known gets a role only where a label or fold mark says so. */
const SURE = 0.6;

/** Reads the edges of a piece that is no skirt piece and no band: only what is printed on them. */
export const readPlain = (
  shape: Shape,
  claims: readonly Claim[],
  grain: Grain | undefined,
  letters: readonly Point[],
  facts: Stated,
  sheetUp: Point | undefined,
): RoleReading => {
  const roles = shape.stretches.map((_, i) => {
    const own = claims.filter((c) => c.stretch === i && c.evidence.weight >= SURE);
    const best = own.sort((a, b) => b.evidence.weight - a.evidence.weight)[0];
    if (!best) return unknownRole;
    return { role: best.role, ...judge(own.filter((c) => c.role === best.role).map((c) => c.evidence)) };
  });
  const fold = shape.stretches.find((s, i) => roles[i]?.role === 'fold' && isStraight(s, 1));
  const hem = shape.stretches.find((_, i) => roles[i]?.role === 'hem');
  const waist = shape.stretches.find((_, i) => roles[i]?.role === 'waist');
  const towards = upwards(hem, waist, letters);
  const sensed = (d: Point): Point => (dot(d, towards) < 0 ? scale(d, -1) : d);
  const origin = [{ stretch: 0, at: 'start' as const }];
  const half = facts.onFold ?? fold !== undefined;
  const base = { roles, origin, half, doubts: [] };
  if (sheetUp) return { ...base, up: sheetUp, upright: judge([{ says: 'the pattern sheet says so', weight: 1 }]) };
  if (fold)
    return { ...base, up: sensed(fold.direction), upright: judge([{ says: 'up runs along the fold', weight: 0.7 }]) };
  if (grain)
    return {
      ...base,
      up: sensed(directionOf(grain)),
      upright: judge([{ says: 'up runs with the grain', weight: 0.6 }]),
    };
  return {
    ...base,
    up: size(towards) > 0 ? unit(towards) : { x: 0, y: 1 },
    upright: judge([{ says: 'as it lies in the drawing', weight: 0.1 }]),
  };
};

/** Roughly up: from hem to waist, else as the letters stand. */
const upwards = (hem: Stretch | undefined, waist: Stretch | undefined, letters: readonly Point[]): Point => {
  if (hem && waist) return subtract(waist.middle, hem.middle);
  const sum = letters.reduce(add, { x: 0, y: 0 });
  return size(sum) > 0 ? sum : { x: 0, y: 1 };
};
