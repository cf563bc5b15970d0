import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import type { EdgeRole } from '../pattern/piece.ts';
import { type Bust, bustsOf, dartTo, edgeOn, OFF_POINT, placeForDart } from './bust-point.ts';
import { angleAt, drawsCaps, swingBetween } from './dart-swing.ts';
import { capDart, LEAST_DART } from './darts.ts';
import { NoRoom } from './no-room.ts';
import { intake } from './runs.ts';
import { mouthsOf, type Slit, slit, towards } from './slit.ts';
import type { Tracing } from './tracing.ts';

/* Darts of a front moved about the bust point. */

/** How far a new dart ends from the bust point, mm: ½ in, from the side 1 in (common practice). */
const offPoint = (role: EdgeRole): number => (role === 'side' ? 2 * OFF_POINT : OFF_POINT);

/** What is taken of a dart so wide when `by` is asked for, mm: all of it where too little to sew would be left. */
export const takenOf = (width: number, by: number): number => (width - by < LEAST_DART ? width : by);

/**
 * Moves a dart, or so much of it, about the bust point to another edge: the angle is kept. A dart that is there already
 * takes it, else one is drawn at the customary place.
 * @param by width at the mouth of the dart that gives, mm; 'all' moves the whole dart
 * @throws NoRoom when the dart is narrower than that
 */
export const moveDart = (tracing: Tracing, from: EdgeRole, to: EdgeRole, by: number | 'all'): Tracing =>
  bustsOf(tracing).reduce((t, bust) => moveDartAbout(t, bust, from, to, by), tracing);

const moveDartAbout = (tracing: Tracing, bust: Bust, from: EdgeRole, to: EdgeRole, by: number | 'all'): Tracing => {
  const gives = dartTo(tracing, bust, from);
  if (!gives) throw new NoRoom(`the front has no ${from} dart aimed at the bust point`);
  const width = intake(tracing, gives.id);
  if (by !== 'all' && by > width + 0.01) {
    throw new NoRoom(`the ${from} dart is ${width.toFixed(1)} mm wide at its mouth; no more than that can be moved`);
  }
  const whole = angleAt(tracing, gives.id, bust.at);
  const left = by === 'all' ? 0 : width - takenOf(width, by);
  const takes = opening(tracing, bust, to);
  const swung = swingBetween(takes.tracing, {
    about: bust.at,
    closes: gives.id,
    opens: takes.dart,
    angle: whole - angleFor(mouthsOf(tracing, gives.id), bust.at, left),
  });
  return takes.isNew && drawsCaps(tracing) ? capDart(swung, takes.dart) : swung;
};

/** Angle between legs of the lengths they have when the mouth is so wide (law of cosines), radians. */
const angleFor = (mouths: readonly [Point, Point], from: Point, wide: number): number => {
  if (wide === 0) return 0;
  const [p, q] = mouths.map((m) => distance(m, from)) as [number, number];
  return Math.acos(Math.min(1, Math.max(-1, (p * p + q * q - wide * wide) / (2 * p * q))));
};

/** The dart of an edge that takes what another gives: the one that is there, else a slit at the customary place. */
export const opening = (tracing: Tracing, bust: Bust, role: EdgeRole): Slit & { readonly isNew: boolean } => {
  const own = dartTo(tracing, bust, role);
  if (own) return { tracing, dart: own.id, isNew: false };
  const edge = edgeOn(tracing, bust, role);
  if (!edge) throw new NoRoom(`the front has no ${role} edge`);
  const place = placeForDart(tracing, bust, edge);
  return { ...slit(tracing, edge.id, place, towards(bust.at, place, offPoint(role))), isNew: true };
};
