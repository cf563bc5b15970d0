import type { Point } from '../geometry/point.ts';
import { distance, same } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';

/** A number as SVG wants it: to a hundredth of a millimetre, no trailing zeros, no minus before nothing. */
export const written = (n: number): string => String(Math.round(n * 100) / 100 || 0);

const at = (p: Point): string => `${written(p.x)} ${written(p.y)}`;

/** Path data (SVG 2, section 9.3) of segments that are already in the picture's own axes, y down. */
export const pathData = (segments: readonly Segment[], closed = false): string => {
  let here: Point | undefined;
  const parts = segments.map((s) => {
    const start = here && same(here, s.from) ? '' : `M${at(s.from)}`;
    here = s.to;
    return start + drawn(s);
  });
  return parts.join('') + (closed ? 'Z' : '');
};

const drawn = (s: Segment): string => {
  if (s.kind === 'line') return `L${at(s.to)}`;
  if (s.kind === 'cubic') return `C${at(s.control1)} ${at(s.control2)} ${at(s.to)}`;
  const radius = written(distance(s.centre, s.from));
  return `A${radius} ${radius} 0 ${Math.abs(s.sweep) > Math.PI ? 1 : 0} ${s.sweep > 0 ? 1 : 0} ${at(s.to)}`;
};

/** Letters of a text, safe between tags and in attributes. */
export const escaped = (text: string): string =>
  text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');
