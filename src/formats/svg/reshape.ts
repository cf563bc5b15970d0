import { FULL_TURN } from '../../geometry/arc.ts';
import { type Point, size, subtract } from '../../geometry/point.ts';
import type { Segment } from '../../geometry/segment.ts';
import { type Affine, stretches } from '../../geometry/transform.ts';
import { type Edit, removeAttribute, renameElement, setAttribute } from './edits.ts';
import { attribute, dataIn, type Element } from './elements.ts';
import { inUserUnits, parseLength, type Surroundings, userUnitsPer } from './lengths.ts';
import { decimalsFor, decimalsIn, formatNumber, type Notation, notationOf, numbersIn } from './numbers.ts';
import { alike, composePath, splicePath } from './pathdata/splice.ts';
import { subpathsOf } from './pathdata/subpaths.ts';
import { tokenise } from './pathdata/tokens.ts';
import { GEOMETRY, outlinesOf, pointsOf, type ShapeName } from './shapes.ts';

/** What one outline of an element becomes, in the element's own axes. */
export type PartTarget =
  | { readonly kind: 'path'; readonly targets: readonly (readonly Segment[])[]; readonly closed: boolean }
  | { readonly kind: 'dot'; readonly at: Point };

export interface Reshaped {
  readonly edits: readonly Edit[];
  readonly moreDecimals: boolean;
  /** Whether a basic shape had to become a path. */
  readonly becamePath: boolean;
}

/** Half of 0.001 mm. */
const TOLERANCE_MM = 0.0005;

/** Everything that changes in one element. */
interface Task {
  readonly text: string;
  readonly element: Element;
  readonly around: Surroundings;
  readonly millimetres: number;
  readonly tolerance: number;
  readonly notation: Notation;
}

/** Attribute edits that give the element's outlines their new form; `parts` by number of the outline. */
export const reshape = (
  text: string,
  element: Element,
  parts: ReadonlyMap<number, PartTarget>,
  toMm: Affine,
  around: Surroundings,
): Reshaped => {
  const millimetres = stretches(toMm)[0];
  const tolerance = TOLERANCE_MM / millimetres;
  if (element.local === 'path') return reshapePath(text, element, parts, millimetres, tolerance);
  const name = element.local as ShapeName;
  const numbers = GEOMETRY[name].flatMap((a) => numbersIn(dataIn(element, a)));
  const task: Task = { text, element, around, millimetres, tolerance, notation: notationOf(numbers) };
  const part = parts.get(0);
  if (part?.kind !== 'path') return { edits: [], moreDecimals: false, becamePath: false };
  const kept = asItWas(task, name, part.targets, part.closed);
  if (kept !== undefined) return { edits: kept, moreDecimals: finer(task.notation, kept), becamePath: false };
  const decimals = decimalsIn(task.notation, decimalsFor(millimetres));
  const data = composePath(part.targets.flat(), part.closed, decimals, tolerance);
  const edits = toPath(task, name, data);
  return { edits, moreDecimals: finer(task.notation, edits), becamePath: true };
};

/** Whether any number written has more decimals than the file's. */
const finer = (notation: Notation, edits: readonly Edit[]): boolean =>
  edits.some(({ text }) => notationOf(numbersIn(text)).decimals > notation.decimals);

const reshapePath = (
  text: string,
  element: Element,
  parts: ReadonlyMap<number, PartTarget>,
  millimetres: number,
  tolerance: number,
): Reshaped => {
  const data = dataIn(element, 'd');
  const tokens = tokenise(data);
  const wanted = subpathsOf(tokens.commands).map((subpath, i) => {
    const part = parts.get(i);
    if (part?.kind === 'path') return { subpath, targets: part.targets };
    const targets = subpath.segments.map((s) => [s]);
    return part === undefined ? { subpath, targets } : { subpath, targets, at: part.at };
  });
  const spliced = splicePath(data, tokens, wanted, decimalsFor(millimetres), tolerance);
  const edits = [setAttribute(text, element, 'd', spliced)];
  return { edits, moreDecimals: finer(notationOf(numbersIn(data)), edits), becamePath: false };
};

