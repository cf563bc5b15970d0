import { add, type Point, same, scale, subtract } from '../../../geometry/point.ts';
import { cubic, cubicFromQuadratic, line, type Segment } from '../../../geometry/segment.ts';
import { arcSegments } from './arcs.ts';

/** What a command needs to know of those before it; in the axes and units of the data. */
export interface Pen {
  readonly at: Point;
  /** Where the subpath began, to which Z returns. */
  readonly start: Point;
  /** Last control point, for S and T; only after a curve of the same family. */
  readonly cubicControl?: Point;
  readonly quadraticControl?: Point;
}

export const RESTING: Pen = { at: { x: 0, y: 0 }, start: { x: 0, y: 0 } };

/** Relative commands that add up to their start are as close to it as this, beside the size of the numbers. */
const CLOSED_BY = 1e-9;

export const nearlySame = (a: Point, b: Point): boolean => {
  const close = CLOSED_BY * (1 + Math.abs(b.x) + Math.abs(b.y));
  return Math.abs(a.x - b.x) <= close && Math.abs(a.y - b.y) <= close;
};

const cubicOrNothing = (from: Point, c1: Point, c2: Point, to: Point): Segment[] =>
  same(from, c1) && same(from, c2) && same(from, to) ? [] : [cubic(from, c1, c2, to)];

/** One command drawn from the pen: its segments (none of zero length) and the pen afterwards. SVG 2, section 9.3. */
export const draw = (letter: string, values: readonly number[], pen: Pen): { segments: Segment[]; pen: Pen } => {
  const lower = letter.toLowerCase();
  const base = letter === lower ? pen.at : { x: 0, y: 0 };
  const pair = (i: number): Point => add(base, { x: values[i] ?? 0, y: values[i + 1] ?? 0 });
  const { at, start } = pen;
  const straight = (to: Point): { segments: Segment[]; pen: Pen } => ({
    segments: same(at, to) ? [] : [line(at, to)],
    pen: { at: to, start },
  });
  const quadratic = (control: Point, to: Point): { segments: Segment[]; pen: Pen } => ({
    segments: same(at, to) && same(at, control) ? [] : [cubicFromQuadratic(at, control, to)],
    pen: { at: to, start, quadraticControl: control },
  });
  const reflected = (control: Point | undefined): Point =>
    control === undefined ? at : subtract(scale(at, 2), control);
  switch (lower) {
    case 'm':
      return { segments: [], pen: { at: pair(0), start: pair(0) } };
    case 'h':
      return straight({ x: base.x + (values[0] ?? 0), y: at.y });
    case 'v':
      return straight({ x: at.x, y: base.y + (values[0] ?? 0) });
    case 'c':
      return {
        segments: cubicOrNothing(at, pair(0), pair(2), pair(4)),
        pen: { at: pair(4), start, cubicControl: pair(2) },
      };
    case 's': {
      const segments = cubicOrNothing(at, reflected(pen.cubicControl), pair(0), pair(2));
      return { segments, pen: { at: pair(2), start, cubicControl: pair(0) } };
    }
    case 'q':
      return quadratic(pair(0), pair(2));
    case 't':
      return quadratic(reflected(pen.quadraticControl), pair(0));
    case 'a': {
      const [rx = 0, ry = 0, rotation = 0, large = 0, sweep = 0] = values;
      const words = { rx, ry, rotation, large: large !== 0, sweep: sweep !== 0 };
      return { segments: arcSegments(at, words, pair(5)), pen: { at: pair(5), start } };
    }
    case 'z':
      return { segments: nearlySame(at, start) ? [] : [line(at, start)], pen: { at: start, start } };
    default:
      return straight(pair(0));
  }
};
