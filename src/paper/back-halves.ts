import type { Point } from '../geometry/point.ts';
import { between, turn } from '../geometry/point.ts';
import type { Dart } from '../pattern/piece.ts';
import { type Armhole, armholesOf, runAlong, type Shoulder, shoulderOver, widthLevel } from './armhole.ts';
import { centreLine } from './bust-point.ts';
import { NoRoom } from './no-room.ts';
import { mouthIndex, pointsOf } from './runs.ts';
import { mouthsOf } from './slit.ts';
import { solve } from './solve.ts';
import type { Tracing } from './tracing.ts';

/* The two sides of a back that is slashed at the level of the shoulder blades: where each hinges, and how far it swings. */

/** One side of a back that is slashed. */
export interface Half {
  readonly armhole: Armhole;
  readonly shoulder: Shoulder;
  readonly hinge: Point;
  readonly dart: string | undefined;
  /** Where inner and outer part meet on the slash: at the tip of the dart, else at the centre. */
  readonly meets: Point;
  /** Swing of the outer part, radians. */
  readonly swing: number;
}

/** Nearer to its hinge than this a part would have to swing too far, mm. */
const LEAST_ARM = 25;

/** A level line drawn at the blades stays with the lower part: the slash runs just above it, mm. */
const ABOVE_LINE = 0.3;

export const slashLevel = (tracing: Tracing): number => {
  const [armhole] = armholesOf(tracing);
  return armhole ? widthLevel(tracing, armhole) + ABOVE_LINE : 0;
};

export type Side = Pick<Half, 'armhole' | 'shoulder'>;

export const sidesOf = (tracing: Tracing): Side[] =>
  armholesOf(tracing).flatMap((armhole) => {
    const shoulder = shoulderOver(tracing, armhole);
    return shoulder ? [{ armhole, shoulder }] : [];
  });

/** The dart on one side of the back, in its shoulder or in the neck beside it. */
export const dartOn = (tracing: Tracing, { armhole, shoulder }: Side): Dart | undefined => {
  const middle = centreLine(tracing);
  const own = (d: Dart): boolean => (between(...mouthsOf(tracing, d.id), 0.5).x - middle) * armhole.outward > 0;
  return [shoulder.edge, shoulder.before.role === 'neck' ? shoulder.before.id : '']
    .flatMap((edge) => tracing.piece.darts.filter((d) => d.edge === edge && own(d)))
    .at(0);
};

/** Where the armhole crosses the level; on a panel at its foot, where the armhole of the next panel goes on. */
const hingeOf = (tracing: Tracing, { armhole }: Side, level: number): Point => {
  const points = pointsOf(tracing, runAlong(tracing, armhole));
  if (armhole.beyond.role === 'panel seam') return points.at(-1) as Point;
  return points.reduce((a, b) => (Math.abs(b.y - level) < Math.abs(a.y - level) ? b : a));
};

export const halfOf = (tracing: Tracing, side: Side, level: number, by: number, atDarts: boolean): Half => {
  const hinge = hingeOf(tracing, side, level);
  const dart = atDarts ? dartOn(tracing, side)?.id : undefined;
  const tip = dart === undefined ? undefined : tracing.tips.get(dart)?.at;
  // On the slash, straight below (above) the tip of the dart.
  const meets = { x: tip?.x ?? centreLine(tracing), y: level };
  // Where nothing takes what the swing would cost the shoulder, the outer part stays, and the inner one alone sinks.
  if (dart === undefined && by < 0) return { ...side, hinge, dart, meets, swing: 0 };
  const arm = Math.abs(hinge.x - meets.x);
  if (arm < LEAST_ARM) throw new NoRoom('the dart of the back lies too near to the armhole');
  const rise = (angle: number): number => turn(meets, angle, hinge).y - meets.y - by;
  const first = (-side.armhole.outward * by) / arm;
  return { ...side, hinge, dart, meets, swing: solve(rise, first, first * 1.02, 1e-7) };
};

/** Where the outer part ends and the inner one begins on the seam: the mouths of the dart, else the ends of the shoulder. */
export const meetings = (tracing: Tracing, { dart, armhole, shoulder }: Half): readonly [number, number] => {
  if (dart === undefined) {
    const run = runAlong(tracing, shoulder);
    return [run.at(-1) as number, run[0] as number];
  }
  const [first, second] = [mouthIndex(tracing, dart, 0), mouthIndex(tracing, dart, 1)];
  return armhole.from === 'end' ? [first, second] : [second, first];
};
