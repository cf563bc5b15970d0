import { Bug } from '../finding.ts';
import { between, distance, type Point } from '../geometry/point.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Dart } from '../pattern/piece.ts';
import { blendKink, closeLips, evenly, mapped, type Prior, priorOf, setTip } from './joining.ts';
import { NoRoom } from './no-room.ts';
import { movePart, type Parted, partAlong } from './parting.ts';
import { at, edgeRun, intake, mouthIndex, pointsOf, type Run, sewnLength, stretchBetweenMouths } from './runs.ts';
import { swingAbout } from './slash.ts';
import { backSeam, type CapHalf, capHalves, sleeveHeights, upSeam } from './sleeve-lines.ts';
import { solveFor } from './solve.ts';
import { type Tracing, trace } from './tracing.ts';
import { swingOf } from './wedge.ts';

/** Solved for to this much, mm. */
const EXACT = 1e-4;
/** A dart whose mouth lies this near the elbow level is the elbow's, mm. */
const ELBOW_DART = 80;
/** The back seam is drawn through the opening over this much of it on each side, mm. */
const REACH = 80;

interface Seams {
  readonly back: string;
  readonly front: string;
}

/**
 * Which seam of a sleeve is at the back and which at the front; undefined where nothing tells. An under sleeve's are
 * those that are sewn to the upper sleeve's; where that is not known, its higher corner is at the back.
 */
export const elbowSeams = (pattern: Pattern, tracing: Tracing): Seams | undefined => {
  const [a, b] = capHalves(tracing);
  if (!a || !b) return undefined;
  const back = tracing.piece.part === 'under sleeve' ? backOfUnder(pattern, tracing, a, b) : backSeam(tracing);
  return back === undefined ? undefined : { back, front: back === a.seam ? b.seam : a.seam };
};

const backOfUnder = (pattern: Pattern, under: Tracing, a: CapHalf, b: CapHalf): string => {
  const upper = pattern.pieces.find((p) => p.part === 'upper sleeve' && p.cut.cloth === under.piece.cut.cloth);
  const back = upper && backSeam(trace(upper));
  const sewn = [a, b].find((half) =>
    pattern.mates.some((m) => {
      const ends = [...m.one, ...m.other];
      return (
        ends.some((s) => s.piece === under.piece.id && s.edge === half.seam) &&
        ends.some((s) => s.piece === upper?.id && s.edge === back)
      );
    }),
  );
  const height = (half: CapHalf): number => at(under, half.run.at(-1) as number).y;
  return (sewn ?? (height(a) >= height(b) ? a : b)).seam;
};

/** The dart in the back seam at the elbow. */
export const elbowDart = (tracing: Tracing, back: string): Dart | undefined => {
  const { elbow } = sleeveHeights(tracing);
  return tracing.piece.darts.find((d) => {
    if (d.edge !== back || elbow === undefined) return false;
    return Math.abs(mouthMiddle(tracing, d.id).y - elbow) < ELBOW_DART;
  });
};

const mouthMiddle = (tracing: Tracing, dart: string): Point =>
  between(at(tracing, mouthIndex(tracing, dart, 0)), at(tracing, mouthIndex(tracing, dart, 1)), 0.5);

/** Where a seam passes a height. */
const onSeam = (tracing: Tracing, seam: string, height: number): Point => {
  const points = pointsOf(tracing, upSeam(tracing, seam));
  const k = points.findIndex((p) => p.y >= height);
  if (k <= 0) throw new NoRoom('the elbow does not lie on the sleeve seam');
  const [a, b] = [points[k - 1] as Point, points[k] as Point];
  return between(a, b, (height - a.y) / (b.y - a.y));
};

/**
 * Slashes the sleeve at the elbow from the back seam to, not through, the seam line of the front, and swings the
 * forearm about that hinge: the back seam opens (closes) by `by`. The upper arm keeps the grain. Where there is an
 * elbow dart the slash runs through it and the dart takes what opens, its tip staying; else the back seam is drawn
 * through, longer by just `by`, which is eased over the elbow.
 */
