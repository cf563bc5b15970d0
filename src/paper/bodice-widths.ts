import type { Point } from '../geometry/point.ts';
import { add, between, scale } from '../geometry/point.ts';
import {
  lastStretch,
  prickedAcross,
  type Shoulder,
  type ShoulderAndArmhole,
  shoulderedArmholes,
  shouldersOf,
  widthLevel,
} from './armhole.ts';
import { leanOut, moveOut } from './bodice-lean.ts';
import { setShoulder, trueNeckCorner } from './bodice-shoulders.ts';
import { type Garment, onPiece, tracingOf } from './garment.ts';
import { closeLips, evenly, priorOf, setTip } from './joining.ts';
import { movePart, partAlong } from './parting.ts';
import { at, mouthIndex, pointsOf, sewnLength, stretchBetweenMouths } from './runs.ts';
import { drawnBetweenEnds, intoDart } from './shoulder-dart.ts';
import { fitByDarts } from './skirt-shape.ts';
import { shiftBy } from './slash.ts';
import { moved, type Tracing } from './tracing.ts';

/* Backs and chests made wider (narrower) from the shoulder down. */

/** Where what the shoulder has gained goes: into a dart, or back out at the armhole. */
export type ShoulderSurplus = 'dart' | 'armhole';

/**
 * The part of the piece next to the armhole moves out by `by`, square to the centre, on each side that has a shoulder.
 * Where there is a waist dart the piece is slashed from the shoulder to it, and the dart takes what the waist has
 * gained; else the seam below the armhole runs back to where it was at the waist. The shoulder is redrawn from neck to
 * tip, and what it has gained goes into a dart or back out at the armhole.
 */
export const spreadAcross = (tracing: Tracing, by: number, surplus: ShoulderSurplus): Tracing =>
  by === 0
    ? tracing
    : shoulderedArmholes(tracing).reduce((was, pair) => {
        const marked = prickedAcross(was);
        const dart = dartBelow(marked, pair);
        const spread = dart ? slashThrough(marked, pair, dart, by) : moveOut(marked, pair.armhole, by);
        return takeSurplus(spread, marked, pair, surplus);
      }, tracing);

/** The waist dart on the side of an armhole; the one nearest to it, when there are several. */
const dartBelow = (tracing: Tracing, { armhole }: ShoulderAndArmhole): string | undefined => {
  const waists = new Set(tracing.piece.edges.filter((e) => e.role === 'waist').map((e) => e.id));
  const out = (id: string): number => (tracing.tips.get(id)?.at.x ?? 0) * armhole.outward;
  return tracing.piece.darts
    .filter((d) => d.edge !== undefined && waists.has(d.edge) && out(d.id) > 0)
    .map((d) => d.id)
    .sort((a, b) => out(b) - out(a))[0];
};

/** Slashed from the middle of the shoulder to the dart: the outer part moves, the dart opens, its tip in the middle of the gap. */
const slashThrough = (tracing: Tracing, pair: ShoulderAndArmhole, dartId: string, by: number): Tracing => {
  const { shoulder, armhole } = pair;
  const dart = tracing.piece.darts.find((d) => d.id === dartId);
  const tip = tracing.tips.get(dartId)?.at as Point;
  const waist = dart?.edge as string;
  const outer = pointsOf(tracing, lastStretch(tracing, shoulder));
  const middle = between(outer[0] as Point, outer.at(-1) as Point, 0.5);
  const [a, b] = [at(tracing, mouthIndex(tracing, dartId, 0)), at(tracing, mouthIndex(tracing, dartId, 1))];
  const up = [...(dart?.drawn.as === 'lines' ? [between(a, b, 0.5)] : []), tip, middle];
  // The part that moves lies to the right of the slash.
  const parted = partAlong(tracing, armhole.outward > 0 ? up : [...up].reverse());
  const prior = priorOf(parted.tracing);
  const shift: Point = { x: by * armhole.outward, y: 0 };
  const kept = new Set(tracing.piece.lines.filter((l) => l.kind === 'grain').map((l) => l.id));
  const parts = withDartsOf(movePart(parted, shiftBy(shift), kept), tracing, shift);
  const closed = closeLips(parts, parted, { from: 'open', to: 'open' });
  const mouthed = dart?.drawn.as === 'lines' ? evenly(closed, prior, stretchBetweenMouths(closed, dartId)) : closed;
  const tipped = setTip(mouthed, prior, dartId, add(tip, scale(shift, 0.5)));
  const drawn = drawnBetweenEnds(tipped, prior, shoulder);
  return fitByDarts(bustPointBetween(drawn, tracing, tip, shift), waist, sewnLength(tracing, waist));
};

