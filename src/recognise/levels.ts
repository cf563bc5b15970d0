import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import type { Evidence } from '../pattern/evidence.ts';
import type { Level, LevelName, Upright } from '../pattern/piece.ts';
import { heightOf } from '../pattern/upright.ts';
import type { LineClaim } from './claims.ts';
import type { Hints } from './hints.ts';
import { judge } from './judging.ts';
import type { Label } from './labels.ts';
import { labelsFor } from './labels.ts';
import type { Stroke } from './strokes.ts';
import { directionOf, labelled, middleOfStroke, skew } from './strokes.ts';

export const levelNames: readonly LevelName[] = [
  'chest',
  'blade',
  'underarm',
  'bust',
  'waist',
  'top hip',
  'hip',
  'crotch',
  'knee',
  'hem',
  'biceps',
  'elbow',
  'wrist',
];
/** A line within about 10° of square to the upright may be a level. */
const isAcross = (s: Stroke, up: Point): boolean => skew(directionOf(s), up) > 0.985;

/** On gores and flared pieces a level is drawn as a flat curve; it counts where it is furthest out, in the middle. */
const isNearlyStraight = (s: Stroke): boolean => !s.closed && distance(s.from, s.to) > 0.95 * s.length;
const halfway = (s: Stroke): Point =>
  s.straight ? middleOfStroke(s) : (s.points[Math.floor(s.points.length / 2)] as Point);

/** Levels that lines draw, by label or layer. */
export const drawnLevels = (claims: readonly LineClaim[], upright: Upright): Level[] =>
  levelNames.flatMap((name) => {
    const own = claims.filter(
      (c) => c.meaning === name && isNearlyStraight(c.stroke) && isAcross(c.stroke, upright.up),
    );
    const longest = own.reduce<LineClaim | undefined>(
      (a, b) => (a && a.stroke.length >= b.stroke.length ? a : b),
      undefined,
    );
    if (!longest) return [];
    const evidence = own.filter((c) => c.stroke === longest.stroke).map((c) => c.evidence);
    return [
      {
        name,
        height: heightOf(upright, halfway(longest.stroke)),
        line: longest.stroke.drawable.id,
        ...judge(evidence),
      },
    ];
  });

/** A hip level from notches alone: each side edge has one at the same height, where hips lie. Heights in mm from the waist. */
export const hipByNotches = (heights: readonly (readonly number[])[], waist: number): Level | undefined => {
  const fitting = heights.map((list) => list.filter((h) => waist - h >= 140 && waist - h <= 290));
  if (fitting.length === 0 || fitting.some((list) => list.length !== 1)) return undefined;
  const all = fitting.flat();
  const mean = all.reduce((a, b) => a + b, 0) / all.length;
  if (all.some((h) => Math.abs(h - mean) > 3)) return undefined;
  return {
    name: 'hip',
    height: mean,
    ...judge([{ says: 'a notch on the side seam stands where hips lie', weight: 0.5 }]),
  };
};

/** A printed adjustment line: one line, or two close together. */
export interface Adjustment {
  readonly strokes: readonly Stroke[];
  readonly middle: Point;
  readonly evidence: readonly Evidence[];
}

/** Two lines of a double adjustment line lie no further apart. mm */
const DOUBLE = 15;
const REACH = 60;

const partnerOf = (s: Stroke, strokes: readonly Stroke[]): Stroke | undefined =>
  strokes.find((o) => {
    if (o === s || Math.abs(o.length - s.length) > 0.25 * s.length || skew(directionOf(o), directionOf(s)) > 0.02)
      return false;
    const [a, b] = [middleOfStroke(s), middleOfStroke(o)];
    const d = directionOf(s);
    const apart = Math.abs((b.x - a.x) * d.y - (b.y - a.y) * d.x);
    return apart > 0.5 && apart <= DOUBLE && Math.abs((b.x - a.x) * d.x + (b.y - a.y) * d.y) < 0.25 * s.length;
  });

/** Adjustment lines: by label or layer; a double line right across the piece also without. */
export const readAdjustments = (
  free: readonly Stroke[],
  labels: readonly Label[],
  hints: Hints,
  up: Point,
  width: number,
): Adjustment[] => {
  const across = free.filter((s) => s.straight && s.length >= 30 && skew(directionOf(s), up) > 0.9);
  const said = new Map<Stroke, Evidence[]>();
  const say = (s: Stroke, e: Evidence): void => void said.set(s, [...(said.get(s) ?? []), e]);
  for (const s of across) {
    const hint = hints.says(s.drawable, 'adjustment');
    if (hint) say(s, hint);
  }
  for (const label of labelsFor(labels, 'adjustment')) {
    const hit = labelled(
      label,
      across.map((s) => ({ what: s, points: s.points, direction: directionOf(s) })),
      REACH,
    );
    if (hit) say(hit.what, { says: `“${label.text}” is printed beside it`, weight: 0.9 });
  }
  const found: Adjustment[] = [];
  const used = new Set<Stroke>();
  const enter = (s: Stroke, more: readonly Evidence[]): void => {
    const partner = partnerOf(
      s,
      across.filter((o) => !used.has(o)),
    );
    const strokes = partner ? [s, partner] : [s];
    for (const o of strokes) used.add(o);
    const middles = strokes.map(middleOfStroke);
    const middle = {
      x: middles.reduce((sum, m) => sum + m.x, 0) / middles.length,
      y: middles.reduce((sum, m) => sum + m.y, 0) / middles.length,
    };
    const double = partner ? [{ says: 'it is a double line across the piece', weight: 0.4 }] : [];
    found.push({ strokes, middle, evidence: [...more, ...double] });
  };
  for (const [s, evidence] of said) if (!used.has(s)) enter(s, evidence);
  for (const s of across) {
    if (
      used.has(s) ||
      s.length < 0.6 * width ||
      hints.weight(s.drawable, 'hip') > 0 ||
      !partnerOf(
        s,
        across.filter((o) => !used.has(o)),
      )
    )
      continue;
    enter(s, []);
  }
  return found;
};