export const openElbow = (tracing: Tracing, seams: Seams, by: number): Tracing => {
  if (by === 0) return tracing;
  const { elbow } = sleeveHeights(tracing);
  if (elbow === undefined) throw new Bug(`${tracing.piece.id} has no elbow level`);
  const dart = elbowDart(tracing, seams.back);
  return dart ? throughDart(tracing, seams, by, dart) : throughSeam(tracing, seams, by, elbow);
};

/** A slash at the elbow: what opens and closes with a swing of the forearm. */
interface Slash {
  readonly parted: Parted;
  readonly prior: Prior;
  /** The forearm swung open by an angle, radians. */
  readonly swung: (angle: number) => Tracing;
  readonly hinge: Point;
  readonly open: Point;
}

/** The path runs from left to right, so that the forearm lies to the right of it. */
const slash = (tracing: Tracing, path: readonly Point[], hinge: Point): Slash => {
  const open = path[0] as Point;
  const toRight = hinge.x > open.x;
  const parted = partAlong(tracing, toRight ? path : [...path].reverse());
  const pivot = toRight ? parted.to.at : parted.from.at;
  const grain = new Set(tracing.piece.lines.filter((l) => l.kind === 'grain').map((l) => l.id));
  const ends = toRight ? ({ from: 'open', to: 'hinge' } as const) : ({ from: 'hinge', to: 'open' } as const);
  return {
    parted,
    prior: priorOf(parted.tracing),
    swung: (angle) => closeLips(movePart(parted, swingAbout(pivot, toRight ? angle : -angle), grain), parted, ends),
    hinge: pivot,
    open,
  };
};

const throughSeam = (tracing: Tracing, { back, front }: Seams, by: number, elbow: number): Tracing => {
  const hinge = onSeam(tracing, front, elbow);
  const open = onSeam(tracing, back, elbow);
  const cut = slash(tracing, [open, hinge], hinge);
  const opened = (angle: number): Tracing => {
    const swung = cut.swung(angle);
    const through = drawnThrough(swung, cut, back, hinge.x > open.x ? angle : -angle);
    return blendKink(through, cut.prior, front, cut.hinge);
  };
  const longer = (t: Tracing): number => sewnLength(t, back) - sewnLength(t, front);
  const was = longer(tracing);
  const first = swingOf(by, distance(hinge, open));
  return solveFor(opened, (made) => longer(made) - was - by, first, first * 0.98, EXACT);
};

/** The back seam beside the opening, mapped onto where its two parts have come to lie. */
const drawnThrough = (now: Tracing, cut: Slash, back: string, angle: number): Tracing => {
  const run = edgeRun(now, back);
  const near: Run = run.filter(
    (i) => Math.abs(cut.prior(now.seam[i] as Tracing['seam'][number]).y - cut.open.y) < REACH,
  );
  const lowerFirst = cut.prior(now.seam[near[0] as number] as Tracing['seam'][number]).y < cut.open.y;
  return mapped(now, cut.prior, near, lowerFirst ? { start: angle, end: 0 } : { start: 0, end: angle });
};

const throughDart = (tracing: Tracing, { front }: Seams, by: number, dart: Dart): Tracing => {
  const tip = tracing.tips.get(dart.id)?.at as Point;
  const hinge = onSeam(tracing, front, tip.y);
  const middle = mouthMiddle(tracing, dart.id);
  const inOutline = dart.drawn.as === 'outline';
  const cut = slash(tracing, inOutline ? [tip, hinge] : [middle, tip, hinge], hinge);
  const wide = intake(tracing, dart.id);
  if (wide + by < 0) throw new NoRoom(`a dart ${wide.toFixed(0)} mm wide cannot give ${(-by).toFixed(0)} mm`);
  const opened = (angle: number): Tracing => {
    const swung = cut.swung(angle);
    const tipped = setTip(swung, cut.prior, dart.id, tip);
    const mouthed = inOutline ? tipped : evenly(tipped, cut.prior, stretchBetweenMouths(tipped, dart.id));
    return blendKink(mouthed, cut.prior, front, cut.hinge);
  };
  const first = swingOf(by, distance(hinge, middle));
  return solveFor(opened, (made) => intake(made, dart.id) - wide - by, first, first * 0.98, EXACT);
};
