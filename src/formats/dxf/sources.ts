import type { Source } from './document.ts';
import { kindOf } from './entities/index.ts';
import type { ReadContext } from './entities/shape.ts';
import { type Fields, facingOf } from './fields.ts';
import { numberReading, type Report, type Tags, textAt, whereOf } from './tags.ts';
import type { Entity } from './walk.ts';

/** Reads each entity once, whatever number of times it is placed. */
export interface Sources {
  /** Undefined when the entity draws nothing that is read; why is told or counted. */
  sourceOf(entity: Entity): Source | undefined;
  /** How many entities of each type were not read. */
  readonly unread: ReadonlyMap<string, number>;
}

/** Types that draw nothing of their own. */
const SILENT = new Set(['ATTDEF', 'SEQEND', 'VIEWPORT', 'INSERT']);

export const sourcesOf = (tags: Tags, context: ReadContext, report: Report): Sources => {
  const known = new Map<number, Source | undefined>();
  const unread = new Map<string, number>();
  const keys = new Set<string>();
  const read = (entity: Entity): Source | undefined => {
    const kind = kindOf(entity.type);
    const fields = context.fieldsOf(entity);
    const leave = (): undefined => {
      if (!SILENT.has(entity.type)) unread.set(entity.type, (unread.get(entity.type) ?? 0) + 1);
      return undefined;
    };
    if (kind === undefined) return leave();
    if (entity.damaged) return undefined;
    const facing = facingOf(fields);
    if (facing === 'aslant' && (kind.ownPlane || entity.type === 'ELLIPSE')) {
      report(
        'dxf-aslant',
        'warning',
        whereOf(tags, entity.start),
        `A ${entity.type} lies aslant in space and is left out; a pattern is flat.`,
        'Lay the drawing flat in the program it comes from.',
      );
      return leave();
    }
    const here: ReadContext = {
      ...context,
      report: (code, level, where, message, suggestion) =>
        report(code, level, Object.keys(where).length === 0 ? whereOf(tags, entity.start) : where, message, suggestion),
    };
    const shape = kind.read(fields, here);
    if (!soundNumbers(fields, report)) return undefined;
    if (shape === undefined) return leave();
    return { key: keyOf(fields, keys), entity, kind, fields, shape, facing };
  };
  return {
    unread,
    sourceOf: (entity) => {
      if (!known.has(entity.start)) known.set(entity.start, read(entity));
      return known.get(entity.start);
    },
  };
};

/** Tells of values that are no numbers; false when the entity cannot be used because of one. */
export const soundNumbers = (fields: Fields, report: Report): boolean => {
  const { tags, entity } = fields;
  for (const tag of new Set(fields.commas)) {
    report(
      'dxf-decimal-comma',
      'warning',
      whereOf(tags, tag),
      `“${textAt(tags, tag)}” has a decimal comma; it is read with a decimal point.`,
      'Check the sizes; DXF wants a point.',
    );
  }
  const bad = fields.bad[0];
  if (bad === undefined) return true;
  const value = textAt(tags, bad);
  const ambiguous = numberReading(value) === 'ambiguous';
  report(
    ambiguous ? 'dxf-ambiguous-number' : 'dxf-bad-number',
    'error',
    { ...whereOf(tags, bad), entity: entity.type },
    ambiguous
      ? `“${value}” may be a little over a whole number or more than a thousand; the ${entity.type} is left out.`
      : `“${value}” is no number that can be drawn; the ${entity.type} it belongs to is left out.`,
    'Put the right number there, or export the drawing again.',
  );
  return false;
};

const keyOf = (fields: Fields, keys: Set<string>): string => {
  const handle = fields.tag(5);
  const stated = handle === undefined ? '' : textAt(fields.tags, handle).toUpperCase();
  const key = stated !== '' && stated !== '0' && !keys.has(stated) ? stated : `@${fields.entity.start}`;
  keys.add(key);
  return key;
};
