import type { Point } from '../geometry/point.ts';
import { type Laid, layPoints, partOfRow, placeAt, type Row, rowOf } from './lay-on.ts';
import { paperRuns } from './runs.ts';
import type { Prick, Tracing } from './tracing.ts';

/*
 * Where a piece lies on those it is sewn to, edge on edge. What it lies on may be a row of edges, laid together as they
 * are sewn (front and back of an armhole), each with its darts closed: every stretch of seam between two corners or
 * mouths has its own place under the piece, any of them turned over.
 */

/** An edge that a piece may lie on. */
export interface Ground {
  readonly piece: string;
  readonly edge: string;
  readonly tracing: Tracing;
}

/** A sewn stretch of an edge: which of those between its dart mouths, counted in the direction of the seam. */
export interface Stretch {
  readonly piece: string;
  readonly edge: string;
  readonly run: number;
}

/** A stretch under the piece, and how the piece lies on it. */
export interface Part extends Stretch {
  readonly laid: Laid;
  /** How much of the sewn edge lies on it, mm. */
  readonly covers: number;
}

/** How a piece lies by one of its edges: the stretches under it in the direction of that edge. */
export interface Seat {
  readonly edge: string;
  readonly parts: readonly Part[];
  /** The furthest that the edge lies from what is under it, mm. */
  readonly off: number;
}

/** An edge lies on others when no place of it is further away, mm. */
export const LIES_ON = 1;
/** Another way of laying is taken only when it lies better by so much, mm. */
const AS_GOOD = 0.01;
/** Less of an edge than this on a stretch is nothing, mm. */
const NOTHING = 0.01;
/** More edges than this are not tried in every order. */
const TRIED = 4;

/** The points of an edge as it was traced, dart mouths and all; undefined for an edge of no length. */
export const edgeRow = (tracing: Tracing, edge: string): Point[] | undefined => {
  const points = paperRuns(tracing, edge).flatMap(({ run }) => run.map((i) => (tracing.seam[i] as Prick).was));
  return points.length > 1 ? points : undefined;
};

/**
 * How a piece lies by its edge on a row of edges, each taken once, in whatever order and from whichever side fits best.
 * The row may be longer than the edge: the piece then begins at an end of it.
 * @param starts places along the row where the piece begins instead, mm
 */
export const seatOn = (
  own: Tracing,
  edge: string,
  grounds: readonly Ground[],
  starts?: readonly number[],
): Seat | undefined => {
  const points = edgeRow(own, edge);
  if (!points || grounds.length === 0 || grounds.length > TRIED) return undefined;
  const row = rowOf(points);
  const beds = grounds.map(bedOf);
  const spare = beds.reduce((sum, b) => sum + b.length, 0) - lengthOf(row);
  if (spare < -LIES_ON) return undefined;
  const from = starts ?? (spare > LIES_ON ? [0, spare] : [spare / 2]);
  const found = from.flatMap((start) => laidOut(row, beds, -start));
  const seats = found.map((parts): Seat => ({ edge, parts, off: Math.max(...parts.map((p) => p.laid.off)) }));
  return seats.reduce<Seat | undefined>((best, s) => (best && best.off <= s.off + AS_GOOD ? best : s), undefined);
};

/** The stretches of an edge, in the direction of the seam. */
interface Bed {
  readonly length: number;
  readonly stretches: readonly (Stretch & { readonly row: Row })[];
}

const lengthOf = (row: Row): number => row.along.at(-1) ?? 0;

const bedOf = ({ piece, edge, tracing }: Ground): Bed => {
  const runs = paperRuns(tracing, edge).filter((r) => !r.mouth);
  const stretches = runs.map(({ run }, k) => ({
    piece,
    edge,
    run: k,
    row: rowOf(run.map((i) => (tracing.seam[i] as Prick).was)),
  }));
  return { stretches, length: stretches.reduce((sum, s) => sum + lengthOf(s.row), 0) };
};

/** The same from the other side: what came last comes first. */
const turnedOver = (bed: Bed): Bed => ({
  ...bed,
  stretches: bed.stretches.map((s) => ({ ...s, row: rowOf(s.row.points.toReversed()) })).reverse(),
});

/** All ways in which an edge lies near enough on edges laid one after the other from so far along it. */
const laidOut = (own: Row, beds: readonly Bed[], at: number): Part[][] => {
  if (beds.length === 0) return [[]];
  return beds.flatMap((bed, i) => {
    if (beds.findIndex((b) => isSame(b, bed)) < i) return [];
    const rest = beds.filter((_, k) => k !== i);
    return [false, true].flatMap((mirrored) => {
      const parts = laidOnBed(own, mirrored ? turnedOver(bed) : bed, at, mirrored);
      return parts ? laidOut(own, rest, at + bed.length).map((more) => [...parts, ...more]) : [];
    });
  });
};

const isSame = (a: Bed, b: Bed): boolean =>
  a.stretches[0]?.piece === b.stretches[0]?.piece && a.stretches[0]?.edge === b.stretches[0]?.edge;

const laidOnBed = (own: Row, bed: Bed, at: number, mirrored: boolean): Part[] | undefined => {
  const parts: Part[] = [];
  let from = at;
  for (const { row, ...stretch } of bed.stretches) {
    const length = lengthOf(row);
    const [a, b] = [Math.max(0, from), Math.min(lengthOf(own), from + length)];
    if (b - a > NOTHING) {
      const points = rowOf(partOfRow(own, a, b));
      const targets = points.along.map((s) => placeAt(row, Math.min(length, Math.max(0, s + a - from))));
      const laid = layPoints(points.points, targets, mirrored);
      if (laid.off > LIES_ON) return undefined;
      parts.push({ ...stretch, laid, covers: b - a });
    }
    from += length;
  }
  return parts;
};
