import { Bug } from '../../finding.ts';
import type { Path } from '../../geometry/path.ts';
import type { Point } from '../../geometry/point.ts';
import { arcToCubics, type Segment } from '../../geometry/segment.ts';

/** How far a cubic may lie from the arc it stands for, mm. */
const ARC_TOLERANCE = 1e-3;

/** A number as PDF takes it: no exponent. Four decimals are 0.0001 mm in a content stream that counts in mm. */
export const numeral = (value: number, decimals = 4): string => {
  if (!Number.isFinite(value)) throw new Bug(`A sheet for PDF has ${value} in it`);
  return String(Number(value.toFixed(decimals)) + 0);
};

export const pair = (p: Point): string => `${numeral(p.x)} ${numeral(p.y)}`;

/** Operators that build and stroke the path: ISO 32000-1, 8.5.2 and 8.5.3. */
export const strokedPath = (path: Path): string => {
  if (path.segments.length === 0) return '';
  return [...builtPath(path), path.closed ? 's' : 'S'].join('\n');
};

/** Operators that build the path and do not paint it. */
export const pathOperators = (path: Path): string => [...builtPath(path), ...(path.closed ? ['h'] : [])].join('\n');

const builtPath = (path: Path): string[] => {
  const first = path.segments[0];
  if (!first) return [];
  const last = path.segments[path.segments.length - 1];
  // The operator that closes a path draws its last straight line.
  const drawn =
    path.closed && last?.kind === 'line' && path.segments.length > 1 ? path.segments.slice(0, -1) : path.segments;
  return [`${pair(first.from)} m`, ...drawn.flatMap(segment)];
};

const segment = (s: Segment): string[] => {
  switch (s.kind) {
    case 'line':
      return [`${pair(s.to)} l`];
    case 'cubic':
      return [`${pair(s.control1)} ${pair(s.control2)} ${pair(s.to)} c`];
    case 'arc':
      return arcToCubics(s, ARC_TOLERANCE).flatMap(segment);
  }
};
