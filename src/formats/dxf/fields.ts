import { numberAt, rawValue, type Tags, textAt } from './tags.ts';
import { decodeText, type TextEncoding } from './text.ts';
import type { Entity } from './walk.ts';

/**
 * The values of one entity by group code. Extended data (codes from 1000), application groups (102 { … }) and
 * embedded objects (after 101) use the same codes for other things and are passed over.
 */
export interface Fields {
  readonly tags: Tags;
  readonly entity: Entity;
  readonly encoding: TextEncoding;
  /** Own tags in order, without those passed over. */
  readonly own: readonly number[];
  /** Where own tags end: at extended data, an embedded object or the next entity. */
  readonly end: number;
  /** First tag with the code. */
  tag(code: number): number | undefined;
  all(code: number): readonly number[];
  /** First number with the code; `fallback` when there is none. A value that is no number is noted and reads as 0. */
  number(code: number, fallback?: number): number;
  numberOf(tag: number): number;
  /** First text with the code, decoded; '' when there is none. */
  text(code: number): string;
  textOf(tag: number): string;
  /** The text of a tag with the spaces at its ends, which matter where a long text was cut. */
  lettersOf(tag: number): string;
  /** Tags that should hold a number and do not. */
  readonly bad: number[];
  /** Tags with a decimal comma. */
  readonly commas: number[];
}

/** Coordinates beyond this are no places on a drawing, in any unit. */
const LARGEST = 1e12;

export const fieldsOf = (tags: Tags, entity: Entity, encoding: TextEncoding): Fields =>
  new EntityFields(tags, entity, encoding);

/** A class, because there is one for every vertex of every file that is read: its methods are made once for all. */
class EntityFields implements Fields {
  readonly own: number[] = [];
  readonly end: number;
  readonly bad: number[] = [];
  readonly commas: number[] = [];

  constructor(
    readonly tags: Tags,
    readonly entity: Entity,
    readonly encoding: TextEncoding,
  ) {
    this.end = collect(tags, entity, this.own);
  }

  tag(code: number): number | undefined {
    for (const i of this.own) if (this.tags.code[i] === code) return i;
    return undefined;
  }

  all(code: number): readonly number[] {
    return this.own.filter((i) => this.tags.code[i] === code);
  }

  number(code: number, fallback = 0): number {
    const tag = this.tag(code);
    return tag === undefined ? fallback : this.numberOf(tag);
  }

  numberOf(tag: number): number {
    const { tags } = this;
    const n = numberAt(tags, tag);
    const code = tags.code[tag] ?? 0;
    if (Number.isNaN(n) || (code >= 10 && code < 60 && Math.abs(n) > LARGEST)) {
      this.bad.push(tag);
      return 0;
    }
    if (tags.form === 'ascii' && hasComma(tags, tag)) this.commas.push(tag);
    return n;
  }

  text(code: number): string {
    const tag = this.tag(code);
    return tag === undefined ? '' : this.textOf(tag);
  }

  textOf(tag: number): string {
    return decodeText(textAt(this.tags, tag), this.encoding);
  }

  lettersOf(tag: number): string {
    return decodeText(rawValue(this.tags, tag), this.encoding);
  }
}

const COMMA = 44;

const hasComma = ({ bytes, valueStart, valueEnd }: Tags, tag: number): boolean => {
  const end = valueEnd[tag] as number;
  for (let i = valueStart[tag] as number; i < end; i++) if (bytes[i] === COMMA) return true;
  return false;
};

const collect = (tags: Tags, entity: Entity, own: number[]): number => {
  let inGroup = false;
  for (let i = entity.start + 1; i < entity.end; i++) {
    const code = tags.code[i] ?? 0;
    if (code === 102) inGroup = textAt(tags, i).startsWith('{');
    else if (code === 101 || code >= 1000) return i;
    else if (!inGroup && code !== 999) own.push(i);
  }
  return entity.end;
};

/** Whether the entity lies in a plane seen from behind (extrusion 0, 0, −1): its x runs the other way. */
export type Facing = 'front' | 'back' | 'aslant';

export const facingOf = (fields: Fields): Facing => {
  if (fields.tag(210) === undefined && fields.tag(230) === undefined) return 'front';
  const x = fields.number(210, 0);
  const y = fields.number(220, 0);
  const z = fields.number(230, 1);
  const flat = Math.hypot(x, y) < 1e-6 * Math.max(Math.abs(z), 1e-300);
  if (!flat || z === 0) return 'aslant';
  return z > 0 ? 'front' : 'back';
};
