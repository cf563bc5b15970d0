import { angleOf, type Point, size, turn } from '../../../geometry/point.ts';
import type { Fields } from '../fields.ts';
import { paragraphText, plainText } from '../text.ts';
import { type EntityKind, type PlaceTask, radians, turnDegrees } from './shape.ts';

const pointOf = (fields: Fields, xCode: number): Point => ({ x: fields.number(xCode), y: fields.number(xCode + 10) });

/** Decimals of an angle in degrees: 0.0001° is 0.001 mm half a metre away. */
const ANGLE_PLACES = 4;

/** A text with a justification (72, 73) stands at its alignment point 11/21; one fitted between two points at 10/20. */
const alignedAt = (fields: Fields): boolean => {
  const across = fields.number(72);
  const up = fields.entity.type === 'TEXT' ? fields.number(73) : fields.number(74);
  return (across !== 0 || up !== 0) && across !== 3 && across !== 5 && fields.tag(11) !== undefined;
};

/** Bits of code 71: backwards, upside down. */
const BACKWARDS = 2;
const UPSIDE_DOWN = 4;

/** TEXT and ATTRIB: a single line. ATTDEF counts only when constant, for then its text is drawn. */
export const textKind: EntityKind = {
  types: ['TEXT', 'ATTRIB', 'ATTDEF'],
  ownPlane: true,
  read: (fields) => {
    const { type } = fields.entity;
    if (type === 'ATTDEF' && (fields.number(70) & 2) === 0) return undefined;
    const flags = fields.number(71);
    const upside = (flags & UPSIDE_DOWN) !== 0;
    const backwards = ((flags & BACKWARDS) !== 0) !== upside;
    const tag = type === 'TEXT' ? '' : fields.text(2);
    return {
      kind: 'text',
      text: plainText(fields.text(1)),
      at: pointOf(fields, alignedAt(fields) ? 11 : 10),
      angle: radians(fields.number(50)) + (upside ? Math.PI : 0),
      height: fields.number(40),
      backwards,
      labels: tag === '' ? [] : [tag],
    };
  },
  place: (task) => {
    const { fields, pen, at, angle } = task;
    const from = pointOf(fields, alignedAt(fields) ? 11 : 10);
    const upside = (fields.number(71) & UPSIDE_DOWN) !== 0;
    const old = fields.number(50);
    const turned = angle === undefined ? undefined : angle - (upside ? Math.PI : 0);
    const by = turned === undefined ? 0 : turned - radians(old);
    for (const code of [10, 11]) {
      if (fields.tag(code) === undefined) continue;
      const p = pointOf(fields, code);
      const q = turn(p, by, from);
      setPoint(task, code, { x: q.x + at.x - from.x, y: q.y + at.y - from.y });
    }
    if (turned === undefined) return;
    const tag = fields.tag(50);
    if (tag !== undefined) setTurn(task, tag, turned);
    else if (Math.abs(by) > 1e-12)
      pen.insert((fields.tag(40) ?? fields.end - 1) + 1, [{ code: 50, real: turnDegrees(turned) }]);
  },
};

/** MTEXT: paragraphs; long ones come in pieces of 250 letters (3) before the last (1). Direction by angle or vector, the later one counts. */
export const mtextKind: EntityKind = {
  types: ['MTEXT'],
  ownPlane: false,
  read: (fields) => {
    const pieces = fields.own.filter((i) => [1, 3].includes(fields.tags.code[i] ?? -1));
    return {
      kind: 'text',
      text: paragraphText(pieces.map((i) => fields.lettersOf(i)).join('')),
      at: pointOf(fields, 10),
      angle: mtextAngle(fields),
      height: fields.number(40),
      backwards: false,
      labels: [],
    };
  },
  place: (task) => {
    const { fields, pen, at, angle } = task;
    setPoint(task, 10, at);
    if (angle === undefined) return;
    const x = fields.tag(11);
    const tag = fields.tag(50);
    if (x !== undefined) {
      const length = size(pointOf(fields, 11)) || 1;
      const direction = { x: length * Math.cos(angle), y: length * Math.sin(angle) };
      pen.setReal(x, direction.x, 8);
      const y = fields.tag(21);
      if (y !== undefined) pen.setReal(y, direction.y, 8);
    }
    if (tag !== undefined) setTurn(task, tag, angle);
    else if (x === undefined && Math.abs(angle) > 1e-12) {
      pen.insert((fields.tag(41) ?? fields.tag(40) ?? fields.end - 1) + 1, [{ code: 50, real: turnDegrees(angle) }]);
    }
  },
};

const mtextAngle = (fields: Fields): number => {
  const direction = fields.tag(11);
  const angle = fields.tag(50);
  if (direction === undefined || (angle !== undefined && angle > direction)) return radians(fields.number(50));
  return angleOf(pointOf(fields, 11));
};

const setPoint = ({ fields, pen }: PlaceTask, xCode: number, at: Point): void => {
  const x = fields.tag(xCode);
  const y = fields.tag(xCode + 10);
  if (x !== undefined) pen.setReal(x, at.x);
  if (y !== undefined) pen.setReal(y, at.y);
};

/** Nothing happens when the angle is the old one but for full turns. */
const setTurn = ({ fields, pen }: PlaceTask, tag: number, angle: number): void => {
  const old = radians(fields.numberOf(tag));
  if (Math.abs(Math.sin((angle - old) / 2)) < 1e-10) return;
  pen.setReal(tag, turnDegrees(angle), ANGLE_PLACES);
};
