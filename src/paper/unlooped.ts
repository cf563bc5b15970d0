import { dot, subtract } from '../geometry/point.ts';
import type { Prick } from './tracing.ts';

/** A loop is no longer than so many pricks; what goes back further is no loop of a corner. */
const MOST = 24;

/**
 * Where the corner of a cutting line has been carried further along it than the pricks beside it (a dart that opens wide
 * lets two offsets meet beyond its mouth), the line would run back on itself: the pricks that it has passed are left out.
 * So are those that overlap the other side of a fold.
 * @param ridden pricks of a closed line where they come to lie; undefined for those that are folded away
 */
export const unlooped = (ridden: readonly (Prick | undefined)[]): readonly (Prick | undefined)[] => {
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
    return a.t !== 0 && dot(subtract(b.at, a.at), subtract(b.was, a.was)) < 0;
  });
};

/** Pricks on one side of a corner that come to lie behind it, though they lay before it. */
const passedBy = (ridden: readonly (Prick | undefined)[], corner: Prick, from: number, step: 1 | -1): number[] => {
  const n = ridden.length;
  const found: number[] = [];
  // What a tuck has folded away stands between no two others.
  const left = Array.from({ length: MOST + 2 }, (_, i) => from + step * (i + 1)).filter((k) => ridden[(k + n) % n]);
  for (const [i, k] of left.slice(0, -1).entries()) {
    const here = ridden[(k + n) % n] as Prick;
    const next = ridden[((left[i + 1] as number) + n) % n] as Prick;
    // The corner at the other end of the stretch stays.
    if (here.t === 0) return [];
    const [is, was] = [subtract(next.at, here.at), subtract(next.was, here.was)];
    const behind = dot(subtract(here.at, corner.at), is) < 0 && dot(subtract(here.was, corner.was), was) > 0;
    if (!behind) return found;
    found.push(k);
  }
  return [];
};
