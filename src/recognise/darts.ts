import type { PointDrawable } from '../formats/drawing.ts';
import type { Point } from '../geometry/point.ts';
import { between, distance, subtract, unit } from '../geometry/point.ts';
import type { Evidence, Judged } from '../pattern/evidence.ts';
import type { Hints } from './hints.ts';
import { innerDarts } from './inner-darts.ts';
import { judge } from './judging.ts';
import type { Label } from './labels.ts';
import { labelsFor } from './labels.ts';
import type { Shape } from './shape.ts';
import { isStraight, stretchAt } from './shape.ts';
import type { Stroke } from './strokes.ts';
import type { Trace } from './trace.ts';
import { alongOf, isInside, nearestPlace, rayHit, wrap } from './trace.ts';

/** A dart found on the read outline; `stretch` is absent for one that lies inside. */
export interface DartFound extends Judged {
  readonly stretch?: number;
  readonly drawn:
    | { readonly as: 'outline'; readonly first: number; readonly last: number }
    | { readonly as: 'lines'; readonly strokes: readonly Stroke[] };
  readonly mouth: readonly [Point, Point];
  readonly tip: Point;
  /** The lower tip of a dart that lies inside. */
  readonly otherTip?: Point;
}

/** A leg from the tip to where it ends at the outline. */
interface Leg {
  readonly tip: Point;
  readonly end: Point;
  readonly stroke: Stroke;
}

const MEETS = 1;
const SHORTEST = 20;
/** How far a leg may stop short of the outline, or run past it to the cutting line. mm */
const REACH = 6;

/** The cap over a dart's mouth is no sharper than this. radians */
const CAP_TURN = (50 * Math.PI) / 180;

const touches = (outlines: readonly Trace[], p: Point): boolean =>
  outlines.some((t) => nearestPlace(t, p).distance <= REACH);

/** Legs a stroke can be: from end to end, or both sides of one drawn as a V. */
const legsOf = (s: Stroke, outlines: readonly Trace[]): Leg[] => {
  if (s.closed || s.length < SHORTEST) return [];
  const fromOn = touches(outlines, s.from);
  const toOn = touches(outlines, s.to);
  if (fromOn && toOn) {
    const tip = s.points.reduce((a, b) =>
      Math.min(distance(b, s.from), distance(b, s.to)) > Math.min(distance(a, s.from), distance(a, s.to)) ? b : a,
    );
    const legs = [distance(tip, s.from), distance(tip, s.to)] as const;
    const isV =
      Math.min(...legs) >= SHORTEST &&
      distance(s.from, s.to) < 0.9 * Math.max(...legs) &&
      Math.abs(legs[0] - legs[1]) < 0.25 * Math.max(...legs);
    return isV
      ? [
          { tip, end: s.from, stroke: s },
          { tip, end: s.to, stroke: s },
        ]
      : [];
  }
  if (distance(s.from, s.to) < 0.9 * s.length) return [];
  if (fromOn) return [{ tip: s.to, end: s.from, stroke: s }];
  return toOn ? [{ tip: s.from, end: s.to, stroke: s }] : [];
};

/** Where a leg crosses the read outline, coming from the tip. */
const mouthOf = (leg: Leg, t: Trace): { point: Point; along: number } | undefined => {
  const direction = unit(subtract(leg.end, leg.tip));
  const hit = rayHit(t, leg.tip, direction, distance(leg.tip, leg.end) + 40) ?? nearestPlace(t, leg.end);
  return { point: hit.point, along: alongOf(t, hit.span, hit.t) };
};

const pairOf = (a: Leg, b: Leg, shape: Shape): { mouth: readonly [Point, Point]; stretch: number } | undefined => {
  if (distance(a.tip, b.tip) > MEETS) return undefined;
  const [m, n] = [mouthOf(a, shape.trace), mouthOf(b, shape.trace)];
  if (!m || !n) return undefined;
  const legs = [distance(a.tip, m.point), distance(b.tip, n.point)] as const;
  const width = distance(m.point, n.point);
  if (width < 2 || width > 0.8 * Math.max(...legs) || Math.abs(legs[0] - legs[1]) > 0.25 * Math.max(...legs))
    return undefined;
  if (!isInside(shape.trace.polygon, a.tip)) return undefined;
  const stretch = stretchAt(shape, m.along);
  if (!isOneEdge(shape, stretch, stretchAt(shape, n.along))) return undefined;
  const inOrder = wrap(shape.trace, n.along - m.along) < shape.trace.length / 2;
  return { stretch, mouth: inOrder ? [m.point, n.point] : [n.point, m.point] };
};

/** One stretch, or two parted by the tip of the cap over a wide dart's mouth. */
const isOneEdge = (shape: Shape, a: number, b: number): boolean => {
  if (a === b) return true;
  const count = shape.stretches.length;
  const later = (a + 1) % count === b ? b : (b + 1) % count === a ? a : undefined;
  return later !== undefined && Math.abs(shape.stretches[later]?.startTurn ?? Math.PI) < CAP_TURN;
};

