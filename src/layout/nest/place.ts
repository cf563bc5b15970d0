import { type Contact, contactsAt, lookAround, lossAt } from './around.ts';
import { fits, type Layout, lossOf, noRange, put, rangeOf } from './layout.ts';
import type { Random } from './random.ts';
import type { Lie } from './shapes.ts';

/** How thoroughly one place is sought. */
export interface Sampling {
  /** Places tried near where the piece lies. */
  readonly near: number;
  /** Places tried all over the strip. */
  readonly anywhere: number;
  /** The best of them, improved by steps. */
  readonly improved: number;
}

interface Candidate {
  lie: number;
  x: number;
  y: number;
  loss: number;
}

const range = noRange();

/** Steps of the first and the last improvement as shares of the smaller side of the piece: from, down to. */
const COARSE = [0.25, 0.02] as const;
const FINE = [0.02, 0.005] as const;
/** How often the last improvement looks for lines that the piece has passed. */
const SETTLING = 4;

/**
 * Takes piece i up and lays it where its weighted overlap is least among sampled places, the best of them improved by
 * descent along the axes and diagonals, then exactly. Returns whether it moved. (Sampled places instead of all corners
 * of no-fit polygons, after arXiv 2509.13329; the depth here is that of the no-fit polygon itself.)
 */
export const replace = (layout: Layout, i: number, random: Random, sampling: Sampling): boolean => {
  const now: Candidate = {
    lie: layout.lie[i] as number,
    x: layout.x[i] as number,
    y: layout.y[i] as number,
    loss: lossOf(layout, i, true),
  };
  lookAround(layout, i);
  const kept = sampled(layout, i, random, sampling, now);
  let best: Candidate | undefined;
  for (const c of kept) {
    descend(layout, c, random, COARSE);
    if (!best || c.loss < best.loss) best = c;
    if (best.loss === 0) break;
  }
  if (!best) return false;
  if (best.loss > 0) descend(layout, best, random, FINE);
  if (best.loss > 0) settle(layout, best);
  if (best.loss >= now.loss) return false;
  put(layout, i, best.lie, best.x, best.y);
  return true;
};

/** The best sampled places, the present one among them, best first. */
const sampled = (layout: Layout, i: number, random: Random, sampling: Sampling, now: Candidate): Candidate[] => {
  const lies = layout.shapes.liesOf[layout.itemOf[i] as number] as Int32Array;
  const kept: Candidate[] = [{ ...now }];
  const own = layout.shapes.lies[now.lie] as Lie;
  const spanX = own.maxX - own.minX;
  const spanY = own.maxY - own.minY;
  const total = sampling.near + sampling.anywhere;
  for (let k = 0; k < total; k++) {
    const near = k < sampling.near;
    const lie = near && k % 4 !== 0 ? now.lie : (lies[random.below(lies.length)] as number);
    if (!fits(layout, lie)) continue;
    rangeOf(layout, lie, range);
    const { x0, x1, y0, y1 } = range;
    let x = x0 + random.next() * (x1 - x0);
    let y = y0 + random.next() * (y1 - y0);
    if (near) {
      x = Math.max(x0, Math.min(x1, now.x + (random.next() - 0.5) * spanX));
      y = Math.max(y0, Math.min(y1, now.y + (random.next() - 0.5) * spanY));
    }
    const worst = kept.length > sampling.improved ? (kept[kept.length - 1] as Candidate).loss : Infinity;
    const loss = lossAt(layout, lie, x, y, worst);
    if (loss < worst) keep(kept, { lie, x, y, loss }, sampling.improved + 1, Math.min(spanX, spanY) / 8);
    if (loss === 0) break;
  }
  return kept;
};

/** Puts the candidate in its order; of two close together only the better stays. */
const keep = (kept: Candidate[], found: Candidate, most: number, apart: number): void => {
  const twin = kept.findIndex(
    (c) => c.lie === found.lie && Math.abs(c.x - found.x) < apart && Math.abs(c.y - found.y) < apart,
  );
  if (twin >= 0) {
    if ((kept[twin] as Candidate).loss <= found.loss) return;
    kept.splice(twin, 1);
  }
  const at = kept.findIndex((c) => c.loss > found.loss);
  kept.splice(at < 0 ? kept.length : at, 0, found);
  if (kept.length > most) kept.pop();
};

