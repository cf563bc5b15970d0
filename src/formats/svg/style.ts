import { attribute, type Element, isElement } from './elements.ts';
import { parseLength, type Surroundings, userUnitsPer } from './lengths.ts';

/** What a style says of an element as far as the drawing needs it; inherited as SVG 2, chapter 6, prescribes. */
export interface Style {
  /** User units; undefined when nobody states it. */
  readonly strokeWidth: number | undefined;
  readonly dashed: boolean;
  readonly filled: boolean;
  readonly markerStart: boolean;
  readonly markerEnd: boolean;
  readonly visible: boolean;
  /** User units. */
  readonly fontSize: number;
  readonly keepSpaces: boolean;
}

/** CSS `medium`. */
const DEFAULT_FONT_SIZE = 16;

export const INITIAL_STYLE: Style = {
  strokeWidth: undefined,
  dashed: false,
  filled: true,
  markerStart: false,
  markerEnd: false,
  visible: true,
  fontSize: DEFAULT_FONT_SIZE,
  keepSpaces: false,
};

/** Properties that may stand as attributes too. */
const READ = [
  'stroke-width',
  'stroke-dasharray',
  'fill',
  'marker',
  'marker-start',
  'marker-end',
  'visibility',
  'display',
  'font-size',
  'transform',
  'transform-origin',
  'clip-path',
  'mask',
] as const;

interface Compound {
  readonly tag: string;
  readonly id: string;
  readonly classes: readonly string[];
}

interface Rule {
  /** From the element itself outwards; `child` tells that the next one must be its parent. */
  readonly parts: readonly { readonly compound: Compound; readonly child: boolean }[];
  readonly specificity: number;
  readonly declarations: readonly Declaration[];
}

interface Declaration {
  readonly property: string;
  readonly value: string;
  readonly important: boolean;
}

export interface StyleSheet {
  readonly rules: readonly Rule[];
  /** Selectors and at-rules that are not read. */
  readonly unread: readonly string[];
}

