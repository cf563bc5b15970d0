import type { Point } from '../geometry/point.ts';
import { add, ORIGIN } from '../geometry/point.ts';
import { isCentre, isSeamDown } from '../pattern/edges.ts';
import { step } from './bend.ts';
import { pointsOf, sewnRuns } from './runs.ts';
import { stiffMove } from './slash.ts';
import { moved, type Prick, type Tracing } from './tracing.ts';

/*
 * A dress in one piece, parted on a line above its waist: what lies below hangs lower (higher) at the centre, to nothing
 * at the side, straight down, so that centre and grain stay upright and no width is lost.
 */

/** Where a piece lies between the centre (0) and the side (1), by the sewn waist; a whole piece by each of its halves. */
export interface FromCentre {
  readonly from: number;
  readonly to: number;
  readonly whole: boolean;
}

/** How far from the centre to the side a place lies that is so far along a piece from its inner to its outer end. */
export const fromCentreAt = ({ from, to }: FromCentre, outward: number): number => from + (to - from) * outward;

/** The opening is drawn through over so many times its width below the line, at least over 30 mm. */
const DRAWN_OUT = 4;
const LEAST_DRAWN_OUT = 30;

/** Over how long a stretch of upright line an opening (overlap) is drawn through, mm. */
export const drawnOut = (by: number): number => Math.max(LEAST_DRAWN_OUT, DRAWN_OUT * Math.abs(by));

/** Seams down the piece and its centre, as rows of points. */
const sidesOf = (tracing: Tracing): { points: readonly Point[]; outer: boolean }[] =>
  tracing.piece.edges
    .filter((e) => isSeamDown(e.role) || isCentre(e.role))
    .map((e) => ({
      points: sewnRuns(tracing, e.id).flatMap((run) => pointsOf(tracing, run)),
      outer: e.role === 'side',
    }));

/** x of a row of points at a height; past its ends that of the nearest. */
const xAt = (row: readonly Point[], y: number): number => {
  const k = row.findIndex((p, i) => i > 0 && ((row[i - 1] as Point).y - y) * (p.y - y) <= 0);
  if (k < 0) return row.reduce((best, p) => (Math.abs(p.y - y) < Math.abs(best.y - y) ? p : best)).x;
  const [a, b] = [row[k - 1], row[k]] as [Point, Point];
  return a.y === b.y ? a.x : a.x + ((b.x - a.x) * (y - a.y)) / (b.y - a.y);
};

/** From the left to the right end of the piece at the waist, mm. */
export const widthAtWaist = (tracing: Tracing): number => {
  const level = tracing.levels.get('waist') ?? 0;
  const xs = sidesOf(tracing).map((s) => xAt(s.points, level));
  return Math.max(...xs) - Math.min(...xs);
};

/** How far outward a place lies between the inner and the outer end of the piece at its height, 0 to 1. */
const outwardOn = (tracing: Tracing, whole: boolean): ((p: Point) => number) => {
  const sides = sidesOf(tracing);
  const level = tracing.levels.get('waist') ?? 0;
  const [left, right] = sides
    .toSorted((a, b) => xAt(a.points, level) - xAt(b.points, level))
    .filter((_, i, all) => {
      return i === 0 || i === all.length - 1;
    }) as [(typeof sides)[number], (typeof sides)[number]];
  return (p) => {
    const [a, b] = [xAt(left.points, p.y), xAt(right.points, p.y)];
    const u = Math.min(1, Math.max(0, (p.x - a) / (b - a)));
    return whole ? Math.abs(2 * u - 1) : right.outer ? u : 1 - u;
  };
};

/**
 * Parts the piece at a height: what lies below goes down by `by` at the centre (up, when negative), to nothing at the
 * side, in a smooth step across. Levels go as the inner end of the piece does, and with them the darts, which are widest
 * at the waist. The opening is drawn through above the waist.
 */
export const hangDress = (tracing: Tracing, by: number, place: FromCentre, line: number): Tracing => {
  const outward = outwardOn(tracing, place.whole);
  const waist = tracing.levels.get('waist') ?? 0;
  const over = line > waist ? Math.min(drawnOut(by), line - waist) : drawnOut(by);
  const below = (y: number): number => step((line - y) / over);
  const inner = step(1 - place.from);
  const down = (p: Point): Point => {
    const deep = below(p.y);
    return deep === 0 ? ORIGIN : { x: 0, y: -by * deep * step(1 - fromCentreAt(place, outward(p))) };
  };
  const shifted = (p: Point): Point => add(p, down(p));
  // The grain stays straight, a line at which to lengthen level.
  const kept = new Set(
    tracing.piece.lines.filter((l) => l.kind === 'grain' || l.kind === 'adjustment').map((l) => l.id),
  );
  const lineOf = (line: readonly Prick[]): readonly Prick[] => {
    const stiff = stiffMove(line, shifted);
    return line.map((p) => moved(p, stiff ?? down(p.at)));
  };
  const moving =
    (shift: (p: Point) => Point) =>
    <M extends { readonly at: Point }>(m: M): M => {
      const by = shift(m.at);
      return by.y === 0 ? m : { ...m, at: add(m.at, by) };
    };
  const placed = moving(down);
  const withLevels = moving((p) => ({ x: 0, y: -by * below(p.y) * inner }));
  return {
    ...tracing,
    seam: tracing.seam.map((p) => moved(p, down(p.at))),
    lines: new Map([...tracing.lines].map(([id, l]) => [id, kept.has(id) ? l : lineOf(l)])),
    marks: new Map([...tracing.marks].map(([id, m]) => [id, placed(m)])),
    tips: new Map([...tracing.tips].map(([key, t]) => [key, withLevels(t)])),
    landmarks: new Map([...tracing.landmarks].map(([name, l]) => [name, placed(l)])),
    levels: new Map([...tracing.levels].map(([name, y]) => [name, y - by * below(y) * inner])),
    drawn: tracing.drawn.map((d) => ({ ...d, points: d.points.map(shifted) })),
  };
};
