import type { Point } from '../geometry/point.ts';
import { add, between, ORIGIN, subtract } from '../geometry/point.ts';
import { isSeamDown } from '../pattern/edges.ts';
import { plus, reseat, STILL, step } from './bend.ts';
import { displaced, moveSeamBy, moveSeamOut } from './move-edge.ts';
import { along, at, dartLegs, edgeRun, mouthIndex, pointsOf, type Run, stretchBetweenMouths } from './runs.ts';
import { endAt, seamHeights } from './skirt-seams.ts';
import { stiffMove } from './slash.ts';
import { moved, type Prick, type Tracing } from './tracing.ts';

/**
 * The seam goes out by `by` at the hip and runs parallel below it, or to nothing at a height; at the waist it stays, and
 * above it.
 */
export const outAtHip = (tracing: Tracing, edgeId: string, by: number, nothingAt?: number): Tracing => {
  const { top, waist, hip } = seamHeights(tracing, edgeId);
  const goesOn = top > waist + 1 && !endAt(tracing, edgeId, 'waist');
  const out = moveSeamOut(tracing, edgeId, [
    { height: hip, by },
    { height: waist, by: 0 },
    ...(goesOn ? [{ height: top, by: 0 }] : []),
  ]);
  if (nothingAt === undefined) return out;
  const back = (y: number): number => (y >= hip ? 0 : by * (step((y - nothingAt) / (hip - nothingAt)) - 1));
  return moveSeamBy(out, edgeId, back);
};

/**
 * Slashes from hem to waist along the upright through a dart and spreads by `by`: the part between dart and side moves
 * out as a stiff body, the gain at the waist goes into the dart, whose tip comes to the middle of the gap. The hem line
 * is drawn through to its new end.
 */
export const spreadThroughDart = (tracing: Tracing, dartId: string, by: number): Tracing => {
  const dart = tracing.piece.darts.find((d) => d.id === dartId);
  const tip = tracing.tips.get(dartId)?.at;
  if (by === 0 || !dart || !tip) return tracing;
  const outward = outwardOf(tracing, tip);
  const shift: Point = { x: outward * by, y: 0 };
  const middle = between(
    ...(dart.mouth.map((_, which) => at(tracing, mouthIndex(tracing, dartId, which as 0 | 1))) as [Point, Point]),
    0.5,
  );
  // Upright to the tip, then along the middle of the dart, which may lean.
  const slash = (y: number): number => tip.x + ((middle.x - tip.x) * Math.max(0, y - tip.y)) / (middle.y - tip.y);
  const beyond = (p: Point): boolean => (p.x - slash(p.y)) * outward > 1e-9;
  const out = (p: Point): Point => (beyond(p) ? shift : ORIGIN);
  const hem = tracing.piece.edges.find((e) => e.role === 'hem');
  const hemRun = hem ? edgeRun(tracing, hem.id) : [];
  const inHem = new Set(hemRun.slice(1, -1));
  const [innerMouth, outerMouth] = mouthsOf(tracing, dartId, outward);
  const seam = tracing.seam.map((p, i) =>
    inHem.has(i) ? p : moved(p, i === outerMouth ? shift : i === innerMouth ? ORIGIN : out(p.at)),
  );
  const withLegs =
    dart.drawn.as === 'outline' ? legsAfter(tracing, seam, dartId, shift) : mouthAfter(tracing, seam, dartId);
  const hemmed = hem ? hemAfter(tracing, withLegs, hemRun) : withLegs;
  return {
    ...tracing,
    seam: hemmed,
    lines: new Map([...tracing.lines].map(([id, line]) => [id, partMoved(line, out)])),
    marks: new Map([...tracing.marks].map(([id, m]) => [id, beyond(m.at) ? { ...m, at: add(m.at, shift) } : m])),
    tips: new Map(
      [...tracing.tips].map(([id, t]) => [
        id,
        id === dartId ? { ...t, at: add(t.at, { x: shift.x / 2, y: 0 }) } : { ...t, at: add(t.at, out(t.at)) },
      ]),
    ),
  };
};

