import type { Point } from '../geometry/point.ts';
import { add, distance, dot, left, ORIGIN, scale, size, subtract, unit } from '../geometry/point.ts';
import type { EdgeRole } from '../pattern/piece.ts';
import { bring, STILL } from './bend.ts';
import { type Bust, bustsOf, dartTo, edgeOn, insideDartTo, moveBust } from './bust-point.ts';
import { redrawnDart, trueFolded } from './dart-swing.ts';
import { besideMouth, tangentAtEnd } from './mouth-runs.ts';
import { displaced } from './move-edge.ts';
import { NoRoom } from './no-room.ts';
import { along, at, edgeRun, lengthOfPoints, pointsOf, type Run, sewnLength } from './runs.ts';
import { fitByDarts } from './skirt-shape.ts';
import { mouthsOf } from './slit.ts';
import { solveFor } from './solve.ts';
import type { Prick, Tracing } from './tracing.ts';

/* The bust point of a front set lower or higher, and the darts that are aimed at it with it. */

/** What moves with the bust point: the whole side dart, boxed and slid along the grain, or the tips alone. */
export type DartMove = 'whole dart' | 'tip only';

/**
 * Sets the bust point lower (higher) along the grain, by so much that it lies `by` further from the neck point. The side
 * dart goes down as a whole, or its tip alone and its legs are made equal; darts in other edges keep their mouths and
 * follow with their tips. The bust level goes along.
 * @throws NoRoom when the side dart would be pushed past the underarm or the waist
 */
export const lowerBust = (tracing: Tracing, by: number, how: DartMove): Tracing => {
  if (by === 0) return tracing;
  const busts = bustsOf(tracing);
  const drops = busts.map((b) => dropFor(tracing, b, by));
  const darted = busts.reduce((t, b, i) => lowerDarts(t, tracing, b, drops[i] as number, how), tracing);
  const waists = [...new Set(busts.flatMap((b) => edgeOn(tracing, b, 'waist')?.id ?? []))];
  const fitted = waists.reduce((t, id) => fitByDarts(t, id, sewnLength(tracing, id)), darted);
  return withLevel(fitted, drops[0] ?? by);
};

/** How far down the grain the bust point goes to lie `by` further from the neck point. */
export const dropFor = (tracing: Tracing, bust: Bust, by: number): number => {
  const neck = neckPoint(tracing, bust);
  if (!neck) return by;
  const far = distance(neck, bust.at);
  const across = bust.at.x - neck.x;
  return Math.sqrt(Math.max(0, (far + by) ** 2 - across ** 2)) - (neck.y - bust.at.y);
};

/** Where neck and shoulder meet on the side of a bust point. */
const neckPoint = (tracing: Tracing, bust: Bust): Point | undefined => {
  const neck = edgeOn(tracing, bust, 'neck');
  const shoulder = edgeOn(tracing, bust, 'shoulder');
  if (!neck || !shoulder) return undefined;
  const ends = [neck, shoulder].map((e) => {
    const run = edgeRun(tracing, e.id);
    return [run[0], run.at(-1)];
  });
  const shared = ends[0]?.find((i) => ends[1]?.includes(i));
  return shared === undefined ? undefined : at(tracing, shared);
};

/** Edges from which darts run up, down or across to the bust point. */
const EDGES: readonly EdgeRole[] = ['side', 'waist', 'shoulder', 'armhole', 'neck'];

const lowerDarts = (now: Tracing, was: Tracing, bust: Bust, drop: number, how: DartMove): Tracing => {
  const down = { x: 0, y: -drop };
  const darts = EDGES.flatMap((role) => {
    const dart = dartTo(was, bust, role);
    return dart ? [{ role, id: dart.id }] : [];
  });
  const inside = insideDartTo(was, bust);
  const moved = darts.reduce(
    (t, { role, id }) => (role === 'side' && how === 'whole dart' ? slid(t, id, down) : tipped(t, id, down)),
    now,
  );
  const trued = darts.reduce((t, { role, id }) => {
    const folded = trueFolded(t, was, id);
    return redrawnDart(role === 'side' ? sewnAsLong(folded, was, id) : folded, was, id);
  }, moved);
  return moveBust(inside === undefined ? trued : withTip(trued, inside, down), was, bust, down);
};

