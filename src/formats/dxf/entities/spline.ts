import { distance, near, type Point, size, subtract } from '../../../geometry/point.ts';
import { type CubicSegment, line, type Segment } from '../../../geometry/segment.ts';
import { type BSpline, cubicsToSpline, splineFault, splineThrough, splineToCubics } from '../../../geometry/spline.ts';
import { apply, applyToVector, scaling, transformSegment } from '../../../geometry/transform.ts';
import type { Fields } from '../fields.ts';
import { splineTags } from '../make.ts';
import { removeEntity } from '../replace.ts';
import { whereOf } from '../tags.ts';
import { motionBetween } from './motion.ts';
import { allSegments, type EntityKind, type PathShape, type PathTask, type ReadContext } from './shape.ts';
import { asCubics } from './vertices.ts';

/**
 * SPLINE: degree 71, knots 40, weights 41, control points 10/20, fit points 11/21 with tangents 12/22 and 13/23.
 * Cubic ones and those of lower degree exactly, others within 0.001 mm. One without control points runs through its
 * fit points. In world coordinates. A stretch that is straight comes as a line.
 */
export const splineKind: EntityKind = {
  types: ['SPLINE'],
  ownPlane: false,
  read: (fields, context) => {
    const cubics = cubicsOf(fields, context);
    if (cubics === undefined) return undefined;
    const first = cubics[0];
    const last = cubics.at(-1);
    const meets = first !== undefined && last !== undefined && near(first.from, last.to, 0);
    const stretches = cubics.map((s) => [straightened(s)]);
    return { kind: 'path', stretches, closed: meets } satisfies PathShape;
  },
  reshape: (task) => {
    const segments = allSegments(task);
    if (segments.length === 0) return removeEntity(task);
    const motion = motionBetween(task.shape.stretches.flat(), segments);
    if (motion !== undefined) return moveSpline(task, motion);
    return redrawSpline(task, segments);
  },
};

const pairs = (fields: Fields, xCode: number): { x: number; y: number | undefined }[] => {
  const found: { x: number; y: number | undefined }[] = [];
  for (const i of fields.own) {
    const code = fields.tags.code[i];
    const open = found.at(-1);
    if (code === xCode) found.push({ x: i, y: undefined });
    else if (code === xCode + 10 && open !== undefined && open.y === undefined) open.y = i;
  }
  return found;
};

const pointsOf = (fields: Fields, xCode: number): Point[] =>
  pairs(fields, xCode).map(({ x, y }) => ({ x: fields.numberOf(x), y: y === undefined ? 0 : fields.numberOf(y) }));

/** Drawing programs know degrees up to 11 or 25; far beyond, the arithmetic takes forever. */
const HIGHEST_DEGREE = 30;

const cubicsOf = (fields: Fields, context: ReadContext): CubicSegment[] | undefined => {
  const k = context.millimetresPerUnit;
  const controls = pointsOf(fields, 10).map((p) => apply(scaling(k), p));
  const back = (cubics: readonly CubicSegment[]) =>
    cubics.flatMap((s) => transformSegment(scaling(1 / k), s)) as CubicSegment[];
  if (controls.length === 0) {
    const through = pointsOf(fields, 11).map((p) => apply(scaling(k), p));
    const different = through.filter((p, i) => i === 0 || distance(p, through[i - 1] as Point) > 0);
    return different.length < 2 ? [] : back(splineThrough(different, pointsOf(fields, 12)[0], pointsOf(fields, 13)[0]));
  }
  const weights = fields.all(41).map((i) => fields.numberOf(i));
  const spline: BSpline = {
    degree: fields.number(71, 3),
    controls,
    knots: fields.all(40).map((i) => fields.numberOf(i)),
    ...(weights.length > 0 ? { weights } : {}),
  };
  if (fields.bad.length > 0) return [];
  const parts = unbroken(spline);
  const fault =
    (spline.degree > HIGHEST_DEGREE ? `degree ${spline.degree}` : undefined) ??
    parts.map(splineFault).find((f) => f !== undefined) ??
    gapIn(parts);
  if (fault !== undefined) {
    context.report(
      'dxf-bad-spline',
      'error',
      whereOf(fields.tags, fields.entity.start),
      `A spline cannot be drawn: ${fault}. It is left out, and stays in the file as it is.`,
      'Draw the line again as a polyline or export the drawing again.',
    );
    return undefined;
  }
  const converted = parts.map(splineToCubics);
  if (converted.some((c) => c.deviation > 0)) {
    context.report(
      'dxf-spline-converted',
      'note',
      whereOf(fields.tags, fields.entity.start),
      'Splines that are weighted or of a degree above 3 are read as cubics within 0.001 mm.',
      'Nothing needs doing.',
    );
  }
  return back(converted.flatMap((c) => c.segments));
};

