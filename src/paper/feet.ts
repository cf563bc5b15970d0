import { type Bounds, boundsOfPoints, distanceToBounds } from '../geometry/bounds.ts';
import { between, distance, type Point, subtract, unit } from '../geometry/point.ts';
import { footOn } from './tracing.ts';

/*
 * The nearest place on the sewn seam as it was. Every prick of a cutting line asks for its own: the stretches are looked
 * at in boxes, and what is found on the block's own seam is remembered for the fittings that follow.
 */

/** A stretch of sewn seam between two corners, as it was. */
export interface SeamRow {
  readonly edge: string;
  /** Lies across the mouth of a dart drawn as lines. */
  readonly mouth: boolean;
  readonly was: readonly Point[];
}

/** A place on a seam: on stretch `k` of a row, `t` of the way along it, `away` mm from the point it is the foot of. */
export interface Foot {
  readonly run: number;
  readonly k: number;
  readonly t: number;
  readonly away: number;
  /** Past which end of the run the point lies. */
  readonly past: 'start' | 'end' | undefined;
}

/** Finds the nearest place on a seam, among the rows of one edge when it is given; the first of equals. */
export type FootFinder = (p: Point, edge?: string) => Foot | undefined;

/** What is the same in every fitting: the rows of the seam as it was drawn, and the feet found on them, edge by edge. */
interface Block {
  readonly rows: readonly (readonly Point[])[];
  readonly feet: Map<string | undefined, WeakMap<Point, Foot>>;
}

const blocks = new WeakMap<object, Block>();

/** The rows of a block's own seam, made once for the runs it consists of. */
export const blockOf = <Run>(runs: readonly Run[], rowOf: (run: Run) => readonly Point[]): Block => {
  const known = blocks.get(runs) ?? { rows: runs.map(rowOf), feet: new Map() };
  blocks.set(runs, known);
  return known;
};

/** @param block its rows, where they are among those searched, remember what is found on them */
export const footFinder = (rows: readonly SeamRow[], block: Block): FootFinder => {
  const boxes = new Map<string | undefined, readonly Box[]>();
  const boxesOf = (edge: string | undefined): readonly Box[] => {
    const made =
      boxes.get(edge) ?? rows.flatMap((row, run) => ((edge ?? row.edge) === row.edge ? boxed(row, run) : []));
    boxes.set(edge, made);
    return made;
  };
  const anew = new Set(rows.filter((row, r) => row.was !== block.rows[r]).map((row) => row.edge));
  const knownOf = (edge: string | undefined): WeakMap<Point, Foot> | undefined => {
    if (edge === undefined ? anew.size > 0 : anew.has(edge)) return undefined;
    const known = block.feet.get(edge) ?? new WeakMap<Point, Foot>();
    block.feet.set(edge, known);
    return known;
  };
  return (p, edge) => {
    const known = knownOf(edge);
    const before = known?.get(p);
    if (before) return before;
    const place = nearest(boxesOf(edge), p);
    const foot = place && { ...place, past: pastEnd(rows, place.run, place.k, p) };
    if (foot) known?.set(p, foot);
    return foot;
  };
};

type Place = Omit<Foot, 'past'>;

/** Some stretches of a row that follow each other. */
interface Box {
  readonly bounds: Bounds;
  readonly run: number;
  readonly was: readonly Point[];
  readonly first: number;
}

/** Stretches to a box. */
const IN_A_BOX = 16;
/** Rounding may make a place seem nearer than its box, mm. */
const ROUNDING = 1e-6;

const boundsOfRow = new WeakMap<readonly Point[], readonly Bounds[]>();

const boxed = ({ was }: SeamRow, run: number): Box[] => {
  const bounds = boundsOfRow.get(was) ?? boundsAlong(was);
  boundsOfRow.set(was, bounds);
  return bounds.map((b, i) => ({ bounds: b, run, was, first: i * IN_A_BOX }));
};

const boundsAlong = (row: readonly Point[]): Bounds[] =>
  Array.from({ length: Math.ceil((row.length - 1) / IN_A_BOX) }, (_, i) =>
    boundsOfPoints(row.slice(i * IN_A_BOX, (i + 1) * IN_A_BOX + 1)),
  );

/** What lies in the nearest box bounds how near the nearest place can be; boxes further off than that are passed over. */
const nearest = (boxes: readonly Box[], p: Point): Place | undefined => {
  let closest: Box | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const box of boxes) {
    const away = distanceToBounds(box.bounds, p);
    if (away >= least) continue;
    least = away;
    closest = box;
  }
  const bound = closest && nearestIn(closest, p, undefined);
  if (!bound) return undefined;
  let best: Place | undefined;
  for (const box of boxes) {
    if (distanceToBounds(box.bounds, p) <= bound.away + ROUNDING) best = nearestIn(box, p, best);
  }
  return best;
};

/** The nearest place in a box, or the one found before where that is no further. */
const nearestIn = ({ was, run, first }: Box, p: Point, before: Place | undefined): Place | undefined => {
  let away = before?.away ?? Number.POSITIVE_INFINITY;
  let at = -1;
  let t = 0;
  const end = Math.min(first + IN_A_BOX, was.length - 1);
  for (let k = first; k < end; k++) {
    const a = was[k] as Point;
    const b = was[k + 1] as Point;
    const u = footOn(a, b, p);
    const far = distance(p, between(a, b, u));
    if (far >= away) continue;
    away = far;
    at = k;
    t = u;
  }
  return at < 0 ? before : { run, k: at, t, away };
};

/** At the mouth of a dart drawn as lines the paper goes on: there is no end to lie past. */
const pastEnd = (rows: readonly SeamRow[], r: number, k: number, p: Point): Foot['past'] => {
  const row = rows[r] as SeamRow;
  if (row.mouth) return undefined;
  const a = row.was[k] as Point;
  const b = row.was[k + 1] as Point;
  const d = unit(subtract(b, a));
  const on = (p.x - a.x) * d.x + (p.y - a.y) * d.y;
  if (k === 0 && on < -0.01 && !goesOn(rows, r, -1)) return 'start';
  if (k === row.was.length - 2 && on > distance(a, b) + 0.01 && !goesOn(rows, r, 1)) return 'end';
  return undefined;
};

const goesOn = (rows: readonly SeamRow[], r: number, step: 1 | -1): boolean => {
  const beside = rows[(r + step + rows.length) % rows.length];
  return beside?.edge === rows[r]?.edge && beside?.mouth === true;
};
