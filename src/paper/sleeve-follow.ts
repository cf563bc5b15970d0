import { type ArmSeam, armholesIn, armSeams } from '../pattern/arm-seams.ts';
import { cloths, pieceCalled, type SewnEdge } from '../pattern/pattern.ts';
import type { Cloth } from '../pattern/piece.ts';
import { timesRound } from '../pattern/round.ts';
import { type Garment, onPiece, tracingOf } from './garment.ts';
import { sewnLength } from './runs.ts';
import { crownToLength } from './sleeve-crown.ts';
import { type CapHalf, capHalves } from './sleeve-lines.ts';
import { underarmOut } from './sleeve-underarm.ts';
import { armholeAt, halfNotches, slideNotches, type Walk, walkOf } from './sleeve-walk.ts';
import { solveFor } from './solve.ts';
import { type Tracing, trace } from './tracing.ts';

/*
 * A sleeve follows its armhole: the cap stays longer than the armhole by what it was, and its notches meet those of the
 * armhole.
 *
 * What the armhole gained below its notches the sleeve gains there too: its underarm goes out (in) with its seam, as
 * bodice and sleeve are let out alike at the underarm. All else is taken by the crown, which rises (sinks) between its
 * notches. Where the width of the sleeve is held (the wearer's upper arm is measured), the crown takes everything, and
 * the notches slide along the cap to where the armhole's come to lie. Common practice.
 */

/** What was done to one sleeve. mm */
export interface SleeveDeed {
  readonly sleeve: string;
  /** What the armhole gained. */
  readonly armhole: number;
  /** How far the crown rose. */
  readonly raised: number;
  /** How far the underarm went out, each half by itself. */
  readonly outs: readonly number[];
  /** What the cap is longer than the armhole. */
  readonly ease: number;
  /** The right armhole changed otherwise than the left one, by so much. */
  readonly uneven: number;
}

/** What cap and armhole may come to differ by, and their notches, before a sleeve is altered for it, mm. */
const SAME = 0.2;
/** The underarm is moved for a gain of at least this; the crown takes less. mm */
const AT_UNDERARM = 2;

const isTraced = (garment: Garment, piece: string): boolean => {
  const tracing = tracingOf(garment, piece);
  return tracing.seam !== trace(tracing.piece).seam;
};

/** @param holdWidth the width at the biceps is to stay what it is */
export const followArmholes = (
  garment: Garment,
  holdWidth: boolean,
): { readonly garment: Garment; readonly deeds: readonly SleeveDeed[] } => {
  const deeds: SleeveDeed[] = [];
  let now = garment;
  for (const seam of armSeams(garment.pattern)) {
    const all = [...seam.caps, ...seam.rows.flat()];
    if (!all.some((s) => isTraced(now, s.piece))) continue;
    const followed = followArmhole(now, seam, holdWidth);
    now = followed.garment;
    if (followed.deed) deeds.push(followed.deed);
  }
  return { garment: now, deeds };
};

const sewn = (garment: Garment, s: SewnEdge, when: 'before' | 'now'): number => {
  const tracing = tracingOf(garment, s.piece);
  return s.times * sewnLength(when === 'now' ? tracing : trace(tracing.piece), s.edge);
};
const rowLength = (garment: Garment, row: readonly SewnEdge[], when: 'before' | 'now'): number =>
  row.reduce((sum, s) => sum + sewn(garment, s, when), 0);

/** What armhole and cap measured, and what they measure now. */
interface Measured {
  /** What one armhole gained. */
  readonly gained: number;
  readonly armhole: number;
  readonly uneven: number;
}

const measureArmholes = (garment: Garment, { caps, rows }: ArmSeam): Measured => {
  const cap = rowLength(garment, caps, 'before');
  const each = rows.map((row) => {
    const before = rowLength(garment, row, 'before');
    // A row that is about twice the cap holds the armholes of both arms.
    const arms = Math.max(1, Math.round(before / cap));
    const now = rowLength(garment, row, 'now');
    return { gained: (now - before) / arms, armhole: now / arms };
  });
  const gains = each.map((e) => e.gained);
  return {
    gained: mean(gains),
    armhole: mean(each.map((e) => e.armhole)),
    uneven: gains.length < 2 ? 0 : Math.max(...gains) - Math.min(...gains),
  };
};

