import { Bug, type Finding } from '../../finding.ts';
import { report } from './codes.ts';
import type { SvgDocument } from './document.ts';
import type { Edit } from './edits.ts';
import type { Element } from './elements.ts';
import { whereIs } from './source.ts';

/** Takes elements out, with the white space before them. One that also draws what is to stay is left, told. */
export const removeElements = (document: SvgDocument, removals: ReadonlySet<string>, findings: Finding[]): Edit[] => {
  const elements = new Map<Element, string>();
  for (const id of removals) {
    const handle = document.handles.get(id);
    if (handle === undefined) throw new Bug(`${id} was to be taken out, and is not in the drawing`);
    elements.set(handle.element, id);
  }
  return [...elements.keys()].flatMap((element): Edit[] => {
    const drawn = [...document.handles].filter(([, h]) => h.element === element);
    if (drawn.some(([id]) => !removals.has(id))) {
      const message = `A ${element.local} no longer holds for a piece, but it also draws something that does; it was left.`;
      const where = whereIs(document.source, element.start, element.local);
      findings.push(report('svg-kept-with-others', where, message, 'Take it out by hand.'));
      return [];
    }
    let { start } = element;
    while (/\s/.test(document.source.text[start - 1] ?? '')) start -= 1;
    return [{ start, end: element.end, text: '' }];
  });
};