const DIAGONAL = Math.SQRT1_2;
const DIRECTIONS = [
  [1, 0],
  [0, 1],
  [DIAGONAL, DIAGONAL],
  [DIAGONAL, -DIAGONAL],
] as const;

/** Tries both ways along a direction drawn anew each time; a step that helps grows, one that does not shrinks. */
const descend = (layout: Layout, at: Candidate, random: Random, [from, downTo]: readonly [number, number]): void => {
  const own = layout.shapes.lies[at.lie] as Lie;
  const size = Math.min(own.maxX - own.minX, own.maxY - own.minY);
  rangeOf(layout, at.lie, range);
  const { x0, x1, y0, y1 } = range;
  let step = size * from;
  const least = size * downTo;
  const fixed = y0 === y1;
  while (step >= least && at.loss > 0) {
    const [dx, dy] = DIRECTIONS[fixed ? 0 : random.below(4)] as (typeof DIRECTIONS)[number];
    let better = false;
    for (let way = -1; way <= 1; way += 2) {
      const x = Math.max(x0, Math.min(x1, at.x + way * step * dx));
      const y = Math.max(y0, Math.min(y1, at.y + way * step * dy));
      const loss = lossAt(layout, at.lie, x, y, at.loss);
      if (loss >= at.loss) continue;
      at.x = x;
      at.y = y;
      at.loss = loss;
      better = true;
      break;
    }
    step *= better ? 1.1 : 0.6;
  }
};

/**
 * The last small step, exact: where the overlap is least, the piece touches one other, or two at once. So the feet on
 * the lines that it has passed, and the points where two of these meet, are tried; where new lines come up, again.
 */
const settle = (layout: Layout, at: Candidate): void => {
  rangeOf(layout, at.lie, range);
  const { x0, x1, y0, y1 } = range;
  const lines: Contact[] = [];
  const last = { x: at.x, y: at.y };
  for (let round = 0; round < SETTLING && at.loss > 0; round++) {
    const known = lines.length;
    for (const line of contactsAt(layout, at.lie, last.x, last.y)) {
      if (!lines.some((l) => alike(l, line))) lines.push(line);
    }
    if (lines.length === known) return;
    let least = Infinity;
    for (let k = known; k < lines.length; k++) {
      for (let m = 0; m <= k; m++) {
        const p = meeting(lines[k] as Contact, lines[m] as Contact, at);
        if (!p) continue;
        const x = Math.max(x0, Math.min(x1, p.x));
        const y = Math.max(y0, Math.min(y1, p.y));
        const loss = lossAt(layout, at.lie, x, y, least);
        if (loss >= least) continue;
        least = loss;
        last.x = x;
        last.y = y;
      }
    }
    if (least < at.loss) Object.assign(at, last, { loss: least });
  }
};

const alike = (a: Contact, b: Contact): boolean =>
  Math.abs(a.nx - b.nx) + Math.abs(a.ny - b.ny) < 1e-9 && Math.abs(a.c - b.c) < 1e-9;

/** Where two lines meet; of a line with itself the foot of `from`. Undefined when they hardly cross. */
const meeting = (
  a: Contact,
  b: Contact,
  from: { readonly x: number; readonly y: number },
): { x: number; y: number } | undefined => {
  if (a === b) {
    const off = a.nx * from.x + a.ny * from.y - a.c;
    return { x: from.x - off * a.nx, y: from.y - off * a.ny };
  }
  const cross = a.nx * b.ny - a.ny * b.nx;
  if (Math.abs(cross) < 1e-3) return undefined;
  return { x: (a.c * b.ny - b.c * a.ny) / cross, y: (a.nx * b.c - b.nx * a.c) / cross };
};
