import type { Point } from '../geometry/point.ts';
import { cross, distance, dot, subtract, unit } from '../geometry/point.ts';
import type { Evidence } from '../pattern/evidence.ts';
import type { DartFound } from './darts.ts';
import type { Hints } from './hints.ts';
import { judge } from './judging.ts';
import type { Label } from './labels.ts';
import { labelsFor } from './labels.ts';
import type { Stroke } from './strokes.ts';
import { directionOf, distanceToStroke, skew } from './strokes.ts';

/** Ends this near meet. mm */
const MEETS = 1;
/** A dart that lies inside is at least this long, and no wider than this part of it. */
const SHORTEST = 60;
const WIDEST = 0.45;
const MOST_STROKES = 4;

/** A closed line of one or a few strokes. */
interface Ring {
  readonly strokes: readonly Stroke[];
  readonly points: readonly Point[];
}

/**
 * Darts that open on no edge: closed lines with two tips, widest between them, drawn in one stroke or in up to four.
 * Such darts lie along the grain, or about along a long straight edge of the piece.
 */
export const innerDarts = (
  strokes: readonly Stroke[],
  drills: readonly Point[],
  labels: readonly Label[],
  hints: Hints,
  grain: Point | undefined,
  straightEdges: readonly Point[],
): DartFound[] =>
  lozengesIn(strokes, hints).flatMap(({ ring, tip, otherTip, mouth }) => {
    const evidence: Evidence[] = [{ says: 'it is narrow, with a tip at either end', weight: 0.5 }];
    const hint = ring.strokes.map((s) => hints.says(s.drawable, 'dart')).find((h) => h !== undefined);
    if (hint) evidence.push({ says: hint.says, weight: hint.weight });
    const near = (p: Point): boolean => ring.strokes.some((s) => distanceToStroke(s, p) < 30);
    const label = labelsFor(labels, 'dart').find((l) => l.places.some(near));
    if (label) evidence.push({ says: `“${label.text}” is printed on it`, weight: 0.8 });
    if (drills.some((d) => distance(d, tip) < 30 || distance(d, otherTip) < 30))
      evidence.push({ says: 'a drill hole marks its point', weight: 0.4 });
    if (grain && skew(grain, directionOf({ from: tip, to: otherTip })) < 0.25)
      evidence.push({ says: 'it lies along the grain', weight: 0.3 });
    else if (straightEdges.some((d) => skew(d, directionOf({ from: tip, to: otherTip })) < 0.1))
      evidence.push({ says: 'it lies along a straight edge of the piece', weight: 0.2 });
    if (evidence.length < 2) return [];
    return [{ drawn: { as: 'lines' as const, strokes: ring.strokes }, mouth, tip, otherTip, ...judge(evidence) }];
  });

/** Closed lines that are shaped like darts with two tips, whatever else speaks for them. */
export const lozengesIn = (strokes: readonly Stroke[], hints: Hints) =>
  ringsOf(strokes.filter((s) => mayBe(s, hints))).flatMap((ring) => {
    const shape = lozengeOf(ring.points);
    return shape ? [{ ring, ...shape }] : [];
  });

const mayBe = (s: Stroke, hints: Hints): boolean =>
  !(
    ['grain', 'fold', 'notch', 'adjustment', 'hip', 'seam line', 'cutting line', 'tuck', 'cutout', 'pocket'] as const
  ).some((m) => hints.weight(s.drawable, m) > 0);

/** Closed strokes, and open ones that close end to end. */
const ringsOf = (strokes: readonly Stroke[]): Ring[] => {
  const isClosed = (s: Stroke): boolean => s.closed || distance(s.from, s.to) <= MEETS;
  const rings: Ring[] = strokes.filter(isClosed).map((s) => ({ strokes: [s], points: s.points }));
  const open = strokes.filter((s) => !isClosed(s) && s.length >= 20);
  const used = new Set<Stroke>();
  for (const first of open) {
    if (used.has(first)) continue;
    const ring = followed(
      first,
      open.filter((s) => !used.has(s)),
    );
    if (!ring) continue;
    for (const s of ring.strokes) used.add(s);
    rings.push(ring);
  }
  return rings;
};

/** The ring that begins with a stroke; undefined where it does not come back, or where more than one way goes on. */
const followed = (first: Stroke, among: readonly Stroke[]): Ring | undefined => {
  const strokes = [first];
  const points = [...first.points];
  for (let end = first.to; strokes.length <= MOST_STROKES; ) {
    if (strokes.length > 1 && distance(end, first.from) <= MEETS) return { strokes, points };
    const ways = among.filter((s) => !strokes.includes(s) && [s.from, s.to].some((p) => distance(p, end) <= MEETS));
    const next = ways[0];
    if (!next || ways.length > 1) return undefined;
    const onwards = distance(next.from, end) <= MEETS;
    strokes.push(next);
    points.push(...(onwards ? next.points : [...next.points].reverse()).slice(1));
    end = onwards ? next.to : next.from;
  }
  return undefined;
};

/** Tips and widest places of a ring that narrows from its middle to two tips, about as wide to either side. */
const lozengeOf = (ring: readonly Point[]): (Pick<DartFound, 'tip' | 'mouth'> & { otherTip: Point }) | undefined => {
  const [tip, otherTip] = farthest(ring);
  const tall = distance(tip, otherTip);
  if (tall < SHORTEST) return undefined;
  const axis = unit(subtract(otherTip, tip));
  const off = ring.map((p) => ({ p, off: cross(axis, subtract(p, tip)), down: dot(subtract(p, tip), axis) }));
  const right = off.reduce((a, b) => (b.off > a.off ? b : a));
  const left = off.reduce((a, b) => (b.off < a.off ? b : a));
  const width = right.off - left.off;
  if (width < 3 || width > WIDEST * tall || right.off < 0.25 * width || -left.off < 0.25 * width) return undefined;
  const inMiddle = [left, right].every((w) => w.down > 0.15 * tall && w.down < 0.85 * tall);
  if (!inMiddle || Math.abs(left.down - right.down) > 0.1 * tall) return undefined;
  // Narrower towards the tips than a rectangle or an ellipse would be.
  const narrows = off.every((q) => {
    const t = Math.min(q.down, tall - q.down) / (0.5 * tall);
    return Math.abs(q.off) <= 0.5 * width * Math.min(1, 1.6 * Math.max(0, t) + 0.08) * 1.2 + 1;
  });
  return narrows ? { tip, otherTip, mouth: [left.p, right.p] } : undefined;
};

const farthest = (points: readonly Point[]): readonly [Point, Point] => {
  let best: readonly [Point, Point] = [points[0] as Point, points[0] as Point];
  for (const [i, a] of points.entries()) {
    for (const b of points.slice(i + 1)) if (distance(a, b) > distance(...best)) best = [a, b];
  }
  return best;
};
