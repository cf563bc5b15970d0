import type { Addition, Drawing, TextDrawable } from '../../formats/drawing.ts';
import type { Point } from '../../geometry/point.ts';
import { add, dot, scale } from '../../geometry/point.ts';
import { type Affine, apply, mirrorIn, transformPath } from '../../geometry/transform.ts';
import type { Piece } from '../../pattern/piece.ts';
import { acrossOf, fromPaper, rightOf } from '../../pattern/upright.ts';
import { handAsDrawn, type WearerSide } from '../../pattern/wearer-side.ts';
import { says, type Vocabulary } from '../../recognise/vocabulary.ts';
import { GAP, idsOf, type Opened } from './place.ts';

/*
 * A piece that is cut as a pair, drawn as the two pieces that it stands for: its mirror image is laid beside it, left and
 * right are written on, and each is cut once.
 */

/** How wide a letter is of its height, about. */
const LETTER = 0.6;
/** Letters where the piece has none to follow, mm. */
const LETTERS = 6;

/** The paper as it lies, and its mirror image beside it, each with its own lettering. */
export const openPair = (drawing: Drawing, piece: Piece, words: Vocabulary): Opened => {
  const own = idsOf(piece);
  const mirror = mirrorBeside(piece);
  const opened: Opened = { paths: new Map(), additions: [], removals: new Set() };
  for (const d of drawing.drawables) {
    if (!own.has(d.id)) continue;
    if (d.kind === 'path') opened.additions.push({ kind: 'path', like: d.id, path: transformPath(mirror, d.path) });
    else if (d.kind === 'point') opened.additions.push({ kind: 'point', like: d.id, at: apply(mirror, d.at) });
  }
  const texts = drawing.drawables.filter((d): d is TextDrawable => d.kind === 'text' && own.has(d.id));
  letter(piece, texts, mirror, words, opened);
  return opened;
};

/** A mirror upright beside the piece, to the right of all that is drawn of it. */
const mirrorBeside = (piece: Piece): Affine => {
  const outline = piece.cuttingLine ?? piece.seamLine;
  const across = outline.spans.flatMap((s) => s.segments.map((g) => acrossOf(piece.upright, g.from)));
  const through = fromPaper(piece.upright, { x: Math.max(...across) + GAP / 2, y: 0 });
  return mirrorIn(through, piece.upright.up);
};

const letter = (
  piece: Piece,
  texts: readonly TextDrawable[],
  mirror: Affine,
  words: Vocabulary,
  opened: Opened,
): void => {
  const here = handAsDrawn(piece);
  const there: WearerSide = here === 'left' ? 'right' : 'left';
  const isNamed = texts.some((t) => named(t.text, piece.name, here) !== t.text);
  for (const t of texts) {
    const [mine, other] = [here, there].map((hand) => said(t.text, piece, hand, words)) as [string, string];
    if (mine !== t.text) {
      opened.removals.add(t.id);
      if (mine !== '') opened.additions.push(written(t, mine, t.at));
    }
    if (other !== '') opened.additions.push(written(t, other, mirroredStart(t, other, piece, mirror)));
  }
  if (isNamed) return;
  const model = texts[0];
  const like = model?.id ?? piece.seamLine.spans.find((s) => s.source)?.source?.drawable;
  if (like === undefined) return;
  const height = model?.height ?? LETTERS;
  const at = middleOf(piece);
  const way = rightOf(piece.upright);
  const angle = Math.atan2(way.y, way.x);
  const name = (hand: WearerSide): string => `${piece.name} ${hand}`.trim();
  opened.additions.push(
    { kind: 'text', like, text: name(here), at, angle, height },
    { kind: 'text', like, text: name(there), at: apply(mirror, at), angle, height },
  );
};

/** What stands on the piece of one side: its name with the side, and that it is cut once. */
const said = (text: string, piece: Piece, hand: WearerSide, words: Vocabulary): string => {
  const once = says(words.phrasesIn(text), 'cut') ? text.replace(COUNT, '1') : text;
  return named(withoutPair(once, words), piece.name, hand);
};
/** The number of times that a piece is cut, as it stands beside the word for it. */
const COUNT = /\b2\b/u;

/** A text that no longer says that the piece is cut as a pair: “cut 1, a pair” would say two things at once. */
const withoutPair = (text: string, words: Vocabulary): string => {
  if (!says(words.phrasesIn(text), 'pair')) return text;
  const clauses = text.split(/(?=[,;·(])/u);
  const kept = clauses.filter((c) => !says(words.phrasesIn(c), 'pair') || says(words.phrasesIn(c), 'cut'));
  const left = kept.map((c) => c.trimEnd()).join('');
  const pairs = words.phrasesIn(left).filter((p) => p.meaning === 'pair');
  return pairs.reduce((t, p) => t.replace(new RegExp(`\\s*(\\b(as )?an? )?${p.found}`, 'iu'), ''), left);
};

const named = (text: string, name: string, hand: WearerSide): string => {
  const from = name === '' ? -1 : text.toLowerCase().indexOf(name.toLowerCase());
  if (from < 0) return text;
  const to = from + name.length;
  return `${text.slice(0, to)} ${hand}${text.slice(to)}`;
};

const written = (like: TextDrawable, text: string, at: Point): Addition => ({
  kind: 'text',
  like: like.id,
  text,
  at,
  angle: like.angle,
  height: like.height,
});

/**
 * Where it runs across, a text on the mirror image begins where it had ended; one that is drawn about its middle would begin
 * at its middle. Which of the two it is, a drawing does not say: half of its width is never far off.
 */
const mirroredStart = (t: TextDrawable, text: string, piece: Piece, mirror: Affine): Point => {
  const way = { x: Math.cos(t.angle), y: Math.sin(t.angle) };
  const runsAcross = Math.abs(dot(way, piece.upright.up)) < Math.SQRT1_2;
  return apply(mirror, runsAcross ? add(t.at, scale(way, (LETTER * t.height * text.length) / 2)) : t.at);
};

const middleOf = (piece: Piece): Point => {
  const points = piece.seamLine.spans.flatMap((s) => s.segments.map((g) => g.from));
  return scale(points.reduce(add, { x: 0, y: 0 }), 1 / points.length);
};
