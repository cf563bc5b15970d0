import type { Point } from '../geometry/point.ts';
import { distance, dot, subtract, unit } from '../geometry/point.ts';
import type { Evidence, Judged } from '../pattern/evidence.ts';
import type { Hints } from './hints.ts';
import { judge } from './judging.ts';
import type { Label } from './labels.ts';
import { labelsFor } from './labels.ts';
import { levelNames } from './levels.ts';
import type { Stroke } from './strokes.ts';
import { directionOf, distanceToStroke, labelled, skew } from './strokes.ts';
import type { Meaning } from './words.ts';

/** A grainline as drawn: shaft, and arrow heads drawn apart. */
export interface Grain extends Judged {
  readonly from: Point;
  readonly to: Point;
  readonly strokes: readonly Stroke[];
  /** The end that alone has a head, if only one has. */
  readonly head?: Point;
}

export interface GrainReading {
  readonly grain?: Grain;
  /** Another line that could as well be the grainline. */
  readonly rival?: Grain;
}

const LEAST_SHAFT = 30;
/** A grain label stands no further from its line. mm */
const REACH = 60;
/** A label this near to a line stands at it, whichever way its letters read. mm */
const CLOSE = 15;
/** What the lines drawn across a piece are called. */
const acrossNames: readonly Meaning[] = [...levelNames, 'adjustment'];

/** Arrow heads at one end of a shaft: short lines (or a small triangle) that start there and point back along it. */
const headsAt = (end: Point, other: Point, shaft: Stroke, strokes: readonly Stroke[]): Stroke[] => {
  const inwards = unit(subtract(other, end));
  return strokes.filter((s) => {
    if (s === shaft || s.length > Math.max(60, 0.3 * shaft.shaft.length) || s.length >= 0.6 * shaft.shaft.length)
      return false;
    const away = s.points.filter((p) => distance(p, end) > 1);
    return (
      away.length < s.points.length && away.length > 0 && away.every((p) => dot(unit(subtract(p, end)), inwards) > 0.4)
    );
  });
};

const headInLine = (end: Point, s: Stroke): boolean =>
  s.length > s.shaft.length * 1.02 &&
  s.points.filter((p) => distance(p, end) > 1 && distance(p, end) < 0.25 * s.shaft.length).length >= 1 &&
  s.points.some((p) => distance(p, end) <= 1);

const headed = (end: Point, s: Stroke, atStart: boolean, heads: readonly Stroke[]): boolean =>
  heads.length > 0 || headInLine(end, s) || (atStart ? s.drawable.style.arrowStart : s.drawable.style.arrowEnd);

const candidateOf = (
  s: Stroke,
  strokes: readonly Stroke[],
  hints: Hints,
  label: Label | undefined,
): Grain | undefined => {
  const evidence: Evidence[] = [];
  const hint = hints.says(s.drawable, 'grain');
  if (hint) evidence.push({ says: hint.says, weight: hint.weight });
  if (label) evidence.push({ says: `“${label.text}” is printed beside it`, weight: 0.85 });
  const { from, to } = s.shaft;
  const starts = headsAt(from, to, s, strokes);
  const ends = headsAt(to, from, s, strokes);
  const [atFrom, atTo] = [headed(from, s, true, starts), headed(to, s, false, ends)];
  if (atFrom && atTo) evidence.push({ says: 'it has an arrow head at both ends', weight: 0.5 });
  else if (atFrom || atTo) evidence.push({ says: 'it has an arrow head at one end', weight: 0.35 });
  if (evidence.length === 0) return undefined;
  const head = atFrom !== atTo ? (atFrom ? from : to) : undefined;
  return { from, to, strokes: [s, ...starts, ...ends], ...(head ? { head } : {}), ...judge(evidence) };
};

const hasHeads = (s: Stroke, strokes: readonly Stroke[]): boolean => {
  const { from, to } = s.shaft;
  return headed(from, s, true, headsAt(from, to, s, strokes)) || headed(to, s, false, headsAt(to, from, s, strokes));
};

const gapTo = (s: Stroke, label: Label): number => Math.min(...label.places.map((p) => distanceToStroke(s, p)));

/** Whether a line has the name of a level or of an adjustment line along it, nearer than the grain label. */
const isCalledOtherwise = (s: Stroke, grain: Label, labels: readonly Label[]): boolean =>
  labelsFor(labels, ...acrossNames).some((l) => {
    const reading = { x: Math.cos(l.angle), y: Math.sin(l.angle) };
    const gap = gapTo(s, l);
    const isSameText = l.texts.some((t) => grain.texts.includes(t));
    return !isSameText && gap <= CLOSE && gap < gapTo(s, grain) && skew(reading, directionOf(s.shaft)) < 0.26;
  });

/** The line a grain label means: a line far off without arrow heads yields to one the label stands at. */
const meantBy = (label: Label, shafts: readonly Stroke[], strokes: readonly Stroke[]): Stroke | undefined => {
  const named = shafts.map((s) => ({ what: s, points: s.points, direction: directionOf(s.shaft) }));
  const hit = labelled(label, named, REACH)?.what;
  if (!hit || hasHeads(hit, strokes)) return hit;
  return labelled(label, named, CLOSE)?.what ?? hit;
};

/** The grainline among the lines of a piece. */
export const readGrain = (strokes: readonly Stroke[], labels: readonly Label[], hints: Hints): GrainReading => {
  const shafts = strokes.filter(
    (s) => !s.closed && s.shaft.length >= LEAST_SHAFT && s.shaft.length >= 0.5 * s.length && mayBe(s, hints),
  );
  const marked = new Map<Stroke, Label>();
  for (const label of labelsFor(labels, 'grain')) {
    const hinted = shafts.filter((s) => hints.weight(s.drawable, 'grain') > 0);
    const free = shafts.filter((s) => hasHeads(s, strokes) || !isCalledOtherwise(s, label, labels));
    const meant = meantBy(label, hinted.length > 0 ? hinted : free, strokes);
    if (meant) marked.set(meant, label);
  }
  const candidates = shafts
    .flatMap((s) => candidateOf(s, strokes, hints, marked.get(s)) ?? [])
    .filter((c) => c.confidence >= 0.4)
    .sort((a, b) => b.confidence - a.confidence || distance(b.from, b.to) - distance(a.from, a.to));
  const [best, second] = candidates;
  if (!best) return {};
  const parallel = second && Math.abs(crossOf(best, second)) < 0.02;
  return second && !parallel && second.confidence > best.confidence - 0.1
    ? { grain: best, rival: second }
    : { grain: best };
};

const crossOf = (a: Grain, b: Grain): number => {
  const u = directionOf(a);
  const v = directionOf(b);
  return u.x * v.y - u.y * v.x;
};

const mayBe = (s: Stroke, hints: Hints): boolean =>
  !(
    [
      'fold',
      'notch',
      'adjustment',
      'hip',
      'dart',
      'seam line',
      'cutting line',
      'cutout',
      'centre',
      'hem',
      'waist',
    ] as const
  ).some((m) => hints.weight(s.drawable, m) > 0);
