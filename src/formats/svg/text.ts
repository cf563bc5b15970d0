import type { Point } from '../../geometry/point.ts';
import { attribute, type Element, hrefOf, isElement } from './elements.ts';
import { inUserUnits, parseLength, type Surroundings } from './lengths.ts';
import type { Style } from './style.ts';

/** Letters that stand together, in the text element's own axes. */
export interface TextSpot {
  readonly text: string;
  readonly at: Point;
  /** User units. */
  readonly fontSize: number;
  /** Elements whose x and y place it. */
  readonly placed: readonly Element[];
  /** The line it runs along, where it is a text on a path. */
  readonly path?: string;
}

/** Letters this many letter heights from where the line before began are another text. */
const FAR = 3;
/** A letter is about this wide beside its height, where nothing measures it. */
const LETTER_WIDTH = 0.6;

interface Letters {
  readonly letters: string;
  /** Whether white space stays as it stands. */
  readonly keep: boolean;
  readonly newLine?: true;
}

interface Open {
  lines: Letters[];
  at: Point;
  fontSize: number;
  placed: Element[];
  path?: string;
}

/**
 * Reads a text element (SVG 2, chapter 11): tspans on a new baseline are new lines, tspans far away new spots.
 * `styleOf` gives an inner element's style, undefined when it is hidden.
 */
export const spotsOf = (
  root: Element,
  style: Style,
  around: Surroundings,
  styleOf: (element: Element, outer: Style) => Style | undefined,
): TextSpot[] => {
  const spots: Open[] = [];
  let spot: Open | undefined;
  let cursor: Point = { x: 0, y: 0 };
  let lettersInLine = 0;
  const place = (element: Element, own: Style): void => {
    const stated = placeOf(element, { ...around, fontSize: own.fontSize });
    const moves = stated.x !== undefined || stated.y !== undefined;
    const to = { x: (stated.x ?? cursor.x) + stated.dx, y: (stated.y ?? cursor.y) + stated.dy };
    const em = own.fontSize;
    const before = cursor;
    cursor = to;
    const path = element.local === 'textPath' ? (hrefOf(element) ?? '') : undefined;
    if (spot === undefined || !spot.lines.some((l) => l.letters.trim() !== '')) {
      const placed = spot?.placed ?? [];
      if (spot !== undefined) spots.pop();
      spot = {
        lines: [{ letters: '', keep: own.keepSpaces }],
        at: to,
        fontSize: em,
        placed: [...placed],
        ...(path !== undefined && { path }),
      };
      if (moves || element === root) spot.placed.push(element);
      spots.push(spot);
      lettersInLine = 0;
      return;
    }
    const down = Math.abs(to.y - before.y);
    const along = to.x - before.x - lettersInLine * LETTER_WIDTH * em;
    const sameLine = down < 0.7 * em;
    const placedAnew = stated.x !== undefined && stated.y !== undefined;
    if (placedAnew && (down > FAR * em || (sameLine ? along > FAR * em : Math.abs(to.x - spot.at.x) > 4 * FAR * em))) {
      spot = { lines: [{ letters: '', keep: own.keepSpaces }], at: to, fontSize: em, placed: [element] };
      spots.push(spot);
      lettersInLine = 0;
      return;
    }
    if (moves) spot.placed.push(element);
    if (sameLine) {
      if (!moves) cursor = before;
      else if (along > 0.3 * em) spot.lines.push({ letters: ' ', keep: false });
      return;
    }
    spot.lines.push({ letters: '', keep: false, newLine: true });
    lettersInLine = 0;
  };
  const waiting: { node: Element | string; style: Style }[] = [{ node: root, style }];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    const { node } = next;
    if (!isElement(node)) {
      spot?.lines.push({ letters: node, keep: next.style.keepSpaces });
      if (spot !== undefined && spot.fontSize !== next.style.fontSize && lettersInLine === 0 && node.trim() !== '') {
        if (!spot.lines.slice(0, -1).some((l) => l.letters.trim() !== '')) spot.fontSize = next.style.fontSize;
      }
      lettersInLine += node.trim().length;
      continue;
    }
    const own = node === root ? style : styleOf(node, next.style);
    if (own === undefined) continue;
    place(node, own);
    for (const child of node.children.toReversed()) {
      if (!isElement(child) || (child.svg && ['tspan', 'a', 'textPath'].includes(child.local)))
        waiting.push({ node: child, style: own });
    }
  }
  return spots.flatMap((s) => {
    const text = lettersOf(s.lines);
    const { at, fontSize, placed, path } = s;
    return text === '' ? [] : [{ text, at, fontSize, placed, ...(path !== undefined && { path }) }];
  });
};

/** White space as CSS Text 3 has it: runs become one space, or stay where the text says so; line ends trimmed. */
const lettersOf = (pieces: readonly Letters[]): string => {
  const whole = pieces
    .map(({ letters, keep, newLine }) => {
      if (newLine) return '\n';
      const spaces = letters.replace(/[\t\r\n]/g, ' ');
      return keep ? spaces : spaces.replace(/ +/g, ' ');
    })
    .join('');
  const keepsAll = pieces.some((p) => p.keep);
  const lines = (keepsAll ? whole : whole.replace(/ +/g, ' ')).split('\n').map((l) => l.trim());
  return lines.filter((l) => l !== '').join('\n');
};

interface StatedPlace {
  readonly x: number | undefined;
  readonly y: number | undefined;
  readonly dx: number;
  readonly dy: number;
}

const placeOf = (element: Element, around: Surroundings): StatedPlace => {
  const first = (name: string, along: 'x' | 'y'): number | undefined => {
    const text = attribute(element, name)
      ?.trim()
      .split(/[\s,]+/)[0];
    const length = text === undefined ? undefined : parseLength(text);
    return length === undefined ? undefined : inUserUnits(length, along, around);
  };
  return { x: first('x', 'x'), y: first('y', 'y'), dx: first('dx', 'x') ?? 0, dy: first('dy', 'y') ?? 0 };
};
