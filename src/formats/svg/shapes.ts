import { arc, FULL_TURN } from '../../geometry/arc.ts';
import type { Point } from '../../geometry/point.ts';
import { line, type Segment } from '../../geometry/segment.ts';
import { attribute, dataIn, type Element } from './elements.ts';
import { inUserUnits, parseLength, type Surroundings } from './lengths.ts';
import { arcSegments, ellipseCubics } from './pathdata/arcs.ts';
import { draw } from './pathdata/draw.ts';
import { subpathsOf } from './pathdata/subpaths.ts';
import { numberAt, pastSeparators, tokenise } from './pathdata/tokens.ts';

/** One line of an element, in its own axes; `dot` for a subpath of no length. */
export interface Outline {
  readonly segments: readonly Segment[];
  readonly closed: boolean;
  readonly dot?: Point;
}

/** A mistake in an attribute; `at` is an offset in its text. */
export type Complain = (code: string, attributeName: string, at: number, what: string) => void;

export const SHAPES = ['path', 'rect', 'circle', 'ellipse', 'line', 'polyline', 'polygon'] as const;
export type ShapeName = (typeof SHAPES)[number];

export const isShape = (name: string): name is ShapeName => (SHAPES as readonly string[]).includes(name);

/** Geometry attributes of each shape: what a `d` would replace. */
export const GEOMETRY: Readonly<Record<ShapeName, readonly string[]>> = {
  path: ['d'],
  rect: ['x', 'y', 'width', 'height', 'rx', 'ry'],
  circle: ['cx', 'cy', 'r'],
  ellipse: ['cx', 'cy', 'rx', 'ry'],
  line: ['x1', 'y1', 'x2', 'y2'],
  polyline: ['points'],
  polygon: ['points'],
};

/** The outlines of a shape (SVG 2, chapters 9 and 10), each from the point and in the direction the standard gives it. */
export const outlinesOf = (element: Element, around: Surroundings, complain: Complain): Outline[] => {
  const length = (name: string, along: 'x' | 'y' | 'both'): number | undefined => {
    const text = attribute(element, name);
    if (text === undefined || text.trim() === '' || text.trim() === 'auto') return undefined;
    const parsed = parseLength(text);
    if (parsed === undefined) complain('svg-length', name, 0, `"${text}" is no length`);
    return parsed === undefined ? Number.NaN : inUserUnits(parsed, along, around);
  };
  const x = (name: string): number => length(name, 'x') ?? 0;
  const y = (name: string): number => length(name, 'y') ?? 0;
  switch (element.local as ShapeName) {
    case 'path':
      return pathOutlines(dataIn(element, 'd'), complain);
    case 'rect': {
      const [rx, ry] = [length('rx', 'x'), length('ry', 'y')];
      return only(rectangle(x('x'), y('y'), x('width'), y('height'), rx ?? ry ?? 0, ry ?? rx ?? 0), true);
    }
    case 'circle':
      return only(circle({ x: x('cx'), y: y('cy') }, length('r', 'both') ?? 0), true);
    case 'ellipse': {
      const [rx, ry] = [length('rx', 'x'), length('ry', 'y')];
      return only(ellipse({ x: x('cx'), y: y('cy') }, rx ?? ry ?? 0, ry ?? rx ?? 0), true);
    }
    case 'line':
      return only(
        joined(
          [
            { x: x('x1'), y: y('y1') },
            { x: x('x2'), y: y('y2') },
          ],
          false,
        ),
        false,
      );
    case 'polyline':
    case 'polygon': {
      const { points, error } = pointsOf(dataIn(element, 'points'));
      if (error !== undefined) complain('svg-points-broken', 'points', error, 'the list of points cannot be read here');
      const closing = element.local === 'polygon';
      const segments = joined(points, closing);
      const first = segments[0];
      return only(segments, first !== undefined && segments.length > 1 && sameEnds(segments));
    }
  }
};

const sameEnds = (segments: readonly Segment[]): boolean => {
  const first = segments[0]?.from;
  const last = segments.at(-1)?.to;
  return first !== undefined && last !== undefined && first.x === last.x && first.y === last.y;
};

const only = (segments: readonly Segment[], closed: boolean): Outline[] => {
  const finite = segments.every((s) => Number.isFinite(s.from.x + s.from.y + s.to.x + s.to.y));
  return segments.length > 0 && finite ? [{ segments, closed }] : [];
};