const withoutComments = (css: string): string => css.replace(/\/\*[\s\S]*?\*\//g, ' ').replace(/<!--|-->/g, ' ');

/** Splits at semicolons that stand in no quotes and no brackets. */
const splitDeclarations = (css: string): string[] => {
  const parts: string[] = [];
  let from = 0;
  let closing = '';
  for (let i = 0; i < css.length; i++) {
    const letter = css[i] ?? '';
    if (closing !== '') {
      if (letter === closing) closing = '';
    } else if (letter === '"' || letter === "'") closing = letter;
    else if (letter === '(') closing = ')';
    else if (letter === ';') {
      parts.push(css.slice(from, i));
      from = i + 1;
    }
  }
  return [...parts, css.slice(from)];
};

export const parseDeclarations = (css: string): Declaration[] =>
  splitDeclarations(withoutComments(css)).flatMap((part) => {
    const colon = part.indexOf(':');
    if (colon < 0) return [];
    const stated = part.slice(colon + 1).trim();
    const value = stated.replace(/!\s*important$/i, '').trim();
    return [{ property: part.slice(0, colon).trim().toLowerCase(), value, important: value !== stated }];
  });

/** Rules with element, class and id selectors, joined by descendant and child; the rest is named in `unread`. */
export const parseStyleSheet = (css: string): StyleSheet => {
  const rules: Rule[] = [];
  const unread: string[] = [];
  let rest = withoutComments(css);
  while (rest.trim() !== '') {
    const open = rest.indexOf('{');
    const head = rest.slice(0, open < 0 ? rest.length : open).trim();
    if (head.startsWith('@')) {
      unread.push(head.split(/[\s;{]/)[0] ?? '@');
      rest = rest.slice(endOfAtRule(rest));
      continue;
    }
    if (open < 0) break;
    const close = rest.indexOf('}', open);
    const declarations = parseDeclarations(rest.slice(open + 1, close < 0 ? rest.length : close));
    for (const selector of head.split(',')) {
      const parts = parseSelector(selector.trim());
      if (parts === undefined) unread.push(selector.trim());
      else rules.push({ parts, specificity: specificityOf(parts), declarations });
    }
    rest = close < 0 ? '' : rest.slice(close + 1);
  }
  return { rules, unread };
};

const endOfAtRule = (css: string): number => {
  const semicolon = css.indexOf(';');
  const open = css.indexOf('{');
  if (open < 0 || (semicolon >= 0 && semicolon < open)) return semicolon < 0 ? css.length : semicolon + 1;
  let depth = 0;
  for (let i = open; i < css.length; i++) {
    if (css[i] === '{') depth += 1;
    if (css[i] === '}' && --depth === 0) return i + 1;
  }
  return css.length;
};

const parseSelector = (selector: string): Rule['parts'] | undefined => {
  if (selector === '' || !/^[\w\s.#*>\u0080-\uffff-]+$/.test(selector)) return undefined;
  const words = selector
    .replace(/\s*>\s*/g, ' > ')
    .trim()
    .split(/\s+/);
  const parts: { compound: Compound; child: boolean }[] = [];
  for (const word of words.reverse()) {
    if (word === '>') {
      const inner = parts.pop();
      if (inner === undefined) return undefined;
      parts.push({ ...inner, child: true });
      continue;
    }
    const names = word.match(/[.#]?[^.#]+/g) ?? [];
    const tag = names.find((n) => !/^[.#]/.test(n)) ?? '*';
    const id = names.find((n) => n.startsWith('#'))?.slice(1) ?? '';
    const classes = names.filter((n) => n.startsWith('.')).map((n) => n.slice(1));
    parts.push({ compound: { tag, id, classes }, child: false });
  }
  return parts;
};

const specificityOf = (parts: Rule['parts']): number =>
  parts.reduce(
    (sum, { compound: c }) => sum + (c.id === '' ? 0 : 1e6) + c.classes.length * 1e3 + (c.tag === '*' ? 0 : 1),
    0,
  );

const fits = (compound: Compound, element: Element): boolean => {
  if (compound.tag !== '*' && compound.tag !== element.local) return false;
  if (compound.id !== '' && attribute(element, 'id') !== compound.id) return false;
  if (compound.classes.length === 0) return true;
  const classes = (attribute(element, 'class') ?? '').split(/\s+/);
  return compound.classes.every((name) => classes.includes(name));
};

const applies = (rule: Rule, element: Element): boolean => {
  let at: Element | undefined = element;
  for (const [i, part] of rule.parts.entries()) {
    if (i === 0) {
      if (!fits(part.compound, element)) return false;
      continue;
    }
    at = at?.parent;
    if (rule.parts[i - 1]?.child === true) {
      if (at === undefined || !fits(part.compound, at)) return false;
    } else {
      while (at !== undefined && !fits(part.compound, at)) at = at.parent;
      if (at === undefined) return false;
    }
  }
  return true;
};

/** What attributes, style sheet and `style` say of one element, the strongest last word of each property. */
export const declaredOn = (element: Element, sheet: StyleSheet): ReadonlyMap<string, string> => {
  const declared = new Map<string, string>();
  for (const property of READ) {
    const value = attribute(element, property);
    if (value !== undefined) declared.set(property, value.trim());
  }
  const matching = sheet.rules.filter((rule) => applies(rule, element)).sort((a, b) => a.specificity - b.specificity);
  const inline = attribute(element, 'style');
  const all = matching
    .flatMap((rule) => rule.declarations)
    .concat(inline === undefined ? [] : parseDeclarations(inline));
  for (const important of [false, true]) {
    for (const d of all) if (d.important === important) declared.set(d.property, d.value);
  }
  return declared;
};

export const styleFrom = (
  element: Element,
  declared: ReadonlyMap<string, string>,
  outer: Style,
  around: Surroundings,
): Style => {
  const stated = (property: string): string | undefined => {
    const value = declared.get(property);
    return value === undefined || value === 'inherit' ? undefined : value;
  };
  const fontSize = fontSizeFrom(stated('font-size') ?? fontShorthandSize(stated('font')), outer.fontSize, around);
  const width = stated('stroke-width');
  const length = width === undefined ? undefined : parseLength(width);
  const dashes = stated('stroke-dasharray');
  const fill = stated('fill');
  const visibility = stated('visibility');
  const markers = (property: string, before: boolean): boolean => {
    const value = stated(property) ?? stated('marker');
    return value === undefined ? before : value !== 'none';
  };
  const space = attribute(element, 'xml:space');
  const whiteSpace = stated('white-space');
  return {
    strokeWidth:
      length === undefined
        ? outer.strokeWidth
        : length.value * userUnitsPer(length.unit, 'both', { ...around, fontSize }),
    dashed: dashes === undefined ? outer.dashed : /[1-9]/.test(dashes),
    filled: fill === undefined ? outer.filled : fill !== 'none' && fill !== 'transparent',
    markerStart: markers('marker-start', outer.markerStart),
    markerEnd: markers('marker-end', outer.markerEnd),
    visible: visibility === undefined ? outer.visible : visibility !== 'hidden' && visibility !== 'collapse',
    fontSize,
    keepSpaces:
      whiteSpace !== undefined
        ? whiteSpace.startsWith('pre')
        : space === undefined
          ? outer.keepSpaces
          : space === 'preserve',
  };
};

const fontShorthandSize = (font: string | undefined): string | undefined =>
  font === undefined ? undefined : /(?:^|\s)((?:\d+\.?\d*|\.\d+)(?:px|pt|mm|cm|in|pc|em|ex|%))/.exec(font)?.[1];

const fontSizeFrom = (stated: string | undefined, outer: number, around: Surroundings): number => {
  const length = stated === undefined ? undefined : parseLength(stated);
  if (length === undefined) return outer;
  if (length.unit === '%') return (outer * length.value) / 100;
  return length.value * userUnitsPer(length.unit, 'y', { ...around, fontSize: outer });
};

/** All `<style>` texts of a document, in order, as one sheet. */
export const collectStyles = (elements: readonly Element[]): StyleSheet => {
  const sheets = elements
    .filter((e) => e.svg && e.local === 'style' && !/^(?!text\/css)./.test(attribute(e, 'type') ?? ''))
    .map((e) => parseStyleSheet(e.children.filter((c) => !isElement(c)).join('')));
  return { rules: sheets.flatMap((s) => s.rules), unread: sheets.flatMap((s) => s.unread) };
};