/** The seam with its dart closed keeps its length: what it is off is added along it at both mouths alike. */
const sewnAsLong = (now: Tracing, was: Tracing, dart: string): Tracing => {
  const edge = was.piece.darts.find((d) => d.id === dart)?.edge as string;
  const target = sewnLength(was, edge);
  const longer = (by: number): Tracing =>
    (['before', 'after'] as const).reduce((t, side) => {
      const run = besideMouth(t, dart, side);
      const points = pointsOf(t, run);
      return withSeam(t, run, drawnTo(points, scale(unit(tangentAtEnd(points)), by)));
    }, now);
  const first = (target - sewnLength(now, edge)) / 2;
  return Math.abs(first) < WITHIN
    ? now
    : solveFor(longer, (made) => sewnLength(made, edge) - target, first, first * 0.9, WITHIN);
};

/** What a length may miss, mm. */
const WITHIN = 0.001;

const withSeam = (tracing: Tracing, run: Run, by: readonly Point[]): Tracing => ({
  ...tracing,
  seam: displaced(tracing.seam, run, by),
});

/** A dart slid as a whole along the grain; the seam on either side is drawn to its new mouths. */
const slid = (tracing: Tracing, dart: string, by: Point): Tracing => {
  const sides = (['before', 'after'] as const).map((side) => besideMouth(tracing, dart, side));
  for (const run of sides) {
    const points = pointsOf(tracing, run);
    const down = (points[0] as Point).y < (points.at(-1) as Point).y;
    const left = lengthOfPoints(points) + (down ? by.y : -by.y);
    if (left < LEAST_BESIDE) throw new NoRoom('the side dart would run into the underarm or the waist');
  }
  const to = withLeastBend(tracing, sides, by);
  const slidden = sides.reduce((t, run) => withSeam(t, run, drawnTo(pointsOf(tracing, run), to)), tracing);
  return withTip(slidden, dart, to);
};

/** A seam bent by a step of two parabolas turns by 4a/L²; within 5 mm by so much for each mm and mm². */
const TURNED = 20;
/** What counts alike: a seam that turns by 1° within 5 mm, radians, and a dart that loses so much of its width, mm. */
const FAIR = Math.PI / 180;
const NARROWED = 0.7;

/**
 * The way down the grain, leaning so that the seams on either side are bent least and the dart keeps its width. A run of
 * length L that is moved by a square to itself bends by 4a/L²; what the two runs together gain in length the mouths take
 * back, and the dart gets narrower or wider by it.
 */
const withLeastBend = (tracing: Tracing, sides: readonly Run[], by: Point): Point => {
  const runs = sides.map((run) => {
    const points = pointsOf(tracing, run);
    return { ahead: unit(tangentAtEnd(points)), far: lengthOfPoints(points) };
  });
  const wants = [
    ...runs.map(({ ahead, far }) => scale(left(ahead), TURNED / far ** 2 / FAIR)),
    scale(
      runs.reduce((sum, { ahead }) => add(sum, ahead), ORIGIN),
      1 / NARROWED,
    ),
  ];
  const over = wants.reduce((sum, w) => sum + w.x * w.y, 0);
  const under = wants.reduce((sum, w) => sum + w.x ** 2, 0);
  return { x: (-by.y * over) / under, y: by.y };
};

/** Along itself a run is drawn out, or shortened, near its end only, over so many times what that moves: notches stay. */
const NEAR = 2.2;
/** At least so much of it, mm. */
const LEAST_NEAR = 30;

