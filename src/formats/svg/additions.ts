import { apply, applyToVector, inverse, stretches, transformSegment } from '../../geometry/transform.ts';
import type { Addition } from '../drawing.ts';
import type { Handle } from './document.ts';
import type { Edit } from './edits.ts';
import { decimalsFor, formatNumber } from './numbers.ts';
import { composePath } from './pathdata/splice.ts';
import { escapeFor, type Source } from './source.ts';

const STYLE_ATTRIBUTES =
  /^(class|style|fill.*|stroke.*|opacity|vector-effect|marker.*|font.*|text-anchor|letter-spacing|color|transform|transform-origin)$/;
/** Radius of the mark that stands for a point, mm. */
const POINT_RADIUS = 0.5;
/** Line width where there is no style to follow, mm. */
const LINE_WIDTH = 0.25;
/** Letters; what stands before an element on its line is copied up to here. */
const LONGEST_INDENT = 200;
const PLAIN = { decimals: 0, leadingZero: true, fixed: false };

/** A new element after the one it is like, in the same group, with that one's look and transform. */
export const addElement = (source: Source, handle: Handle, addition: Addition): Edit => {
  const { element, toMm } = handle;
  const back = inverse(toMm);
  const scale = stretches(toMm)[0];
  const decimals = decimalsFor(scale);
  const write = (value: number): string => formatNumber(value, decimals, PLAIN);
  const alike = (handle.kind === 'text') === (addition.kind === 'text');
  const copied = [...element.attributes.values()].filter(
    (a) => STYLE_ATTRIBUTES.test(a.name) && (alike || a.name.startsWith('transform')),
  );
  const words: string[] = [];
  let name = 'path';
  let content = '';
  if (back !== undefined && addition.kind === 'path') {
    const segments = addition.path.segments.flatMap((s) => transformSegment(back, s));
    words.push(`d="${composePath(segments, addition.path.closed, decimals, 0.0005 / scale)}"`);
  } else if (back !== undefined && addition.kind === 'point') {
    const at = apply(back, addition.at);
    if (handle.kind === 'dot') words.push(`d="M${write(at.x)},${write(at.y)}z"`);
    else {
      name = 'circle';
      words.push(`cx="${write(at.x)}" cy="${write(at.y)}" r="${write(POINT_RADIUS / scale)}"`);
    }
  } else if (back !== undefined && addition.kind === 'text') {
    name = 'text';
    const at = apply(back, addition.at);
    const direction = applyToVector(back, { x: Math.cos(addition.angle), y: Math.sin(addition.angle) });
    const degrees = (Math.atan2(direction.y, direction.x) * 180) / Math.PI;
    words.push(`x="${write(at.x)}" y="${write(at.y)}"`, `font-size="${write(addition.height / scale)}"`);
    const own = element.attributes.get('transform')?.raw ?? '';
    const turn =
      Math.abs(degrees) < 1e-4 ? '' : `rotate(${formatNumber(degrees, 5, PLAIN)} ${write(at.x)} ${write(at.y)})`;
    const transform = `${own} ${turn}`.trim();
    if (transform !== '') words.push(`transform="${transform}"`);
    content = linesOf(source, addition.text, write(at.x));
  }
  for (const a of copied) {
    if (name === 'text' && /^(transform|font-size|font)$/.test(a.name)) continue;
    const value = name === 'text' && a.name === 'style' ? a.raw.replace(/(^|;)\s*font(-size)?\s*:[^;]*/g, '$1') : a.raw;
    words.push(`${a.name}=${a.quote}${value}${a.quote}`);
  }
  if (!alike)
    words.push(
      name === 'text' ? 'stroke="none"' : `fill="none" stroke="#000" stroke-width="${write(LINE_WIDTH / scale)}"`,
    );
  const tag = `${element.prefix}${name}`;
  const indent =
    /(\r?\n[ \t]*)$/.exec(source.text.slice(Math.max(0, element.start - LONGEST_INDENT), element.start))?.[1] ?? '';
  const markup = content === '' ? `<${tag} ${words.join(' ')}/>` : `<${tag} ${words.join(' ')}>${content}</${tag}>`;
  return { start: element.end, end: element.end, text: `${indent}${markup}` };
};

const linesOf = (source: Pick<Source, 'encoding'>, text: string, x: string): string => {
  const [first = '', ...others] = text.split('\n').map((line) => escapeFor(source, line));
  return first + others.map((line) => `<tspan x="${x}" dy="1.2em">${line}</tspan>`).join('');
};
