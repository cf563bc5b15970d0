import { flatten } from './flatten.ts';
import { nearestOnPath, type Path } from './path.ts';
import { distance, type Point, turnBetween } from './point.ts';
import { lengthOf, line, nearestOn, part, type Segment, tangentAt } from './segment.ts';

/** A vertex of the chords that stand for a line. */
export interface ChordPoint {
  readonly at: Point;
  /** 'corner': the line turns or ends here. 'kept': asked for. 'joint': straight meets curve. 'curve': all others. */
  readonly kind: 'corner' | 'kept' | 'joint' | 'curve';
}

export interface ChordOptions {
  /** Greatest distance between the line and its chords, mm. */
  readonly tolerance: number;
  /** Least distance between two vertices, mm; corners and kept points stand nearer. 0: no least. */
  readonly least: number;
  /** Places on the line (within 0.1 mm) that must be vertices. */
  readonly keep?: readonly Point[];
}

/** A turn of more than this is a corner, radians: 10 degrees. */
const CORNER = Math.PI / 18;
/** A place asked for is on the line within this, mm. */
const ON_LINE = 0.1;
/** Of the tolerance, the part that making chords may use; leaving out vertices may use the rest. */
const SHARE = 0.8;

/**
 * The line as chords for a machine: within the tolerance, no vertices too near one another, its corners kept.
 * A closed path gives a ring that does not repeat its first vertex. An open one keeps both ends.
 */
export const chords = (path: Path, options: ChordOptions): ChordPoint[] => {
  const segments = cutAt(path, options.keep ?? []);
  const kept = new Set((options.keep ?? []).flatMap((p) => placeOn(path, p) ?? []).map(key));
  const points: ChordPoint[] = [];
  segments.forEach((s, i) => {
    const before = segments[i - 1] ?? (path.closed ? segments[segments.length - 1] : undefined);
    points.push({ at: s.from, kind: kept.has(key(s.from)) ? 'kept' : jointKind(before, s) });
    const inside = flatten([s], SHARE * options.tolerance).slice(1, -1);
    points.push(...inside.map((at): ChordPoint => ({ at, kind: 'curve' })));
  });
  const last = segments[segments.length - 1];
  if (last && !path.closed) points.push({ at: last.to, kind: 'corner' });
  return options.least > 0 ? thinned(points, options, path.closed) : points;
};

const key = (p: Point): string => `${p.x.toFixed(6)},${p.y.toFixed(6)}`;

const jointKind = (before: Segment | undefined, s: Segment): ChordPoint['kind'] => {
  if (!before || Math.abs(turnBetween(tangentAt(before, 1), tangentAt(s, 0))) > CORNER) return 'corner';
  return (before.kind === 'line') === (s.kind === 'line') ? 'curve' : 'joint';
};

const placeOn = (path: Path, p: Point): Point | undefined => {
  const place = nearestOnPath(path, p);
  return place && place.distance <= ON_LINE ? place.point : undefined;
};

/** The path's segments, divided at the places asked for. */
const cutAt = (path: Path, keep: readonly Point[]): Segment[] => {
  if (keep.length === 0) return [...path.segments];
  const cuts = new Map<number, Point[]>();
  for (const p of keep) {
    const place = nearestOnPath(path, p);
    if (place && place.distance <= ON_LINE) cuts.set(place.index, [...(cuts.get(place.index) ?? []), place.point]);
  }
  return path.segments.flatMap((s, i) => dividedAt(s, cuts.get(i) ?? []));
};

const dividedAt = (s: Segment, places: readonly Point[]): Segment[] => {
  const ts = [...new Set(places.map((p) => nearestOn(s, p).t))].filter((t) => t > 1e-9 && t < 1 - 1e-9);
  const marks = [0, ...ts.sort((a, b) => a - b), 1];
  return marks.slice(1).flatMap((t, i) => {
    const from = marks[i] as number;
    return t - from < 1e-9 ? [] : [part(s, from, t)];
  });
};

const isFree = (p: ChordPoint): boolean => p.kind === 'curve' || p.kind === 'joint';

/** Leaves out vertices that stand too near the one before or the corner ahead, where that moves no line too far. */
const thinned = (points: readonly ChordPoint[], { tolerance, least }: ChordOptions, closed: boolean): ChordPoint[] => {
  const slack = (1 - SHARE) * tolerance;
  const out: ChordPoint[] = [];
  let dropped: Point[] = [];
  const mayDrop = (p: ChordPoint, next: ChordPoint): boolean => {
    const from = out[out.length - 1];
    if (!from || !isFree(p)) return false;
    const crowded = distance(from.at, p.at) < least || (!isFree(next) && distance(p.at, next.at) < least);
    return crowded && [...dropped, p.at].every((d) => offChord(from.at, next.at, d) <= slack);
  };
  points.forEach((p, i) => {
    const next = points[i + 1] ?? (closed ? points[0] : undefined);
    if (next && mayDrop(p, next)) {
      dropped.push(p.at);
      return;
    }
    dropped = [];
    out.push(p);
  });
  return out;
};

const offChord = (from: Point, to: Point, p: Point): number => {
  const chord = line(from, to);
  return lengthOf(chord) === 0 ? distance(from, p) : nearestOn(chord, p).distance;
};
