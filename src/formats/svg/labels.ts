import { attribute, type Element, isElement, textOf } from './elements.ts';

const tidy = (text: string): string => text.replace(/\s+/g, ' ').trim();

const childText = (element: Element, name: string): string => {
  const child = element.children.find((c) => isElement(c) && c.svg && c.local === name);
  return child !== undefined && isElement(child) ? tidy(textOf(child)) : '';
};

/** Attributes by which programs and people name an element, whatever their namespace. */
const labelAttributes = (element: Element): string[] =>
  [...element.attributes.values()]
    .filter((a) => ['label', 'aria-label', 'data-label', 'data-name'].includes(a.local))
    .map((a) => tidy(a.value));

const distinct = (texts: readonly string[]): string[] => [...new Set(texts.filter((t) => t !== ''))];

/** Label, title and description, for a person. */
export const readableLabel = (element: Element): string =>
  distinct([...labelAttributes(element), childText(element, 'title'), childText(element, 'desc')]).join(' ');

/** What a group is called as a layer; '' when nobody named it. */
export const layerName = (element: Element): string =>
  labelAttributes(element).find((l) => l !== '') ||
  childText(element, 'title') ||
  (attribute(element, 'id') ?? '').trim();

/** All that an element says of itself. */
export const labelsOf = (element: Element): string[] =>
  distinct([
    attribute(element, 'id') ?? '',
    ...(attribute(element, 'class') ?? '').split(/\s+/),
    ...labelAttributes(element),
    childText(element, 'title'),
    childText(element, 'desc'),
  ]);
