import { type Path, polyline } from '../geometry/path.ts';
import { add, type Point, turn } from '../geometry/point.ts';
import { ALIKE, BLANK, CAPITAL, LETTERS, MARKS, SMALL, SMALL_CAPITALS, SPACING } from './letters.ts';
import type { TextMark } from './sheet.ts';

/** A text as strokes. */
export interface Lettering {
  readonly strokes: readonly Path[];
  /** Letters that the alphabet has not, each once: a box stands for them, or the letter lacks its accent. */
  readonly missing: readonly string[];
}

/** A letter in the alphabet's units: strokes from x = 0, base line y = 0. */
interface Glyph {
  readonly strokes: readonly (readonly Point[])[];
  readonly width: number;
}

/** Chords that each curve of a letter becomes. */
const CHORDS = 4;
/** A letter with marks is at least so wide, lest they run into its neighbours'. */
const ROOM_FOR_MARKS = 5;
/** A box for what cannot be drawn: the reader sees that something is missing. */
const BOX: Glyph = { strokes: [ringOf(6, CAPITAL)], width: 6 };

function ringOf(width: number, height: number): Point[] {
  return [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: height },
    { x: 0, y: height },
    { x: 0, y: 0 },
  ];
}

/** The text as single strokes: capitals as high as asked, narrowed to its room, turned and put where it belongs. */
export const lettering = (mark: TextMark): Lettering => {
  const { glyphs, missing } = glyphsOf(mark.text);
  const scale = mark.height / CAPITAL;
  const width = widthOf(glyphs) * scale;
  const narrow = mark.room !== undefined && width > mark.room ? mark.room / width : 1;
  let x = mark.anchor === 'middle' ? (-width * narrow) / 2 : 0;
  const strokes: Path[] = [];
  for (const glyph of glyphs) {
    for (const stroke of glyph.strokes) {
      const points = stroke.map((p) => add(mark.at, turn({ x: x + p.x * scale * narrow, y: p.y * scale }, mark.angle)));
      strokes.push(polyline(points));
    }
    x += (glyph.width + SPACING) * scale * narrow;
  }
  return { strokes, missing };
};

/** About how wide the text runs, mm, for capitals of this height. */
export const letteringWidth = (text: string, height: number): number =>
  (widthOf(glyphsOf(text).glyphs) * height) / CAPITAL;

const widthOf = (glyphs: readonly Glyph[]): number =>
  Math.max(0, glyphs.reduce((sum, g) => sum + g.width + SPACING, 0) - SPACING);

const glyphsOf = (text: string): { glyphs: Glyph[]; missing: string[] } => {
  const glyphs: Glyph[] = [];
  const missing = new Set<string>();
  const spaced = text.replace(/(\d)(?=[¼-¾⅐-⅞])/gu, '$1 ');
  const bases = [...spaced.normalize('NFKD').matchAll(/(\P{M})(\p{M}*)/gsu)];
  for (const [whole, base = '', marks = ''] of bases) {
    const letter = letterOf(base, marks !== '');
    const isWhole = letter !== undefined && [...marks].every((m) => MARKS[m] !== undefined);
    if (!isWhole) missing.add(whole.normalize('NFC'));
    glyphs.push(letter === undefined ? BOX : withMarks(letter, base, [...marks]));
  }
  return { glyphs, missing: [...missing] };
};

const letterOf = (base: string, isMarked: boolean): Glyph | undefined => {
  if (/\s/u.test(base)) return { strokes: [], width: BLANK - SPACING };
  if (isMarked && base === 'i') return glyph('ı');
  const drawn = ALIKE[base] ?? base;
  if (LETTERS[drawn] !== undefined) return glyph(drawn);
  const capital = SMALL_CAPITALS[base];
  return capital === undefined ? undefined : smaller(glyph(capital));
};

const glyph = (letter: string): Glyph => {
  const strokes = strokesOf(LETTERS[letter] as string, { x: 0, y: 4 });
  return { strokes, width: Math.max(0, ...strokes.flat().map((p) => p.x)) };
};

const smaller = (g: Glyph): Glyph => {
  const k = SMALL / CAPITAL;
  return { strokes: g.strokes.map((s) => s.map((p) => ({ x: p.x * k, y: p.y * k }))), width: g.width * k };
};

/** Strokes as their points, with the origin moved to `origin`. */
const strokesOf = (drawn: string, origin: Point): Point[][] =>
  drawn.split('|').map((stroke) => {
    const curved = stroke.startsWith('~');
    const points = (curved ? stroke.slice(1) : stroke).split(' ').map((pair) => ({
      x: Number.parseInt(pair[0] as string, 36) - origin.x,
      y: Number.parseInt(pair[1] as string, 36) - origin.y,
    }));
    return curved ? curve(points) : points;
  });

/** Quadratic curves about the corners of a polygon, meeting in the middles of its sides, as chords. */
const curve = (corners: readonly Point[]): Point[] => {
  const points: Point[] = [corners[0] as Point];
  for (let i = 1; i < corners.length - 1; i++) {
    const from = points[points.length - 1] as Point;
    const by = corners[i] as Point;
    const next = corners[i + 1] as Point;
    const to = i === corners.length - 2 ? next : { x: (by.x + next.x) / 2, y: (by.y + next.y) / 2 };
    for (let k = 1; k <= CHORDS; k++) points.push(quadratic(from, by, to, k / CHORDS));
  }
  return points;
};

const centred = (g: Glyph, width: number): Glyph => ({
  strokes: g.strokes.map((s) => s.map((p) => ({ x: p.x + (width - g.width) / 2, y: p.y }))),
  width,
});

const quadratic = (a: Point, b: Point, c: Point, t: number): Point => ({
  x: (1 - t) ** 2 * a.x + 2 * t * (1 - t) * b.x + t ** 2 * c.x,
  y: (1 - t) ** 2 * a.y + 2 * t * (1 - t) * b.y + t ** 2 * c.y,
});

/** Accents over and under the middle of the letter. */
const withMarks = (letter: Glyph, base: string, marks: readonly string[]): Glyph => {
  if (marks.length === 0) return letter;
  const g = letter.width < ROOM_FOR_MARKS ? centred(letter, ROOM_FOR_MARKS) : letter;
  const top = base === 'i' ? SMALL : Math.max(SMALL, ...g.strokes.flat().map((p) => p.y));
  const accents = marks.flatMap((m) => {
    const mark = MARKS[m];
    if (!mark) return [];
    const drawn = strokesOf(mark.strokes, { x: 4 - g.width / 2, y: 4 });
    return mark.below ? drawn : drawn.map((s) => s.map((p) => ({ x: p.x, y: p.y + top })));
  });
  return { strokes: [...g.strokes, ...accents], width: g.width };
};