/** The parts between knots repeated degree + 1 times: there a spline may break, and each part is one of its own. */
const unbroken = (spline: BSpline): BSpline[] => {
  const { degree, controls, knots, weights } = spline;
  for (let i = 1; i < controls.length && knots.length === controls.length + degree + 1; i++) {
    if (knots[i] !== knots[i + degree] || knots[i] === knots[0] || i + degree >= knots.length - 1) continue;
    const part = (from: number, to: number): BSpline => ({
      degree,
      controls: controls.slice(from, to),
      knots: knots.slice(from, to + degree + 1),
      ...(weights === undefined ? {} : { weights: weights.slice(from, to) }),
    });
    return [part(0, i), ...unbroken(part(i, controls.length))];
  }
  return [spline];
};

/** Parts this near, mm, belong end to end. */
const END_TO_END = 1e-3;

const gapIn = (parts: readonly BSpline[]): string | undefined => {
  const apart = parts.some((part, i) => {
    const before = parts[i - 1]?.controls.at(-1);
    const here = part.controls[0];
    return before !== undefined && here !== undefined && !near(before, here, END_TO_END);
  });
  return apart ? 'it falls apart at a knot' : undefined;
};

/** Handles this near the thirds of the chord, for each unit of its length and at least, are those of a line drawn at even speed. */
const STRAIGHT = 1e-6;

const straightened = (s: CubicSegment): Segment => {
  const chord = subtract(s.to, s.from);
  const length = size(chord);
  const onThird = (p: Point, t: number): boolean =>
    distance(p, { x: s.from.x + chord.x * t, y: s.from.y + chord.y * t }) <= Math.max(length, 2) * STRAIGHT;
  return length > 0 && onThird(s.control1, 1 / 3) && onThird(s.control2, 2 / 3) ? line(s.from, s.to) : s;
};

const moveSpline = ({ fields, pen }: PathTask, motion: Parameters<typeof apply>[0]): number => {
  for (const code of [10, 11, 12, 13]) {
    for (const { x, y } of pairs(fields, code)) {
      const p = { x: fields.numberOf(x), y: y === undefined ? 0 : fields.numberOf(y) };
      const q = code < 12 ? apply(motion, p) : applyToVector(motion, p);
      pen.setReal(x, q.x);
      if (y !== undefined) pen.setReal(y, q.y);
    }
  }
  return 0;
};

/** New knots and control points in place of the old, within the same entity. */
const redrawSpline = (task: PathTask, segments: readonly Segment[]): number => {
  const { fields, pen, scale } = task;
  const spline = cubicsToSpline(asCubics(segments, scale));
  const marker = fields.own.find((i) => fields.tags.code[i] === 100 && fields.textOf(i) === 'AcDbSpline');
  const from =
    marker === undefined
      ? (fields.own.find((i) => SPLINE_CODES.has(fields.tags.code[i] ?? -1)) ?? fields.end)
      : marker + 1;
  pen.remove(from, fields.end);
  pen.insert(from, splineTags(spline, pen.places));
  return spline.controls.length - pairs(fields, 10).length;
};

const SPLINE_CODES = new Set([210, 70, 71, 72, 73, 74, 40, 41, 42, 43, 44, 10, 11, 12, 13]);
