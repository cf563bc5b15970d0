import type { Point } from '../geometry/point.ts';
import { add, between, distance, subtract, turn } from '../geometry/point.ts';
import { type PartMove, stiffMove, tapedAcross } from './slash.ts';
import { footOn, moved, type Prick, pricked, type Tracing } from './tracing.ts';

/*
 * Cutting the paper along a line that runs any way across it, and moving one part as a stiff piece: the slashes that
 * swing about a bust point or hinge on an armhole. The seam is pricked on both lips of the slash at each end; `joining`
 * closes it up again.
 */

/** Where a slash meets the seam line. */
export interface SlashEnd {
  readonly at: Point;
  /** Indexes of its two pricks, on the part that stays and on the part that moves; absent at a corner or a dart's tip. */
  readonly lips?: { readonly stays: number; readonly moves: number };
}

export interface Parted {
  /** With a prick on each lip; the verbs of one slash keep its order of pricks. */
  readonly tracing: Tracing;
  readonly from: SlashEnd;
  readonly to: SlashEnd;
  /** Indexes of the seam on the part to the right of the slash, in seam direction. */
  readonly part: readonly number[];
  /** Outline of that part, upright frame. */
  readonly region: readonly Point[];
}

/** A slash that ends this near to a corner or a dart's tip ends in it, mm. */
const IN_CORNER = 0.05;

interface Place {
  readonly index: number;
  readonly t: number;
  readonly corner?: Prick;
}

const placeOnSeam = (seam: readonly Prick[], p: Point): Place => {
  const corner = seam.find((q) => q.corner && distance(q.at, p) < IN_CORNER);
  if (corner) return { index: seam.indexOf(corner), t: 0, corner };
  let best = { index: 0, t: 0, away: Number.POSITIVE_INFINITY };
  seam.forEach((a, index) => {
    const b = seam[(index + 1) % seam.length] as Prick;
    const t = footOn(a.at, b.at, p);
    const away = distance(p, between(a.at, b.at, t));
    if (away < best.away) best = { index, t, away };
  });
  // Never on a prick that is there already: a lip has a place of its own.
  return { index: best.index, t: Math.min(1 - 1e-4, Math.max(1e-4, best.t)) };
};

/**
 * Cuts a piece along a broken line from one place of the seam line to another. The part to the right of the line, as
 * it runs from its first point to its last, is the one that moves.
 * @param path in the upright frame; its first and last point are taken to the nearest place of the seam line
 */
export const partAlong = (tracing: Tracing, path: readonly Point[]): Parted => {
  const { seam } = tracing;
  const ends = [path[0], path.at(-1)].map((p) => placeOnSeam(seam, p as Point)) as [Place, Place];
  // Two pricks on one place: distinct objects, so that each lip is found again. None at a corner.
  const lips = ends.map((e): readonly Prick[] => {
    const lip = (): Prick => pricked(seam[e.index] as Prick, seam[(e.index + 1) % seam.length] as Prick, e.t);
    return e.corner ? [] : [lip(), lip()];
  });
  const cut = seam.flatMap((p, i) => {
    const here = ends
      .map((e, k) => ({ t: e.t, row: e.index === i ? (lips[k] as readonly Prick[]) : [] }))
      .sort((a, b) => a.t - b.t);
    return [p, ...here.flatMap((h) => h.row)];
  });
  const indexOf = (p: Prick): number => cut.indexOf(p);
  const [from, to] = lips as [readonly Prick[], readonly Prick[]];
  const first = from[1] ? indexOf(from[1]) : (indexOf(ends[0].corner as Prick) + 1) % cut.length;
  const last = to[0] ? indexOf(to[0]) : (indexOf(ends[1].corner as Prick) - 1 + cut.length) % cut.length;
  const count = ((last - first + cut.length) % cut.length) + 1;
  const part = Array.from({ length: count }, (_, k) => (first + k) % cut.length);
  const at = (i: number): Point => (cut[i] as Prick).at;
  const endOf = (e: Place, stays: Prick | undefined, moves: Prick | undefined): SlashEnd =>
    stays && moves
      ? { at: stays.at, lips: { stays: indexOf(stays), moves: indexOf(moves) } }
      : { at: (e.corner as Prick).at };
  return {
    tracing: { ...tracing, seam: cut },
    from: endOf(ends[0], from[0], from[1]),
    to: endOf(ends[1], to[1], to[0]),
    part,
    region: [...part.map(at), ...[...path.slice(1, -1)].reverse()],
  };
};

