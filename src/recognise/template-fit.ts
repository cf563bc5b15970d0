import type { Point } from '../geometry/point.ts';
import { dot } from '../geometry/point.ts';
import type { EdgeRole } from '../pattern/piece.ts';
import type { Claim } from './claims.ts';
import type { EdgeTemplate } from './template.ts';
import type { Run } from './template-runs.ts';

/** How the paper is held against a template: which way is up, and whether its face lies down. */
export interface Hold {
  readonly up: Point;
  readonly mirrored: boolean;
}

/** How well a run of outline is what a template expects: shape alone (at most 1), and what words, marks and darts say. */
export interface Fit {
  readonly shape: number;
  readonly said: number;
}

const DEGREES = 180 / Math.PI;

/** Direction of a vector as the template sees it, degrees anticlockwise from the right. */
const headingOf = (v: Point, { up, mirrored }: Hold): number => {
  const across = v.x * up.y - v.y * up.x;
  const angle = Math.atan2(dot(v, up), across) * DEGREES;
  // A mirrored edge is walked the other way and seen from behind: its rise changes sign, its way across stays.
  return mirrored ? -angle : angle;
};

const angleBetween = (a: number, b: number): number => {
  const d = Math.abs(a - b) % 360;
  return d > 180 ? 360 - d : d;
};

/** 1 well within what is usual, falling to −1 at a right angle beyond it. */
const agrees = (found: number, [usual, within]: readonly [number, number]): number => {
  const off = angleBetween(found, usual);
  return off <= within ? 1 - 0.3 * (off / within) : Math.max(-1, 0.7 - 1.7 * ((off - within) / 55));
};

/** Bows below this are straight, above that are plainly bent, as a part of the line between the ends. */
const STRAIGHT = 0.02;
const BENT = 0.06;
/** The crown of a sleeve is this high, on the mean. */
const CROWN = 0.13;

const formFit = (run: Run, { form, depth }: EdgeTemplate): number => {
  if (depth) {
    const off = Math.max(depth[0] - run.hollow, run.hollow - depth[1], 0);
    return Math.max(-1, 1 - off / 0.1);
  }
  if (form === 'any') return 0.4;
  if (form === 'straight') return run.bow <= STRAIGHT ? 1 : Math.max(-1, 1 - (run.bow - STRAIGHT) / 0.04);
  const bent = form === 'hollow' ? run.hollow : -run.hollow;
  const plain = form === 'crown' ? CROWN : BENT;
  return bent >= plain ? 1 : Math.max(-1, (2 * bent) / plain - 1);
};

const shareFit = (run: Run, [least, most]: readonly [number, number], around: number): number => {
  const share = run.length / around;
  if (share >= least && share <= most) return 1;
  const times = share < least ? least / Math.max(share, 1e-6) : share / most;
  return Math.max(-1, 1 - 2 * Math.log2(times));
};

/** `around`: the whole way round, mm. */
export const shapeFit = (run: Run, e: EdgeTemplate, hold: Hold, around: number): number => {
  const leaving = e.leaves ? agrees(headingOf(hold.mirrored ? run.arrives : run.leaves, hold), e.leaves) : undefined;
  const heading = agrees(headingOf(run.direction, hold), e.heads);
  const one = leaving === undefined ? heading : 0.6 * heading + 0.4 * leaving;
  const joined = 0.2 * (run.stretches.length - 1) + 0.4 * run.turn + 0.1 * run.turns;
  return 0.5 * one + 0.3 * formFit(run, e) + 0.2 * shareFit(run, e.share, around) - joined;
};

/** Claims that speak for a template's role under another name. */
const alike: Readonly<Partial<Record<EdgeRole, readonly EdgeRole[]>>> = {
  centre: ['fold'],
  wrist: ['hem'],
  'sleeve seam': ['inseam', 'side'],
  'panel seam': ['centre'],
};

export const accepts = (role: EdgeRole, claim: EdgeRole): boolean =>
  role === claim || (alike[role]?.includes(claim) ?? false);

/** Marks that stand on stretches: how many, by stretch. */
export interface Standing {
  readonly darts: readonly number[];
  readonly notches: readonly number[];
}

/** What words, marks, allowances and darts say of a run for a role, for all its stretches together. */
export const saidOf = (
  run: Run,
  e: EdgeTemplate,
  claims: ReadonlyMap<number, readonly Claim[]>,
  { darts, notches }: Standing,
): number => {
  let said = 0;
  for (const i of run.stretches) {
    for (const c of claims.get(i) ?? []) {
      if (accepts(e.role, c.role)) said += c.evidence.weight;
      else if (c.by !== 'allowance' && c.evidence.weight >= 0.5) said -= 0.7 * c.evidence.weight;
    }
    const opening = darts[i] ?? 0;
    if (opening > 0) said += e.darts ? 0.25 : -0.8 * opening;
    if (e.notched && (notches[i] ?? 0) > 0) said += 0.3;
  }
  return said;
};
