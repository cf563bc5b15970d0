import { FULL_TURN } from '../../geometry/arc.ts';
import {
  type Bounds,
  EMPTY_BOUNDS,
  heightOfBounds,
  include,
  isEmptyBounds,
  unionBounds,
  widthOf,
} from '../../geometry/bounds.ts';
import type { Point } from '../../geometry/point.ts';
import { boundsOf, radiusOf, type Segment } from '../../geometry/segment.ts';
import { type Affine, apply, transformSegment } from '../../geometry/transform.ts';
import type { Container, Drawable, Drawing, TextDrawable, WriteResult } from '../drawing.ts';
import { SVG_NAMESPACE } from './elements.ts';
import { formatNumber } from './numbers.ts';
import { composePath } from './pathdata/splice.ts';
import { escapeFor } from './source.ts';

/** Millimetres: margin round the drawing, line width where none is stated, radius of a point's mark. */
const MARGIN = 10;
const LINE_WIDTH = 0.25;
const POINT_RADIUS = 0.5;
/** 0.0001 mm. */
const DECIMALS = 4;
const NOTATION = { decimals: 0, leadingZero: true, fixed: false };
const UTF8 = { encoding: 'utf-8' };

const number = (value: number): string => formatNumber(value, DECIMALS, NOTATION);
const escaped = (text: string): string => escapeFor(UTF8, [...text].map((c) => (isAllowed(c) ? c : ' ')).join(''));
/** Characters that XML 1.0 knows (section 2.2), without its rarely meant control characters. */
const isAllowed = (letter: string): boolean => {
  const code = letter.codePointAt(0) ?? 0;
  return (
    code === 0x9 ||
    code === 0xa ||
    (code >= 0x20 && !(code >= 0xd800 && code <= 0xdfff) && code !== 0xfffe && code !== 0xffff)
  );
};

