import type { PointDrawable } from '../formats/drawing.ts';
import type { Point } from '../geometry/point.ts';
import { between, scale } from '../geometry/point.ts';
import type { Evidence } from '../pattern/evidence.ts';
import type { Hints } from './hints.ts';
import { judge } from './judging.ts';
import type { Shape, Stretch } from './shape.ts';
import { stretchAt } from './shape.ts';
import type { Stroke } from './strokes.ts';
import { directionOf, distanceToStroke, skew } from './strokes.ts';
import type { Trace } from './trace.ts';
import { alongOf, nearestPlace, placeAt, rayHit, wrap } from './trace.ts';

/** A notch found: where on the read outline, and what draws it. */
export interface NotchFound {
  readonly along: number;
  readonly stretch: number;
  readonly marks: readonly string[];
  readonly count: number;
  readonly evidence: readonly Evidence[];
  readonly confidence: number;
}

const LONGEST = 25;
/** Marks this near one another on one edge are one double or triple notch. mm */
const GROUP = 13;

interface Mark {
  readonly id: string;
  readonly at: Point;
  /** Along the mark, either way. */
  readonly direction?: Point;
  readonly evidence: readonly Evidence[];
}

/** A short line across an outline or ending on it, nearly square to it. */
const isTick = (s: Stroke, outlines: readonly Trace[]): boolean => {
  if (!s.straight || s.length > LONGEST || s.length < 1) return false;
  return outlines.some((t) => {
    const hit = nearestPlace(t, between(s.from, s.to, 0.5));
    const touches =
      Math.min(nearestPlace(t, s.from).distance, nearestPlace(t, s.to).distance) <= 1 ||
      distanceToStroke(s, hit.point) <= 0.5;
    const along = placeAt(t, alongOf(t, hit.span, hit.t)).tangent;
    return touches && skew(directionOf(s), along) > 0.75;
  });
};

const markOf = (s: Stroke, hints: Hints, outlines: readonly Trace[]): Mark | undefined => {
  const hint = hints.says(s.drawable, 'notch');
  const tick = isTick(s, outlines);
  if (!tick && !(hint && s.length <= 2.5 * LONGEST)) return undefined;
  const evidence: Evidence[] = [];
  if (hint) evidence.push({ says: hint.says, weight: hint.weight });
  if (tick) evidence.push({ says: 'a short line stands square on the outline', weight: 0.7 });
  const onLine = s.points.reduce((a, b) => (leastDistance(outlines, a) <= leastDistance(outlines, b) ? a : b));
  return { id: s.drawable.id, at: onLine, ...(s.straight ? { direction: directionOf(s) } : {}), evidence };
};

const leastDistance = (outlines: readonly Trace[], p: Point): number =>
  Math.min(...outlines.map((t) => nearestPlace(t, p).distance));

const pointMark = (d: PointDrawable, hints: Hints): Mark | undefined => {
  const hint = hints.says(d, 'notch');
  if (!hint) return undefined;
  const direction = d.angle === undefined ? undefined : { x: Math.cos(d.angle), y: Math.sin(d.angle) };
  return {
    id: d.id,
    at: d.at,
    ...(direction ? { direction } : {}),
    evidence: [{ says: hint.says, weight: hint.weight }],
  };
};

/** Where a mark stands on the read outline: along its own direction when that meets the outline, else the nearest place. */
const seat = (mark: Mark, t: Trace): { along: number; away: number } => {
  const near = nearestPlace(t, mark.at);
  if (near.distance <= 0.5 || !mark.direction) return { along: alongOf(t, near.span, near.t), away: near.distance };
  const reach = near.distance * 1.6 + 2;
  const hits = [mark.direction, scale(mark.direction, -1)]
    .flatMap((d) => rayHit(t, mark.at, d, reach) ?? [])
    .sort((a, b) => a.distance - b.distance);
  const hit = hits[0] ?? near;
  return { along: alongOf(t, hit.span, hit.t), away: hit.distance };
};

/**
 * Notches on the read outline: marks on layers or in groups for notches, short lines square to an outline (the cutting
 * line or the seam line), and notches cut in the outline itself.
 */
export const readNotches = (
  shape: Shape,
  cutting: Trace | undefined,
  strokes: readonly Stroke[],
  points: readonly PointDrawable[],
  hints: Hints,
): NotchFound[] => {
  const outlines = cutting ? [shape.trace, cutting] : [shape.trace];
  const marks = [
    ...strokes.flatMap((s) => markOf(s, hints, outlines) ?? []),
    ...points.flatMap((p) => pointMark(p, hints) ?? []),
  ];
  const singles = marks
    .map((m) => ({ ...seat(m, shape.trace), mark: m }))
    .filter((m) => m.away <= 60)
    .map(({ along, mark }) => ({ along, stretch: stretchAt(shape, along), marks: [mark.id], evidence: mark.evidence }));
  const cut = shape.notches.map((n) => ({
    along: n.along,
    stretch: stretchAt(shape, n.along),
    marks: [] as string[],
    evidence: [{ says: 'it is cut into the outline', weight: 0.8 }],
  }));
  // Counted from the start of its stretch, so that the outline's own start parts no double notch.
  const placed = [...singles, ...cut].map((n): Single => {
    const { from } = shape.stretches[n.stretch] as Stretch;
    return { ...n, along: from + wrap(shape.trace, n.along - from) };
  });
  return grouped(placed.sort((a, b) => a.stretch - b.stretch || a.along - b.along)).map((n) => ({
    ...n,
    along: wrap(shape.trace, n.along),
  }));
};

interface Single {
  readonly along: number;
  readonly stretch: number;
  readonly marks: readonly string[];
  readonly evidence: readonly Evidence[];
}

/** Marks at one place (V legs, a line and a point) are one notch; marks side by side a double or triple one. */
const grouped = (singles: readonly Single[]): NotchFound[] => {
  const groups: Single[][] = [];
  for (const s of singles) {
    const group = groups[groups.length - 1];
    const before = group?.[group.length - 1];
    if (
      group &&
      before &&
      before.stretch === s.stretch &&
      Math.abs(s.along - before.along) <= GROUP &&
      group.length < 6
    )
      group.push(s);
    else groups.push([s]);
  }
  return groups.map((g) => {
    const places = distinct(g.map((s) => s.along));
    return {
      along: places.reduce((a, b) => a + b, 0) / places.length,
      stretch: (g[0] as Single).stretch,
      marks: g.flatMap((s) => s.marks),
      count: Math.min(3, places.length),
      ...judge(dedupe(g.flatMap((s) => s.evidence))),
    };
  });
};

/** Places less than 2 mm apart are one. */
const distinct = (places: readonly number[]): number[] =>
  places.filter((a, i) => places.findIndex((b) => Math.abs(a - b) < 2) === i);

const dedupe = (evidence: readonly Evidence[]): Evidence[] =>
  evidence.filter((e, i) => evidence.findIndex((o) => o.says === e.says) === i);
