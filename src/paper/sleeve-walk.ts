import type { Point } from '../geometry/point.ts';
import type { ArmSeam } from '../pattern/arm-seams.ts';
import { isPartOf } from '../pattern/parts.ts';
import type { SewnEdge } from '../pattern/pattern.ts';
import { type Garment, tracingOf } from './garment.ts';
import { notchesAlong } from './notch-places.ts';
import { at, edgeRun, sewnLength } from './runs.ts';
import { backSeam, type CapHalf, capEdge, capHalves, halfLength, isShoulderNotch } from './sleeve-lines.ts';
import { proportionally, slideAlong } from './slide.ts';
import { type Tracing, trace } from './tracing.ts';

/* Armhole and cap walked up from the underarm, and the notches of the cap set to where those of the armhole come. */

/** Notches of mates may lie so far apart, mm. */
const MEETING = 0.1;

/** An armhole walked up from the underarm: where its notches stood and stand, and how long it was and is. mm */
export interface Walked {
  readonly notches: readonly { readonly before: number; readonly now: number }[];
  readonly length: { readonly before: number; readonly now: number };
}
export interface Walk {
  readonly front: Walked | undefined;
  readonly back: Walked | undefined;
}

export const walkOf = (garment: Garment, { rows }: ArmSeam): Walk => {
  const row = rows[0] ?? [];
  const edges = (place: 'front' | 'back'): readonly SewnEdge[] => {
    const own = row.filter((s) => isPartOf(tracingOf(garment, s.piece).piece, place));
    // Of a piece that is drawn whole one armhole tells for both.
    return own.filter((s, i) => own.findIndex((o) => o.piece === s.piece) === i);
  };
  return { front: walked(garment, edges('front')), back: walked(garment, edges('back')) };
};

const walked = (garment: Garment, row: readonly SewnEdge[]): Walked | undefined => {
  if (row.length === 0) return undefined;
  const before = walkUp(row.map((s) => [trace(tracingOf(garment, s.piece).piece), s.edge] as const));
  const now = walkUp(row.map((s) => [tracingOf(garment, s.piece), s.edge] as const));
  return {
    notches: before.notches.map((n, i) => ({ before: n, now: now.notches[i] ?? n })),
    length: { before: before.length, now: now.length },
  };
};

/** Panels follow each other upwards, the lowest first; each is walked from its lower end. */
const walkUp = (edges: readonly (readonly [Tracing, string])[]): { notches: number[]; length: number } => {
  const lowest = ([t, id]: readonly [Tracing, string]): number => Math.min(...ends(t, id).map((p) => p.y));
  const sorted = [...edges].sort((a, b) => lowest(a) - lowest(b));
  const notches: number[] = [];
  let length = 0;
  for (const [t, id] of sorted) {
    const own = sewnLength(t, id);
    const [first, last] = ends(t, id) as [Point, Point];
    const up = notchesAlong(t, id).map((n) => (first.y <= last.y ? n.along : own - n.along));
    notches.push(...up.sort((a, b) => a - b).map((s) => length + s));
    length += own;
  }
  return { notches, length };
};

const ends = (t: Tracing, id: string) => {
  const run = edgeRun(t, id);
  return [at(t, run[0] as number), at(t, run.at(-1) as number)];
};

/**
 * The armhole that a half of a cap is sewn to; to the half of a sleeve on the fold both are, and it gets their mean.
 * Undefined when nothing tells which it is.
 */
export const armholeAt = (tracing: Tracing, half: CapHalf, { front, back }: Walk): Walked | undefined => {
  if (capHalves(tracing).length === 1) return front && back ? meanOf(front, back) : (front ?? back);
  const seam = backSeam(tracing);
  return seam === undefined ? undefined : half.seam === seam ? back : front;
};

type Change = Walked['length'];

const meanOf = (a: Walked, b: Walked): Walked => {
  const middle = (x: Change, y: Change): Change => ({
    before: (x.before + y.before) / 2,
    now: (x.now + y.now) / 2,
  });
  const notches =
    a.notches.length === b.notches.length ? a.notches.map((n, i) => middle(n, b.notches[i] as Change)) : [];
  return { notches, length: middle(a.length, b.length) };
};

/** Notches of a half of the cap, up from the underarm, mm; the shoulder notch left out. */
export const halfNotches = (tracing: Tracing, half: CapHalf): number[] => {
  const cap = capEdge(tracing) as string;
  const length = sewnLength(tracing, cap);
  const own = halfLength(tracing, half);
  return notchesAlong(tracing, cap)
    .map((n) => (half.end === 'start' ? n.along : length - n.along))
    .filter((s) => s < own && !isShoulderNotch(s, own))
    .sort((a, b) => a - b);
};

/** The notches of a cap slide along it to where those of the armhole come to lie, ease as it was. */
export const slideNotches = (tracing: Tracing, walk: Walk): Tracing => {
  const cap = capEdge(tracing);
  if (cap === undefined) return tracing;
  const before = trace(tracing.piece);
  const length = sewnLength(tracing, cap);
  const places = capHalves(tracing).flatMap((half, i) => {
    const was = capHalves(before)[i];
    const armhole = armholeAt(tracing, half, walk);
    const [is, old] = [halfNotches(tracing, half), was ? halfNotches(before, was) : []];
    if (is.length !== old.length) return [];
    return is.map((s, k) => {
      const answer = armhole && armhole.notches.length === is.length ? armhole.notches[k] : undefined;
      const to = (old[k] as number) + (answer ? answer.now - answer.before : 0);
      return half.end === 'start' ? { from: s, to } : { from: length - s, to: length - to };
    });
  });
  const shoulder = shoulderPlace(tracing, before, cap, walk);
  const knots = [{ from: 0, to: 0 }, ...places, ...shoulder, { from: length, to: length }].sort(
    (a, b) => a.from - b.from,
  );
  const rises = knots.every((k, i) => i === 0 || k.to > (knots[i - 1]?.to as number));
  if (!rises || knots.every((k) => Math.abs(k.to - k.from) < MEETING)) return tracing;
  return slideAlong(tracing, edgeRun(tracing, cap), proportionally(knots));
};

/** Where the shoulder notch comes to stand: the cap has gained before it what that armhole has, and half of more ease. */
const shoulderPlace = (tracing: Tracing, before: Tracing, cap: string, walk: Walk): { from: number; to: number }[] => {
  const [first] = capHalves(before);
  if (!first || capHalves(before).length < 2 || !walk.front || !walk.back) return [];
  const own = halfLength(before, first);
  const start = first.end === 'start' ? armholeAt(tracing, first, walk) : undefined;
  const was = notchesAlong(before, cap).find((n) => isShoulderNotch(n.along, own));
  const is = was && notchesAlong(tracing, cap).find((n) => n.notch === was.notch);
  if (!was || !is || !start) return [];
  const rest = start === walk.front ? walk.back : walk.front;
  const gains = [start, rest].map((w) => w.length.now - w.length.before) as [number, number];
  const grown = sewnLength(tracing, cap) - sewnLength(before, cap);
  return [{ from: is.along, to: was.along + (gains[0] as number) + (grown - gains[0] - gains[1]) / 2 }];
};