const carriedBy = (move: PartMove, p: Point): Point =>
  add(move.turned === 0 ? p : turn(p, move.turned, move.about), move.by);

/** Whether a point lies in a ring, by counting crossings to its right. */
const liesIn = (ring: readonly Point[], p: Point): boolean => {
  let inside = false;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length] as Point;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) inside = !inside;
  });
  return inside;
};

/** A part that is cut out: its stretch of seam (indexes in seam direction) and its outline, upright frame. */
export type CutPart = Pick<Parted, 'part' | 'region'>;

/** The part of the paper between a stretch of seam, first to last inclusive, and the points that close it from last to first. */
export const cutOut = (tracing: Tracing, first: number, last: number, inner: readonly Point[]): CutPart => {
  const n = tracing.seam.length;
  const part = Array.from({ length: ((last - first + n) % n) + 1 }, (_, k) => (first + k) % n);
  return { part, region: [...part.map((i) => (tracing.seam[i] as Prick).at), ...inner] };
};

/**
 * Moves the part that was cut off, with all that lies on it: inner lines that cross the slash are taped straight
 * across, texts, marks, landmarks and dart tips go with the part they lie on. Inner lines named in `kept` stay (a
 * grainline that must come out straight). Levels stay: they belong to the part that carries the grain.
 */
export const movePart = (parted: Parted, move: PartMove, kept: ReadonlySet<string> = new Set()): Tracing =>
  moveCutParts(parted.tracing, [{ cut: parted, move }], kept);

/** Moves several parts at once, each by its own move, as {@link movePart} moves one: none is taken for another's. */
export const moveCutParts = (
  tracing: Tracing,
  parts: readonly { readonly cut: CutPart; readonly move: PartMove }[],
  kept: ReadonlySet<string> = new Set(),
): Tracing => {
  const partAt = (p: Point) => parts.find(({ cut }) => liesIn(cut.region, p));
  const shifted = (p: Point): Point => {
    const part = partAt(p);
    return part ? carriedBy(part.move, p) : p;
  };
  const seam = [...tracing.seam];
  for (const { cut, move } of parts) {
    for (const i of cut.part) {
      const p = seam[i] as Prick;
      seam[i] = moved(p, subtract(carriedBy(move, p.at), p.at));
    }
  }
  const placed = <M extends { readonly at: Point }>(m: M): M => (partAt(m.at) ? { ...m, at: shifted(m.at) } : m);
  return {
    ...tracing,
    seam,
    lines: new Map(
      [...tracing.lines].map(([id, line]) => [
        id,
        kept.has(id) ? line : (stiffLine(line, shifted) ?? tapedWith(line, partAt)),
      ]),
    ),
    marks: new Map(
      [...tracing.marks].map(([id, m]) => {
        const part = partAt(m.at);
        return [id, part ? { ...m, at: shifted(m.at), turned: m.turned + part.move.turned } : m];
      }),
    ),
    tips: new Map([...tracing.tips].map(([id, t]) => [id, placed(t)])),
    landmarks: new Map([...tracing.landmarks].map(([name, l]) => [name, placed(l)])),
    drawn: tracing.drawn.map((d) => ({ ...d, points: d.points.map(shifted) })),
  };
};

/** An inner line taped across the slash. An end of it that lies on the seam goes with the part the line comes from. */
const tapedWith = <Part extends { readonly move: PartMove }>(
  line: readonly Prick[],
  partAt: (p: Point) => Part | undefined,
): readonly Prick[] => {
  const [first, second, last, beforeLast] = [line[0], line[1], line.at(-1), line.at(-2)];
  const within = (end: Prick | undefined, next: Prick | undefined): [Point, Point][] =>
    end && next ? [[end.at, between(end.at, next.at, 0.5)]] : [];
  const ends = new Map([...within(first, second), ...within(last, beforeLast)]);
  const partOf = (p: Point): Part | undefined => partAt(ends.get(p) ?? p);
  const shifted = (p: Point): Point => {
    const part = partOf(p);
    return part ? carriedBy(part.move, p) : p;
  };
  return tapedAcross(line, shifted, partOf);
};

/** A small mark goes as a whole with the part that its middle lies on. */
const stiffLine = (line: readonly Prick[], shifted: (p: Point) => Point): readonly Prick[] | undefined => {
  const by = stiffMove(line, shifted);
  return by && line.map((p) => moved(p, by));
};
