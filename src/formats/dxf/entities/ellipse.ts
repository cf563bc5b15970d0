import { ellipseToSegments } from '../../../geometry/ellipse.ts';
import { type Point, scale } from '../../../geometry/point.ts';
import { apply, applyToVector, scaling, transformSegment } from '../../../geometry/transform.ts';
import { type Fields, facingOf } from '../fields.ts';
import { removeEntity, replaceEntity } from '../replace.ts';
import { motionBetween } from './motion.ts';
import { allSegments, type EntityKind } from './shape.ts';

const centreOf = (fields: Fields): Point => ({ x: fields.number(10), y: fields.number(20) });
const majorOf = (fields: Fields): Point => ({ x: fields.number(11), y: fields.number(21) });

/**
 * ELLIPSE: centre 10/20, end of the major axis 11/21 from the centre, ratio 40, parameters 41 and 42, radians.
 * In world coordinates; seen from behind it runs the other way round. Cubics within 1e-4 mm.
 */
export const ellipseKind: EntityKind = {
  types: ['ELLIPSE'],
  ownPlane: false,
  read: (fields, context) => {
    const ratio = Math.abs(fields.number(40, 1)) * (facingOf(fields) === 'back' ? -1 : 1);
    const start = fields.number(41, 0);
    const end = fields.number(42, 2 * Math.PI);
    // Made in millimetres, where its tolerance is meant, and taken back.
    const k = context.millimetresPerUnit;
    const large = ellipseToSegments(scale(centreOf(fields), k), scale(majorOf(fields), k), ratio, start, end);
    const whole = Math.abs((end - start) % (2 * Math.PI)) < 1e-9;
    return { kind: 'path', stretches: [large.flatMap((s) => transformSegment(scaling(1 / k), s))], closed: whole };
  },
  reshape: (task) => {
    const { fields, pen, shape } = task;
    const segments = allSegments(task);
    if (segments.length === 0) return removeEntity(task);
    const motion = motionBetween(shape.stretches.flat(), segments);
    if (motion === undefined) return replaceEntity(task, segments);
    const centre = apply(motion, centreOf(fields));
    const major = applyToVector(motion, majorOf(fields));
    for (const [code, value] of [
      [10, centre.x],
      [20, centre.y],
      [11, major.x],
      [21, major.y],
    ] as const) {
      const tag = fields.tag(code);
      if (tag !== undefined) pen.setReal(tag, value);
    }
    return 0;
  },
};
