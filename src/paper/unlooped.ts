import { between, distance, type Point } from '../geometry/point.ts';
import type { Prick } from './tracing.ts';

/** A loop is no longer than so many pricks; what goes back further is no loop of a corner. */
const MOST = 24;

/**
 * Where the corner of a cutting line has been carried further along it than the pricks beside it (a dart that opens wide
 * lets two offsets meet beyond its mouth), the line would run back on itself: the pricks that it has passed are left out.
 * So are those that overlap the other side of a fold.
 * @param carried pricks of a closed line where they come to lie; undefined for those that are folded away
 */
export const unlooped = (carried: readonly (Prick | undefined)[]): readonly (Prick | undefined)[] => {
  const ridden = withoutTurnedStretches(carried);
  const n = ridden.length;
  const passed = new Set<number>();
  ridden.forEach((corner, i) => {
    if (corner?.t !== 0 || corner.at === corner.was) return;
    for (const step of [1, -1] as const) {
      for (const k of passedBy(ridden, corner, i, step)) passed.add((k + n) % n);
    }
  });
  for (const k of overlapping(ridden)) passed.add(k);
  return passed.size === 0 ? ridden : ridden.map((p, i) => (passed.has(i) ? undefined : p));
};

/** Pricks that come to lie a hair past the one on the other side of a fold. */
const overlapping = (ridden: readonly (Prick | undefined)[]): number[] => {
  const left = ridden.flatMap((p, i) => (p ? [i] : []));
  return left.filter((i, k) => {
    const next = left[(k + 1) % left.length] as number;
    if (next === (i + 1) % ridden.length) return false;
    const [a, b] = [ridden[i] as Prick, ridden[next] as Prick];
    return a.t !== 0 && alike(a.at, b.at, a.was, b.was) < 0;
  });
};

/** Pricks on one side of a corner that come to lie behind it, though they lay before it. */
const passedBy = (ridden: readonly (Prick | undefined)[], corner: Prick, from: number, step: 1 | -1): number[] => {
  const n = ridden.length;
  const found: number[] = [];
  let here: Prick | undefined;
  let place = from;
  for (let k = from + step; Math.abs(k - from) <= MOST + 2; k += step) {
    const next = ridden[(k + n) % n];
    // What a tuck has folded away stands between no two others.
    if (!next) continue;
    if (here) {
      // The corner at the other end of the stretch stays.
      if (here.t === 0) return [];
      const isBehind =
        alike(corner.at, here.at, here.at, next.at) < 0 && alike(corner.was, here.was, here.was, next.was) > 0;
      if (!isBehind) return found;
      found.push(place);
    }
    here = next;
    place = k;
  }
  return [];
};

/** How far the ways from a to b and from c to d go the same way: their dot product. */
const alike = (a: Point, b: Point, c: Point, d: Point): number => (b.x - a.x) * (d.x - c.x) + (b.y - a.y) * (d.y - c.y);

/** Ends of a stretch that have passed each other lie no further apart than this, mm. */
const PASSED = 8;

/**
 * Over the mouth of a dart that has become narrow, the parts of the cutting line that ride with its two legs may pass
 * each other: the stretch between them is turned round. They meet in the middle, and what lay between is left out.
 */
const withoutTurnedStretches = (ridden: readonly (Prick | undefined)[]): readonly (Prick | undefined)[] => {
  const left = ridden.flatMap((p, i) => (p ? [i] : []));
  const out = [...ridden];
  for (let k = 0; k < left.length; k++) {
    const reach = turnedRound(ridden, left, k);
    if (reach === 0) continue;
    const [i, j] = [left[k], left[(k + reach) % left.length]] as [number, number];
    const [a, b] = [ridden[i], ridden[j]] as [Prick, Prick];
    const at = between(a.at, b.at, 0.5);
    for (let m = 1; m < reach; m++) out[left[(k + m) % left.length] as number] = undefined;
    out[i] = { ...a, at };
    out[j] = { ...b, at };
    k += reach;
  }
  return out;
};

/** How many pricks further on the last one lies that a prick has passed; 0 where it has passed none. */
const turnedRound = (ridden: readonly (Prick | undefined)[], left: readonly number[], k: number): number => {
  const a = ridden[left[k] as number] as Prick;
  for (let reach = Math.min(MOST, left.length >> 1); reach > 0; reach--) {
    const b = ridden[left[(k + reach) % left.length] as number] as Prick;
    if (
      alike(a.at, b.at, a.was, b.was) < 0 &&
      distance(b.at, a.at) < PASSED &&
      distance(b.was, a.was) > distance(b.at, a.at)
    )
      return reach;
  }
  return 0;
};
