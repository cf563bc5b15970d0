import type { Point } from '../geometry/point.ts';
import { add, between, cross, distance, scale, subtract, unit } from '../geometry/point.ts';
import { isCentre } from '../pattern/edges.ts';
import type { Dart, Edge, EdgeRole } from '../pattern/piece.ts';
import { along, at, edgeRun, inDarts, innerMouths, pointsOf } from './runs.ts';
import { mouthsOf, towards } from './slit.ts';
import { landmarkKey, moved, type Tracing } from './tracing.ts';

/* The point of the bust, to which the darts of a front are aimed, and the edges and darts that lie about it. */

export interface Bust {
  /** Key among the tracing's landmarks; absent where the point was found from the darts. */
  readonly landmark?: string;
  readonly at: Point;
  /** Which way the side seam lies from it: +1 towards +x. */
  readonly side: 1 | -1;
}

/** How far a dart of a fitted bodice ends from the bust point where nothing marks it: ½ in (ICAR, pattern making). mm */
export const OFF_POINT = 12.7;

/** The bust points of a front, one for each side that is drawn: as marked, else where its darts are aimed. */
export const bustsOf = (tracing: Tracing): Bust[] => {
  const sides = sidesDrawn(tracing);
  const found = sides.map((side) => marked(tracing, side) ?? aimedAt(tracing, side));
  const middle = centreLine(tracing);
  return sides.flatMap((side, i) => {
    const own = found[i];
    if (own) return [own];
    const other = found[1 - i];
    return other ? [{ at: { x: 2 * middle - other.at.x, y: other.at.y }, side }] : [];
  });
};

/** x of the garment's centre: of its edge, else the middle of a piece that is drawn whole, as it was drawn. */
export const centreLine = (tracing: Tracing): number => {
  const centre = tracing.piece.edges.find((e) => isCentre(e.role));
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const take = ({ x }: Point): void => {
    low = Math.min(low, x);
    high = Math.max(high, x);
  };
  if (centre) for (const i of edgeRun(tracing, centre.id)) take(at(tracing, i));
  else for (const p of tracing.seam) take(p.was);
  return (low + high) / 2;
};

/** Both sides of a whole piece; of a half the one away from its centre; of a panel the one its side seam lies on. */
const sidesDrawn = (tracing: Tracing): (1 | -1)[] => {
  if (
    !tracing.piece.edges.some((e) => isCentre(e.role)) &&
    tracing.piece.edges.filter((e) => e.role === 'side').length !== 1
  )
    return [1, -1];
  const middle = centreLine(tracing);
  const mean = tracing.seam.reduce((sum, p) => sum + p.at.x, 0) / tracing.seam.length;
  return [mean >= middle ? 1 : -1];
};

const onSide = (tracing: Tracing, p: Point, side: 1 | -1): boolean => (p.x - centreLine(tracing)) * side >= -1e-6;

const marked = (tracing: Tracing, side: 1 | -1): Bust | undefined =>
  tracing.piece.landmarks
    .map((l, i) => ({ name: l.name, key: landmarkKey(tracing.piece, i) }))
    .filter(({ name }) => name === 'bust point')
    .map(({ key }) => ({ landmark: key, at: tracing.landmarks.get(key)?.at as Point, side }))
    .find((b) => onSide(tracing, b.at, side));

/** Edges from which darts are taken up to the bust point. */
const BUST_DARTS: readonly EdgeRole[] = ['side', 'waist', 'shoulder', 'armhole', 'neck', 'centre'];

/** Where the middle lines of two darts of a front meet, else ½ in past the tip of the only one. */
const aimedAt = (tracing: Tracing, side: 1 | -1): Bust | undefined => {
  const darts = BUST_DARTS.flatMap((role) => dartsIn(tracing, role, side));
  const axes = darts.map((d) => {
    const mouths = mouthsOf(tracing, d.id);
    const tip = tracing.tips.get(d.id)?.at as Point;
    return { tip, ahead: unit(subtract(tip, between(...mouths, 0.5))) };
  });
  const [a, b] = axes;
  if (!a) return undefined;
  const past = add(a.tip, scale(a.ahead, OFF_POINT));
  if (!b || Math.abs(cross(a.ahead, b.ahead)) < 0.3) return { at: past, side };
  const s = cross(subtract(b.tip, a.tip), b.ahead) / cross(a.ahead, b.ahead);
  const meet = add(a.tip, scale(a.ahead, s));
  return { at: s > -5 && s < 80 && distance(meet, b.tip) < 80 ? meet : past, side };
};

/** Darts that open an edge of a role on one side of the piece. */
export const dartsIn = (tracing: Tracing, role: EdgeRole, side: 1 | -1): Dart[] => {
  const edges = new Set(tracing.piece.edges.filter((e) => e.role === role).map((e) => e.id));
  return tracing.piece.darts.filter(
    (d) => d.edge !== undefined && edges.has(d.edge) && onSide(tracing, between(...mouthsOf(tracing, d.id), 0.5), side),
  );
};

/** Darts that end further than this from the bust point are not aimed at it, mm. */
const AIMED = 120;