const mean = (values: readonly number[]): number =>
  values.length === 0 ? 0 : values.reduce((a, b) => a + b, 0) / values.length;

const followArmhole = (
  garment: Garment,
  seam: ArmSeam,
  holdWidth: boolean,
): { garment: Garment; deed: SleeveDeed | undefined } => {
  const { gained, armhole, uneven } = measureArmholes(garment, seam);
  // The crown is on the sleeve, or on the upper of its two pieces.
  const main = seam.caps.find((c) => pieceCalled(garment.pattern, c.piece)?.part !== 'under sleeve') ?? seam.caps[0];
  if (!main) return { garment, deed: undefined };
  const meant = seam.caps.reduce((sum, c) => sum + c.times * (garment.eased.get(`${c.piece}/${c.edge}`) ?? 0), 0);
  const target = rowLength(garment, seam.caps, 'before') + gained + meant;
  const sleeve = tracingOf(garment, main.piece);
  const whole = seam.caps.length === 1;
  const walk = walkOf(garment, seam);
  const outed = holdWidth || !whole ? { tracing: sleeve, outs: [] } : withArmhole(sleeve, walk);
  const others = seam.caps.filter((c) => c !== main).reduce((sum, c) => sum + sewn(garment, c, 'now'), 0);
  const length = (target - others) / main.times;
  const crowned =
    Math.abs(length - sewnLength(outed.tracing, main.edge)) <= SAME
      ? { tracing: outed.tracing, by: 0 }
      : crownToLength(outed.tracing, length);
  const notched = slideNotches(crowned.tracing, walk);
  const done = notched === sleeve ? garment : onPiece(garment, main.piece, () => notched);
  const told = Math.abs(crowned.by) > 0.05 || outed.outs.some((o) => Math.abs(o) > 0.05);
  const deed = {
    sleeve: main.piece,
    armhole: gained,
    raised: crowned.by,
    outs: outed.outs,
    ease: target - armhole,
    uneven,
  };
  return { garment: done, deed: told ? deed : undefined };
};

/** The underarm goes out until the cap has gained below its first notches what the armhole has. */
const withArmhole = (sleeve: Tracing, walk: Walk): { tracing: Tracing; outs: readonly number[] } => {
  const before = trace(sleeve.piece);
  const gain = (t: Tracing, half: CapHalf): number => {
    const [is] = halfNotches(t, capHalves(t).find((h) => h.end === half.end) as CapHalf);
    const [was] = halfNotches(before, capHalves(before).find((h) => h.end === half.end) as CapHalf);
    return is === undefined || was === undefined ? 0 : is - was;
  };
  const outs: number[] = [];
  const tracing = capHalves(sleeve).reduce((t, half) => {
    const [notch] = armholeAt(sleeve, half, walk)?.notches ?? [];
    const wanted = notch ? notch.now - notch.before : 0;
    const open = wanted - gain(t, half);
    if (!notch || Math.min(Math.abs(wanted), Math.abs(open)) < AT_UNDERARM) return t;
    const out = (by: number) => ({ by, made: underarmOut(t, (seam) => (seam === half.seam ? by : 0)) });
    const { by, made } = solveFor(out, (o) => gain(o.made, half) - wanted, open, open * 0.95, 1e-3);
    outs.push(by);
    return made;
  }, sleeve);
  return { tracing, outs };
};

/** Armholes of layers of cloth in which the pattern has no sleeve, and what each gained, mm. */
export const armholesWithoutSleeve = (garment: Garment): { readonly cloth: Cloth; readonly gained: number }[] => {
  const followed = new Set(armSeams(garment.pattern).flatMap((s) => s.rows.flat().map((e) => e.piece)));
  return cloths(garment.pattern).flatMap((cloth) => {
    const row = armholesIn(garment.pattern, cloth).filter((s) => !followed.has(s.piece));
    const gained = row.reduce((sum, s) => {
      const half = timesRound(tracingOf(garment, s.piece).piece) / 2;
      return sum + half * (sewn(garment, s, 'now') - sewn(garment, s, 'before'));
    }, 0);
    return row.length === 0 ? [] : [{ cloth, gained }];
  });
};
