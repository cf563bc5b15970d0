import type { PrintMark } from '../formats/print.ts';
import { transformPath, translation } from '../geometry/transform.ts';

/*
 * What is stacked down a sheet: each slab as high as it is, its marks from its own upper edge, x from the left of the
 * type area. Millimetres, y down.
 */

export interface Slab {
  readonly height: number;
  readonly marks: readonly PrintMark[];
  /** Space over it, left out at the head of a sheet. */
  readonly over?: number;
  /** Stays on one sheet with the next. */
  readonly keep?: boolean;
  /** Begins a sheet. */
  readonly fresh?: boolean;
  /** What is set once more over it when it comes to the head of a sheet: the headings of a table. */
  readonly head?: Slab;
}

export interface Placed {
  readonly y: number;
  readonly slab: Slab;
}

/** Deals the slabs out to sheets of that height. One that is higher than a sheet has one to itself. */
export const dealt = (slabs: readonly Slab[], height: number): Placed[][] => {
  const sheets: Placed[][] = [[]];
  let y = 0;
  const put = (slab: Slab, over: number): void => {
    (sheets.at(-1) as Placed[]).push({ y: y + over, slab });
    y += over + slab.height;
  };
  for (const group of together(slabs)) {
    const [first] = group as [Slab];
    const needed = group.reduce((sum, s, i) => sum + s.height + (i === 0 && y === 0 ? 0 : (s.over ?? 0)), 0);
    if (y > 0 && (first.fresh || y + needed > height)) {
      sheets.push([]);
      y = 0;
    }
    if (y === 0 && sheets.length > 1 && first.head) put(first.head, 0);
    for (const slab of group) put(slab, y === 0 ? 0 : (slab.over ?? 0));
  }
  return sheets;
};

/** Slabs that stay together, each group ending with one that need not. */
const together = (slabs: readonly Slab[]): Slab[][] => {
  const groups: Slab[][] = [];
  let open: Slab[] = [];
  for (const slab of slabs) {
    open.push(slab);
    if (slab.keep) continue;
    groups.push(open);
    open = [];
  }
  return open.length > 0 ? [...groups, open] : groups;
};

/** The marks moved by (x, y). */
export const shifted = (marks: readonly PrintMark[], x: number, y: number): PrintMark[] =>
  marks.map((mark): PrintMark => {
    if (mark.kind === 'text') return { ...mark, at: { x: mark.at.x + x, y: mark.at.y + y } };
    const along = translation({ x, y });
    const rings = mark.rings.map((segments) => transformPath(along, { segments, closed: mark.closed }).segments);
    return { ...mark, rings };
  });

/** Slabs one below the other as one. */
export const stacked = (slabs: readonly Slab[]): Slab => {
  let height = 0;
  const marks = slabs.flatMap((slab, i) => {
    const y = height + (i === 0 ? 0 : (slab.over ?? 0));
    height = y + slab.height;
    return shifted(slab.marks, 0, y);
  });
  return { height, marks };
};