/** A whole new SVG in millimetres: a group for each container and layer, in the drawing's order. */
export const write = (drawing: Drawing): WriteResult => {
  const bounds = boundsOfAll(drawing.drawables);
  const [width, height] = isEmptyBounds(bounds)
    ? [2 * MARGIN, 2 * MARGIN]
    : [Math.ceil(widthOf(bounds)) + 2 * MARGIN, Math.ceil(heightOfBounds(bounds)) + 2 * MARGIN];
  const left = isEmptyBounds(bounds) ? 0 : Math.floor(bounds.minX) - MARGIN;
  const top = isEmptyBounds(bounds) ? 0 : Math.ceil(bounds.maxY) + MARGIN;
  const page = { width: width + 1, height: height + 1, toPage: { a: 1, b: 0, c: 0, d: -1, e: -left, f: top } };
  const arrows = drawing.drawables.some((d) => d.style.arrowStart || d.style.arrowEnd);
  const lines = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="${SVG_NAMESPACE}" width="${page.width}mm" height="${page.height}mm" viewBox="0 0 ${page.width} ${page.height}">`,
    ...(arrows ? [ARROW] : []),
    ...new Groups(drawing, page.toPage).lines(),
    '</svg>',
    '',
  ];
  return { bytes: new Uint8Array(Buffer.from(lines.join('\n'), 'utf8')), findings: [], addedVertices: new Map() };
};

const ARROW =
  '  <defs><marker id="arrow" viewBox="0 0 10 10" refX="10" refY="5" markerWidth="12" markerHeight="12" ' +
  'orient="auto-start-reverse"><path d="M0,0 L10,5 L0,10 Z"/></marker></defs>';

const boundsOfAll = (drawables: readonly Drawable[]): Bounds => {
  let bounds = EMPTY_BOUNDS;
  for (const d of drawables) {
    if (d.kind === 'path') for (const s of d.path.segments) bounds = unionBounds(bounds, boundsOf(s));
    else bounds = include(bounds, d.at);
  }
  return bounds;
};

/** Nested groups: each container, and in it each layer, from the first drawable that lies there. */
class Groups {
  private readonly used = new Set<string>(['arrow']);
  private readonly inside = new Map<string, { containers: Container[]; layers: Map<string, Drawable[]> }>();
  private readonly out: string[] = [];
  private readonly drawing: Drawing;
  private readonly toPage: Affine;

  constructor(drawing: Drawing, toPage: Affine) {
    this.drawing = drawing;
    this.toPage = toPage;
    for (const container of drawing.containers) this.inside.set(container.id, { containers: [], layers: new Map() });
    for (const container of drawing.containers) {
      if (container.parent !== undefined) this.inside.get(container.parent)?.containers.push(container);
    }
    for (const drawable of drawing.drawables) {
      const layers = this.inside.get(drawable.container)?.layers;
      const layer = layers?.get(drawable.layer);
      if (layer === undefined) layers?.set(drawable.layer, [drawable]);
      else layer.push(drawable);
    }
  }

  lines(): string[] {
    const root = this.drawing.containers.find((c) => c.parent === undefined);
    if (root === undefined) return [];
    if (root.label !== '') this.out.push(`  <title>${escaped(root.label)}</title>`);
    const waiting: ({ open: Container; depth: number } | { close: number })[] = [];
    const enter = (container: Container, depth: number): void => {
      this.content(container, depth);
      const within = this.inside.get(container.id)?.containers ?? [];
      for (const c of within.toReversed()) waiting.push({ open: c, depth });
    };
    enter(root, 1);
    for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
      if ('close' in next) {
        this.out.push(`${indent(next.close)}</g>`);
        continue;
      }
      const { open, depth } = next;
      this.open(open.name, open.label || open.name, depth);
      waiting.push({ close: depth });
      enter(open, depth + 1);
    }
    return this.out;
  }

  private open(name: string, title: string, depth: number): void {
    const id = this.idFor(name);
    this.out.push(`${indent(depth)}<g${id === '' ? '' : ` id="${id}"`}>`);
    if (title !== '') this.out.push(`${indent(depth + 1)}<title>${escaped(title)}</title>`);
  }

  private content(container: Container, depth: number): void {
    for (const [layer, drawables] of this.inside.get(container.id)?.layers ?? []) {
      const grouped = layer !== '' && layer !== (container.label || container.name);
      if (grouped) this.open(`layer-${layer}`, layer, depth);
      for (const d of drawables)
        this.out.push(...drawElement(d, this.toPage).map((l) => indent(grouped ? depth + 1 : depth) + l));
      if (grouped) this.out.push(`${indent(depth)}</g>`);
    }
  }

  /** An XML name made from a free one, once in the file. */
  private idFor(name: string): string {
    const plain = name.replace(/[^\p{L}\p{N}_.-]+/gu, '-').replace(/^[^\p{L}_]+/u, (s) => `_${s}`);
    if (plain === '') return '';
    let id = plain;
    for (let n = 2; this.used.has(id); n++) id = `${plain}-${n}`;
    this.used.add(id);
    return id;
  }
}

const indent = (depth: number): string => '  '.repeat(Math.min(depth, 20));

const drawElement = (d: Drawable, toPage: Affine): string[] => {
  const title = d.labels.length === 0 ? '' : `<title>${escaped(d.labels.join(' '))}</title>`;
  if (d.kind === 'text') return [textElement(d, toPage, title)];
  const style = strokeOf(d);
  if (d.kind === 'point') {
    const at = apply(toPage, d.at);
    return [element('circle', `cx="${number(at.x)}" cy="${number(at.y)}" r="${POINT_RADIUS}" ${style}`, title)];
  }
  const segments: Segment[] = d.path.segments.flatMap((s) => transformSegment(toPage, s));
  const [only] = segments;
  if (segments.length === 1 && only?.kind === 'arc' && Math.abs(only.sweep) > FULL_TURN - 1e-9) {
    const { centre } = only;
    const place = `cx="${number(centre.x)}" cy="${number(centre.y)}" r="${number(radiusOf(only))}"`;
    return [element('circle', `${place} ${style}`, title)];
  }
  return [element('path', `d="${composePath(segments, d.path.closed, DECIMALS, 0.0005)}" ${style}`, title)];
};

const element = (name: string, attributes: string, content: string): string =>
  content === '' ? `<${name} ${attributes}/>` : `<${name} ${attributes}>${content}</${name}>`;

const strokeOf = (d: Drawable): string => {
  const { style } = d;
  const words = [
    `fill="${style.filled ? '#ddd' : 'none'}"`,
    'stroke="#000"',
    `stroke-width="${number(style.width > 0 ? style.width : LINE_WIDTH)}"`,
  ];
  if (style.dashed) words.push('stroke-dasharray="4 2"');
  if (style.arrowStart) words.push('marker-start="url(#arrow)"');
  if (style.arrowEnd) words.push('marker-end="url(#arrow)"');
  return words.join(' ');
};

const textElement = (d: TextDrawable, toPage: Affine, title: string): string => {
  const at: Point = apply(toPage, d.at);
  const [x, y] = [number(at.x), number(at.y)];
  const degrees = (-d.angle * 180) / Math.PI;
  const turn = Math.abs(degrees) < 1e-6 ? '' : `rotate(${formatNumber(degrees, 5, NOTATION)} ${x} ${y})`;
  const flip = d.mirrored ? `translate(0 ${number(2 * at.y)}) scale(1 -1)` : '';
  const transform = `${turn} ${flip}`.trim();
  const [first = '', ...others] = d.text.split('\n').map(escaped);
  const lines = first + others.map((line) => `<tspan x="${x}" dy="1.2em">${line}</tspan>`).join('');
  const placed = `x="${x}" y="${y}" font-size="${number(d.height)}" font-family="sans-serif"`;
  return element('text', `${placed}${transform === '' ? '' : ` transform="${transform}"`}`, title + lines);
};
