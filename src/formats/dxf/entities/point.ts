import type { EntityKind } from './shape.ts';
import { radians, turnDegrees } from './shape.ts';

/** POINT: 10/20, in world coordinates; 50 is the direction it was drawn in, degrees. */
export const pointKind: EntityKind = {
  types: ['POINT'],
  ownPlane: false,
  read: (fields) => {
    const at = { x: fields.number(10), y: fields.number(20) };
    const angle = fields.tag(50);
    return angle === undefined ? { kind: 'point', at } : { kind: 'point', at, angle: radians(fields.numberOf(angle)) };
  },
  place: ({ fields, pen, at, angle }) => {
    const x = fields.tag(10);
    const y = fields.tag(20);
    if (x !== undefined) pen.setReal(x, at.x);
    if (y !== undefined) pen.setReal(y, at.y);
    if (angle === undefined) return;
    const tag = fields.tag(50);
    if (tag !== undefined) pen.setReal(tag, turnDegrees(angle), 4);
    else pen.insert(fields.end, [{ code: 50, real: turnDegrees(angle) }]);
  },
};
