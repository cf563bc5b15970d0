import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';

/** A number as SVG wants it: to a hundredth of a millimetre, no trailing zeros, no minus before nothing. */
export const written = (n: number, decimals = 2): string =>
  String(Math.round(n * 10 ** decimals) / 10 ** decimals || 0);

/** Path data (SVG 2, section 9.3) of segments that are already in the picture's own axes, y down. */
export const pathData = (segments: readonly Segment[], closed = false, decimals = 2): string => {
  const at = (p: Point): string => `${written(p.x, decimals)} ${written(p.y, decimals)}`;
  let here: string | undefined;
  // Ends that are written alike are one place.
  const parts = segments.map((s) => {
    const start = here === at(s.from) ? '' : `M${at(s.from)}`;
    here = at(s.to);
    return start + drawn(s, at, decimals);
  });
  return parts.join('') + (closed ? 'Z' : '');
};

const drawn = (s: Segment, at: (p: Point) => string, decimals: number): string => {
  if (s.kind === 'line') return `L${at(s.to)}`;
  if (s.kind === 'cubic') return `C${at(s.control1)} ${at(s.control2)} ${at(s.to)}`;
  const radius = written(distance(s.centre, s.from), decimals);
  return `A${radius} ${radius} 0 ${Math.abs(s.sweep) > Math.PI ? 1 : 0} ${s.sweep > 0 ? 1 : 0} ${at(s.to)}`;
};

/** Letters of a text, safe between tags and in attributes. What XML cannot hold (1.0, section 2.2) becomes �. */
export const escaped = (text: string): string =>
  text
    .replace(/[^\P{Cc}\t\n\r]|\p{Cs}|[\ufffe\uffff]/gu, '\ufffd')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;');
