import type { Point } from '../geometry/point.ts';
import { add, between, subtract, turn } from '../geometry/point.ts';
import { nearestOn } from '../geometry/segment.ts';
import type { Notch, Outline } from '../pattern/piece.ts';
import { fromPaper } from '../pattern/upright.ts';
import { type Carrier, carry } from './carry.ts';
import { type Prick, type Tracing, trace } from './tracing.ts';

/* Notches ride on their seam, and keep their shape. */

export type Ride = (p: Point) => { to: Point; turned: number };

/** Marks of a notch keep their shape: they ride stiffly with the notch's place on the seam. */
export const notchRides = (tracing: Tracing, carrier: Carrier): Map<string, Ride> => {
  const rides = new Map<string, Ride>();
  for (const notch of tracing.piece.notches) {
    const span = tracing.piece.seamLine.spans[notch.at.span];
    const prick = trace(tracing.piece).seam.find((p) => p.span === notch.at.span);
    if (!span || !prick) continue;
    const foot = notchPlace(tracing, notch.at.span, notch.at.t);
    const { to, turned } = carry(carrier, foot, notch.edge);
    const by = subtract(to, foot);
    const still = by.x === 0 && by.y === 0 && turned === 0;
    const ride: Ride = (p) => (still ? { to: p, turned: 0 } : { to: add(to, turn(subtract(p, foot), turned)), turned });
    for (const id of notch.marks) rides.set(id, ride);
  }
  return rides;
};

/** Where a notch stands on its span as redrawn: its parameter runs evenly over the segments that the span became. */
export const notchNow = (notch: Notch, tracing: Tracing, carrier: Carrier, seamLine: Outline): Notch => {
  const { span, t } = notch.at;
  const segments = seamLine.spans[span]?.segments ?? [];
  if (segments.length === 0 || seamLine.spans[span] === tracing.piece.seamLine.spans[span]) return notch;
  const { to } = carry(carrier, notchPlace(tracing, span, t), notch.edge);
  const place = fromPaper(tracing.piece.upright, to);
  const nearest = segments
    .map((s, k) => ({ k, ...nearestOn(s, place) }))
    .reduce((a, b) => (b.distance < a.distance ? b : a));
  return { ...notch, at: { span, t: (nearest.k + nearest.t) / segments.length } };
};

/** The place on the seam as it was, between the two pricks beside it; upright frame. */
const notchPlace = (tracing: Tracing, span: number, t: number): Point => {
  const seam = trace(tracing.piece).seam;
  const i = seam.findLastIndex((p) => p.span === span && p.t <= t + 1e-12);
  const a = seam[i] as Prick;
  const b = seam[(i + 1) % seam.length] as Prick;
  const end = b.span === a.span ? b.t : 1;
  return between(a.was, b.was, end === a.t ? 0 : (t - a.t) / (end - a.t));
};