/** Subpaths that draw something: segments, or a dot. */
const pathOutlines = (data: string, complain: Complain): Outline[] => {
  const { commands, error } = tokenise(data);
  if (error !== undefined) complain('svg-path-broken', 'd', error.at, error.what);
  const outlines: Outline[] = [];
  let pen = { at: { x: 0, y: 0 }, start: { x: 0, y: 0 } };
  for (const subpath of subpathsOf(commands)) {
    for (const c of commands.slice(subpath.first, subpath.past))
      pen = draw(
        c.letter,
        c.args.map((a) => a.value),
        pen,
      ).pen;
    if (subpath.segments.length > 0) outlines.push({ segments: subpath.segments, closed: subpath.closed });
    else outlines.push({ segments: [], closed: false, ...(subpath.past - subpath.first > 1 && { dot: pen.at }) });
  }
  return outlines;
};

/** Pairs of numbers; `error` is the offset where they stop making sense. An odd number out is such a place. */
export const pointsOf = (text: string): { points: Point[]; spans: [number, number][]; error?: number } => {
  const values: number[] = [];
  const spans: [number, number][] = [];
  let error: number | undefined;
  let at = pastSeparators(text, 0);
  while (at < text.length) {
    const written = numberAt(text, at);
    const value = Number(written);
    if (written === undefined || !Number.isFinite(value)) {
      error = at;
      break;
    }
    values.push(value);
    spans.push([at, at + written.length]);
    at = pastSeparators(text, at + written.length);
  }
  if (values.length % 2 === 1) {
    values.pop();
    error ??= spans.pop()?.[0];
    spans.length = values.length;
  }
  const points = values.flatMap((x, i) => (i % 2 === 0 ? [{ x, y: values[i + 1] ?? 0 }] : []));
  return { points, spans, ...(error !== undefined && { error }) };
};

/** Lines from point to point, without those of no length. */
export const joined = (points: readonly Point[], closing: boolean): Segment[] => {
  const segments: Segment[] = [];
  let from = points[0];
  for (const to of closing && from !== undefined ? [...points.slice(1), from] : points.slice(1)) {
    if (from !== undefined && (from.x !== to.x || from.y !== to.y)) segments.push(line(from, to));
    from = to;
  }
  return segments;
};

const rectangle = (
  x: number,
  y: number,
  width: number,
  height: number,
  givenRx: number,
  givenRy: number,
): Segment[] => {
  if (!(width > 0) || !(height > 0)) return [];
  const rx = Math.min(Math.max(0, givenRx), width / 2);
  const ry = Math.min(Math.max(0, givenRy), height / 2);
  const rounded = rx > 0 && ry > 0;
  const [a, b] = rounded ? [rx, ry] : [0, 0];
  const right = x + width;
  const bottom = y + height;
  const stops: [Point, Point][] = [
    [
      { x: x + a, y },
      { x: right - a, y },
    ],
    [
      { x: right, y: y + b },
      { x: right, y: bottom - b },
    ],
    [
      { x: right - a, y: bottom },
      { x: x + a, y: bottom },
    ],
    [
      { x, y: bottom - b },
      { x, y: y + b },
    ],
  ];
  const segments: Segment[] = [];
  for (const [i, [from, to]] of stops.entries()) {
    if (from.x !== to.x || from.y !== to.y) segments.push(line(from, to));
    const next = stops[(i + 1) % 4]?.[0];
    if (rounded && next !== undefined) {
      segments.push(...arcSegments(to, { rx: a, ry: b, rotation: 0, large: false, sweep: true }, next));
    }
  }
  return segments;
};

const circle = (centre: Point, r: number): Segment[] => {
  if (!(r > 0)) return [];
  const start = { x: centre.x + r, y: centre.y };
  return [arc(start, start, centre, FULL_TURN)];
};

const ellipse = (centre: Point, rx: number, ry: number): Segment[] => {
  if (!(rx > 0) || !(ry > 0)) return [];
  if (rx === ry) return circle(centre, rx);
  const start = { x: centre.x + rx, y: centre.y };
  return ellipseCubics(start, start, 0, FULL_TURN, (p) => ({ x: centre.x + rx * p.x, y: centre.y + ry * p.y }));
};
