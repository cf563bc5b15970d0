import { add, type Point, scale, subtract, turn } from '../geometry/point.ts';
import { step } from './bend.ts';
import { moveSeamBy } from './move-edge.ts';
import { NoRoom } from './no-room.ts';
import { sewnLength } from './runs.ts';
import { stiffMove } from './slash.ts';
import { solveFor } from './solve.ts';
import { moved, type Prick, type Tracing } from './tracing.ts';
import { inseamOut } from './trouser-crotch.ts';
import { legHeights, legWidth, seamAt, seamCalled } from './trouser-lines.ts';

/* Width of the thigh, and legs that are not straight. */

/** The thigh is measured so far below the crotch, mm: 1 in, clear of the crotch curve (common practice). */
export const THIGH_BELOW_CROTCH = 25.4;

/** How near a width is brought to what it should be, mm. */
const WITHIN = 5e-4;

/** The side goes on outwards past the thigh for so much of its way down from the hip, which lets it bend less. */
const FULLEST = 4 / 3;

/**
 * The leg is made wider by `by` at each of its two seams, below the crotch: the side out from nothing at the hip, the
 * inseam with the crotch point, both to nothing at the knee.
 */
export const thighOut = (tracing: Tracing, by: number): Tracing => {
  const at = legHeights(tracing);
  const side = seamCalled(tracing, 'side');
  if (by === 0 || !at || side === undefined) return tracing;
  const thigh = at.crotch - THIGH_BELOW_CROTCH;
  const wanted = legWidth(tracing, thigh) + by;
  const fullest = Math.max((at.hip + at.knee) / 2, at.hip - FULLEST * (at.hip - thigh));
  const grows = (y: number): number =>
    y > fullest ? (at.hip - y) / (at.hip - fullest) : (y - at.knee) / (fullest - at.knee);
  const out = (way: number): Tracing => moveSeamBy(tracing, side, (y) => way * step(grows(y)));
  const sided = solveFor(out, (made) => legWidth(made, thigh) - wanted, by, by * 1.01, WITHIN);
  return inseamOut(sided, thigh, by);
};

/** How much longer each seam of a leg is to become, mm. */
export interface SeamGains {
  readonly side: number;
  readonly inseam: number;
}

/** The wedge is taken as many thin ones over so much of the leg, mm: no seam comes out with a kink. */
const OVER = 150;
/** Rounds of correction; each leaves a small part of what is off. */
const ROUNDS = 12;

/**
 * The leg is swung from the knee or the crotch down, by a wedge across it whose hinge lies where the seams say: a seam
 * that gains nothing holds the hinge; where one gains what the other loses it lies between. The part above stays and
 * keeps the grain; the hem swings with the leg.
 * @throws NoRoom when the leg is too short or too narrow for it
 */
export const swingLeg = (tracing: Tracing, from: 'knee' | 'crotch', gains: SeamGains): Tracing => {
  const at = legHeights(tracing);
  const [side, inseam] = [seamCalled(tracing, 'side'), seamCalled(tracing, 'inseam')];
  if (!at || side === undefined || inseam === undefined || (gains.side === 0 && gains.inseam === 0)) return tracing;
  const over = Math.min(OVER, at[from] - at.hem);
  const places = [seamAt(tracing, side, at[from] - over / 2), seamAt(tracing, inseam, at[from] - over / 2)] as const;
  const was = { side: sewnLength(tracing, side), inseam: sewnLength(tracing, inseam) };
  let asked = gains;
  for (let round = 0; round < ROUNDS; round++) {
    const swung = bentBelow(tracing, at[from], over, bendFor(asked, places));
    const off = {
      side: gains.side - (sewnLength(swung, side) - was.side),
      inseam: gains.inseam - (sewnLength(swung, inseam) - was.inseam),
    };
    if (Math.max(Math.abs(off.side), Math.abs(off.inseam)) < WITHIN) return swung;
    asked = { side: asked.side + off.side, inseam: asked.inseam + off.inseam };
  }
  throw new NoRoom('the leg cannot be swung so far');
};

interface Bend {
  /** How far the leg is turned in all, radians. */
  readonly turned: number;
  /** x of the line that keeps its length. */
  readonly hinge: number;
}

/** A seam that lies r to the right of the hinge becomes longer by −r times the turn. */
const bendFor = (gains: SeamGains, [side, inseam]: readonly [number, number]): Bend => {
  const turned = (gains.inseam - gains.side) / (side - inseam);
  return { turned, hinge: turned === 0 ? inseam : inseam + gains.inseam / turned };
};

/** Where a line that is bent comes to be, `deep` down its way: the sum of its directions there (Simpson's rule). */
const axisDown = (deep: number, over: number, turned: number): Point => {
  const n = 16;
  const at = (k: number): Point => {
    const angle = turned * step((deep * k) / n / over);
    return { x: Math.sin(angle), y: -Math.cos(angle) };
  };
  let sum = { x: 0, y: 0 };
  for (let k = 0; k <= n; k++) sum = add(sum, scale(at(k), k === 0 || k === n ? 1 : k % 2 === 0 ? 2 : 4));
  return scale(sum, deep / n / 3);
};

/** Bends the paper over a stretch below a height, setting in and out softly, and turns what lies below it as a stiff part. */
const bentBelow = (tracing: Tracing, top: number, over: number, { turned, hinge }: Bend): Tracing => {
  const turnAt = (y: number): number => turned * step((top - y) / over);
  const bent = (p: Point): Point => {
    if (p.y >= top) return p;
    const deep = Math.min(over, top - p.y);
    const axis = add({ x: hinge, y: top }, axisDown(deep, over, turned));
    return add(axis, turn({ x: p.x - hinge, y: p.y - top + deep }, turnAt(p.y)));
  };
  const by = (p: Point): Point => subtract(bent(p), p);
  const grain = new Set(tracing.piece.lines.filter((l) => l.kind === 'grain').map((l) => l.id));
  const lineBent = (line: readonly Prick[]): readonly Prick[] => {
    const stiff = stiffMove(line, bent);
    return line.map((p) => moved(p, stiff ?? by(p.at)));
  };
  const placed = <M extends { readonly at: Point }>(m: M): M => (m.at.y >= top ? m : { ...m, at: bent(m.at) });
  const middle = (y: number): number => {
    const [side, inseam] = [seamCalled(tracing, 'side'), seamCalled(tracing, 'inseam')] as [string, string];
    return (seamAt(tracing, side, y) + seamAt(tracing, inseam, y)) / 2;
  };
  return {
    ...tracing,
    seam: tracing.seam.map((p) => moved(p, by(p.at))),
    lines: new Map([...tracing.lines].map(([id, line]) => [id, grain.has(id) ? line : lineBent(line)])),
    marks: new Map(
      [...tracing.marks].map(([id, m]) => [
        id,
        m.at.y >= top ? m : { ...placed(m), turned: m.turned + turnAt(m.at.y) },
      ]),
    ),
    tips: new Map([...tracing.tips].map(([id, t]) => [id, placed(t)])),
    landmarks: new Map([...tracing.landmarks].map(([name, l]) => [name, placed(l)])),
    levels: new Map([...tracing.levels].map(([name, y]) => [name, y >= top ? y : bent({ x: middle(y), y }).y])),
    drawn: tracing.drawn.map((d) => ({ ...d, points: d.points.map(bent) })),
  };
};
