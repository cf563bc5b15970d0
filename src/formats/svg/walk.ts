import type { Where } from '../../finding.ts';
import { type Affine, compose, inverse, translation } from '../../geometry/transform.ts';
import type { Container } from '../drawing.ts';
import { report } from './codes.ts';
import { attribute, type Element, hrefOf, isElement } from './elements.ts';
import { layerName, readableLabel } from './labels.ts';
import { inUserUnits, parseLength, type Surroundings } from './lengths.ts';
import type { Log } from './log.ts';
import type { Page } from './page.ts';
import { tellOddStyle, transformed, viewportOf } from './placing.ts';
import { isShape } from './shapes.ts';
import { lineAndColumn, type Source, whereIs } from './source.ts';
import { collectStyles, declaredOn, INITIAL_STYLE, type Style, type StyleSheet, styleFrom } from './style.ts';

/** A shape or text at one place where it is drawn. */
export interface Placed {
  readonly element: Element;
  /** Its own axes (y down) to millimetres (y up). */
  readonly toMm: Affine;
  readonly around: Surroundings;
  readonly style: Style;
  readonly layer: string;
  readonly container: string;
  /** What tells this placement of a shared shape from the others. */
  readonly prefix: string;
  /** The transform in force on the element itself, from attribute or style. */
  readonly ownTransform: string | undefined;
  /** Style of an element inside a text; undefined when hidden. */
  inner(element: Element, outer: Style): Style | undefined;
  find(href: string): Element | undefined;
}

interface Context {
  readonly toMm: Affine;
  readonly around: Surroundings;
  readonly style: Style;
  readonly layer: string;
  readonly container: string;
  readonly prefix: string;
  /** Elements being placed by `use`, innermost last. */
  readonly within: readonly Element[];
  /** Set when the element is the target of this `use`: that one is its container already. */
  readonly usedBy?: Element;
}

/** Children of these are drawn only when something refers to them. */
const NEVER_DRAWN = new Set(
  (
    'defs symbol clipPath mask marker pattern linearGradient radialGradient filter style script title desc metadata ' +
    'animate animateTransform animateMotion set view cursor font color-profile'
  ).split(' '),
);
const PICTURES = new Set(['image', 'foreignObject', 'video', 'audio', 'canvas', 'iframe']);
/** Most placements that `use` may make; a rack of patterns has some thousands. */
const MOST_PLACED = 30_000;
/** Shapes placing shapes placing shapes: no drawing program goes nearly as deep. */
const DEEPEST_USE = 200;

/** Walks the tree in drawing order and hands over every shape and text where it is drawn. Returns the containers. */
export const walk = (
  source: Source,
  root: Element,
  page: Page,
  log: Log,
  take: (placed: Placed) => void,
): Container[] => new Walker(source, root, page, log, take).run();

class Walker {
  private readonly containers: Container[] = [];
  private readonly waiting: { element: Element; context: Context }[] = [];
  private readonly byId = new Map<string, Element>();
  private readonly sheet: StyleSheet;
  private placedByUse = 0;
  private readonly source: Source;
  private readonly root: Element;
  private readonly page: Page;
  private readonly log: Log;
  private readonly take: (placed: Placed) => void;

