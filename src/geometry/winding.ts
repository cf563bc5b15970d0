import { arcParameterAtAngle } from './arc.ts';
import { rootsOf } from './bernstein.ts';
import { cubicTurns } from './cubic.ts';
import { cross, type Point, subtract } from './point.ts';
import { pointAt, type Segment } from './segment.ts';

/** Parameters that cut the segment into stretches that only rise or only fall. */
const risesAndFalls = (s: Segment): number[] => {
  if (s.kind === 'line') return [0, 1];
  const turns =
    s.kind === 'cubic'
      ? cubicTurns(s, 'y')
      : [arcParameterAtAngle(s, Math.PI / 2), arcParameterAtAngle(s, -Math.PI / 2)].filter((t) => t !== undefined);
  return [0, ...turns.filter((t) => t > 0 && t < 1).sort((a, b) => a - b), 1];
};

/** x at which a stretch that rises or falls throughout meets the height y. */
const crossingX = (s: Segment, t0: number, t1: number, y: number): number => {
  if (s.kind === 'cubic') {
    const t = rootsOf([s.from.y - y, s.control1.y - y, s.control2.y - y, s.to.y - y]).find((r) => r >= t0 && r <= t1);
    if (t !== undefined) return pointAt(s, t).x;
  }
  let lo = t0;
  let hi = t1;
  const rising = pointAt(s, t1).y > pointAt(s, t0).y;
  for (let i = 0; i < 60 && hi - lo > 1e-15; i++) {
    const middle = (lo + hi) / 2;
    if (pointAt(s, middle).y > y === rising) hi = middle;
    else lo = middle;
  }
  return pointAt(s, (lo + hi) / 2).x;
};

const liesLeftOf = (s: Segment, t0: number, t1: number, from: Point, to: Point, p: Point): boolean => {
  if (from.x > p.x && to.x > p.x && s.kind === 'line') return true;
  if (s.kind === 'line') return cross(subtract(to, from), subtract(p, from)) > 0 === to.y > from.y;
  return crossingX(s, t0, t1, p.y) > p.x;
};

/**
 * How often closed segments go round p, anticlockwise positive: crossings of the ray from p towards +x, a stretch
 * counting its lower end and not its upper one (so that a corner on the ray counts once).
 */
export const windingAbout = (segments: readonly Segment[], p: Point): number => {
  let winding = 0;
  for (const s of segments) {
    const cuts = risesAndFalls(s);
    for (let i = 1; i < cuts.length; i++) {
      const t0 = cuts[i - 1] as number;
      const t1 = cuts[i] as number;
      const from = pointAt(s, t0);
      const to = pointAt(s, t1);
      const up = from.y <= p.y && to.y > p.y;
      const down = to.y <= p.y && from.y > p.y;
      if ((up || down) && liesLeftOf(s, t0, t1, from, to, p)) winding += up ? 1 : -1;
    }
  }
  return winding;
};
