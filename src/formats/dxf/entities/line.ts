import { cross, distance, dot, type Point, subtract } from '../../../geometry/point.ts';
import type { Segment } from '../../../geometry/segment.ts';
import { removeEntity, replaceEntity } from '../replace.ts';
import { allSegments, type EntityKind, stretchBetween } from './shape.ts';

/** LINE: 10/20 to 11/21, in world coordinates. */
export const lineKind: EntityKind = {
  types: ['LINE'],
  ownPlane: false,
  read: (fields, context) => {
    const from = { x: fields.number(10), y: fields.number(20) };
    const to = { x: fields.number(11), y: fields.number(21) };
    const rise = fields.number(31) - fields.number(30);
    if (rise !== 0)
      context.report(
        'dxf-not-flat',
        'note',
        {},
        'Some lines change their height (z); a pattern is flat, so the height is left out.',
        'Nothing needs doing; the heights stay in the file.',
      );
    return { kind: 'path', stretches: [stretchBetween(from, to, 0)], closed: false };
  },
  reshape: (task) => {
    const segments = allSegments(task);
    if (segments.length === 0) return removeEntity(task);
    const ends = straightEnds(segments);
    if (ends === undefined) return replaceEntity(task, segments);
    const { fields, pen } = task;
    const set = (code: number, value: number): void => {
      const tag = fields.tag(code);
      if (tag !== undefined) pen.setReal(tag, value);
      else if (value !== 0) pen.insert(fields.end, [{ code, real: value }]);
    };
    set(10, ends[0].x);
    set(20, ends[0].y);
    set(11, ends[1].x);
    set(21, ends[1].y);
    return 0;
  },
};

/** How far a point may lie off a line, file units times length, and still be on it. */
const STRAIGHT = 1e-6;

/** Both ends when the segments make one straight line that never turns back. */
const straightEnds = (segments: readonly Segment[]): [Point, Point] | undefined => {
  const first = segments[0];
  const last = segments.at(-1);
  if (first === undefined || last === undefined || segments.some((s) => s.kind !== 'line')) return undefined;
  const whole = subtract(last.to, first.from);
  const length = distance(first.from, last.to);
  if (length === 0) return undefined;
  const straight = segments.every((s) => {
    const step = subtract(s.to, s.from);
    return dot(step, whole) > 0 && Math.abs(cross(subtract(s.to, first.from), whole)) <= STRAIGHT * length;
  });
  return straight ? [first.from, last.to] : undefined;
};
