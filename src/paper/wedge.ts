import { Bug } from '../finding.ts';
import type { Point } from '../geometry/point.ts';
import { add, distance, subtract } from '../geometry/point.ts';
import { isCentre } from '../pattern/edges.ts';
import { bring, plus, STILL, unkink } from './bend.ts';
import { retapeDarts } from './darts.ts';
import { clearOfPricks } from './lengthen.ts';
import { BLEND, displaced } from './move-edge.ts';
import { at, edgeBeside, edgeOf, edgeRun, neighbourRun, pointsOf, turnAt, turnOfArrival } from './runs.ts';
import { cut, type Lips, lipsOf, moveParts, swingAbout } from './slash.ts';
import type { Prick, Tracing } from './tracing.ts';

/** Where a wedge is opened: level, from the edge it opens at to the edge on whose seam line it hinges. */
export interface WedgePlace {
  readonly height: number;
  /** Edge that gains the amount: centre or fold. */
  readonly opensAt: string;
  /** Edge on whose seam line the hinge lies. */
  readonly hingesAt: string;
  /** Inner lines that stay straight on the lower part: the grainline. */
  readonly kept: ReadonlySet<string>;
  /** The hinge lies on a level whose width must hold: the blend is drawn with that point still, and is longer. */
  readonly pinned: boolean;
}

/** Blend on each side of a hinge that holds its place: there the line turns twice as fast, so it is given more room. mm */
const PINNED_BLEND = 80;

/**
 * Slashes from the opening edge to, not through, the seam line of the other, and swings the upper part about that
 * hinge until the slash gapes by `by` (overlaps, when negative) at the opening edge; the lower part stays and keeps the
 * grain. The swing is 2·asin(by / 2r) at r from the hinge: a chord, not an arc.
 *
 * Then the edges are trued: the opening edge is drawn straight up again and gains just `by`; the cross edge above
 * meets it at the angle it had; dart legs cut by the slash are drawn straight from mouth to tip; the kink at the hinge
 * is blended.
 */
export const openWedge = (tracing: Tracing, by: number, place: WedgePlace): Tracing => {
  if (by === 0) return tracing;
  const level = clearOfPricks(tracing, place.height);
  const lips: Lips = { upper: level, lower: level };
  const parted = cut(tracing, lips);
  const crossings = lipsOf(parted, lips);
  const hinge = crossings.find((c) => c.edge === place.hingesAt);
  const mouth = crossings.find((c) => c.edge === place.opensAt);
  if (!hinge || !mouth) throw new Bug('a wedge needs an edge on each side of it');
  const pivot = at(parted, hinge.upper);
  const open = at(parted, mouth.upper);
  const swing = swingFor(by, pivot, open);
  const swung = moveParts(parted, lips, { upper: swingAbout(pivot, swing) }, place.kept);
  const straight = refillCentre(swung, parted, place.opensAt, mouth, by);
  const retaped = crossEdgesAbove(parted, mouth, place.opensAt).reduce(
    (now, edgeId) => retapeDarts(now, parted, edgeId),
    straight,
  );
  // Taking pricks out comes last: until here the pricks of both states answer each other by index.
  const closed = by < 0 ? withoutOverlap(retaped, parted, place.opensAt, mouth) : retaped;
  return blendHinge(closed, parted, place, hinge.upper);
};

/** Signed swing that lifts the opening edge by `by`: clockwise when it lies to the left of the hinge. */
const swingFor = (by: number, pivot: Point, open: Point): number => {
  const angle = swingOf(by, distance(pivot, open));
  return open.x < pivot.x ? -angle : angle;
};

/** The edge that meets the opening edge at its upper end. */
const crossEdgesAbove = (parted: Tracing, mouth: { upper: number; lower: number }, opensAt: string): string[] => {
  const run = edgeRun(parted, opensAt);
  const climbs = run.indexOf(mouth.upper) > run.indexOf(mouth.lower);
  return [edgeBeside(parted, opensAt, climbs ? 'after' : 'before').id];
};

/**
 * The opening edge above the slash stands where it stood, higher by `by`; the gap is filled straight, an overlap is
 * cut away. The cross edge is brought to its new corner, at its old angle.
 */
