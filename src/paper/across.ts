import type { Point } from '../geometry/point.ts';
import { takesWidth } from '../pattern/dart-legs.ts';
import { at, dartLegs, mouthIndex } from './runs.ts';
import { innerPlace, type Tracing } from './tracing.ts';

/**
 * Width of the paper straight across at a height as the verbs have left it, mm: what lies between the legs of an
 * upright dart that the level crosses is left out, the mouth of a dart in the outline is passed over as if the seam ran on. The same
 * definition as `straightWidth` has for a piece.
 */
export const widthAcross = (tracing: Tracing, height: number): number => {
  const xs = crossings(withoutLegs(tracing), height, true).toSorted((a, b) => a - b);
  const pairs = xs.length % 2 === 0 ? xs : [xs[0] as number, xs.at(-1) as number];
  const paper = pairs.reduce((sum, x, i) => (i % 2 === 1 ? sum + x - (pairs[i - 1] as number) : sum), 0);
  return paper - intakes(tracing, height);
};

const withoutLegs = (tracing: Tracing): Point[] => {
  const inside = new Set(
    tracing.piece.darts
      .filter((d) => d.drawn.as === 'outline')
      .flatMap((d) => {
        const [down, up] = dartLegs(tracing, d);
        return [...down.slice(1), ...up.slice(0, -1)];
      }),
  );
  return tracing.seam.filter((_, i) => !inside.has(i)).map((p) => p.at);
};

const intakes = (tracing: Tracing, height: number): number =>
  tracing.piece.darts.reduce((sum, d) => {
    const place = (key: string): Point | undefined => tracing.tips.get(key)?.at;
    const [tip, foot] = [place(d.id), place(innerPlace(d.id, 'other tip'))];
    const mouths = [0, 1].map((which) =>
      d.edge === undefined
        ? place(innerPlace(d.id, which === 0 ? 'mouth 0' : 'mouth 1'))
        : at(tracing, mouthIndex(tracing, d.id, which as 0 | 1)),
    );
    if (!tip || mouths.some((m) => !m) || !takesWidth(mouths as [Point, Point], tip)) return sum;
    const [one, other] = mouths.map((m) => crossings([...(foot ? [foot] : []), m as Point, tip], height, false)[0]);
    return one === undefined || other === undefined ? sum : sum + Math.abs(other - one);
  }, 0);

/** Where a level crosses a row of points, mm across. */
const crossings = (points: readonly Point[], height: number, closed: boolean): number[] =>
  points.flatMap((a, i) => {
    const b = points[i + 1] ?? (closed ? points[0] : undefined);
    if (!b || a.y > height === b.y > height) return [];
    return [a.x + ((height - a.y) / (b.y - a.y)) * (b.x - a.x)];
  });
