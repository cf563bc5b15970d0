import { ORIGIN, turn } from '../../geometry/point.ts';
import { type Affine, compose, inverse, rotation, scaling, translation } from '../../geometry/transform.ts';
import { radians } from './entities/shape.ts';
import { type Fields, facingOf } from './fields.ts';
import { TURNED_ROUND } from './make.ts';
import { soundNumbers } from './sources.ts';
import { numberAt, type Report, type Tags, whereOf } from './tags.ts';
import type { Block } from './walk.ts';

/** How an INSERT places a block. */

/** A stretch beyond which numbers lose their meaning: a millimetre drawn a thousand kilometres long. */
const FARTHEST = 1e9;

/** Whether what is placed so can be drawn, and changed back in the block. */
export const isUsable = (m: Affine): boolean =>
  inverse(m) !== undefined && [m.a, m.b, m.c, m.d].every((k) => Math.abs(k) <= FARTHEST);

/** The way from the block's plane to the insert's, one for each cell of the array. */
export function* insertCells(fields: Fields, block: Block, tags: Tags, report: Report): Generator<Affine> {
  const { at, scaleX, scaleY, angle, columns, rows, columnStep, rowStep } = {
    at: { x: fields.number(10), y: fields.number(20) },
    scaleX: fields.number(41, 1),
    scaleY: fields.number(42, 1),
    angle: radians(fields.number(50)),
    columns: Math.max(1, Math.floor(fields.number(70, 1))),
    rows: Math.max(1, Math.floor(fields.number(71, 1))),
    columnStep: fields.number(44),
    rowStep: fields.number(45),
  };
  const facing = facingOf(fields);
  if (!soundNumbers(fields, report)) return;
  if (facing === 'aslant') {
    report(
      'dxf-aslant',
      'warning',
      whereOf(tags, fields.entity.start),
      'A block is placed aslant in space and is left out; a pattern is flat.',
      'Lay the drawing flat in the program it comes from.',
    );
    return;
  }
  const base = basePoint(tags, block);
  const shape = compose(compose(rotation(angle), scaling(scaleX, scaleY)), translation({ x: -base.x, y: -base.y }));
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const step = turn({ x: column * columnStep, y: row * rowStep }, angle, ORIGIN);
      const there = compose(translation({ x: at.x + step.x, y: at.y + step.y }), shape);
      yield facing === 'back' ? compose(TURNED_ROUND, there) : there;
    }
  }
}

const basePoint = (tags: Tags, block: Block): { x: number; y: number } => {
  let x = 0;
  let y = 0;
  for (let i = block.head.start + 1; i < block.head.end; i++) {
    if (tags.code[i] === 10) x = numberAt(tags, i) || 0;
    if (tags.code[i] === 20) y = numberAt(tags, i) || 0;
  }
  return { x, y };
};