const refillCentre = (
  swung: Tracing,
  parted: Tracing,
  edgeId: string,
  mouth: { upper: number; lower: number },
  by: number,
): Tracing => {
  const run = edgeRun(parted, edgeId);
  const climbs = run.indexOf(mouth.upper) > run.indexOf(mouth.lower);
  const upper = climbs ? run.slice(run.indexOf(mouth.upper)) : run.slice(0, run.indexOf(mouth.upper) + 1);
  const corner = (climbs ? upper.at(-1) : upper[0]) as number;
  const lift = liftOf(parted, edgeId, mouth, by);
  const lifted = upper.map((i) => add(at(parted, i), lift));
  const seam = displaced(
    swung.seam,
    upper,
    upper.map((i, k) => subtract(lifted[k] as Point, at(swung, i))),
  );
  const cross = neighbourRun(parted, corner, climbs ? 'after' : 'before');
  return bringTo({ ...swung, seam }, parted, swung, cross, lifted[climbs ? lifted.length - 1 : 0] as Point);
};

/** Up by `by`; a crotch seam, which leans and bends, goes on along its own line there. */
const liftOf = (parted: Tracing, edgeId: string, mouth: { upper: number; lower: number }, by: number): Point => {
  if (isCentre(edgeOf(parted, edgeId).role)) return { x: 0, y: by };
  const run = edgeRun(parted, edgeId);
  const [k, l] = [run.indexOf(mouth.upper), run.indexOf(mouth.lower)];
  const [above, below] = [at(parted, run[2 * k - l] as number), at(parted, run[2 * l - k] as number)];
  return { x: ((above.x - below.x) / (above.y - below.y)) * by, y: by };
};

/** Brings the end of a swung run to a place, arriving in the direction it had before the swing. */
const bringTo = (now: Tracing, before: Tracing, swung: Tracing, run: readonly number[], to: Point): Tracing => {
  const points = pointsOf(swung, run);
  const turned = turnOfArrival(points, pointsOf(before, run));
  const by = subtract(to, points.at(-1) as Point);
  const placed = plus(points, bring(points, STILL, { by, turned }));
  return {
    ...now,
    seam: displaced(
      now.seam,
      run,
      run.map((i, k) => subtract(placed[k] as Point, at(now, i))),
    ),
  };
};

/** Where the parts overlap, the pricks of the lower one that the upper one covers are taken out. */
const withoutOverlap = (
  now: Tracing,
  parted: Tracing,
  edgeId: string,
  mouth: { upper: number; lower: number },
): Tracing => {
  const run = edgeRun(parted, edgeId);
  const climbs = run.indexOf(mouth.upper) > run.indexOf(mouth.lower);
  const lip = at(parted, mouth.lower).y;
  const top = at(now, mouth.upper).y;
  const lower = climbs ? run.slice(0, run.indexOf(mouth.lower) + 1) : run.slice(run.indexOf(mouth.lower));
  const covered = new Set(lower.filter((i) => at(parted, i).y > top - 1e-9 && at(parted, i).y <= lip));
  return { ...now, seam: now.seam.filter((p, i) => !covered.has(i) || p.corner) };
};

/** The two lips at the hinge are one prick again, and the kink there is spread over the blend. */
const blendHinge = (now: Tracing, parted: Tracing, place: WedgePlace, hinge: number): Tracing => {
  const hingePrick = parted.seam[hinge] as Prick;
  const twins = now.seam.filter((p) => p.t === hingePrick.t && p.span === hingePrick.span);
  const one: Tracing = { ...now, seam: twins.length > 1 ? now.seam.filter((p) => p !== twins[1]) : now.seam };
  const run = edgeRun(one, place.hingesAt);
  const k = run.findIndex((i) => one.seam[i] === twins[0]);
  if (k <= 0 || k >= run.length - 1) return one;
  const points = pointsOf(one, run);
  const kink = turnAt(points, k) - turnWas(one, run, k);
  return {
    ...one,
    seam: displaced(
      one.seam,
      run,
      unkink(points, k, kink, place.pinned ? PINNED_BLEND : BLEND, place.pinned ? 'pinned' : 'free'),
    ),
  };
};

/** Turn that the source line has at a prick. */
const turnWas = (tracing: Tracing, run: readonly number[], k: number): number =>
  turnAt(
    [k - 1, k, k + 1].map((n) => (tracing.seam[run[n] as number] as Prick).was),
    1,
  );

/** Angle of the swing for an opening, radians: 2·asin(by / 2r). */
export const swingOf = (by: number, radius: number): number => 2 * Math.asin(by / (2 * radius));
