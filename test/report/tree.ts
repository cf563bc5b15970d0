import { SaxesParser } from 'saxes';

/** An element of a page, as a reader of XML finds it. */
export interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: Element[];
  /** All text within it. */
  text: string;
}

/** Reads a page as XML; throws at the first fault of form. */
export const treeOf = (page: string): Element => {
  const root: Element = { name: '', attributes: {}, children: [], text: '' };
  const open = [root];
  const parser = new SaxesParser();
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', ({ name, attributes }) => {
    const element: Element = { name, attributes: attributes as Record<string, string>, children: [], text: '' };
    open.at(-1)?.children.push(element);
    open.push(element);
  });
  parser.on('text', (text) => {
    for (const element of open) element.text += text;
  });
  parser.on('closetag', () => void open.pop());
  parser.write(page).close();
  return root;
};

/** Every element below, in the order of the page. */
export const all = (root: Element, name?: string): Element[] =>
  root.children.flatMap((child) => [
    ...(name === undefined || child.name === name ? [child] : []),
    ...all(child, name),
  ]);
