import type { Where } from '../../finding.ts';
import { type Affine, compose, inverse, translation } from '../../geometry/transform.ts';
import { report } from './codes.ts';
import { attribute, type Element } from './elements.ts';
import { inUserUnits, parseLength, parseViewBox, type Surroundings, viewTransform } from './lengths.ts';
import type { Log } from './log.ts';
import { isShape } from './shapes.ts';
import { type Source, whereIs } from './source.ts';
import { aboutOrigin, parseTransform } from './transforms.ts';

const GEOMETRY_PROPERTIES = ['d', 'cx', 'cy', 'r', 'rx', 'ry', 'x', 'y', 'width', 'height'];
const MEND = 'Apply the transforms in a drawing program and save again.';

/** Millimetres under the element's own transform; undefined (told) when nothing can be drawn there. */
export const transformed = (
  source: Source,
  element: Element,
  declared: ReadonlyMap<string, string>,
  outer: Affine,
  log: Log,
): Affine | undefined => {
  const text = declared.get('transform');
  if (text === undefined || text === '' || text === 'none') return outer;
  const at = element.attributes.get('transform')?.valueStart ?? element.start;
  const tell = (code: string, message: string, tip: string): void =>
    log.add(report(code, whereIs(source, at, element.local), message, tip));
  const own = parseTransform(text);
  if (own === undefined) {
    const message = `The transform "${text.slice(0, 60)}" cannot be read; what it applies to is left out.`;
    tell('svg-transform-unreadable', message, MEND);
    return undefined;
  }
  const origin = declared.get('transform-origin');
  const box = declared.get('transform-box') ?? 'view-box';
  const about = box === 'view-box' ? aboutOrigin(own, origin ?? '0 0') : undefined;
  if (about === undefined) {
    const what = box === 'view-box' ? origin : box;
    const message = `A transform turns about "${what}", which is not a plain length; it is read as turning about the origin, so what it applies to may lie wrong.`;
    tell('svg-transform-origin', message, MEND);
  }
  const toMm = compose(outer, (origin === undefined ? own : about) ?? own);
  if (inverse(toMm) !== undefined) return toMm;
  const message = `The transform "${text.slice(0, 60)}" squeezes its content to nothing; it is left out.`;
  tell('svg-transform-singular', message, 'Take the transform out, or delete the element.');
  return undefined;
};

/** Tells of styles that put a shape elsewhere, or show less of it, than its attributes say. */
export const tellOddStyle = (
  source: Source,
  element: Element,
  declared: ReadonlyMap<string, string>,
  log: Log,
): void => {
  const where = (): Where => whereIs(source, element.start, element.local);
  const odd = GEOMETRY_PROPERTIES.find((property) => declared.has(property));
  if (odd !== undefined && isShape(element.local)) {
    const message = `A style sets "${odd}" of this shape; only its attributes are read, so it may lie wrong.`;
    log.add(report('svg-geometry-in-style', where(), message, 'Save the drawing as plain SVG.'));
  }
  if (['clip-path', 'mask'].some((p) => (declared.get(p) ?? 'none') !== 'none')) {
    log.count('svg-clipped', (count) => {
      const message = `Lines that are clipped or masked are read whole (${count} in all).`;
      return report('svg-clipped', where(), message, 'Nothing, if all of the line belongs to the pattern.');
    });
  }
};

/** Where a nested svg or a placed symbol puts its content, and what lengths inside are relative to (SVG 2, 5.6 and 8.2). */
export const viewportOf = (
  source: Source,
  element: Element,
  usedBy: Element | undefined,
  around: Surroundings,
  log: Log,
): { fit: Affine; around: Surroundings } => {
  const length = (on: Element | undefined, name: string, along: 'x' | 'y'): number | undefined => {
    const text = on === undefined ? undefined : attribute(on, name);
    const parsed = text === undefined ? undefined : parseLength(text);
    return parsed === undefined ? undefined : inUserUnits(parsed, along, around);
  };
  const onto = {
    x: length(element, 'x', 'x') ?? 0,
    y: length(element, 'y', 'y') ?? 0,
    width: length(usedBy, 'width', 'x') ?? length(element, 'width', 'x') ?? around.width,
    height: length(usedBy, 'height', 'y') ?? length(element, 'height', 'y') ?? around.height,
  };
  const stated = attribute(element, 'viewBox');
  const view = stated === undefined ? undefined : parseViewBox(stated);
  if (stated !== undefined && view === undefined) {
    const message = `The coordinate range viewBox="${stated}" cannot be read; what lies inside may have the wrong size.`;
    const place = whereIs(source, element.start, element.local);
    log.add(report('svg-viewbox', place, message, 'Save the drawing again, or take the viewBox out.'));
  }
  const { width, height } = view ?? onto;
  const fit =
    view === undefined ? translation(onto) : viewTransform(view, onto, attribute(element, 'preserveAspectRatio'));
  return { fit, around: { ...around, width, height } };
};