/** Edits that keep the shape what it is; undefined when it cannot say what is wanted. */
const asItWas = (
  task: Task,
  name: ShapeName,
  targets: readonly (readonly Segment[])[],
  closed: boolean,
): Edit[] | undefined => {
  const after = targets.flat();
  switch (name) {
    case 'line':
      return asLine(task, after);
    case 'polyline':
    case 'polygon':
      return asPoints(task, after, name === 'polygon', closed);
    case 'rect':
      return asMoved(task, after, 'x', 'y') ?? asRectangle(task, after);
    case 'circle':
      return asCircle(task, after, 'r');
    case 'ellipse':
      return asMoved(task, after, 'cx', 'cy');
    case 'path':
      return undefined;
  }
};

const along = (name: string): 'x' | 'y' | 'both' =>
  /^(x|cx|rx|width|x1|x2)$/.test(name) ? 'x' : /^(y|cy|ry|height|y1|y2)$/.test(name) ? 'y' : 'both';

/** A length attribute in the unit it had; nothing when it has that value already. */
const setLength = (task: Task, name: string, value: number): Edit[] => {
  const stated = parseLength(attribute(task.element, name) ?? '');
  const before = stated === undefined ? 0 : inUserUnits(stated, along(name), task.around);
  if (Math.abs(before - value) <= 1e-9 * Math.max(1, Math.abs(value))) return [];
  const unit = stated === undefined || stated.unit === '%' ? '' : stated.unit;
  const per = userUnitsPer(unit, along(name), task.around);
  const decimals = decimalsIn(task.notation, decimalsFor(task.millimetres * per));
  const written = /[a-z]+$/i.exec((attribute(task.element, name) ?? '').trim())?.[0] ?? '';
  const text = `${formatNumber(value / per, decimals, task.notation)}${unit === '' ? '' : written}`;
  return [setAttribute(task.text, task.element, name, text)];
};

const setLengths = (task: Task, lengths: Readonly<Record<string, number>>): Edit[] =>
  Object.entries(lengths).flatMap(([name, value]) => setLength(task, name, value));

const asLine = (task: Task, after: readonly Segment[]): Edit[] | undefined => {
  const [only] = after;
  if (after.length !== 1 || only?.kind !== 'line') return undefined;
  return setLengths(task, { x1: only.from.x, y1: only.from.y, x2: only.to.x, y2: only.to.y });
};

/** Rect or ellipse carried along without turning. */
const asMoved = (task: Task, after: readonly Segment[], x: string, y: string): Edit[] | undefined => {
  const before = outlinesOf(task.element, task.around, () => {})[0]?.segments ?? [];
  const [a, b] = [before[0], after[0]];
  if (a === undefined || b === undefined) return undefined;
  const by = subtract(b.from, a.from);
  const carried = before.map((s) => carry(s, by));
  if (!alike(carried, after, task.tolerance)) return undefined;
  const value = (name: string): number => {
    const length = parseLength(attribute(task.element, name) ?? '0');
    return length === undefined ? 0 : inUserUnits(length, along(name), task.around);
  };
  return setLengths(task, { [x]: value(x) + by.x, [y]: value(y) + by.y });
};

const carry = (s: Segment, by: Point): Segment => {
  const move = (p: Point): Point => ({ x: p.x + by.x, y: p.y + by.y });
  if (s.kind === 'line') return { ...s, from: move(s.from), to: move(s.to) };
  if (s.kind === 'arc') return { ...s, from: move(s.from), to: move(s.to), centre: move(s.centre) };
  return { ...s, from: move(s.from), control1: move(s.control1), control2: move(s.control2), to: move(s.to) };
};

