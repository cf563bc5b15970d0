import { between, distance, type Point, scale, subtract } from '../../../geometry/point.ts';
import type { ArcSegment, CubicSegment, Segment } from '../../../geometry/segment.ts';
import { pointAt } from '../../../geometry/segment.ts';
import { type ArcWords, movedWords, wordsOf } from './arcs.ts';
import type { Pen } from './draw.ts';
import type { Command } from './tokens.ts';

/** How finely numbers are written; `extra` decimals on request. */
export interface Precision {
  readonly decimals: number;
  /** In units of the data. */
  readonly tolerance: number;
  text(value: number, extra?: number): string;
}

/** One way to say what is wanted: a letter with its numbers as they would be written. */
export interface Wording {
  readonly letter: string;
  readonly texts: readonly string[];
}

/**
 * Ways to write `after` in one command from the pen, the command's own letter first. None is promised to be right:
 * whoever takes one draws it and compares.
 */
export function* wordings(
  command: Command,
  before: readonly Segment[],
  after: readonly Segment[],
  pen: Pen,
  precision: Precision,
): Generator<Wording> {
  const relative = command.letter === command.letter.toLowerCase();
  const say = (letter: string, points: readonly Point[]): Wording => ({
    letter: relative ? letter.toLowerCase() : letter,
    texts: points.flatMap((p) => {
      const q = relative ? subtract(p, pen.at) : p;
      return [precision.text(q.x), precision.text(q.y)];
    }),
  });
  const own = command.letter.toUpperCase();
  const only = after.length === 1 ? after[0] : undefined;
  if (only?.kind === 'line') {
    const to = relative ? subtract(only.to, pen.at) : only.to;
    if (own === 'H') yield { letter: command.letter, texts: [precision.text(to.x)] };
    if (own === 'V') yield { letter: command.letter, texts: [precision.text(to.y)] };
    yield say('L', [only.to]);
  } else if (only?.kind === 'cubic') {
    if (own === 'S') yield say('S', [only.control2, only.to]);
    const quadratic = own === 'Q' || own === 'T' ? quadraticControl(only, precision.tolerance) : undefined;
    if (quadratic !== undefined) {
      if (own === 'T') yield say('T', [only.to]);
      yield say('Q', [quadratic, only.to]);
    }
    if (own !== 'A') yield say('C', [only.control1, only.control2, only.to]);
  } else if (only?.kind === 'arc') {
    yield* arcWordings(only, say('A', [only.to]), pen, precision);
  }
  if (own === 'A' && before.length > 0) {
    const [rx = 0, ry = 0, rotation = 0, large = 0, sweep = 0] = command.args.map((a) => a.value);
    const words = { rx, ry, rotation, large: large !== 0, sweep: sweep !== 0 };
    const moved = movedWords(words, before, after, precision.tolerance);
    const end = after.at(-1)?.to;
    if (moved !== undefined && end !== undefined) {
      for (const extra of [0, 2, 4]) yield ellipseWording(moved, say('A', [end]), precision, extra);
    }
  }
  if (only?.kind === 'cubic' && own === 'A') yield say('C', [only.control1, only.control2, only.to]);
}

/** The control point of the quadratic that the cubic is, if it is one. */
const quadraticControl = (s: CubicSegment, tolerance: number): Point | undefined => {
  const a = scale(subtract(scale(s.control1, 3), s.from), 0.5);
  const b = scale(subtract(scale(s.control2, 3), s.to), 0.5);
  return distance(a, b) <= 4 * tolerance ? between(a, b, 0.5) : undefined;
};

const ellipseWording = (words: ArcWords, end: Wording, precision: Precision, extra: number): Wording => {
  const [x = '0', y = '0'] = end.texts;
  const radius = (r: number): string => precision.text(r, extra);
  const flags = [words.large ? '1' : '0', words.sweep ? '1' : '0'];
  return {
    letter: end.letter,
    texts: [radius(words.rx), radius(words.ry), precision.text(words.rotation, 2 + extra), ...flags, x, y],
  };
};

/**
 * Near half a turn the height of an arc depends on its radius without bound, so the radius is taken from the chord as
 * it is written and from the wanted height, and gets as many decimals as it needs; exactly half a turn is said by a
 * radius a little too small, which readers must scale up (SVG 2, appendix B.2.5).
 */
function* arcWordings(s: ArcSegment, end: Wording, pen: Pen, precision: Precision): Generator<Wording> {
  const words = wordsOf(s);
  if (words === undefined) return;
  const [dx = 0, dy = 0] = end.texts.map(Number);
  const to = end.letter === 'a' ? { x: pen.at.x + dx, y: pen.at.y + dy } : { x: dx, y: dy };
  const half = distance(pen.at, to) / 2;
  const height = distance(pointAt(s, 0.5), between(pen.at, to, 0.5));
  const fitted = height === 0 ? words.rx : (half * half + height * height) / (2 * height);
  for (let extra = 0; extra <= 6; extra += 2) {
    for (const radius of [words.rx, fitted])
      yield ellipseWording({ ...words, rx: radius, ry: radius }, end, precision, extra);
  }
  const below = half * (1 - 1e-4);
  for (const large of [false, true]) yield ellipseWording({ ...words, rx: below, ry: below, large }, end, precision, 0);
}
