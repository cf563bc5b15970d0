import { add, distance, type Point, scale, size, subtract, turnBetween, unit } from '../geometry/point.ts';
import { isCentre } from '../pattern/edges.ts';
import type { Mates } from '../pattern/pattern.ts';
import { bring, STILL, turnEnd } from './bend.ts';
import { capDart } from './darts.ts';
import { type Garment, onPiece, seamMates, settle, tracingOf } from './garment.ts';
import { BLEND, displaced } from './move-edge.ts';
import { at, dartLegs, edgeBeside, edgeRun, neighbourRun, pointsOf, type Run } from './runs.ts';
import { endAt } from './skirt-seams.ts';
import type { Tracing } from './tracing.ts';

/*
 * Mending faults that a pattern came with: mates made equal, right angles at the centre, corners that meet at a side
 * seam brought to 180°, legs of darts made equal, caps drawn over darts. Differences are split, half added and half trimmed.
 */

/** Angles nearer than this to true are true, radians. */
const TRUE = 0.002;
/** Past this a corner was drawn so on purpose (a pointed waist), radians. */
const MEANT = Math.PI / 12;

export const mend = (garment: Garment): Garment => {
  const pieces = garment.pattern.pieces.map((p) => p.id);
  const legs = pieces.reduce((g, id) => onPiece(g, id, equalLegs), garment);
  const capped = pieces.reduce((g, id) => onPiece(g, id, cappedDarts), legs);
  const squared = pieces.reduce((g, id) => onPiece(g, id, squareAtCentre), capped);
  const even = settle({ ...squared, equalMates: true }, new Set(pieces), 'waist');
  return seamMates(garment.pattern).reduce((g, m) => cornersInLine(cornersInLine(g, m, 'waist'), m, 'hem'), even);
};

/** Darts drawn as lines get the cap that lets the fold be caught in the seam. */
const cappedDarts = (tracing: Tracing): Tracing =>
  tracing.piece.darts
    .filter((d) => d.drawn.as === 'lines' && d.edge !== undefined)
    .reduce((now, d) => capDart(now, d.id), tracing);

/** Each dart cut into the outline gets legs of the mean of their lengths. */
const equalLegs = (tracing: Tracing): Tracing =>
  tracing.piece.darts
    .filter((d) => d.drawn.as === 'outline')
    .reduce((now, dart) => {
      const [down, up] = dartLegs(now, dart);
      const first = down;
      const second = [...up].reverse();
      const reach = (leg: Run): number => distance(at(now, leg[0] as number), at(now, leg.at(-1) as number));
      const mean = (reach(first) + reach(second)) / 2;
      if (Math.abs(reach(first) - mean) < 0.05) return now;
      return stretchLeg(stretchLeg(now, first, mean - reach(first), 'before'), second, mean - reach(second), 'after');
    }, tracing);

/** Moves a mouth along its leg by `by` away from the tip; the seam beside it comes along. */
const stretchLeg = (tracing: Tracing, leg: Run, by: number, side: 'before' | 'after'): Tracing => {
  const mouth = leg[0] as number;
  const out = scale(unit(subtract(at(tracing, mouth), at(tracing, leg.at(-1) as number))), by);
  const stretched = displaced(
    tracing.seam,
    leg,
    leg.map((_, k) => scale(out, 1 - k / (leg.length - 1))),
  );
  const beside = neighbourRun(tracing, mouth, side);
  const shift = bring(pointsOf(tracing, beside), STILL, { by: out, turned: 0 });
  return { ...tracing, seam: displaced(stretched, beside.slice(0, -1), shift.slice(0, -1)) };
};

/** Waist and hem meet the centre at a right angle. */
const squareAtCentre = (tracing: Tracing): Tracing =>
  tracing.piece.edges
    .filter((e) => e.role === 'waist' || e.role === 'hem')
    .reduce((now, cross) => {
      return (['before', 'after'] as const).reduce((t, side) => {
        if (!isCentre(edgeBeside(t, cross.id, side).role)) return t;
        const off = innerAngle(t, cross.id, side) - Math.PI / 2;
        return Math.abs(off) < TRUE || Math.abs(off) > MEANT ? t : turnCross(t, cross.id, side, off);
      }, now);
    }, tracing);

/** Inner angle at the start ('before') or the end ('after') of an edge. */
const innerAngle = (tracing: Tracing, edgeId: string, side: 'before' | 'after'): number => {
  const run = edgeRun(tracing, edgeId);
  const corner = (side === 'before' ? run[0] : run.at(-1)) as number;
  const into = directionInto(tracing, corner, -1);
  const out = scale(directionInto(tracing, corner, 1), -1);
  return Math.PI - turnBetween(into, out);
};

/** Direction in which the seam comes to a corner from one side: of the last chord of a line, of the end of a curve. */
const directionInto = (tracing: Tracing, corner: number, step: 1 | -1): Point => {
  const count = tracing.seam.length;
  const index = (k: number): number => (corner + k * step + 2 * count) % count;
  const last = subtract(at(tracing, corner), at(tracing, index(1)));
  const span = tracing.seam[step === 1 ? corner : index(1)]?.span ?? 0;
  if (tracing.piece.seamLine.spans[span]?.segments.every((s) => s.kind === 'line')) return last;
  const before = subtract(at(tracing, index(1)), at(tracing, index(2)));
  const [h1, h0] = [size(last), size(before)];
  // End slope of the parabola through the last three pricks.
  const bend = scale(subtract(scale(last, 1 / h1), scale(before, 1 / h0)), h1 / (h0 + h1));
  return add(scale(last, 1 / h1), bend);
};

/** Turns the end of a cross edge so that its corner closes by `by` radians. */
const turnCross = (tracing: Tracing, edgeId: string, side: 'before' | 'after', by: number): Tracing => {
  const run = edgeRun(tracing, edgeId);
  const corner = (side === 'before' ? run[0] : run.at(-1)) as number;
  const last = neighbourRun(tracing, corner, side === 'before' ? 'after' : 'before');
  const points = pointsOf(tracing, last);
  // Seen along the run into the corner, closing it turns the run towards the inside.
  const turned = side === 'before' ? by : -by;
  return { ...tracing, seam: displaced(tracing.seam, last, turnEnd(points, turned, BLEND)) };
};

/** The two corners that meet at a seam's waist or hem are turned by half each until they make a straight line. */
const cornersInLine = (garment: Garment, mates: Mates, at: 'waist' | 'hem'): Garment => {
  const ends = [mates.one[0], mates.other[0]].map((s) => cornerOf(garment, s, at));
  const [a, b] = ends;
  if (!a || !b) return garment;
  const off = a.angle + b.angle - Math.PI;
  if (Math.abs(off) < TRUE || Math.abs(off) > MEANT) return garment;
  return [a, b].reduce((g, c) => onPiece(g, c.piece, (t) => turnCross(t, c.cross, c.side, off / 2)), garment);
};

const cornerOf = (garment: Garment, sewn: Mates['one'][number] | undefined, where: 'waist' | 'hem') => {
  if (!sewn) return undefined;
  const tracing = tracingOf(garment, sewn.piece);
  const end = endAt(tracing, sewn.edge, where);
  if (!end) return undefined;
  const cross = edgeBeside(tracing, sewn.edge, end === 'start' ? 'before' : 'after').id;
  // The cross edge begins where the seam ends.
  const side = end === 'end' ? ('before' as const) : ('after' as const);
  return { piece: sewn.piece, cross, side, angle: innerAngle(tracing, cross, side) };
};
