import { type Affine, compose, IDENTITY, rotation, scaling, skewing, translation } from '../../geometry/transform.ts';
import { isPhysical, parseLength, userUnitsPer } from './lengths.ts';

const RADIANS: Readonly<Record<string, number>> = {
  '': Math.PI / 180,
  deg: Math.PI / 180,
  rad: 1,
  grad: Math.PI / 200,
  turn: 2 * Math.PI,
};

/**
 * A transform list, of the attribute or of CSS (CSS Transforms 1, sections 8 and 13.1), in SVG's own axes (y down).
 * Undefined when any part of it cannot be read.
 */
export const parseTransform = (text: string): Affine | undefined => {
  let rest = text.trim();
  if (rest === '' || rest === 'none') return IDENTITY;
  let whole = IDENTITY;
  const next = /^([a-zA-Z]+)\s*\(([^()]*)\)[\s,]*/;
  while (rest !== '') {
    const match = next.exec(rest);
    const part = match === null ? undefined : single(match[1] ?? '', argumentsIn(match[2] ?? ''));
    if (match === null || part === undefined) return undefined;
    whole = compose(whole, part);
    rest = rest.slice(match[0].length);
  }
  return Object.values(whole).every(Number.isFinite) ? whole : undefined;
};

const argumentsIn = (text: string): string[] => {
  const numbers = text.match(/[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?(?:[a-zA-Z]+|%)?/g) ?? [];
  const left = numbers.length > 6 ? 'too many' : numbers.reduce((rest, n) => rest.replace(n, ' '), text);
  return /[^\s,]/.test(left) ? ['unreadable'] : numbers;
};

const lengthOf = (text: string): number => {
  const length = parseLength(text);
  if (length === undefined || (length.unit !== '' && !isPhysical(length))) return Number.NaN;
  return length.value * userUnitsPer(length.unit, 'x', { width: 0, height: 0, fontSize: 0 });
};

const angleOf = (text: string): number => {
  const match = /^([-+\d.eE]+?)([a-z]*)$/.exec(text);
  return Number(match?.[1]) * (RADIANS[match?.[2] ?? '?'] ?? Number.NaN);
};

const single = (name: string, args: readonly string[]): Affine | undefined => {
  const n = args.map((a) => Number(a));
  const [a = Number.NaN, b = Number.NaN, c = Number.NaN, d = Number.NaN, e = Number.NaN, f = Number.NaN] = n;
  const first = args[0] ?? '';
  const count = args.length;
  switch (name) {
    case 'matrix':
      return count === 6 ? { a, b, c, d, e, f } : undefined;
    case 'translate':
      return count === 1 || count === 2 ? translation({ x: lengthOf(first), y: lengthOf(args[1] ?? '0') }) : undefined;
    case 'translateX':
      return count === 1 ? translation({ x: lengthOf(first), y: 0 }) : undefined;
    case 'translateY':
      return count === 1 ? translation({ x: 0, y: lengthOf(first) }) : undefined;
    case 'scale':
      return count === 1 || count === 2 ? scaling(a, count === 2 ? b : a) : undefined;
    case 'scaleX':
      return count === 1 ? scaling(a, 1) : undefined;
    case 'scaleY':
      return count === 1 ? scaling(1, a) : undefined;
    case 'rotate':
      if (count !== 1 && count !== 3) return undefined;
      return rotation(angleOf(first), count === 3 ? { x: b, y: c } : { x: 0, y: 0 });
    case 'skewX':
      return count === 1 ? skewing(angleOf(first), 0) : undefined;
    case 'skewY':
      return count === 1 ? skewing(0, angleOf(first)) : undefined;
    case 'skew':
      return count === 1 || count === 2 ? skewing(angleOf(first), angleOf(args[1] ?? '0')) : undefined;
    default:
      return undefined;
  }
};

/** `transform` about `origin`, given as two lengths; undefined when the origin is anything else. */
export const aboutOrigin = (transform: Affine, origin: string): Affine | undefined => {
  const [x = Number.NaN, y = 0] = origin
    .trim()
    .split(/[\s,]+/)
    .map(lengthOf);
  if (!Number.isFinite(x) || !Number.isFinite(y)) return undefined;
  return compose(translation({ x, y }), compose(transform, translation({ x: -x, y: -y })));
};
