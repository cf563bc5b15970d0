import type { Drawable, PointDrawable } from '../formats/drawing.ts';
import type { Point } from '../geometry/point.ts';
import { add, between, cross, distance, dot, scale, subtract, unit } from '../geometry/point.ts';
import type { Evidence } from '../pattern/evidence.ts';
import type { Landmark } from '../pattern/piece.ts';
import type { Context } from './context.ts';
import type { DartFound } from './darts.ts';
import { placeOf } from './from-sheet.ts';
import type { Hints } from './hints.ts';
import { judge, stated } from './judging.ts';
import type { Label } from './labels.ts';
import { labelsFor } from './labels.ts';
import type { ReadPiece } from './piece-reading.ts';
import type { Seam } from './seam.ts';
import type { Stroke } from './strokes.ts';
import { directionOf, middleOfStroke, skew } from './strokes.ts';

/** What may mark a point on a piece. */
interface PointMarks {
  readonly points: readonly PointDrawable[];
  readonly strokes: readonly Stroke[];
}

interface Mark {
  readonly at: Point;
  readonly ids: readonly string[];
  /** A circle with a cross in it. */
  readonly crossed: boolean;
}

/** A label for a point stands no further off. mm */
const REACH = 45;
/** Round the way of a circle, or the length of a cross's lines, at most. mm */
const SMALL = 90;

/** Small circles, crosses, and circles with a cross; points by themselves. */
const marksOf = ({ points, strokes }: PointMarks): Mark[] => {
  const small = strokes.filter((s) => s.length <= SMALL);
  const lines = small.filter((s) => s.straight && s.length <= SMALL / 2);
  const rings = small.filter((s) => s.closed && s.length >= 5).map((s) => ({ s, at: centreOf(s) }));
  const crosses = lines.flatMap((a, i) =>
    lines.slice(i + 1).flatMap((b) => {
      const middle = middleOfStroke(a);
      const crossed = distance(middle, middleOfStroke(b)) <= 0.5 && skew(directionOf(a), directionOf(b)) > 0.9;
      return crossed ? [{ at: middle, ids: [a.drawable.id, b.drawable.id] }] : [];
    }),
  );
  const near = (p: Point) => (x: { at: Point }) => distance(x.at, p) <= 1;
  const alone = points.filter((p) => ![...rings, ...crosses].some(near(p.at)));
  return [
    ...rings.map(({ s, at }) => {
      const inside = crosses.filter(near(at));
      const own = points.filter(near(at)).map((p) => p.id);
      return { at, ids: [s.drawable.id, ...inside.flatMap((x) => x.ids), ...own], crossed: inside.length > 0 };
    }),
    ...crosses.filter((x) => !rings.some(near(x.at))).map((x) => ({ ...x, crossed: false })),
    ...alone.map((p) => ({ at: p.at, ids: [p.id], crossed: false })),
  ];
};

const centreOf = (s: Stroke): Point => {
  const ring = s.points.slice(0, -1);
  return scale(ring.reduce(add, { x: 0, y: 0 }), 1 / ring.length);
};

/** Bust points of a front: stated in the pattern sheet, marked, else where the darts point. None on other parts. */
export const landmarksOf = (read: ReadPiece, seam: Pick<Seam, 'darts'>, context: Context): Landmark[] => {
  const isOfOutline = (p: PointDrawable): boolean =>
    (['turn point', 'curve point', 'grade reference', 'notch'] as const).some((m) => context.hints.weight(p, m) > 0);
  const marks = { points: read.drawn.points.filter((p) => !isOfOutline(p)), strokes: read.strokes };
  const given = (read.sheet?.landmarks ?? []).map((l) => statedBustPoint(placeOf(context.drawing, l.at), marks));
  if (given.length > 0) return given;
  const { part } = read.part;
  if (!/^(bodice|dress)( side)? front$/.test(part)) return [];
  const marked = markedBustPoints(marks, seam.darts, read.labels, context.hints);
  if (marked.length > 0) return marked;
  return bustPointsFromDarts(seam.darts);
};

