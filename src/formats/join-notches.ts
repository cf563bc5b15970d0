import { nearestOnPath, type Path, pathLength, pointAtDistance, polyline } from '../geometry/path.ts';
import { dot, type Point, subtract, turnBetween } from '../geometry/point.ts';
import { lengthOf, parameterAtLength, part, type Segment, tangentAt, withEnds } from '../geometry/segment.ts';
import { notchShape, notchStrokes } from './notch-shapes.ts';
import type { NotchMark, NotchStyle, PathMark } from './sheet.ts';

export interface JoinedNotches {
  readonly paths: readonly PathMark[];
  /** Notches that are now part of an outline. */
  readonly taken: ReadonlySet<NotchMark>;
  /** Notches on a cut outline that could not be taken into it. */
  readonly beside: readonly NotchMark[];
}

/** Where a notch interrupts an outline, mm from its start; `via` are the points between. */
interface Mouth {
  readonly mark: NotchMark;
  readonly from: number;
  readonly to: number;
  readonly via: readonly Point[];
}

const ON_LINE = 0.1;
/** Corners nearer to a mouth than this would be cut off or leave a sliver, mm. */
const CLEAR = 0.3;
const CORNER = Math.PI / 18;

/** Takes notches into the closed outlines that are cut, where the machine's style wants it. */
export const joinNotches = (
  paths: readonly PathMark[],
  notches: readonly NotchMark[],
  style: NotchStyle,
): JoinedNotches => {
  const taken = new Set<NotchMark>();
  if (!style.joined || style.shape === 'points') return { paths, taken, beside: [] };
  const wanted = notches.filter((n) => n.on === 'cut');
  const out = paths.map((mark) => {
    if (mark.purpose !== 'cut' || !mark.path.closed) return mark;
    const length = pathLength(mark.path);
    const corners = cornersAlong(mark.path);
    const mouths = wanted
      .filter((n) => n.piece === mark.piece && !taken.has(n))
      .flatMap((n) => mouthOf(n, mark.path, style) ?? [])
      .filter((m) => m.from > CLEAR && m.to < length - CLEAR)
      .filter((m) => corners.every((c) => c < m.from - CLEAR || c > m.to + CLEAR))
      .sort((a, b) => a.from - b.from)
      .filter((m, i, all) => i === 0 || m.from > (all[i - 1] as Mouth).to + CLEAR);
    for (const m of mouths) taken.add(m.mark);
    return mouths.length === 0 ? mark : { ...mark, path: interrupted(mark.path, mouths) };
  });
  return { paths: out, taken, beside: wanted.filter((n) => !taken.has(n)) };
};

/** Corners, mm from the start of the path. */
const cornersAlong = ({ segments }: Path): number[] => {
  let along = 0;
  return segments.flatMap((s, i) => {
    const before = segments[(i + segments.length - 1) % segments.length] as Segment;
    const here = along;
    along += lengthOf(s);
    return Math.abs(turnBetween(tangentAt(before, 1), tangentAt(s, 0))) > CORNER ? [here] : [];
  });
};

const mouthOf = (mark: NotchMark, path: Path, style: NotchStyle): Mouth | undefined => {
  const place = nearestOnPath(path, mark.at);
  if (!place || place.distance > ON_LINE) return undefined;
  const along = place.along;
  const shape = notchShape(mark, style);
  const strokes = notchStrokes(mark, style);
  if (shape === 'slit' || shape === 't') {
    const tip = strokes[0]?.segments[0]?.to as Point;
    const bar = strokes[1]?.segments[0];
    return { mark, from: along, to: along, via: bar ? [tip, bar.from, bar.to, tip] : [tip] };
  }
  const points = pointsOf(strokes[0] as Path);
  const tangent = pointAtDistance(path, along)?.tangent as Point;
  const withLine = dot(subtract(points[points.length - 1] as Point, points[0] as Point), tangent) >= 0;
  const half = (style.width ?? mark.width) / 2;
  // Only what lies inside the mouth: its ends are taken from the outline itself.
  const via = (withLine ? points : [...points].reverse()).slice(1, -1);
  return { mark, from: along - half, to: along + half, via };
};

const pointsOf = ({ segments }: Path): Point[] => [
  ...segments.slice(0, 1).map((s) => s.from),
  ...segments.map((s) => s.to),
];

/** The outline with its mouths, in order along it, replaced by the notches. */
const interrupted = (path: Path, mouths: readonly Mouth[]): Path => {
  const length = pathLength(path);
  const segments: Segment[] = [];
  let from = 0;
  mouths.forEach((m) => {
    const before = stretch(path, from, m.from);
    const after = pointAtDistance(path, m.to)?.point as Point;
    const start = (before[before.length - 1] as Segment).to;
    const end = m.from === m.to ? start : after;
    segments.push(...before, ...polyline([start, ...m.via, end]).segments);
    from = m.to;
  });
  segments.push(...stretch(path, from, length));
  return { segments: meeting(segments), closed: true };
};

/** The path between two distances from its start, mm. */
const stretch = (path: Path, from: number, to: number): Segment[] => {
  let along = 0;
  return path.segments.flatMap((s) => {
    const length = lengthOf(s);
    const [a, b] = [along, along + length];
    along = b;
    if (b <= from || a >= to) return [];
    const t0 = from > a ? parameterAtLength(s, from - a) : 0;
    const t1 = to < b ? parameterAtLength(s, to - a) : 1;
    return t1 - t0 < 1e-9 ? [] : [part(s, t0, t1)];
  });
};

/** Rounding between neighbours put right, so that each starts exactly where the one before ends. */
const meeting = (segments: readonly Segment[]): Segment[] =>
  segments.map((s, i) => {
    const before = segments[i - 1];
    return before ? withEnds(s, before.to, s.to) : s;
  });
