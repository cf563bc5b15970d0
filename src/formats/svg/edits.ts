import { Bug } from '../../finding.ts';
import type { Element } from './elements.ts';

/** A stretch of the source text and what comes in its place. Insertions at one offset keep their order. */
export interface Edit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

export const applyEdits = (text: string, edits: readonly Edit[]): string => {
  const ordered = edits
    .map((edit, order) => ({ edit, order }))
    .sort((a, b) => a.edit.start - b.edit.start || a.order - b.order);
  const out: string[] = [];
  let at = 0;
  for (const { edit } of ordered) {
    if (edit.start < at) throw new Bug('two changes to the same place in the drawing');
    out.push(text.slice(at, edit.start), edit.text);
    at = edit.end;
  }
  out.push(text.slice(at));
  return out.join('');
};

/** `value` is markup already: numbers and letters that need no escaping, or escaped text. */
export const setAttribute = (text: string, element: Element, name: string, value: string): Edit => {
  const found = element.attributes.get(name);
  if (found !== undefined) return { start: found.valueStart, end: found.valueEnd, text: value };
  let at = element.openEnd - (element.selfClosing ? 2 : 1);
  while (/\s/.test(text[at - 1] ?? '')) at -= 1;
  return { start: at, end: at, text: ` ${name}="${value}"` };
};

/** With the white space before it. */
export const removeAttribute = (text: string, element: Element, name: string): Edit[] => {
  const found = element.attributes.get(name);
  if (found === undefined) return [];
  let start = found.nameStart;
  while (/\s/.test(text[start - 1] ?? '')) start -= 1;
  return [{ start, end: found.valueEnd + 1, text: '' }];
};

/** New local name, in the opening and the closing tag. */
export const renameElement = (element: Element, local: string): Edit[] => {
  const name = element.prefix + local;
  const opening = { start: element.start + 1, end: element.start + 1 + element.name.length, text: name };
  if (element.selfClosing) return [opening];
  const at = element.closeStart + 2;
  return [opening, { start: at, end: at + element.name.length, text: name }];
};