const evidenceFor = (
  strokes: readonly Stroke[],
  tip: Point,
  mouth: readonly [Point, Point],
  labels: readonly Label[],
  drills: readonly Point[],
  hints: Hints,
): Evidence[] => {
  const evidence: Evidence[] = [];
  const hint = strokes.map((s) => hints.says(s.drawable, 'dart')).find((h) => h !== undefined);
  if (hint) evidence.push({ says: hint.says, weight: hint.weight });
  const middle = between(between(mouth[0], mouth[1], 0.5), tip, 0.5);
  const reach = distance(between(mouth[0], mouth[1], 0.5), tip);
  const label = labelsFor(labels, 'dart').find((l) => l.places.some((p) => distance(p, middle) < reach));
  if (label) evidence.push({ says: `“${label.text}” is printed on it`, weight: 0.8 });
  if (drills.some((d) => distance(d, tip) < 30 && distance(d, middle) < reach)) {
    evidence.push({ says: 'a drill hole marks its point', weight: 0.5 });
  }
  return evidence;
};

/** Darts: in the outline; as lines from a tip to the outline; as closed lines with two tips inside. */
export const readDarts = (
  shape: Shape,
  cutting: Trace | undefined,
  strokes: readonly Stroke[],
  drills: readonly Point[],
  labels: readonly Label[],
  hints: Hints,
  grain: Point | undefined,
): DartFound[] => {
  const inOutline = shape.darts.map((d): DartFound => {
    const along = wrap(shape.trace, (shape.trace.starts[d.first] as number) + 0.001);
    return {
      stretch: stretchAt(shape, along),
      drawn: { as: 'outline', first: d.first, last: d.last },
      mouth: d.mouth,
      tip: d.tip,
      ...judge([
        { says: 'two equal legs run from the outline to a point and back', weight: 0.9 },
        ...evidenceFor([], d.tip, d.mouth, labels, drills, hints),
      ]),
    };
  });
  return [
    ...inOutline,
    ...lineDarts(shape, cutting, strokes, drills, labels, hints),
    ...innerDarts(strokes, drills, labels, hints, grain, longStraightEdges(shape)),
  ];
};

/** A straight edge so long says how a piece lies, mm. */
const LONG_EDGE = 200;

const longStraightEdges = (shape: Shape): Point[] =>
  shape.stretches.filter((s) => s.length >= LONG_EDGE && isStraight(s)).map((s) => s.direction);

const lineDarts = (
  shape: Shape,
  cutting: Trace | undefined,
  strokes: readonly Stroke[],
  drills: readonly Point[],
  labels: readonly Label[],
  hints: Hints,
): DartFound[] => {
  const outlines = cutting ? [shape.trace, cutting] : [shape.trace];
  const legs = strokes.filter((s) => mayBeLeg(s, hints)).flatMap((s) => legsOf(s, outlines));
  const darts: DartFound[] = [];
  const used = new Set<Leg>();
  for (const a of legs) {
    if (used.has(a)) continue;
    const partners = legs
      .filter((b) => b !== a && !used.has(b))
      .flatMap((b) => {
        const pair = pairOf(a, b, shape);
        return pair ? [{ b, ...pair, width: distance(...pair.mouth) }] : [];
      })
      // Where a middle line is drawn too, the outer two are the legs.
      .sort((x, y) => y.width - x.width);
    const best = partners[0];
    if (!best) continue;
    const middles = legs.filter((l) => l !== a && l !== best.b && distance(l.tip, a.tip) <= MEETS);
    for (const l of [a, best.b, ...middles]) used.add(l);
    const own = [...new Set([a.stroke, best.b.stroke, ...middles.map((l) => l.stroke)])];
    darts.push({
      stretch: best.stretch,
      drawn: { as: 'lines', strokes: own },
      mouth: best.mouth,
      tip: a.tip,
      ...judge([
        { says: 'two lines run from one point to the outline', weight: 0.8 },
        ...evidenceFor(own, a.tip, best.mouth, labels, drills, hints),
      ]),
    });
  }
  return darts;
};

const mayBeLeg = (s: Stroke, hints: Hints): boolean =>
  !(['grain', 'fold', 'notch', 'adjustment', 'hip', 'seam line', 'cutting line', 'tuck'] as const).some(
    (m) => hints.weight(s.drawable, m) > 0,
  );

/** Where drill holes are: points and small circles said to be drill holes. */
export const drillsOf = (
  points: readonly PointDrawable[],
  strokes: readonly Stroke[],
  hints: Hints,
): { id: string; at: Point }[] => [
  ...points.filter((p) => hints.weight(p, 'drill') > 0).map((p) => ({ id: p.id, at: p.at })),
  ...strokes
    .filter((s) => s.closed && s.length < 40 && (hints.weight(s.drawable, 'drill') > 0 || isCircle(s)))
    .map((s) => ({ id: s.drawable.id, at: centreOfRing(s) })),
];
const centreOfRing = (s: Stroke): Point => {
  const ring = s.points.slice(0, -1);
  return {
    x: ring.reduce((sum, p) => sum + p.x, 0) / ring.length,
    y: ring.reduce((sum, p) => sum + p.y, 0) / ring.length,
  };
};
const isCircle = (s: Stroke): boolean => {
  if (s.points.length < 9) return false;
  const centre = centreOfRing(s);
  const radii = s.points.map((p) => distance(p, centre));
  return Math.max(...radii) - Math.min(...radii) < 0.05 * Math.max(...radii);
};