/** Four lines, level and upright, from the top left corner and rightwards. */
const asRectangle = (task: Task, after: readonly Segment[]): Edit[] | undefined => {
  const [top, right, bottom, left] = after;
  if (after.length !== 4 || !after.every((s) => s.kind === 'line')) return undefined;
  if (top === undefined || right === undefined || bottom === undefined || left === undefined) return undefined;
  const t = task.tolerance;
  const level = Math.abs(top.from.y - top.to.y) <= t && Math.abs(bottom.from.y - bottom.to.y) <= t;
  const upright = Math.abs(right.from.x - right.to.x) <= t && Math.abs(left.from.x - left.to.x) <= t;
  const width = top.to.x - top.from.x;
  const height = right.to.y - right.from.y;
  if (!level || !upright || !(width > 0) || !(height > 0)) return undefined;
  return setLengths(task, { x: top.from.x, y: top.from.y, width, height });
};

const asCircle = (task: Task, after: readonly Segment[], r: string): Edit[] | undefined => {
  const [only] = after;
  if (after.length !== 1 || only?.kind !== 'arc' || Math.abs(only.sweep) < FULL_TURN - 1e-9) return undefined;
  return setLengths(task, { cx: only.centre.x, cy: only.centre.y, [r]: size(subtract(only.from, only.centre)) });
};

const asPoints = (task: Task, after: readonly Segment[], polygon: boolean, closed: boolean): Edit[] | undefined => {
  const [first] = after;
  if (first === undefined || !after.every((s) => s.kind === 'line')) return undefined;
  const vertices = [first.from, ...after.map((s) => s.to)];
  if (polygon && closed) vertices.pop();
  const data = dataIn(task.element, 'points');
  const { points, spans } = pointsOf(data);
  const decimals = decimalsIn(task.notation, decimalsFor(task.millimetres));
  const write = (value: number): string => formatNumber(value, decimals, task.notation);
  const same = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a));
  if (points.length !== vertices.length) {
    const known = (v: Point): number => points.findIndex((p) => same(p.x, v.x) && same(p.y, v.y));
    const old = (i: number): string => data.slice(...(spans[i] ?? [0, 0]));
    const words = vertices.map((v) => {
      const i = known(v);
      return i < 0 ? `${write(v.x)},${write(v.y)}` : `${old(2 * i)},${old(2 * i + 1)}`;
    });
    return [setAttribute(task.text, task.element, 'points', words.join(' '))];
  }
  let out = '';
  let at = 0;
  for (const [i, [start, end]] of spans.entries()) {
    const [before, after2] = [points[i >> 1] as Point, vertices[i >> 1] as Point];
    const [was, is] = i % 2 === 0 ? [before.x, after2.x] : [before.y, after2.y];
    const number = same(was, is) ? data.slice(start, end) : write(is);
    const gap = data.slice(at, start);
    out += `${gap === '' && i > 0 && !number.startsWith('-') ? ' ' : gap}${number}`;
    at = end;
  }
  return [setAttribute(task.text, task.element, 'points', out + data.slice(at))];
};

/** The element becomes a path in its place; all other attributes stay. */
const toPath = (task: Task, name: ShapeName, data: string): Edit[] => {
  const { text, element } = task;
  const present = GEOMETRY[name].filter((a) => element.attributes.has(a));
  const [first, ...others] = present.toSorted(
    (a, b) => (element.attributes.get(a)?.nameStart ?? 0) - (element.attributes.get(b)?.nameStart ?? 0),
  );
  const place = first === undefined ? undefined : element.attributes.get(first);
  const d =
    place === undefined
      ? setAttribute(text, element, 'd', data)
      : { start: place.nameStart, end: place.valueEnd + 1, text: `d=${place.quote}${data}${place.quote}` };
  return [...renameElement(element, 'path'), d, ...others.flatMap((a) => removeAttribute(text, element, a))];
};
