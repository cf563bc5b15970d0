import type { Finding } from '../../finding.ts';
import { type Bounds, EMPTY_BOUNDS, isEmptyBounds, unionBounds } from '../../geometry/bounds.ts';
import { boundsOf, type Segment } from '../../geometry/segment.ts';
import type { DrawingChanges } from '../drawing.ts';
import { report } from './codes.ts';
import type { SvgDocument } from './document.ts';
import { type Edit, setAttribute } from './edits.ts';
import { attribute, type Element } from './elements.ts';
import { inMillimetres, isPhysical, parseLength, parseViewBox } from './lengths.ts';
import { formatNumber } from './numbers.ts';
import { whereIs } from './source.ts';

/*
 * What lies off the page of an SVG is neither shown nor printed. A line that an alteration takes past the right or the
 * lower edge makes the page so much larger; past the other two it is told, for there all coordinates would shift.
 */

/** Paper left beyond a line, mm. */
const BORDER = 5;
/** Lines off the page by less are on its edge, mm. */
const ON_EDGE = 0.5;

export const growPage = (document: SvgDocument, changes: DrawingChanges, findings: Finding[]): Edit[] => {
  const root = rootOf(document);
  const page = root && pageOf(root);
  if (!root || !page) return [];
  const before = boundsWhere(document, changes.paths.keys());
  const after = boundsNow(changes);
  if (isEmptyBounds(after)) return [];
  const where = whereIs(document.source, root.start, 'svg');
  const newly = (edge: (b: Bounds) => number, limit: number): boolean =>
    edge(after) < limit - ON_EDGE && !(edge(before) < limit - ON_EDGE);
  if (newly((b) => b.minX, 0) || newly((b) => -b.maxY, 0)) {
    const message = 'Altered lines lie off the page at its left or upper edge, where a viewer does not show them.';
    findings.push(report('svg-off-page', where, message, 'Make the page larger there, or move the pieces in.'));
  }
  const wide = newly((b) => -b.maxX, -page.width) ? after.maxX + BORDER : page.width;
  const high = newly((b) => b.minY, -page.height) ? -after.minY + BORDER : page.height;
  if (wide === page.width && high === page.height) return [];
  const [kx, ky] = [inSteps(wide / page.width), inSteps(high / page.height)];
  const message = `The altered pieces need more paper: the page is now ${(page.width * kx).toFixed(0)} × ${(page.height * ky).toFixed(0)} mm.`;
  findings.push(report('svg-page-grown', where, message, 'Nothing needs doing.'));
  return enlarged(document, root, kx, ky);
};

/** Growth in 64ths: width and viewBox then come out in whole decimals, and their ratio, the scale, stays what it was. */
const inSteps = (k: number): number => Math.ceil(k * 64 - 1e-9) / 64;
/** As many decimals as a 64th adds, and what the file may have had. */
const EXACT = 12;

const rootOf = (document: SvgDocument): Element | undefined => {
  let element = [...document.handles.values()][0]?.element;
  while (element?.parent) element = element.parent;
  return element?.local === 'svg' ? element : undefined;
};

interface Page {
  /** mm */
  readonly width: number;
  readonly height: number;
}

/** A page whose size is stated on paper, its lower right corner where the viewBox ends. */
const pageOf = (root: Element): Page | undefined => {
  const [w, h] = [parseLength(attribute(root, 'width') ?? ''), parseLength(attribute(root, 'height') ?? '')];
  const view = parseViewBox(attribute(root, 'viewBox') ?? '');
  const [width, height] = [inMillimetres(w), inMillimetres(h)];
  if (!isPhysical(w) || !isPhysical(h) || width === undefined || height === undefined || !view) return undefined;
  const even = Math.abs(width / view.width / (height / view.height) - 1) < 1e-3;
  return even ? { width, height } : undefined;
};

const boundsOfAll = (segments: readonly Segment[]): Bounds =>
  segments.reduce<Bounds>((b, s) => unionBounds(b, boundsOf(s)), EMPTY_BOUNDS);

const boundsWhere = (document: SvgDocument, ids: Iterable<string>): Bounds =>
  [...ids].reduce((b, id) => {
    const handle = document.handles.get(id);
    return handle?.kind === 'path' ? unionBounds(b, boundsOfAll(handle.path.segments)) : b;
  }, EMPTY_BOUNDS);

const boundsNow = (changes: DrawingChanges): Bounds =>
  [
    ...[...changes.paths.values()].map((c) => boundsOfAll(c.segments.flat())),
    ...changes.additions.map((a) => (a.kind === 'path' ? boundsOfAll(a.path.segments) : EMPTY_BOUNDS)),
  ].reduce(unionBounds, EMPTY_BOUNDS);

/** Width, height and viewBox in proportion, so that the scale stays. */
const enlarged = ({ source }: SvgDocument, root: Element, kx: number, ky: number): Edit[] => {
  const plain = { decimals: 0, leadingZero: true, fixed: false };
  const scaled = (name: string, k: number): Edit[] => {
    const stated = attribute(root, name) ?? '';
    const length = parseLength(stated);
    if (k === 1 || !length) return [];
    const unit = /[a-z]+\s*$/i.exec(stated)?.[0] ?? '';
    return [setAttribute(source.text, root, name, `${formatNumber(length.value * k, EXACT, plain)}${unit}`)];
  };
  const view = parseViewBox(attribute(root, 'viewBox') ?? '');
  if (!view) return [];
  const box = [view.x, view.y, view.width * kx, view.height * ky].map((n) => formatNumber(n, EXACT, plain)).join(' ');
  return [...scaled('width', kx), ...scaled('height', ky), setAttribute(source.text, root, 'viewBox', box)];
};