/** The dart of an edge that is aimed at a bust point: of several the nearest. */
export const dartTo = (tracing: Tracing, bust: Bust, role: EdgeRole): Dart | undefined => {
  const away = (d: Dart): number => distance(tracing.tips.get(d.id)?.at as Point, bust.at);
  return dartsIn(tracing, role, bust.side)
    .filter((d) => away(d) < AIMED)
    .toSorted((a, b) => away(a) - away(b))[0];
};

/** The dart that lies inside at the waist below a bust point. */
export const insideDartTo = (tracing: Tracing, bust: Bust): string | undefined =>
  tracing.piece.darts
    .filter((d) => d.otherTip)
    .map((d) => ({ id: d.id, mouths: innerMouths(tracing, d.id) }))
    .filter(({ mouths }) => mouths?.every((m) => (m.x - centreLine(tracing)) * bust.side > 0))
    .toSorted((a, b) => off(a.mouths, bust) - off(b.mouths, bust))[0]?.id;

const off = (mouths: readonly [Point, Point] | undefined, bust: Bust): number =>
  mouths ? Math.abs((mouths[0].x + mouths[1].x) / 2 - bust.at.x) : Number.POSITIVE_INFINITY;

/** The edge of a role on the side of a bust point; an edge that goes from side to side counts for both. */
export const edgeOn = (tracing: Tracing, bust: Bust, role: EdgeRole): Edge | undefined => {
  const middle = centreLine(tracing);
  const reach = (e: Edge): number =>
    Math.max(...pointsOf(tracing, edgeRun(tracing, e.id)).map((p) => (p.x - middle) * bust.side));
  return tracing.piece.edges
    .filter((e) => e.role === role && (isCentre(role) || reach(e) > 1))
    .toSorted((a, b) => reach(b) - reach(a))[0];
};

/**
 * Where a new dart is customarily taken up from an edge: the side at the bust level, the waist straight below the bust
 * point, the centre straight across from it, shoulder, armhole and neck in their middle.
 */
export const placeForDart = (tracing: Tracing, bust: Bust, edge: Edge): Point => {
  if (edge.role === 'side' || isCentre(edge.role)) return { x: farOut(tracing, edge.id, bust), y: bust.at.y };
  if (edge.role === 'waist') return { x: bust.at.x, y: nearestAcross(tracing, edge.id, bust.at.x).y };
  return partWay(tracing, edge.id, bust.side, 0.5);
};

/** The place of an edge at a height. */
const farOut = (tracing: Tracing, edgeId: string, bust: Bust): number =>
  pointsOf(tracing, edgeRun(tracing, edgeId)).reduce((best, p) =>
    Math.abs(p.y - bust.at.y) < Math.abs(best.y - bust.at.y) ? p : best,
  ).x;

const nearestAcross = (tracing: Tracing, edgeId: string, x: number): Point =>
  pointsOf(tracing, edgeRun(tracing, edgeId)).reduce((best, p) =>
    Math.abs(p.x - x) < Math.abs(best.x - x) ? p : best,
  );

/**
 * A place part of the way along an edge, darts left out, from its inner (or lower) end: the neck from the centre, the
 * armhole from the underarm, the shoulder from the neck. Of an edge that crosses the centre only the half on `side` counts.
 */
export const partWay = (tracing: Tracing, edgeId: string, side: 1 | -1, part: number): Point => {
  const darts = inDarts(tracing, edgeId);
  const run = edgeRun(tracing, edgeId);
  const mine = run.filter((i) => onSide(tracing, at(tracing, i), side) && !((darts.get(i)?.towardsTip ?? 0) > 0));
  const points = pointsOf(tracing, mine);
  const role = tracing.piece.edges.find((e) => e.id === edgeId)?.role;
  const inner = (p: Point): number => (role === 'armhole' ? p.y : (p.x - centreLine(tracing)) * side);
  const outwards = inner(points[0] as Point) <= inner(points.at(-1) as Point) ? points : points.toReversed();
  const way = along(outwards);
  const far = (way.at(-1) as number) * part;
  const k = Math.max(
    1,
    way.findIndex((d) => d >= far),
  );
  const [a, b] = [outwards[k - 1], outwards[k]] as [Point, Point];
  return towards(a, b, far - (way[k - 1] as number));
};

/** Sets a marked bust point, and the marks that draw it, so far from where it was before a verb. */
export const moveBust = (now: Tracing, was: Tracing, bust: Bust, by: Point): Tracing => {
  const known = bust.landmark === undefined ? undefined : was.landmarks.get(bust.landmark);
  if (bust.landmark === undefined || !known) return now;
  const index = now.piece.landmarks.findIndex((_, i) => landmarkKey(now.piece, i) === bust.landmark);
  const drawn = now.piece.landmarks[index]?.marks ?? [];
  const marks = drawn.flatMap((id) => {
    const mark = was.marks.get(id);
    return mark ? [[id, { ...mark, at: add(mark.at, by) }] as const] : [];
  });
  const lines = drawn.flatMap((id) => {
    const line = was.lines.get(id);
    return line ? [[id, line.map((p) => moved(p, by))] as const] : [];
  });
  return {
    ...now,
    landmarks: new Map([...now.landmarks, [bust.landmark, { ...known, at: add(known.at, by) }]]),
    marks: new Map([...now.marks, ...marks]),
    lines: new Map([...now.lines, ...lines]),
  };
};
