export const SVG_NAMESPACE = 'http://www.w3.org/2000/svg';

/** One attribute, with the span of its value (without quotes) in the source text. */
export interface Attribute {
  readonly name: string;
  /** Name without prefix. */
  readonly local: string;
  /** As XML gives it: references resolved. */
  readonly value: string;
  /** As it stands between the quotes. */
  readonly raw: string;
  readonly nameStart: number;
  readonly valueStart: number;
  readonly valueEnd: number;
  readonly quote: string;
}

/** One element, with its spans in the source text. */
export interface Element {
  /** Place in document order. */
  readonly index: number;
  readonly name: string;
  /** Name without prefix. */
  readonly local: string;
  /** Prefix with its colon, or ''. */
  readonly prefix: string;
  /** Whether it belongs to the SVG namespace (or to none at all). */
  readonly svg: boolean;
  readonly attributes: ReadonlyMap<string, Attribute>;
  readonly start: number;
  /** After the `>` of the opening tag. */
  readonly openEnd: number;
  readonly selfClosing: boolean;
  /** Start of the closing tag; `openEnd` when there is none. */
  readonly closeStart: number;
  readonly end: number;
  readonly line: number;
  readonly children: readonly (Element | string)[];
  readonly parent: Element | undefined;
}

export const isElement = (child: Element | string): child is Element => typeof child !== 'string';

export const attribute = (element: Element, name: string): string | undefined => element.attributes.get(name)?.value;

/** As it stands in the file where nothing is encoded (so that offsets fit it), else as XML resolves it. */
export const dataIn = (element: Element, name: string): string => {
  const found = element.attributes.get(name);
  if (found === undefined) return '';
  return found.raw.includes('&') ? found.value : found.raw;
};

/** The target of `href` or `xlink:href`. */
export const hrefOf = (element: Element): string | undefined =>
  (attribute(element, 'href') ?? [...element.attributes.values()].find((a) => a.local === 'href')?.value)?.trim();

/** All letters inside, in order. */
export const textOf = (element: Element): string => {
  let text = '';
  const waiting: (Element | string)[] = [element];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    if (isElement(next)) waiting.push(...next.children.toReversed());
    else text += next;
  }
  return text;
};