/** Tips of darts whose mouths have moved go with them, wherever the slash passed them by. */
const withDartsOf = (moved: Tracing, before: Tracing, shift: Point): Tracing => {
  const far = (dart: string): number =>
    ([0, 1] as const).reduce<number>((sum, which) => {
      const [is, was] = [moved, before].map((t) => at(t, mouthIndex(t, dart, which)).x) as [number, number];
      return sum + Math.abs(is - was);
    }, 0) / 2;
  const tips = new Map(moved.tips);
  for (const dart of before.piece.darts) {
    const tip = before.tips.get(dart.id);
    if (dart.edge === undefined || !tip) continue;
    const part = far(dart.id) / Math.abs(shift.x);
    tips.set(dart.id, { ...tip, at: part > 0.99 ? add(tip.at, shift) : tip.at });
  }
  return { ...moved, tips };
};

/** A bust point this near the tip of the dart that is slashed stays over it, mm. */
const OVER = 60;

/** The bust point comes to the middle of the gap, as the tip below it does, with what marks it. */
const bustPointBetween = (now: Tracing, before: Tracing, tip: Point, shift: Point): Tracing => {
  const point = before.landmarks.get('bust point');
  if (!point || Math.abs(point.at.x - tip.x) > OVER) return now;
  const half = scale(shift, 0.5);
  const own = new Set(before.piece.landmarks.filter((l) => l.name === 'bust point').flatMap((l) => l.marks));
  const placed = <M extends { readonly at: Point }>(m: M): M => ({ ...m, at: add(m.at, half) });
  return {
    ...now,
    landmarks: new Map([...now.landmarks, ['bust point', placed(point)]]),
    marks: new Map([...now.marks].map(([id, m]) => [id, own.has(id) ? placed(before.marks.get(id) ?? m) : m])),
    lines: new Map(
      [...now.lines].map(([id, l]) => [id, own.has(id) ? (before.lines.get(id) ?? l).map((p) => moved(p, half)) : l]),
    ),
  };
};

/** What the shoulder has gained (or lost) since `was` goes into a dart where it can, and the rest out at the armhole. */
const takeSurplus = (now: Tracing, was: Tracing, pair: ShoulderAndArmhole, surplus: ShoulderSurplus): Tracing => {
  const lengths = {
    shoulder: sewnLength(was, pair.shoulder.edge),
    armhole: sewnLength(was, pair.armhole.edge),
  };
  const darted = surplus === 'dart' ? intoDart(now, pair.shoulder, lengths.shoulder) : now;
  return trueNeckCorner(setShoulder(darted, was, pair, lengths), was, pair.shoulder);
};

/**
 * On panels that are joined by a seam from the shoulder down, that seam takes the change: each of its edges goes out by
 * `by` from the shoulder to the level of widths, to nothing at the waist.
 */
const panelSeamOut = (tracing: Tracing, by: number): Tracing =>
  panelShoulders(tracing).reduce((now, { shoulder, end }) => {
    const seam = end === 'first' ? shoulder.before : shoulder.beyond;
    const out = end === 'first' ? -shoulder.outward : shoulder.outward;
    const level = tracing.levels.get('chest') ?? tracing.levels.get('blade') ?? levelOfArmhole(tracing);
    const leant = leanOut(now, now, seam.id, { x: out * by, y: 0 }, level);
    return drawnBetweenEnds(leant, priorOf(now), shoulder);
  }, tracing);

const levelOfArmhole = (tracing: Tracing): number => {
  const [pair] = shoulderedArmholes(tracing);
  return pair ? widthLevel(tracing, pair.armhole) : 0;
};

/** Shoulders that end at a panel seam, and at which end. */
const panelShoulders = (tracing: Tracing): { shoulder: Shoulder; end: 'first' | 'last' }[] =>
  shouldersOf(tracing).flatMap((shoulder) =>
    (['first', 'last'] as const)
      .filter((end) => (end === 'first' ? shoulder.before : shoulder.beyond).role === 'panel seam')
      .map((end) => ({ shoulder, end })),
  );

/**
 * Panels of one front (or back) that are joined by a seam from the shoulder down: the edges of that seam go out by `by`
 * each, and what the shoulder has gained is taken off at the armhole, which keeps its length.
 */
export const widenPanels = (garment: Garment, pieces: readonly string[], by: number): Garment => {
  const shoulders = (g: Garment): number =>
    pieces.reduce((sum, id) => {
      const tracing = tracingOf(g, id);
      const [shoulder] = shouldersOf(tracing);
      return shoulder ? sum + sewnLength(tracing, shoulder.edge) : sum;
    }, 0);
  const out = pieces.reduce((g, id) => onPiece(g, id, (t) => panelSeamOut(t, by)), garment);
  const gained = shoulders(out) - shoulders(garment);
  return pieces.reduce((g, id) => onPiece(g, id, (t) => takeAtArmhole(t, tracingOf(garment, id), gained)), out);
};

/** The shoulder of a panel taken back by `by` at the armhole, which keeps its length. */
const takeAtArmhole = (now: Tracing, was: Tracing, by: number): Tracing =>
  shoulderedArmholes(now).reduce(
    (t, pair) =>
      setShoulder(t, was, pair, {
        shoulder: sewnLength(t, pair.shoulder.edge) - by,
        armhole: sewnLength(was, pair.armhole.edge),
      }),
    now,
  );