  constructor(source: Source, root: Element, page: Page, log: Log, take: (placed: Placed) => void) {
    this.source = source;
    this.root = root;
    this.page = page;
    this.log = log;
    this.take = take;
    const all: Element[] = [];
    const waiting: Element[] = [root];
    for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
      all.push(next);
      const id = attribute(next, 'id');
      if (id !== undefined && !this.byId.has(id)) this.byId.set(id, next);
      for (const child of next.children.toReversed()) if (isElement(child)) waiting.push(child);
    }
    this.sheet = collectStyles(all);
    if (this.sheet.unread.length > 0) {
      const message = `Some style rules are of a kind that is not read: ${[...new Set(this.sheet.unread)].slice(0, 5).join(', ')}.`;
      const sheet = all.find((e) => e.local === 'style') ?? root;
      log.add(
        report(
          'svg-style-unreadable',
          whereIs(source, sheet.start, 'style'),
          message,
          'Nothing, unless they hide lines.',
        ),
      );
    }
  }

  run(): Container[] {
    const { root, page } = this;
    this.containers.push({ id: 'root', kind: 'root', name: '', label: readableLabel(root), definition: 'root' });
    const declared = declaredOn(root, this.sheet);
    const style = styleFrom(root, declared, INITIAL_STYLE, page.around);
    const start: Context = {
      toMm: page.toMm,
      around: page.around,
      style,
      layer: '',
      container: 'root',
      prefix: '',
      within: [],
    };
    const toMm = transformed(this.source, root, declared, page.toMm, this.log);
    if (toMm !== undefined && declared.get('display') !== 'none') this.children(root, { ...start, toMm });
    for (let next = this.waiting.pop(); next !== undefined; next = this.waiting.pop())
      this.visit(next.element, next.context);
    return this.containers;
  }

  private children(element: Element, context: Context): void {
    const inside = withoutUse(context);
    for (const child of element.children.toReversed())
      if (isElement(child)) this.waiting.push({ element: child, context: inside });
  }

  private visit(element: Element, outer: Context): void {
    if (!element.svg) return;
    const name = element.local;
    const shown = outer.usedBy !== undefined && name === 'symbol';
    if (NEVER_DRAWN.has(name) && !shown) return;
    if (outer.within.length > 0 && !this.mayPlace(element)) return;
    const declared = declaredOn(element, this.sheet);
    if (declared.get('display') === 'none') this.hidden(element);
    else if (PICTURES.has(name)) this.picture(element);
    else this.draw(element, declared, outer);
  }

  private draw(element: Element, declared: ReadonlyMap<string, string>, outer: Context): void {
    const name = element.local;
    const style = styleFrom(element, declared, outer.style, outer.around);
    const toMm = transformed(this.source, element, declared, outer.toMm, this.log);
    if (toMm === undefined) return;
    const context = { ...outer, style, toMm };
    if ((isShape(name) || name === 'text') && !style.visible) this.hidden(element);
    else if (isShape(name) || name === 'text') this.leaf(element, context, declared);
    else if (name === 'g') this.children(element, this.group(element, context));
    else if (name === 'a') this.children(element, context);
    else if (name === 'switch') this.choose(element, context);
    else if (name === 'svg' || name === 'symbol') this.viewport(element, context);
    else if (name === 'use') this.use(element, context);
    else {
      this.log.count('svg-element-unknown', (count) => {
        const message = `Elements that are no SVG shapes are left as they are (the first: <${element.name}>; ${count} in all).`;
        return report(
          'svg-element-unknown',
          whereIs(this.source, element.start, element.name),
          message,
          'Nothing to do.',
        );
      });
    }
  }

  private leaf(element: Element, context: Context, declared: ReadonlyMap<string, string>): void {
    tellOddStyle(this.source, element, declared, this.log);
    this.take({
      element,
      toMm: context.toMm,
      around: { ...context.around, fontSize: context.style.fontSize },
      style: context.style,
      layer: context.layer,
      container: context.container,
      prefix: context.prefix,
      ownTransform: declared.get('transform'),
      inner: (inside, outer) => {
        const said = declaredOn(inside, this.sheet);
        const style = styleFrom(inside, said, outer, context.around);
        return said.get('display') === 'none' || !style.visible ? undefined : style;
      },
      find: (href) => (href.startsWith('#') ? this.byId.get(href.slice(1)) : undefined),
    });
  }

  private group(element: Element, context: Context): Context {
    if (context.usedBy !== undefined) return { ...context, layer: layerName(element) || context.layer };
    const id = `${context.prefix}e${element.index}`;
    this.containers.push({
      id,
      kind: 'group',
      name: attribute(element, 'id') ?? '',
      label: readableLabel(element),
      parent: context.container,
      definition: `e${element.index}`,
    });
    return { ...context, container: id, layer: layerName(element) || context.layer };
  }

  /** The first child whose conditions can be met, as `switch` asks. */
  private choose(element: Element, context: Context): void {
    const fits = (c: Element): boolean =>
      c.svg && !PICTURES.has(c.local) && (attribute(c, 'requiredExtensions') ?? '').trim() === '';
    const chosen = element.children.filter(isElement).find((c) => fits(c) && !NEVER_DRAWN.has(c.local));
    if (chosen !== undefined) this.waiting.push({ element: chosen, context: withoutUse(context) });
  }

  /** A nested svg, or a symbol where a `use` places it. */
  private viewport(element: Element, context: Context): void {
    const { fit, around } = viewportOf(this.source, element, context.usedBy, context.around, this.log);
    const toMm = compose(context.toMm, fit);
    if (inverse(toMm) !== undefined) {
      this.children(element, this.group(element, { ...context, toMm, around }));
      return;
    }
    const message = 'This part of the drawing has no size, so that nothing of it shows; it is left out.';
    const place = whereIs(this.source, element.start, element.local);
    this.log.add(report('svg-transform-singular', place, message, 'Give it a width and a height.'));
  }

  private use(element: Element, context: Context): void {
    const href = hrefOf(element) ?? '';
    const place = (): Where => whereIs(this.source, element.start, 'use');
    const target = href.startsWith('#') ? this.byId.get(href.slice(1)) : undefined;
    if (target === undefined) {
      const outside = href !== '' && !href.startsWith('#');
      const message = outside
        ? `The shape "${href.slice(0, 80)}" lies in another file, which is not fetched; it is missing here.`
        : `The shape "${href}" that should be placed here is not in the file.`;
      const tip = 'Save the drawing as plain SVG with everything in one file.';
      this.log.add(report(outside ? 'svg-use-external' : 'svg-use-missing', place(), message, tip));
      return;
    }
    if (context.within.length >= DEEPEST_USE || context.within.includes(target) || isInside(element, target)) {
      const message = `The shape "${href}" contains itself, or shapes within shapes without end; it is left out here.`;
      this.log.add(report('svg-use-cycle', place(), message, 'Take this placement out, or ask for the drawing again.'));
      return;
    }
    const number = (name: string, along: 'x' | 'y'): number => {
      const length = parseLength(attribute(element, name) ?? '0');
      return length === undefined ? 0 : inUserUnits(length, along, context.around);
    };
    const id = `${context.prefix}e${element.index}`;
    this.containers.push({
      id,
      kind: 'block',
      name: attribute(target, 'id') ?? '',
      label: readableLabel(element) || readableLabel(target),
      parent: context.container,
      definition: `e${target.index}`,
    });
    const inside: Context = {
      ...context,
      toMm: compose(context.toMm, translation({ x: number('x', 'x'), y: number('y', 'y') })),
      container: id,
      layer: layerName(element) || context.layer,
      prefix: `${id}>`,
      within: [...context.within, target],
      usedBy: element,
    };
    this.waiting.push({ element: target, context: inside });
  }

  private mayPlace(element: Element): boolean {
    this.placedByUse += 1;
    if (this.placedByUse === MOST_PLACED + 1) {
      const message = `Shapes that place other shapes multiply beyond ${MOST_PLACED}; the rest is left out.`;
      const place = whereIs(this.source, element.start, element.local);
      this.log.add(report('svg-use-bomb', place, message, 'Ask for the drawing again, from a source you trust.'));
      this.waiting.length = 0;
    }
    return this.placedByUse <= MOST_PLACED;
  }

  private hidden(element: Element): void {
    const { line } = lineAndColumn(this.source, element.start);
    this.log.count('svg-hidden', (count) => {
      const message = `Hidden elements are not taken as lines (${count} in all, the first on line ${line}).`;
      return report(
        'svg-hidden',
        whereIs(this.source, element.start, element.local),
        message,
        'Show them if they are wanted.',
      );
    });
  }

  private picture(element: Element): void {
    this.log.count('svg-picture', (count) => {
      const message = `Pictures and foreign content hold no lines that could be altered (${count} in all).`;
      const tip = 'If a piece is a picture, trace it into lines first.';
      return report('svg-picture', whereIs(this.source, element.start, element.local), message, tip);
    });
  }
}

/** Only the target itself is what the `use` placed, not what lies in it. */
const withoutUse = ({ usedBy: _, ...context }: Context): Context => context;

const isInside = (element: Element, target: Element): boolean => {
  for (let at: Element | undefined = element; at !== undefined; at = at.parent) if (at === target) return true;
  return false;
};
