import { add, cross, dot, ORIGIN, type Point, scale, subtract, turn } from '../geometry/point.ts';
import { along } from './runs.ts';

/*
 * A line that goes along with another at some distance would magnify each short bend of that into a fold. Here it is
 * calmed: it goes as a stiff body as far as it does, and what it does besides is evened out along it.
 */

/**
 * The line as it goes, its changes of shape evened out.
 * @param was the line as it was
 * @param is where each of its points would go
 * @param over over how much of it to either side a change is evened out, mm
 */
export const calmed = (was: readonly Point[], is: readonly Point[], over: number): Point[] => {
  const stiffly = stiffMove(was, is);
  const besides = was.map((p, i) => subtract(is[i] as Point, stiffly(p)));
  const way = along(was);
  return was.map((p, i) => add(stiffly(p), evened(besides, way, way[i] as number, over)));
};

/** The move of a stiff body that comes nearest to where some points go (least squares). */
const stiffMove = (was: readonly Point[], is: readonly Point[]): ((p: Point) => Point) => {
  const [a, b] = [middle(was), middle(is)];
  let [sine, cosine] = [0, 0];
  was.forEach((p, i) => {
    const [u, v] = [subtract(p, a), subtract(is[i] as Point, b)];
    sine += cross(u, v);
    cosine += dot(u, v);
  });
  const angle = Math.atan2(sine, cosine);
  return (p) => add(b, turn(subtract(p, a), angle));
};

const middle = (points: readonly Point[]): Point => scale(points.reduce(add, ORIGIN), 1 / points.length);

/** Mean of a row of vectors about a place, those nearer weighing more; past its ends it goes on as its point reflection. */
const evened = (row: readonly Point[], way: readonly number[], at: number, over: number): Point => {
  const whole = way.at(-1) as number;
  const [first, last] = [row[0] as Point, row.at(-1) as Point];
  let sum = ORIGIN;
  let weights = 0;
  const weigh = (place: number, width: number, v: Point): void => {
    const weight = width * Math.max(0, 1 - Math.abs(place - at) / over);
    sum = add(sum, scale(v, weight));
    weights += weight;
  };
  row.forEach((v, j) => {
    const here = way[j] as number;
    const width = ((way[j + 1] ?? here) - (way[j - 1] ?? here)) / 2;
    weigh(here, width, v);
    weigh(-here, width, subtract(scale(first, 2), v));
    weigh(2 * whole - here, width, subtract(scale(last, 2), v));
  });
  return weights > 0 ? scale(sum, 1 / weights) : ORIGIN;
};