/** An inner line goes by where its points lie, a small mark as a whole. */
const partMoved = (line: readonly Prick[], out: (p: Point) => Point): readonly Prick[] => {
  const stiff = stiffMove(line, (p) => add(p, out(p)));
  return line.map((p) => moved(p, stiff ?? out(p.at)));
};

/** Towards which side the part beyond the dart lies: that of the nearest side seam. */
const outwardOf = (tracing: Tracing, tip: Point): 1 | -1 => {
  const seams = tracing.piece.edges.filter((e) => isSeamDown(e.role));
  const places = seams.map((e) => (pointsOf(tracing, edgeRun(tracing, e.id))[0] as Point).x);
  const nearest = places.reduce((best, x) => (Math.abs(x - tip.x) < Math.abs(best - tip.x) ? x : best));
  return nearest >= tip.x ? 1 : -1;
};

/** The mouths of the dart, the one on the part that stays first, wherever they lie across from the tip. */
const mouthsOf = (tracing: Tracing, dartId: string, outward: 1 | -1): readonly [number, number] => {
  const a = mouthIndex(tracing, dartId, 0);
  const b = mouthIndex(tracing, dartId, 1);
  return (at(tracing, b).x - at(tracing, a).x) * outward > 0 ? [a, b] : [b, a];
};

/** Legs of a dart in the outline, straight from their mouths to the tip in the middle of the gap. */
const legsAfter = (tracing: Tracing, seam: readonly Prick[], dartId: string, shift: Point): readonly Prick[] => {
  const dart = tracing.piece.darts.find((d) => d.id === dartId);
  if (!dart) return seam;
  return dartLegs(tracing, dart).reduce((now: readonly Prick[], leg: Run) => {
    const ends = [leg[0], leg.at(-1)] as [number, number];
    const tipEnd = at(tracing, ends[1]).y < at(tracing, ends[0]).y ? 1 : 0;
    const mouthBy = subtract((now[ends[tipEnd === 1 ? 0 : 1]] as Prick).at, at(tracing, ends[tipEnd === 1 ? 0 : 1]));
    const tipBy = { x: shift.x / 2, y: 0 };
    const targets = leg.map((i, k) => {
      const u = k / (leg.length - 1);
      const towardsTip = tipEnd === 1 ? u : 1 - u;
      return add(at(tracing, i), {
        x: mouthBy.x + (tipBy.x - mouthBy.x) * towardsTip,
        y: mouthBy.y * (1 - towardsTip),
      });
    });
    return displaced(
      now,
      leg,
      leg.map((i, k) => subtract(targets[k] as Point, (now[i] as Prick).at)),
    );
  }, seam);
};

/** The seam across the mouth of a dart drawn as lines, spread or squeezed evenly between its mouths. */
const mouthAfter = (tracing: Tracing, seam: readonly Prick[], dartId: string): readonly Prick[] => {
  const run = stretchBetweenMouths(tracing, dartId);
  const way = along(pointsOf(tracing, run));
  const by = [run[0], run.at(-1)].map((i) => subtract((seam[i as number] as Prick).at, at(tracing, i as number)));
  const targets = run.map((i, k) =>
    add(at(tracing, i), between(by[0] as Point, by[1] as Point, (way[k] as number) / (way.at(-1) as number))),
  );
  return displaced(
    seam,
    run,
    run.map((i, k) => subtract(targets[k] as Point, (seam[i] as Prick).at)),
  );
};

/** The hem line mapped onto its new ends. */
const hemAfter = (tracing: Tracing, seam: readonly Prick[], run: Run): readonly Prick[] => {
  const old = pointsOf(tracing, run);
  const ends = [run[0], run.at(-1)].map((i) => subtract((seam[i as number] as Prick).at, at(tracing, i as number)));
  const placed = plus(old, reseat(old, { ...STILL, by: ends[0] as Point }, { ...STILL, by: ends[1] as Point }));
  return displaced(
    seam,
    run,
    run.map((i, k) => subtract(placed[k] as Point, (seam[i] as Prick).at)),
  );
};
