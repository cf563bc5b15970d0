import { type Tags, textAt } from './tags.ts';

/** What the whole file has in common, looked up once when a change needs it. */

const integerFiles = new WeakMap<Tags, boolean>();

/** Integer coordinates stay integers only where half a step is no matter to a cutter, mm. */
const FINEST_STEP = 0.1;

/** Whether every coordinate of the file is an integer, in steps so small that it may stay so. */
export const integersOnly = (tags: Tags, millimetresPerUnit: number): boolean => {
  if (millimetresPerUnit > FINEST_STEP || tags.form === 'binary') return false;
  let known = integerFiles.get(tags);
  if (known === undefined) {
    known = true;
    for (let i = 0; i < tags.count && known; i++) {
      const code = tags.code[i] ?? 0;
      if (code >= 10 && code < 30 && !/^[+-]?\d+$/.test(textAt(tags, i))) known = false;
    }
    integerFiles.set(tags, known);
  }
  return known;
};

const freeHandles = new WeakMap<Tags, number>();

/** The first handle that no object has and that the file has not reserved; undefined when the file has no handles. */
export const freeHandle = (tags: Tags, seedTag: number | undefined): number | undefined => {
  let known = freeHandles.get(tags);
  if (known === undefined) {
    known = 0;
    for (let i = 0; i < tags.count; i++) {
      const code = tags.code[i];
      if ((code !== 5 && code !== 105) || i === seedTag) continue;
      const handle = handleAt(tags, i);
      if (handle >= known) known = handle + 1;
    }
    if (seedTag !== undefined && known > 0) known = Math.max(known, handleAt(tags, seedTag));
    freeHandles.set(tags, known);
  }
  return known === 0 ? undefined : known;
};

const handleAt = (tags: Tags, i: number): number => {
  const value = textAt(tags, i);
  return /^[0-9A-Fa-f]{1,12}$/.test(value) ? Number.parseInt(value, 16) : 0;
};