/** Bust points that are marked: by a label, by a name or layer of their own, or by a circle with a cross. */
const markedBustPoints = (
  marks: PointMarks,
  darts: readonly DartFound[],
  labels: readonly Label[],
  hints: Hints,
): Landmark[] => {
  const all = marksOf(marks).filter((m) => m.crossed || !darts.some((d) => isOnDart(m.at, d)));
  const drawn = new Map<string, Drawable>(
    [...marks.points, ...marks.strokes.map((s) => s.drawable)].map((d) => [d.id, d]),
  );
  const evidence = new Map<Mark, Evidence[]>();
  const say = (mark: Mark, e: Evidence): void => void evidence.set(mark, [...(evidence.get(mark) ?? []), e]);
  for (const mark of all) {
    const hint = mark.ids.map((id) => hints.says(drawn.get(id) as Drawable, 'bust point')).find((h) => h !== undefined);
    if (hint) say(mark, hint);
    if (mark.crossed) say(mark, { says: 'it is a circle with a cross', weight: 0.6 });
  }
  for (const label of labelsFor(labels, 'bust point')) {
    // A crossed circle is what such a label usually means; drill holes of darts lie about too.
    const each = (m: Mark): number[] => label.places.map((p) => distance(p, m.at));
    const felt = (m: Mark): number => each(m).reduce((a, b) => a + b, 0) * (m.crossed ? 0.4 : 1);
    const nearest = all.filter((m) => Math.min(...each(m)) <= REACH).sort((a, b) => felt(a) - felt(b))[0];
    if (nearest) say(nearest, { says: `“${label.text}” is printed beside it`, weight: 0.9 });
  }
  return [...evidence].map(([mark, own]) => ({ name: 'bust point', at: mark.at, marks: mark.ids, ...judge(own) }));
};

/** Whether a mark lies in the middle of a dart, as its drill holes do. */
const isOnDart = (p: Point, { tip, otherTip, mouth }: DartFound): boolean => {
  const foot = otherTip ?? between(mouth[0], mouth[1], 0.5);
  const way = unit(subtract(tip, foot));
  const along = dot(subtract(p, foot), way);
  return Math.abs(cross(way, subtract(p, foot))) <= 3 && along >= -3 && along <= distance(foot, tip) + 2;
};

/** Darts end this far before the bust point (ICAR e-course, pattern making: ½ in). mm */
const SHORT_OF_BUST = 12.7;
/** The bust point lies no further than this from the tips that point to it. mm */
const FARTHEST = 70;

interface Ray {
  readonly tip: Point;
  readonly way: Point;
  readonly stretch: number;
}

/**
 * Bust points where none is marked, from the way the darts point: where the middles of two darts from different edges
 * meet; with one dart, ½ in before its tip. An assumption, and said to be one.
 */
const bustPointsFromDarts = (darts: readonly DartFound[]): Landmark[] => {
  const rays = darts.flatMap((d): Ray[] => {
    const way = unit(subtract(d.tip, between(d.mouth[0], d.mouth[1], 0.5)));
    return d.stretch === undefined ? [] : [{ tip: d.tip, way, stretch: d.stretch }];
  });
  const assumed = (at: Point, says: string, weight: number): Landmark => ({
    name: 'bust point',
    at,
    marks: [],
    ...judge([{ says, weight }]),
  });
  const only = rays.length === 1 ? rays[0] : undefined;
  if (only)
    return [
      assumed(add(only.tip, scale(only.way, SHORT_OF_BUST)), 'it lies ½ in before the tip of the only dart', 0.4),
    ];
  const meetings = rays
    .flatMap((a, i) => rays.slice(i + 1).flatMap((b) => meetingOf(a, b)))
    .sort((x, y) => x.away - y.away);
  const used = new Set<Ray>();
  return meetings.flatMap(({ a, b, at }) => {
    if (used.has(a) || used.has(b)) return [];
    used.add(a).add(b);
    return [assumed(at, 'the middles of two darts point to it, and no bust point is marked', 0.55)];
  });
};

/** Where two darts of different edges point to, not far before both tips. */
const meetingOf = (a: Ray, b: Ray): { a: Ray; b: Ray; at: Point; away: number }[] => {
  const w = cross(a.way, b.way);
  if (a.stretch === b.stretch || Math.abs(w) < 0.3) return [];
  const apart = subtract(b.tip, a.tip);
  const ahead = [cross(apart, b.way) / w, cross(apart, a.way) / w] as const;
  if (!ahead.every((k) => k >= -5 && k <= FARTHEST)) return [];
  return [{ a, b, at: add(a.tip, scale(a.way, ahead[0])), away: Math.max(...ahead) }];
};

const statedBustPoint = (at: Point, marks: PointMarks): Landmark => {
  const mark = marksOf(marks).find((m) => distance(m.at, at) <= 5);
  return { name: 'bust point', at: mark?.at ?? at, marks: mark?.ids ?? [], ...stated('the pattern sheet says so') };
};