/** Displacements that bring the end of a run by a distance: along itself near the end, square to itself over all of it. */
const drawnTo = (points: readonly Point[], by: Point): Point[] => {
  const ahead = unit(tangentAtEnd(points));
  const alongIt = scale(ahead, dot(by, ahead));
  const way = along(points);
  const from = (way.at(-1) as number) - Math.max(LEAST_NEAR, NEAR * size(alongIt));
  const first = Math.max(
    0,
    Math.min(
      way.findIndex((d) => d >= from),
      points.length - 2,
    ),
  );
  const near = bring(points.slice(first), STILL, { by: alongIt, turned: 0 });
  const slidden = points.map((p, i) => (i < first ? p : add(p, near[i - first] as Point)));
  const across = bring(slidden, STILL, { by: subtract(by, alongIt), turned: 0 });
  return slidden.map((p, i) => subtract(add(p, across[i] as Point), points[i] as Point));
};

/** Seam that has to be left on either side of a dart, mm. */
const LEAST_BESIDE = 12;

const withTip = (tracing: Tracing, dart: string, by: Point): Tracing => {
  const tip = tracing.tips.get(dart);
  return tip ? { ...tracing, tips: new Map([...tracing.tips, [dart, { ...tip, at: add(tip.at, by) }]]) } : tracing;
};

/** A dart whose middle line lies flatter than this to the level is not shortened along it. */
const UPRIGHT = 0.5;

/**
 * The tip alone: of an upright dart along its middle line, so that the legs stay equal; of a level one down the grain,
 * and what the legs then differ by is added and trimmed at the mouths.
 */
const tipped = (tracing: Tracing, dart: string, down: Point): Tracing => {
  const [a, b] = mouthsOf(tracing, dart);
  const axis = left(unit(subtract(b, a)));
  if (Math.abs(axis.y) > UPRIGHT) return withTip(tracing, dart, scale(axis, down.y / axis.y));
  const was = tracing.tips.get(dart)?.at as Point;
  const lowered = withTip(tracing, dart, down);
  const tip = add(was, down);
  const uneven = distance(a, tip) - distance(b, tip) - (distance(a, was) - distance(b, was));
  const runs = (['before', 'after'] as const).map((side) => besideMouth(lowered, dart, side));
  // Shared so that a long and a short run beside the mouth are bent alike.
  const [p, q] = runs.map((run) => lengthOfPoints(pointsOf(lowered, run)) ** 2) as [number, number];
  const shares = [-uneven * (p / (p + q)), uneven * (q / (p + q))];
  return runs.reduce((t, run, which) => {
    const points = pointsOf(t, run);
    const by = scale(unit(subtract(points.at(-1) as Point, tip)), shares[which] as number);
    return withSeam(t, run, bring(points, STILL, { by, turned: 0 }));
  }, lowered);
};

/** The bust level goes down, and the line that draws it. */
const withLevel = (tracing: Tracing, drop: number): Tracing => {
  const level = tracing.levels.get('bust');
  if (level === undefined) return tracing;
  const drawn = tracing.piece.levels.find((l) => l.name === 'bust')?.line;
  const isIt = (id: string): boolean => {
    if (drawn !== undefined) return id === drawn;
    const kind = tracing.piece.lines.find((l) => l.id === id)?.kind;
    return kind === 'level' && (tracing.lines.get(id) ?? []).every((p) => Math.abs(p.at.y - level) < ON_LEVEL);
  };
  const lowered = (p: Prick): Prick => ({ ...p, at: add(p.at, { x: 0, y: -drop }) });
  return {
    ...tracing,
    levels: new Map([...tracing.levels, ['bust', level - drop]]),
    lines: new Map([...tracing.lines].map(([id, line]) => [id, isIt(id) ? line.map(lowered) : line])),
  };
};

/** A level line stands this near its level, mm. */
const ON_LEVEL = 0.5;
