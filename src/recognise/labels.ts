import type { TextDrawable } from '../formats/drawing.ts';
import type { Point } from '../geometry/point.ts';
import { add, distance, dot, scale, subtract } from '../geometry/point.ts';
import type { Phrase, Vocabulary } from './vocabulary.ts';
import { normalise } from './vocabulary.ts';
import type { Meaning } from './words.ts';

/** A word or phrase printed on a piece, in one text or over several. */
export interface Label {
  readonly meaning: Meaning;
  readonly text: string;
  readonly texts: readonly string[];
  /** Where the words stand: start, middle and end of each text, mm. How a text is aligned is not known, so all count. */
  readonly places: readonly Point[];
  /** Direction of reading, radians. */
  readonly angle: number;
  readonly height: number;
}

const readingDirection = (t: TextDrawable): Point => ({ x: Math.cos(t.angle), y: Math.sin(t.angle) });

/** Estimated width of a text: letters are about 0.6, Japanese characters 1 of their height wide. */
const widthOf = (t: TextDrawable): number =>
  [...t.text].reduce((sum, c) => sum + (/[\u3000-\u9fff\uff00-\uffef]/.test(c) ? 1 : 0.6), 0) * t.height;

/** Start, middle and end of a text, at half its height. */
export const placesOf = (t: TextDrawable): Point[] => {
  const along = readingDirection(t);
  const up = { x: -along.y * (t.mirrored ? -1 : 1), y: along.x * (t.mirrored ? -1 : 1) };
  const base = add(t.at, scale(up, t.height / 2));
  const width = widthOf(t);
  return [base, add(base, scale(along, width / 2)), add(base, scale(along, width))];
};

/** Whether b goes on where a stops: on the same line, or on the next line below. */
const goesOn = (a: TextDrawable, b: TextDrawable): boolean => {
  if (Math.abs(Math.cos(a.angle - b.angle) - 1) > 0.001 || a.mirrored !== b.mirrored) return false;
  if (a.height > 1.6 * b.height || b.height > 1.6 * a.height) return false;
  const along = readingDirection(a);
  const up = { x: -along.y * (a.mirrored ? -1 : 1), y: along.x * (a.mirrored ? -1 : 1) };
  const step = subtract(b.at, a.at);
  const across = dot(step, along);
  const below = -dot(step, up);
  const h = Math.max(a.height, b.height);
  const onLine =
    Math.abs(below) < 0.3 * h && across > 0 && across - widthOf(a) < 2 * h && across - widthOf(a) > -0.5 * widthOf(a);
  const nextLine = below > 0.8 * h && below < 2.2 * h && across > -widthOf(b) && across < widthOf(a);
  return onLine || nextLine;
};

/** Texts in reading order, each with what it goes on from. */
const runsOf = (texts: readonly TextDrawable[]): TextDrawable[][] => {
  const next = new Map<TextDrawable, TextDrawable>();
  const taken = new Set<TextDrawable>();
  for (const a of texts) {
    const ways = texts
      .filter((b) => b !== a && !taken.has(b) && goesOn(a, b))
      .sort((x, y) => distance(a.at, x.at) - distance(a.at, y.at));
    if (!ways[0]) continue;
    next.set(a, ways[0]);
    taken.add(ways[0]);
  }
  const runs: TextDrawable[][] = [];
  for (const first of texts) {
    if (taken.has(first)) continue;
    const run = [first];
    for (let t = next.get(first); t && !run.includes(t); t = next.get(t)) run.push(t);
    runs.push(run);
  }
  return runs;
};

/** All labels among the texts of a piece: phrases in one text first, then phrases that run over several. */
export const readLabels = (texts: readonly TextDrawable[], vocabulary: Vocabulary): Label[] => {
  const labels: Label[] = [];
  for (const run of runsOf(texts.filter((t) => normalise(t.text) !== ''))) {
    const starts: number[] = [];
    let joined = '';
    for (const t of run) {
      if (joined !== '') joined += ' ';
      starts.push(joined.length);
      joined += normalise(t.text);
    }
    for (const phrase of bestPhrases(run, joined, starts, vocabulary)) labels.push(labelOf(phrase, run, starts));
  }
  return labels;
};

/** A phrase over several texts counts only where it is longer than what each text says by itself. */
const bestPhrases = (
  run: readonly TextDrawable[],
  joined: string,
  starts: readonly number[],
  vocabulary: Vocabulary,
): Phrase[] => {
  const alone = run.flatMap((t, i) => {
    const start = starts[i] as number;
    return vocabulary.phrasesIn(t.text).map((p) => ({ ...p, from: p.from + start, to: p.to + start }));
  });
  if (run.length === 1) return alone;
  const over = vocabulary
    .phrasesIn(joined)
    .filter((p) => starts.some((s) => s > p.from && s < p.to))
    .filter(
      (p) => p.to - p.from > 4 && alone.every((a) => a.to <= p.from || a.from >= p.to || a.to - a.from < p.to - p.from),
    );
  return [...alone.filter((a) => over.every((p) => a.to <= p.from || a.from >= p.to)), ...over];
};

const labelOf = (phrase: Phrase, run: readonly TextDrawable[], starts: readonly number[]): Label => {
  const within = run.filter((t, i) => {
    const start = starts[i] as number;
    return start < phrase.to && start + normalise(t.text).length > phrase.from;
  });
  const first = within[0] as TextDrawable;
  return {
    meaning: phrase.meaning,
    text: within.map((t) => t.text.trim()).join(' '),
    texts: within.map((t) => t.id),
    places: within.flatMap(placesOf),
    angle: first.angle,
    height: first.height,
  };
};

export const labelsFor = (labels: readonly Label[], ...meanings: readonly Meaning[]): Label[] =>
  labels.filter((l) => meanings.includes(l.meaning));

/** Direction of a label's letters' foot to head. */
export const readingUp = (label: Label): Point => ({ x: -Math.sin(label.angle), y: Math.cos(label.angle) });
