import type { Point } from '../geometry/point.ts';
import { dot, scale, unit } from '../geometry/point.ts';
import type { EdgeRole } from '../pattern/piece.ts';
import { foldDoubt, foldOrSeam } from './fold-or-seam.ts';
import { judge } from './judging.ts';
import type { RoleDoubt, RoleReading } from './roles.ts';
import type { Shape, Stretch } from './shape.ts';
import { isStraight } from './shape.ts';
import type { Reading, SkirtFacts } from './skirt-score.ts';
import { accepts, axisOf, isSymmetric, readings, rowRole } from './skirt-score.ts';
import { directionOf, skew } from './strokes.ts';

/** Readings nearer than this in weight are equally likely; nothing is guessed between them. */
const EQUAL = 0.12;

const rolesOf = (shape: Shape, r: Reading, centre: EdgeRole): EdgeRole[] => {
  const roles: EdgeRole[] = shape.stretches.map(() => 'unknown');
  roles[r.waist] = 'waist';
  roles[r.hem] = 'hem';
  for (const [row, side] of [
    [r.left, 'left'],
    [r.right, 'right'],
  ] as const) {
    const role = rowRole(r.mode, side);
    for (const i of row) roles[i] = role === 'centre' ? centre : role;
  }
  return roles;
};

const sameReading = (shape: Shape, a: Reading, b: Reading): boolean =>
  rolesOf(shape, a, 'centre').join() === rolesOf(shape, b, 'centre').join();

/** Reads an outline as a piece of a skirt. Undefined when it has too few corners for waist, hem and two sides. */
export const readSkirt = (shape: Shape, facts: SkirtFacts): RoleReading | undefined => {
  const ranked = readings(shape, facts);
  const best = ranked[0];
  if (!best) return undefined;
  const rival = ranked.find((r) => !sameReading(shape, r, best));
  const margin = rival ? best.score - rival.score : 2;
  const centre = best.mode === 'left is centre' ? best.left : best.mode === 'right is centre' ? best.right : [];
  const fold = foldOrSeam(centre, facts);
  const names = rolesOf(shape, best, fold.role);
  const sure = Math.min(0.6, Math.max(0, margin * 0.5));
  const roles = names.map((role, i) => {
    const own = facts.claims
      .filter((c) => c.stretch === i && (accepts(role, c.role) || (role === 'fold' && c.role === 'centre')))
      .map((c) => c.evidence);
    const ends = role === 'waist' || role === 'hem' ? best.ends : [];
    const others = { says: 'the other edges of the piece leave this place for it', weight: sure };
    const centred = role === 'fold' || role === 'centre' ? fold.evidence.filter((e) => !own.includes(e)) : [];
    return { role, ...judge([...own, ...ends, ...centred, others]) };
  });
  const doubts: RoleDoubt[] = [];
  if (rival && margin < EQUAL) doubts.push(rolesDoubt(shape, best, rival, names));
  if (centre.length > 0 && fold.doubt) doubts.push(foldDoubt(centre[0] as number, fold));
  return { roles, ...standing(shape, best, facts), half: fold.role === 'fold' && centre.length > 0, doubts };
};

const rolesDoubt = (shape: Shape, best: Reading, rival: Reading, names: readonly EdgeRole[]): RoleDoubt => {
  const up = axisOf(shape, best);
  const turned = rival.waist === best.hem && rival.hem === best.waist;
  const theirs = rolesOf(shape, rival, 'centre');
  const differ = names.findIndex((role, i) => theirs[i] !== role && !(role === 'fold' && theirs[i] === 'centre'));
  return {
    code: 'recognise-roles-doubtful',
    about: turned ? 'which end is the waist' : `the ${names[differ]} edge`,
    ...(differ >= 0 ? { stretch: differ } : {}),
    message: turned
      ? 'either end could be the waist'
      : `the ${names[differ]} edge could as well be the ${theirs[differ]} edge`,
    set: `up: [${up.x.toFixed(4)}, ${up.y.toFixed(4)}]`,
  };
};

/** Upright from the centre line or fold, then from waist to hem, then from the grain. */
const standing = (shape: Shape, r: Reading, facts: SkirtFacts): Pick<RoleReading, 'up' | 'origin' | 'upright'> => {
  const rough = axisOf(shape, r);
  const sensed = (d: Point): Point => (dot(d, rough) < 0 ? scale(d, -1) : d);
  const waist = shape.stretches[r.waist] as Stretch;
  if (r.mode === 'left is centre' || r.mode === 'right is centre') {
    const row = r.mode === 'left is centre' ? r.left : r.right;
    const origin = [{ stretch: r.waist, at: r.mode === 'left is centre' ? ('end' as const) : ('start' as const) }];
    const straight = row.length === 1 && isStraight(shape.stretches[row[0] as number] as Stretch, 1);
    if (straight || !facts.grain) {
      return {
        up: rough,
        origin,
        upright: judge([{ says: 'up runs along the centre from hem to waist', weight: 0.9 }]),
      };
    }
    return {
      up: sensed(directionOf(facts.grain)),
      origin,
      upright: judge([{ says: 'the centre is shaped; up runs with the grain', weight: 0.7 }]),
    };
  }
  const origin = [{ stretch: r.waist, at: 'middle' as const }];
  const line = facts.centreLine;
  if (line)
    return {
      up: sensed(directionOf(line)),
      origin,
      upright: judge([{ says: 'up runs along the centre line', weight: 0.9 }]),
    };
  const across = unit({ x: waist.start.y - waist.end.y, y: waist.end.x - waist.start.x });
  if (isSymmetric(shape, r.waist, r.hem)) {
    return {
      up: sensed(across),
      origin,
      upright: judge([{ says: 'both sides are alike; up runs midway from hem to waist', weight: 0.85 }]),
    };
  }
  if (facts.grain && skew(directionOf(facts.grain), rough) < 0.1) {
    return {
      up: sensed(directionOf(facts.grain)),
      origin,
      upright: judge([{ says: 'up runs with the grain, from hem to waist', weight: 0.7 }]),
    };
  }
  return {
    up: rough,
    origin,
    upright: judge([{ says: 'up runs from the middle of the hem to the middle of the waist', weight: 0.6 }]),
  };
};
